package substitution

import "stead/substitution/standard"

var grease = Table{
	Family: "grease", Plural: "greases",
	Dimensions: []Dimension{
		word("purpose", "purpose", "read the label"),
		Dimension{Name: "volume_ml", Form: Number, Low: 1, High: 100000, Means: "volume", Measure: "read the label"},
		Dimension{Name: "mass_g", Form: Number, Low: 1, High: 100000, Means: "mass", Measure: "read the label"},
		word("nlgi", "NLGI grade", "read the label"),
		word("thickener", "thickener", "read the label or the data sheet"),
	},
	Rules: []Rule{
		{
			ID: "grease.thickener", Severity: Function,
			Says:   "the grease mixes with what is in the bearings; else they are cleaned out first",
			Test:   Same{Mine: []string{"thickener"}, Feel: mixing},
			Source: Source{"FIST 2-4 (US Bureau of Reclamation, 11/90) table 2; published charts disagree with one another", Handbook},
		},
		{
			ID: "grease.purpose", Severity: Function,
			Says:   "the grease is for what the old one was for",
			Test:   Same{Mine: []string{"purpose"}},
			Source: Source{"the maker's label", Practice},
		},
		{
			ID: "grease.nlgi", Severity: Function,
			Says:   "the grease is as stiff: NLGI 1 to 3 for bearings",
			Test:   Same{Mine: []string{"nlgi"}},
			Source: Source{"NLGI grades by ASTM D217 penetration", Handbook},
		},
	},
}

// mixing is what to do where another thickener comes in.
func mixing(s Scene, at Place) string {
	was, _ := s.Was[at].Get("thickener")
	now, _ := s.Now[at].Get("thickener")
	return now.word + " grease in place of " + was.word + ": " + standard.MixingAdvice(was.word, now.word)
}

// consumable is whatever else a bench uses; nothing decides its fit. Purpose and width tell apart the small parts that
// another part's fit calls for: spacers, adapters, shims.
var consumable = Table{
	Family: "consumable", Plural: "consumables",
	Dimensions: []Dimension{
		word("purpose", "purpose", "read the label", "freehub-spacer", "rotor-adapter", "clamp-shim", "other"),
		Dimension{Name: "width_mm", Form: Number, Low: 0.1, High: 200, Means: "width", Measure: "caliper"},
	},
}
