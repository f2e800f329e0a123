package substitution

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

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
		purposeRule("grease", map[string][]string{
			"bearing": {"general", "tacky", "hub-gear"}, "general": {"tacky"}, "tacky": {"general"}, "assembly": {"anti-seize"}, "anti-seize": {"assembly"},
			"suspension": {"fork"}, "fork": {"suspension"},
		}),
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

// consumable is whatever else a bench uses. Its purpose and the one size that matters tell apart the small parts that
// another part's fit calls for: spacers, adapters, lockrings, star nuts.
var consumable = Table{
	Family: "consumable", Plural: "consumables",
	Sites: []Site{
		{Place: "bench.consumable", Words: "bench consumable"},
	},
	Dimensions: []Dimension{
		word("purpose", "purpose", "read the label", "freehub-spacer", "rotor-adapter", "caliper-adapter", "clamp-shim", "bar-shim", "post-sleeve", "tab-clamp", "ferrule", "cable-end", "valve-reducer",
			"cassette-lockring", "rotor-lockring", "star-nut", "steerer-expander", "crush-washer", "hose-olive", "hose-insert", "tubeless-valve", "sealant", "tubeless-plug", "tubular-glue", "tubular-tape", "brake-fluid", "patch", "derailleur-link", "other"),
		Dimension{Name: "width_mm", Form: Number, Low: 0.1, High: 200, Means: "width", Measure: "caliper"},
		teethMin,
		millimetres("steerer_mm", "steerer diameter", 20, 60, "caliper round the steerer that it goes into"),
		word("notches", "notches", "look where the tool grips a lockring", "inside", "outside"),
		fluid,
		millimetres("valve_mm", "valve length", 20, 120, "caliper from the foot to the tip, of a tubeless valve"),
	},
	Rules: append([]Rule{
		{
			ID: "consumable.purpose", Severity: Mating,
			Says: "it is for what the old one was for",
			Test: Lookup{Of: []Ref{mine("purpose"), old("purpose")}, Rows: []Row{
				{Keys: []string{"tubular-tape", "tubular-glue"}, Answer: Holds, Words: "both hold a tubular to its rim"}, {Keys: []string{"tubular-glue", "tubular-tape"}, Answer: Holds, Words: "both hold a tubular to its rim"},
			}, Same: true, Otherwise: Breaks, Why: "it is made for something else", Optional: true},
			Source: Source{"the maker's label; reference pages on tubular tyres: they are glued or taped", Practice},
		},
		{
			ID: "consumable.work", Severity: Function,
			Says:   "it is worked as the old one was",
			Test:   Same{Mine: []string{"purpose"}},
			Source: Source{"glue and tape hold a tubular alike, and are put on and taken off otherwise", Practice},
		},
		fluidRule("consumable"),
		sizeRule("consumable.width", "width_mm", 0.06, "a spacer, shim or sleeve is as wide as the old one"),
		sizeRule("consumable.teeth", "teeth_min", 0, "a lockring is made for the smallest sprocket"),
		sizeRule("consumable.steerer", "steerer_mm", 0.15, "it goes into the steerer that the old one was in"),
		{
			ID: "consumable.valve-length", Severity: Mating,
			Says:   "a tubeless valve is as long as the old one, or stands out of the rim far enough for the pump",
			Test:   Limit{Sum: []Term{plus(mine("valve_mm"))}, AtLeast: []Ref{old("valve_mm")}, Optional: true, Doubt: 60, Ask: "measure the rim's depth: the valve wants some 10 mm more"},
			Source: byOldPart,
		},
		{
			ID: "consumable.notches", Severity: Mating,
			Says:   "a lockring has its notches where the old one had them",
			Test:   Lookup{Of: []Ref{mine("notches"), old("notches")}, Rows: append(alike("inside", "outside"), Row{Keys: []string{"outside", "*"}, Answer: Holds, Words: "it clears every axle"}), Otherwise: Breaks, Why: "it does not clear a thick axle", Optional: true, Rare: true},
			Source: Source{"brainybiker.com and cyclabo.com on centre-lock lockrings", Handbook},
		},
	}, heldBeside()...),
}

// purposeRule is the first rule of what comes in a bottle or a bag: it is for what the old one was for. The map says what
// else a kind serves for.
func purposeRule(f Family, alsoFor map[string][]string) Rule {
	var rows []Row
	for what, others := range alsoFor {
		for _, other := range others {
			rows = append(rows, Row{Keys: []string{what, other}, Answer: Holds, Words: "it serves for that as well"})
		}
	}
	slices.SortFunc(rows, func(a, b Row) int { return cmp.Compare(a.Keys[0]+a.Keys[1], b.Keys[0]+b.Keys[1]) })
	return Rule{
		ID: string(f) + ".purpose", Severity: Mating,
		Says:   "it is for what the old one was for",
		Test:   Lookup{Of: []Ref{mine("purpose"), old("purpose")}, Rows: rows, Same: true, Otherwise: Breaks, Why: "it is made for something else", Optional: true},
		Source: Source{"the maker's label, and workshop pages where they say what else a bottle serves for", Practice},
	}
}

// fluidRule keeps mineral oil and DOT fluid apart, in the bottle and in the brake that it is for.
func fluidRule(f Family) Rule {
	return Rule{
		ID: string(f) + ".fluid", Severity: Safety,
		Says:   "brake fluid is of the kind that the brake holds: DOT fluid and mineral oil never mix, each ruins the other's seals",
		Test:   Match{Mine: "fluid", Theirs: fluidIn, Each: true, Rare: true},
		When:   []When{{Of: []Ref{mine("purpose")}, Is: []string{"brake", "brake-fluid"}, Known: true}},
		Source: byFluids,
	}
}

func sizeRule(id, dimension string, within float64, says string) Rule {
	return Rule{ID: id, Severity: Mating, Says: says, Test: Match{Mine: dimension, Theirs: []Ref{old(dimension)}, Within: within, Optional: true, Rare: true}, Source: byOldPart}
}

func bottled(f Family, plural string, alsoFor map[string][]string) Table {
	return Table{Family: f, Plural: plural, Sites: []Site{{Place: Place("bench." + string(f)), Words: string(f)}},
		Dimensions: append(slices.Clip(grease.Dimensions), fluid), Rules: []Rule{purposeRule(f, alsoFor), fluidRule(f)}}
}

var (
	lubricant = bottled("lubricant", "lubricants", map[string][]string{
		"chain": {"cable", "pivot", "derailleur"}, "general": {"household", "pivot", "cable", "derailleur"}, "suspension": {"fork"}, "fork": {"suspension"},
	})
	cleaner = bottled("cleaner", "cleaners", map[string][]string{
		"isopropyl": {"brake"}, "drivetrain": {"chain"}, "chain": {"drivetrain"}, "general": {"frame"}, "frame": {"general"},
	})
)

// boltPlaces are where bolts hold the rider, and two for all others.
var boltPlaces = []Site{
	{Place: "stem.bolts", Words: "stem bolts", Safety: true},
	{Place: "seatpost.clamp-bolt", Words: "seat clamp bolt", Safety: true},
	{Place: "seatpost.saddle-bolts", Words: "saddle clamp bolts", Safety: true},
	{Place: "crank.bolts", Words: "crank bolts", Safety: true},
	{Place: "front.caliper.bolts", Words: "front brake mounting bolts", Safety: true},
	{Place: "rear.caliper.bolts", Words: "rear brake mounting bolts", Safety: true},
	{Place: "front.rotor.bolts", Words: "front rotor bolts", Safety: true},
	{Place: "rear.rotor.bolts", Words: "rear rotor bolts", Safety: true},
	{Place: "frame.bolt", Words: "bolt on the frame"},
	{Place: "bench.bolt", Words: "bolt"},
}

var byThreadList = Source{"a tool maker's list of bicycle threads, as reposted: M5x0.8 rotor, M6x1 caliper, M8x1 square-taper crank bolts, M12x1 some splined ones", Handbook}

var bolt = Table{
	Family: "bolt", Plural: "bolts",
	Sites: boltPlaces,
	Dimensions: []Dimension{
		threadWord, length(3, 200, "caliper under the head"),
		word("strength", "strength class", "read the head: 8.8, 10.9, 12.9 in steel, A2-70 in stainless", "4.8", "5.8", "6.8", "8.8", "10.9", "12.9", "A2-50", "A2-70", "A2-80", "A4-70", "A4-80"),
		count("tensile_mpa", "tensile strength", 100, 2000, "follows from the class on the head"),
	},
	Readings: []Reading{damaged},
	Work: []Work{
		{Replace, "fit bolt", 5},
		{Adjust, "tighten bolt", 5},
	},
	Agrees: []Agreement{strengthOfClass},
	Rules: []Rule{
		{
			ID: "bolt.thread", Severity: Safety, Against: []Place{"stem", "seatpost", "crank", "frame"},
			Says:   "the bolt has the old one's thread, pitch and hand",
			Test:   Match{Mine: "thread"},
			Source: Source{"published thread tables: M10x1 on a bike is not the M10x1.5 of the ironmonger", Handbook},
		},
		{
			ID: "bolt.length", Severity: Safety,
			Says:   "the bolt is as long as the old one: shorter it holds by less thread, longer it meets the bottom",
			Test:   Match{Mine: "length_mm", Within: 1},
			Source: byOldPart,
		},
		{
			ID: "bolt.strength", Severity: Safety,
			Says:   "the bolt is as strong as the old one, by the class on its head",
			Test:   Limit{Sum: []Term{plus(mine("tensile_mpa"))}, AtLeast: []Ref{old("tensile_mpa")}, Optional: true},
			Source: Source{"strength classes of bolts: the first figure of 8.8, 10.9 or 12.9 is a hundredth of the tensile strength in N/mm², that after A2- or A4- a tenth", Handbook},
		},
		{
			ID: "bolt.rotor", Severity: Safety, At: []Place{"front.rotor.bolts", "rear.rotor.bolts"},
			Says: "a rotor's bolts are M5x0.8; a centre-lock rotor has none",
			Test: Lookup{Of: []Ref{mine("thread"), theirs("~.rotor", "rotor_mount")}, Rows: []Row{
				{Keys: []string{"*", "centre-lock"}, Answer: Breaks, Words: "a lockring holds it"}, {Keys: []string{"M5x0.8", "6-bolt"}, Answer: Holds},
			}, Otherwise: Breaks, Why: "it is another thread than the hub's", Optional: true},
			Source: byThreadList,
		},
		{
			ID: "bolt.caliper", Severity: Safety, At: []Place{"front.caliper.bolts", "rear.caliper.bolts"},
			Says: "a caliper on posts or tabs is held by M6x1",
			Test: Lookup{Of: []Ref{mine("thread"), theirs("~.caliper", "mount")}, Rows: []Row{
				{Keys: []string{"M6x1", "post"}, Answer: Holds}, {Keys: []string{"M6x1", "is"}, Answer: Holds}, {Keys: []string{"*", "post"}, Answer: Breaks}, {Keys: []string{"*", "is"}, Answer: Breaks},
			}, Otherwise: CantTell, Why: "measure the old bolt", Optional: true},
			Source: byThreadList,
		},
		{
			ID: "bolt.crank", Severity: Safety, At: []Place{"crank.bolts"},
			Says: "a crank on a square taper is held by M8x1: M8x1.25 starts in the spindle and tears it",
			Test: Lookup{Of: []Ref{mine("thread"), theirs("bottom-bracket", "spindle_interface")}, Rows: []Row{
				{Keys: []string{"M8x1", "jis-taper"}, Answer: Holds}, {Keys: []string{"M8x1", "iso-taper"}, Answer: Holds}, {Keys: []string{"*", "jis-taper"}, Answer: Breaks}, {Keys: []string{"*", "iso-taper"}, Answer: Breaks},
			}, Otherwise: CantTell, Why: "some splined spindles take M12x1: measure the old bolt", Optional: true},
			Source: byThreadList,
		},
		materialRule("bolt", "strength and rust differ; stainless or titanium in alloy wants grease against seizing", Source{"an anodic-index guideline", Handbook}),
		finishRule("bolt"),
	},
}

// strengthOfClass reads the tensile strength off the class: 8.8 is 800 N/mm², A2-70 is 700.
func strengthOfClass(p *Part) []Follows {
	class, known := p.Get("strength")
	if !known {
		return nil
	}
	text, times := strings.SplitN(class.word, ".", 2)[0], 100
	if _, figure, stainless := strings.Cut(class.word, "-"); stainless {
		text, times = figure, 10
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		return nil
	}
	return []Follows{{Dimension: "tensile_mpa", Value: Count(n * times), Because: "strength " + class.word}}
}
