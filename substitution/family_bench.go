package substitution

import (
	"slices"

	"stead/substitution/standard"
)

var _ = families(&bolt, &grease, &lubricant, &cleaner, &consumable)

var grease = Table{
	Family: "grease", Plural: "greases",
	Sites: []Site{
		{Place: "bench.grease", Words: "grease"},
	},
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
		purposeRule("grease", nil),
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

// consumable is whatever else a bench uses; nothing decides its fit. Its purpose and the one size that matters tell apart
// the small parts that another part's fit calls for: spacers, adapters, lockrings, star nuts.
var consumable = Table{
	Family: "consumable", Plural: "consumables",
	Sites: []Site{
		{Place: "bench.consumable", Words: "bench consumable"},
	},
	Dimensions: []Dimension{
		word("purpose", "purpose", "read the label", "freehub-spacer", "rotor-adapter", "clamp-shim", "ferrule", "cable-end", "valve-reducer",
			"cassette-lockring", "rotor-lockring", "star-nut", "steerer-expander", "crush-washer", "hose-olive", "hose-insert", "other"),
		Dimension{Name: "width_mm", Form: Number, Low: 0.1, High: 200, Means: "width", Measure: "caliper"},
		teethMin,
		millimetres("steerer_mm", "steerer diameter", 20, 60, "caliper round the steerer that it goes into"),
		word("notches", "notches", "look where the tool grips a lockring", "inside", "outside"),
	},
}

// purposeRule is the only rule of what comes in a bottle: it is for what the old one was for.
func purposeRule(f Family, alsoFor map[string][]string) Rule {
	return Rule{
		ID: string(f) + ".purpose", Severity: Function,
		Says: "it is for what the old one was for",
		Test: Custom{Of: []Ref{mine("purpose")}, Judge: func(s Scene, at Place) Judgement {
			if d := s.side(mine("purpose"), at); d.changed && slices.Contains(alsoFor[d.now.word], d.was.word) {
				return d.besideOld(Holds)
			}
			return Same{Mine: []string{"purpose"}}.judge(s, at)
		}},
		Source: Source{"the maker's label, and workshop pages where they say what else a bottle serves for", Practice},
	}
}

func bottled(f Family, plural string, alsoFor map[string][]string) Table {
	return Table{Family: f, Plural: plural, Sites: []Site{{Place: Place("bench." + string(f)), Words: string(f)}}, Dimensions: grease.Dimensions, Rules: []Rule{purposeRule(f, alsoFor)}}
}

var (
	lubricant = bottled("lubricant", "lubricants", map[string][]string{"chain": {"cable", "pivot", "derailleur"}})
	cleaner   = bottled("cleaner", "cleaners", map[string][]string{"isopropyl": {"brake"}})
)

var bolt = Table{
	Family: "bolt", Plural: "bolts",
	Sites: []Site{
		{Place: "frame.bolt", Words: "bolt on the frame"},
		{Place: "bench.bolt", Words: "bolt"},
	},
	Readings: []Reading{damaged},
	Work: []Work{
		{Replace, "fit bolt", 5},
		{Adjust, "tighten bolt", 5},
	},
	Dimensions: []Dimension{threadWord, length(3, 200, "caliper under the head")},
	Rules: []Rule{
		{
			ID: "bolt.thread", Severity: Mating,
			Says:   "the bolt has the old one's thread, pitch and hand",
			Test:   Match{Mine: "thread"},
			Source: Source{"published thread tables: M10x1 on a bike is not the M10x1.5 of the ironmonger", Handbook},
		},
		{
			ID: "bolt.length", Severity: Mating,
			Says:   "the bolt is as long as the old one",
			Test:   Match{Mine: "length_mm", Within: 1},
			Source: byOldPart,
		},
		materialRule("bolt", "strength and rust differ; stainless or titanium in alloy wants grease against seizing", Source{"an anodic-index guideline", Handbook}),
		finishRule("bolt"),
	},
}
