package substitution

var rimPad = Table{
	Family: "rim-pad", Plural: "rim brake pads",
	Dimensions: []Dimension{
		word("pad_fixing", "fixing", "look: threaded stud, smooth post or an insert for a holder", "threaded", "smooth-post", "cartridge-insert"),
		length(20, 90, "caliper along the pad"),
		word("rim_material", "rim it is made for", "read the pad; carbon rims want their own"),
	},
	Rules: []Rule{
		{
			ID: "rim-pad.fixing", Severity: Mating,
			Says:   "the pad is held as the old one was: threaded stud, smooth post or holder",
			Test:   Match{Mine: "pad_fixing"},
			Source: byOldPart,
		},
		{
			ID: "rim-pad.rim", Severity: Safety,
			Says:   "the pad is made for the rim's material",
			Test:   Match{Mine: "rim_material", Theirs: []Ref{theirs("~.rim", "material")}},
			Source: Source{"rim makers name the pads for their carbon rims", Practice},
		},
		{
			ID: "rim-pad.length", Severity: Function,
			Says:   "the pad is as long as it was",
			Test:   Same{Mine: []string{"length_mm"}},
			Source: byOldPart,
		},
	},
}
