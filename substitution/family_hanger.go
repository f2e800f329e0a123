package substitution

var _ = families(&hanger)

var (
	hangerCode    = word("hanger", "hanger's code", "the frame maker's code for it, or the code that the shop gives its shape; hold the new one against the old")
	axleThread    = word("axle_thread", "thread for the axle", "caliper over the axle's thread and a thread gauge", "M12x1", "M12x1.5", "M12x1.75", "M15x1.5", "none")
	byHangerPages = Source{"a hanger seller's page on direct-mount and standard hangers; pressreader.com and pardo.net: hangers differ by frame, hundreds of them", TradePage}
)

// hanger is what the rear derailleur bolts to. Its shape is the frame's and has no standard, so only a code or the old part
// itself vouches for it.
var hanger = Table{
	Family: "hanger", Plural: "derailleur hangers",
	Sites: []Site{
		{Place: "rear.hanger", Words: "derailleur hanger"},
	},
	Readings: []Reading{hangerTrue, damaged},
	Work: []Work{
		{Replace, "fit derailleur hanger, align it and set gears", 30},
		{Adjust, "align derailleur hanger to the wheel", 15},
	},
	Dimensions: []Dimension{
		hangerCode,
		count("holes", "bolt holes", 0, 4, "count the holes that hold it to the frame"),
		word("derailleur_side", "derailleur side", "look: the usual threaded ear, the straight one for direct mount, or none where the derailleur goes round the axle", "standard", "direct", "none"),
		axleThread,
	},
	Rules: []Rule{
		{
			ID: "hanger.shape", Severity: Mating,
			Says:   "the hanger is the frame's: hundreds of shapes are made, and none goes for another; one without a code is held against the old one",
			Test:   Match{Mine: "hanger", Theirs: []Ref{theirs("frame", "hanger_code")}, Why: "it is another frame's"},
			Source: byHangerPages,
		},
		{
			ID: "hanger.frame", Severity: Mating,
			Says:   "a frame for hub gears has no seat for a hanger",
			Test:   Lookup{Of: []Ref{theirs("frame", "hanger")}, Rows: only("hanger", "direct", "axle"), Otherwise: Breaks, Why: "the frame has no seat for one", Optional: true, Rare: true, Usual: "hanger"},
			Source: byHangerPages,
		},
		{
			ID: "hanger.holes", Severity: Mating,
			Says:   "it is held by as many bolts as the old one",
			Test:   Match{Mine: "holes", Rare: true},
			Source: byHangerPages,
		},
		{
			ID: "hanger.derailleur", Severity: Mating,
			Says: "the derailleur hangs on it: the usual bolt in a standard ear, a direct-mount derailleur without its link on a direct one",
			Test: Lookup{
				Of: []Ref{mine("derailleur_side"), theirs("rear.derailleur", "mount")},
				Rows: []Row{
					{Keys: []string{"standard", "hanger"}, Answer: Holds}, {Keys: []string{"direct", "direct"}, Answer: Holds}, {Keys: []string{"none", "axle"}, Answer: Holds},
					{Keys: []string{"standard", "direct"}, Answer: CantTell, Words: "with the link that the derailleur is sold with"},
				},
				Otherwise: Breaks, Why: "there is nothing to bolt the derailleur to", Optional: true, Rare: true, Usual: "standard",
			},
			Source: byHangerPages,
		},
		{
			ID: "hanger.axle", Severity: Safety, Unless: []Place{"rear.thru-axle"},
			Says:   "where the thru-axle screws into it, it has the old one's thread: M12 is made with pitches of 1, 1.5 and 1.75 mm, and they never mix",
			Test:   Match{Mine: "axle_thread", Rare: true},
			Source: byThruAxles,
		},
		finishRule("hanger"),
	},
}

// hangerTrue is read with a gauge from the wheel's rim.
var hangerTrue = Reading{
	Dimension: word("alignment", "alignment", "a hanger gauge screwed into it, held against the rim all round", "true", "slightly out", "bent"),
	Says: map[string]Advice{
		"true": says(Keep, "the hanger stands true to the wheel"),
		"slightly out": {Action: Adjust, Words: "align the hanger to the wheel before the gears are set: indexing is lost by it first",
			Source: Source{"mtobikes.com, mechanics' guide: a hanger is aligned to the wheel, not to itself", TradePage}, LookAt: []Place{"rear.derailleur"}},
		"bent": {Action: Replace, Words: "a hanger bent twice breaks at the second: alloy ones are replaced",
			Source: Source{"mtobikes.com, mechanics' guide: alloy hangers break at the second bend", TradePage}, LookAt: []Place{"rear.derailleur"}},
	},
}
