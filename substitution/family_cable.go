package substitution

import "stead/substitution/standard"

var _ = families(&cableInner, &cableOuter)

var cableUse = word("use", "use", "read the label; a brake cable is the thicker one, with the larger head", "gear", "brake")

var cableInner = Table{
	Family: "cable-inner", Plural: "inner cables",
	Sites: []Site{
		{Place: "rear.gear-cable", Words: "rear gear cable"},
		{Place: "front.gear-cable", Words: "front gear cable"},
		{Place: "front.brake-cable", Words: "front brake cable", Safety: true},
		{Place: "rear.brake-cable", Words: "rear brake cable", Safety: true},
	},
	Readings: []Reading{frayed, stiffCable, metresWanted},
	ByMetre:  true,
	Work: []Work{
		{Replace, "fit cable and set it", 15},
		{Adjust, "set cable", 10},
		{Clean, "draw, clean and grease cable", 15},
	},
	Dimensions: []Dimension{
		cableUse, millimetres("diameter_mm", "diameter", 0.8, 3, "caliper"), length(300, 250000, "a tape, head to end"),
		word("nipple", "head", "look at the head in the lever: barrel, pear or the small gear head", "barrel", "pear", "gear", "both"),
		byMetre,
	},
	Agrees: []Agreement{cableFor},
	Rules: append([]Rule{
		useRule("cable-inner", "a gear cable never works a brake", small("cable-end", "cable end cap", 1)),
		{
			ID: "cable-inner.diameter", Severity: Mating,
			Says: "the cable is as thick as its use wants: gear 1.1 to 1.3 mm, brake 1.5 to 1.6",
			Test: Lookup{
				Of: []Ref{mine("use"), mine("diameter_mm")},
				Rows: []Row{
					{Keys: []string{"gear", "1.05..1.35"}, Answer: Holds}, {Keys: []string{"brake", "1.45..1.65"}, Answer: Holds},
					{Keys: []string{"*", "1.36..1.44"}, Answer: CantTell, Words: "between the two sizes: read the label"},
				},
				Otherwise: Breaks, Why: "another line's thickness", Rare: true,
			},
			Source: Source{"two published cable pages: a 1.6 mm cable does not enter gear parts drilled for 1.2", Handbook},
		},
		{
			ID: "cable-inner.head", Severity: Mating,
			Says: "the head is the old one's: barrel, pear or gear, or a cable with a head at either end, of which one is cut off; two makers' road heads differ a little, and wire off a roll has none until one is clamped or soldered on",
			Test: Lookup{
				Of: []Ref{mine("nipple"), old("nipple")},
				Rows: append(alike("barrel", "pear", "gear"), Row{Keys: []string{"both", "gear"}, Answer: Breaks}, Row{Keys: []string{"both", "*"}, Answer: Holds}, Row{Keys: []string{"gear", "both"}, Answer: Breaks},
					Row{Keys: []string{"*", "both"}, Answer: CantTell, Words: "look which of its two heads sat in the lever"}),
				Otherwise: Breaks, Why: "the lever holds another head", Optional: true,
			},
			Source: Source{"a published page on cable heads", Handbook},
		},
		{
			ID: "cable-inner.housing", Severity: Safety, Aside: true, At: []Place{"rear.gear-cable"},
			Says: "an inner cable for a brake goes through brake housing only",
			Test: Lookup{
				Of: []Ref{mine("use"), theirs("rear.gear-housing", "use")},
				Rows: []Row{{Keys: []string{"brake", "gear"}, Answer: Breaks, Words: "gear housing, with wires along it, bursts in a brake line"},
					{Keys: []string{"gear", "brake"}, Answer: CantTell, Words: "it goes through, and indexes badly: the housing gives way"}},
				Same: true, Otherwise: CantTell,
			},
			Source: Source{"two published cable pages: a 1.6 mm cable does not enter gear parts drilled for 1.2; that gear housing bursts is common practice", Handbook},
		},
		{
			ID: "cable-inner.lever-head", Severity: Mating, At: brakeCables,
			Says: "the head is the lever's: a barrel in levers for flat bars, a pear in levers for drop bars",
			Test: Lookup{
				Of: []Ref{mine("nipple"), theirs("~.lever", "shape")},
				Rows: []Row{
					{Keys: []string{"both", "*"}, Answer: Holds, Words: "one of its heads is cut off"}, {Keys: []string{"barrel", "flat"}, Answer: Holds}, {Keys: []string{"pear", "drop"}, Answer: Holds},
				},
				Otherwise: CantTell, Why: "hold it against the old one: some levers take the other head", Optional: true, Rare: true,
			},
			Source: Source{"a published page on cable heads: mountain levers take a barrel, road levers a pear", Handbook},
		},
		cutTo(longEnough("cable-inner.length", "length_mm", Mating, "it is at least as long as what was there; the rest is cut off", byOldPart)),
		materialRule("cable-inner", "stainless does not rust; galvanised costs less and wants grease", Source{"makers' lists", Practice}),
	}, cableRules("cable-inner", brakeCables, "rear.gear-cable")...),
}

var cableOuter = Table{
	Family: "cable-outer", Plural: "cable housings",
	Sites: []Site{
		{Place: "rear.gear-housing", Words: "rear gear housing"},
		{Place: "front.gear-housing", Words: "front gear housing"},
		{Place: "front.brake-housing", Words: "front brake housing", Safety: true},
		{Place: "rear.brake-housing", Words: "rear brake housing", Safety: true},
	},
	Readings: []Reading{damaged, stiffCable, metresWanted, wanted("cut lengths of it; what comes off a roll is said in metres")},
	Counted:  true,
	ByMetre:  true,
	Work: []Work{
		{Replace, "fit housing", 15},
		{Clean, "flush and grease housing", 10},
	},
	Dimensions: []Dimension{
		cableUse, millimetres("diameter_mm", "outside diameter", 2, 10, "caliper"), length(50, 100000, "a tape"),
		count("lengths", "lengths that it lies in", 1, 10, "count the pieces between the stops of the frame"), byMetre,
	},
	Rules: append([]Rule{
		housingUse(useRule("cable-outer", "gear housing, with wires along it, bursts in a brake line", Bring{})),
		{
			ID: "cable-outer.diameter", Severity: Mating,
			Says:   "the housing goes into the stops that held the old one: 4 or 5 mm",
			Test:   Match{Mine: "diameter_mm", Within: 0.2, Doubt: 1.05, Ask: "see whether stops and ferrules are for 4 or 5 mm"},
			Source: Source{"a published cable page: gear housing 4 or 5 mm, brake housing 5", Handbook},
		},
		cutTo(longEnough("cable-outer.length", "length_mm", Mating, "it is at least as long as what was there; the rest is cut off", byOldPart)),
		finishRule("cable-outer"),
	}, cableRules("cable-outer", brakeHousings, "rear.gear-housing")...),
}

var (
	brakeCables   = []Place{"front.brake-cable", "rear.brake-cable"}
	brakeHousings = []Place{"front.brake-housing", "rear.brake-housing"}
)

// cableRules are those of cable and housing beside what they work: a brake by fluid has neither, and where no bike is known
// a pair tells by its use whether it is for gears or for brakes.
func cableRules(f Family, brakes []Place, gears Place) []Rule {
	id := string(f)
	rules := []Rule{worksBy(id+".lever-works", brakes, "~.lever", "cable"), worksBy(id+".caliper-works", brakes, "~.caliper", "cable")}
	for _, beside := range []struct {
		id   string
		at   Place
		of   Ref
		use  string
		what string
	}{
		{".lever", brakes[0], theirs("front.lever", "actuation"), "brake", "a brake lever"},
		{".caliper", brakes[0], theirs("front.caliper", "actuation"), "brake", "a brake"},
		{".shifter", gears, theirs("shifter.right", "side"), "gear", "a shifter"},
		{".rear-derailleur", gears, theirs("rear.derailleur", "mount"), "gear", "a derailleur"},
		{".front-derailleur", "front" + gears[len("rear"):], theirs("front.derailleur", "mount"), "gear", "a derailleur"},
		{".hub-shifter", gears, theirs("shifter.hub", "gears"), "gear", "a hub's shifter"},
	} {
		rules = append(rules, Rule{
			ID: id + beside.id, Severity: Safety, Aside: true, At: []Place{beside.at},
			Says:   beside.what + " is worked by what is made for it: a gear cable and its housing give way in a brake, and a brake cable does not enter a gear part",
			Test:   Lookup{Of: []Ref{mine("use"), beside.of}, Rows: []Row{{Keys: []string{beside.use, "*"}, Answer: Holds}}, Otherwise: Breaks, Why: "it is made for the other"},
			Source: Source{"two published cable pages: a 1.6 mm cable does not enter gear parts drilled for 1.2; gear housing is unsafe in a brake", Handbook},
		})
	}
	return rules
}

// worksBy keeps cables off what works by fluid, and hoses off what works by cable.
func worksBy(id string, at []Place, neighbour Place, by string) Rule {
	return Rule{
		ID: id, Severity: Mating, At: at,
		Says:   "a brake by cable has a cable, one by fluid a hose",
		Test:   Lookup{Of: []Ref{theirs(neighbour, "actuation")}, Rows: only(by), Otherwise: Breaks, Why: "it works the other way", Optional: true, Rare: true},
		Source: byArithmetic,
	}
}

// useRule keeps gear cable and housing out of brakes, and brake cable out of gears. The place says which it is. A new
// one never goes on without its cap or ferrules.
func useRule(f Family, why string, with Bring) Rule {
	return Rule{
		ID: string(f) + ".use", Severity: Safety,
		Says:   "what is made for brakes goes in a brake, what is made for gears in a gear line: " + why,
		Test:   Is{Mine: "use", Placed: true, Brings: []Bring{with}, Why: why},
		Source: Source{"bikeman.com and a cable maker's page: gear housing is not for brakes; that it bursts is common practice", TradePage},
	}
}

// housingUse asks for the use, and brings two ferrules for each length that the old housing lay in: one end of each
// meets a stop or a lever at either side.
func housingUse(r Rule) Rule {
	is := r.Test.(Is)
	r.Test = Custom{
		Of: []Ref{mine("use"), old("lengths")},
		Judge: func(s Scene, at Place) Judgement {
			lengths := 1
			if n, known := s.Was[at].Get("lengths"); known {
				lengths = int(n.number)
			}
			with := is
			with.Brings = []Bring{small("ferrule", "ferrules", 2*lengths)}
			return with.judge(s, at)
		},
		Narrow: is.narrow,
	}
	return r
}

// byMetre says that a piece of it, on the shelf and in an offer, is one metre off a roll.
var byMetre = Dimension{Name: "by_metre", Form: Flag, Means: "kept by the metre", Measure: "see whether it comes off a roll: a piece of it is then one metre"}

// metresWanted says how much comes off the roll.
var metresWanted = Reading{Dimension: Dimension{Name: "metres", Form: Number, Low: 0.1, High: 50, Means: "metres of it in all", Measure: "a tape along the bike, all lengths added up"}, Counts: true,
	Judge: func(l Look) Advice { return says(Replace, l.Read["metres"].String()+" m wanted") }}

// cableFor: an inner cable's thickness and head tell what it is for, where nothing else does; for gears there is one
// head, and wire off a roll has none.
func cableFor(p *Part) []Follows {
	if use, _ := p.Get("use"); use.word == "gear" && !p.IsByMetre() {
		return []Follows{{Dimension: "nipple", Value: Text("gear"), Loose: true}}
	}
	if thick, known := p.Get("diameter_mm"); known {
		if use := standard.CableUse(thick.number); use != "" {
			return []Follows{{Dimension: "use", Value: Text(use), Because: "diameter_mm " + thick.String(), Loose: true}}
		}
	}
	switch head, _ := p.Get("nipple"); head.word {
	case "gear":
		return []Follows{{Dimension: "use", Value: Text("gear"), Because: "nipple gear", Loose: true}}
	case "barrel", "pear", "both":
		return []Follows{{Dimension: "use", Value: Text("brake"), Because: "nipple " + head.word, Loose: true}}
	}
	return nil
}
