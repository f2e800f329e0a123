package substitution

var _ = families(&saddle, &seatClamp)

var (
	railWord = word("rails", "saddle fixing", "look under the saddle: two round rails of 7 mm, oval ones of 7 x 9, or another mount", "round", "oval", "single", "pivotal", "three-point")
	byRails  = Source{"two bike makers' manuals: a clamp is for round rails of 7 mm, its outer parts for oval ones are sold apart; rails of another size than the clamp's break or come loose", Catalogue}
)

var saddle = Table{
	Family: "saddle", Plural: "saddles",
	Sites: []Site{
		{Place: "saddle", Words: "saddle", Safety: true},
	},
	Readings: []Reading{damaged},
	Work:     []Work{{Replace, "fit saddle", 10}, {Adjust, "set saddle", 5}, {Clean, "clean and dress saddle", 10}},
	Dimensions: []Dimension{
		railWord,
		millimetres("width_mm", "width", 90, 320, "at the widest, with a tape"),
		millimetres("length_mm", "length", 120, 400, "nose to tail, with a tape"),
		word("cover", "cover", "look and feel", "leather", "synthetic", "gel", "cloth"),
	},
	Rules: []Rule{
		{
			ID: "saddle.rails", Severity: Safety,
			Says:   "the rails go into the post's clamp: oval carbon rails crack in a clamp for round ones, and round ones slip in one for oval",
			Test:   Match{Mine: "rails", Theirs: []Ref{theirs("seatpost", "rails")}, Usual: "round"},
			Source: byRails,
		},
		{ID: "saddle.width", Severity: Function, Says: "it is as wide as it was", Test: Same{Mine: []string{"width_mm"}}, Source: byOldPart},
		{ID: "saddle.length", Severity: Function, Says: "it is as long as it was", Test: Same{Mine: []string{"length_mm"}}, Source: byOldPart},
		{ID: "saddle.cover", Severity: Function, Says: "it is covered as it was", Test: Same{Mine: []string{"cover"}}, Source: byOldPart},
		finishRule("saddle"),
	},
}

var seatClamp = Table{
	Family: "seat-clamp", Plural: "seat clamps",
	Sites: []Site{
		{Place: "seatpost.clamp", Words: "seat clamp", Safety: true},
	},
	Readings: []Reading{damaged},
	Work:     []Work{{Replace, "fit seat clamp", 5}, {Adjust, "tighten seat clamp", 3}, {Clean, "clean and grease seat clamp", 5}},
	Dimensions: []Dimension{
		millimetres("diameter_mm", "clamp diameter", 20, 60, "caliper round the seat tube at its top, not round the post"),
		word("kind", "kind", "look: a bolt or a lever", "bolt", "lever"),
		length(5, 60, "caliper: its height on the tube"),
	},
	Rules: []Rule{
		{
			ID: "seat-clamp.diameter", Severity: Safety,
			Says:   "the clamp goes round the seat tube: 28.6, 31.8 and 34.9 mm are three sizes",
			Test:   Match{Mine: "diameter_mm", Theirs: []Ref{theirs("frame", "seat_tube_mm")}, Within: 0.3, Doubt: 1.6, Ask: "measure the tube at its very top, where the clamp sits"},
			Source: Source{"clamp diameters of published references, as for front derailleur bands: 28.6, 31.8, 34.9 mm", Handbook},
		},
		{ID: "seat-clamp.kind", Severity: Function, Says: "it opens as it did, by hand or with a key", Test: Same{Mine: []string{"kind"}}, Source: byOldPart},
		{
			ID: "seat-clamp.height", Severity: Mating,
			Says:   "it is no higher than the old one: the slot in the tube stays below it",
			Test:   Match{Mine: "length_mm", Within: 2, Doubt: 8, Ask: "hold it against the tube's collar", Rare: true, Optional: true},
			Source: byOldPart,
		},
		finishRule("seat-clamp"),
	},
}
