package substitution

var _ = families(&rimPad)

var rimPad = Table{
	Family: "rim-pad", Plural: "rim brake pads",
	Sites: []Site{
		{Place: "front.rim-pads", Words: "front rim brake pads", Safety: true},
		{Place: "rear.rim-pads", Words: "rear rim brake pads", Safety: true},
	},
	Readings: []Reading{wornToMark, oilyRimPad},
	Pieces:   2,
	Work: []Work{
		{Replace, "fit brake pads and set brake", 20},
		{Adjust, "set brake pads", 10},
		{Clean, "clean pads and rim", 10},
	},
	Dimensions: []Dimension{
		word("pad_fixing", "fixing", "look: threaded stud, smooth post or an insert for a holder", "threaded", "smooth-post", "cartridge-insert"),
		length(20, 90, "caliper along the pad"),
		padShape,
		word("rim_material", "rim it is made for", "read the pad; carbon rims want their own"),
	},
	Rules: []Rule{
		{
			ID: "rim-pad.fixing", Severity: Safety, Against: []Place{"~.caliper"},
			Says:   "the pad is held as the old one was: threaded stud, smooth post or holder",
			Test:   Match{Mine: "pad_fixing"},
			Source: Source{"brainybiker.com: an arm for smooth posts takes no threaded stud", Handbook},
		},
		{
			ID: "rim-pad.insert", Severity: Safety, When: []When{{Of: []Ref{mine("pad_fixing")}, Is: []string{"cartridge-insert"}, Known: true}},
			Says:   "an insert has its holder's shape",
			Test:   Match{Mine: "pad_shape", Theirs: []Ref{theirs("~.caliper", "pad_shape")}},
			Source: Source{"sqwabb.blogspot.com: not every insert goes into every holder", Handbook},
		},
		{
			ID: "rim-pad.rim", Severity: Safety,
			Says:   "the pad is made for the rim's material",
			Test:   Match{Mine: "rim_material", Theirs: []Ref{theirs("~.rim", "material")}, Usual: "alloy", Alike: []string{"alloy", "steel"}},
			Source: Source{"a carbon wheel maker's page on brake pads, cyclabo.com and a forum: carbon rims overheat under other pads, and carbon pads wear out on metal", Handbook},
		},
		{
			ID: "rim-pad.length", Severity: Function,
			Says:   "the pad is as long as it was",
			Test:   Same{Mine: []string{"length_mm"}},
			Source: byOldPart,
		},
	},
}
