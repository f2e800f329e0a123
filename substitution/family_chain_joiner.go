package substitution

var _ = families(&chainJoiner)

var chainJoiner = Table{
	Family: "chain-joiner", Plural: "chain joining links",
	Sites: []Site{
		{Place: "chain.joiner", Words: "chain joining link"},
	},
	Readings: []Reading{damaged},
	Work: []Work{
		{Replace, "fit chain joining link", 5},
	},
	Dimensions: []Dimension{speeds, chainWidth, chainRoller},
	Agrees:     []Agreement{widthOfSpeeds},
	Rules: []Rule{
		{
			ID: "chain-joiner.speeds", Severity: Mating,
			Says:   "the link is made for the chain's number of speeds: a 6.6 mm link does not close on a 7.1 mm chain",
			Test:   Share{Mine: "speeds", Theirs: []Ref{theirs("chain", "speeds")}, Serves: sameChain},
			Source: Source{"electricbike forum, a measured case: the link's pins must be as wide as the chain's", Handbook},
		},
		{
			ID: "chain-joiner.chain-width", Severity: Mating,
			Says:   "the link is as wide inside as the chain",
			Test:   Match{Mine: "chain_width", Theirs: []Ref{theirs("chain", "chain_width")}, Rare: true},
			Source: byChainPages,
		},
		{
			ID: "chain-joiner.roller", Severity: Mating,
			Says:   "a link with large rollers joins a chain that has them, and no other",
			Test:   Match{Mine: "roller", Theirs: []Ref{theirs("chain", "roller")}, Usual: "standard"},
			Source: byRollers,
		},
		finishRule("chain-joiner"),
	},
}
