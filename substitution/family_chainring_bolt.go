package substitution

var _ = families(&chainringBolt)

var chainringBolt = Table{
	Family: "chainring-bolt", Plural: "chainring bolts",
	Sites: []Site{
		{Place: "crank.ring-bolts", Words: "chainring bolts", Safety: true},
	},
	Readings: []Reading{damaged},
	Work: []Work{
		{Replace, "fit chainring bolts", 10},
		{Adjust, "tighten chainring bolts", 5},
	},
	Dimensions: []Dimension{threadWord, length(2, 40, "caliper under the head; single and double stacks of rings want different lengths"), bolts},
	Rules: []Rule{
		{
			ID: "chainring-bolt.thread", Severity: Safety,
			Says:   "bolt and nut have the thread of the old ones",
			Test:   Match{Mine: "thread"},
			Source: Source{"a tool maker's list of bicycle threads, as reposted: M8x0.75 chainring bolts; that of the old ones decides", Handbook},
		},
		{
			ID: "chainring-bolt.stack", Severity: Mating,
			Says:   "the bolts are as long as the old ones: rings, spider and nut add up",
			Test:   Match{Mine: "length_mm", Within: 0.5},
			Source: byOldPart,
		},
		{
			ID: "chainring-bolt.number", Severity: Mating,
			Says:   "there is a bolt for every hole of the crankset",
			Test:   Limit{Sum: []Term{plus(mine("bolts"))}, AtLeast: []Ref{theirs("crank", "bolts"), theirs("crank.outer-ring", "bolts"), theirs("crank.ring", "bolts"), old("bolts")}},
			Source: byArithmetic,
		},
		materialRule("chainring-bolt", "alloy takes 8 to 9 N·m, steel 12 to 14 by one handbook; the maker's figure counts", Source{"torque list of a maker's handbook", Catalogue}),
		finishRule("chainring-bolt"),
	},
}
