package substitution

import (
	"fmt"
	"strconv"
	"strings"
)

var _ = families(&brakeLever, &discRotor, &brakeCaliper, &discPad)

var (
	padShape  = word("pad_shape", "pad shape", "hold the old pad against the new one; the code on its backing plate")
	hoseEnd   = word("hose", "hose end", "look where the hose enters the caliper: an eye under a hollow bolt, or a nut over an olive", "banjo", "olive")
	fluid     = word("fluid", "brake fluid", "read the lever's reservoir cap", "dot", "mineral-oil")
	pull      = word("pull", "pull", "the maker's word: short or long cable pull", "short", "long")
	actuation = word("actuation", "actuation", "look", "cable", "hydraulic")
	system    = word("system", "brake system", "read lever and caliper: the maker's name for the pair of them")
	brakeKind = word("kind", "kind", "look: does it grip the rim or a disc", "rim", "disc")

	rotorAdapter = small("rotor-adapter", "adapter for a six-bolt rotor on a centre-lock hub", 1)

	byRotorMounts = Source{"rotor and hub interfaces must not be intermixed; adapters as published reference pages describe them", Handbook}
	byPulls       = Source{"bikegremlin.com, brake lever pull: direct-pull 15 mm, cantilever and old road 7, new road 8", Handbook}
	byFluids      = Source{"49 CFR 571.116: DOT fluid is amber and mineral oil green, so that fluids that do not go together are not mixed (a letter of the agency, 1980); bike-advisor.com: reversed, they ruin seals and hoses", Handbook}
)

var brakeLever = Table{
	Family: "brake-lever", Plural: "brake levers",
	Sites: []Site{
		{Place: "front.lever", Words: "front brake lever", Safety: true},
		{Place: "rear.lever", Words: "rear brake lever", Safety: true},
	},
	Readings: []Reading{leverFeel, fluidColour, fluidMonths, brakeLeaks, damaged},
	Work: []Work{
		{Replace, "fit brake lever", 30},
		{Adjust, "adjust brake lever", 10},
		{Clean, "bleed brake", 30},
	},
	Dimensions: []Dimension{
		actuation, pull, fluid, system,
		word("shape", "bar it is made for", "look: for flat bars or for drop bars", "flat", "drop"),
		millimetres("bore_mm", "clamp diameter", 18, 30, "inside jaws of a caliper: 22.2 mm for flat bars, 23.8 for drop bars"),
		word("side", "side", "look", "left", "right", "pair"),
	},
	Rules: []Rule{
		{
			ID: "brake-lever.actuation", Severity: Safety,
			Says:   "lever and caliper both work by cable, or both by fluid",
			Test:   Match{Mine: "actuation", Theirs: []Ref{theirs("~.caliper", "actuation")}},
			Source: byOldPart,
		},
		{
			ID: "brake-lever.pull", Severity: Safety, When: []When{unless("actuation", "hydraulic"), {Of: []Ref{theirs("~.caliper", "actuation")}, Not: []string{"hydraulic"}}},
			Says:   "the lever gives the cable pull that the brake wants: a long-pull brake on a short-pull lever does not stop, and the reverse is weak",
			Test:   Match{Mine: "pull", Theirs: []Ref{theirs("~.caliper", "pull")}, Rare: true},
			Source: byPulls,
		},
		{
			ID: "brake-lever.fluid", Severity: Safety, When: []When{unless("actuation", "cable")},
			Says:   "lever and caliper hold one fluid: DOT fluid and mineral oil never mix, each ruins the other's seals",
			Test:   Match{Mine: "fluid", Theirs: []Ref{theirs("~.caliper", "fluid")}, Rare: true},
			Source: byFluids,
		},
		{
			ID: "brake-lever.system", Severity: Safety, When: []When{{Of: []Ref{mine("actuation")}, Is: []string{"hydraulic"}, Known: true}},
			Says:   "lever and caliper are of one system: piston sizes differ, and with them how hard the brake bites",
			Test:   Match{Mine: "system", Theirs: []Ref{theirs("~.caliper", "system")}},
			Source: byOriginalBrakeParts,
		},
		{
			ID: "brake-lever.bar", Severity: Safety,
			Says:   "the lever's clamp goes round the bar",
			Test:   Match{Mine: "bore_mm", Theirs: []Ref{theirs("handlebar", "grip_mm")}, Within: gripWithin, Rare: true},
			Source: byBarTable,
		},
		{
			ID: "brake-lever.shape", Severity: Safety,
			Says: "a lever for a flat bar goes on no drop bar, nor the other way round",
			Test: Lookup{
				Of: []Ref{mine("shape"), theirs("handlebar", "shape")},
				Rows: []Row{
					{Keys: []string{"drop", "drop"}, Answer: Holds}, {Keys: []string{"drop", "bullhorn"}, Answer: CantTell, Words: "hold it at the bend: road levers are fitted there, and some bends are too tight"},
					{Keys: []string{"drop", "*"}, Answer: Breaks}, {Keys: []string{"flat", "drop"}, Answer: Breaks},
					{Keys: []string{"flat", "flat"}, Answer: Holds}, {Keys: []string{"flat", "riser"}, Answer: Holds}, {Keys: []string{"flat", "swept"}, Answer: Holds},
				},
				Otherwise: CantTell, Why: "see whether the lever goes round the bend", Optional: true, Rare: true, Usual: "flat",
			},
			Source: byBarTable,
		},
		{
			ID: "brake-lever.side", Severity: Mating,
			Says:   "a left lever for a left one",
			Test:   sideAsOld,
			Source: Source{"they are mirror images", Practice},
		},
		finishRule("brake-lever"),
	},
}

// sideAsOld compares with the side of the part that was there; a pair serves either.
var sideAsOld = Lookup{
	Of: []Ref{mine("side"), old("side")},
	Rows: []Row{
		{Keys: []string{"pair", "*"}, Answer: Holds}, {Keys: []string{"left", "left"}, Answer: Holds}, {Keys: []string{"right", "right"}, Answer: Holds},
		{Keys: []string{"left", "pair"}, Answer: Breaks, Words: "the right one is missing"}, {Keys: []string{"right", "pair"}, Answer: Breaks, Words: "the left one is missing"},
	},
	Otherwise: Breaks, Why: "it is the other side's", Optional: true, Rare: true,
}

var discRotor = Table{
	Family: "disc-rotor", Plural: "disc rotors",
	Sites: []Site{
		{Place: "front.rotor", Words: "front brake rotor", Safety: true},
		{Place: "rear.rotor", Words: "rear brake rotor", Safety: true},
	},
	Readings: []Reading{trackThickness, rotorMark, runsOut},
	Work: []Work{
		{Replace, "fit rotor", 15},
		{Adjust, "true rotor", 15},
		{Clean, "clean rotor", 10},
	},
	Dimensions: []Dimension{
		count("rotor_mm", "rotor diameter", 100, 260, "read the rotor; across it with a rule"),
		rotorMount,
		millimetres("thickness_mm", "thickness", 0.5, 4, "caliper or micrometer on the brake track, not on the arms"),
		word("pads", "pads it allows", "read the rotor: some are marked for resin (organic) pads only", "any", "organic-only"),
	},
	Rules: []Rule{
		{
			ID: "disc-rotor.mount", Severity: Safety,
			Says: "the rotor goes on the hub: six bolts on six bolts, splines on splines, or six bolts on splines with an adapter",
			Test: Lookup{
				Of: []Ref{mine("rotor_mount"), theirs("~.hub", "rotor_mount")},
				Rows: append(alike("6-bolt", "centre-lock"), Row{
					Keys: []string{"6-bolt", "centre-lock"}, Answer: Holds, Words: "with an adapter and its lockring", Brings: []Bring{rotorAdapter},
				}),
				Otherwise: Breaks, Why: "there is nothing to hold the rotor by", Unaided: true,
			},
			Source: byRotorMounts,
		},
		rotorLockring,
		rotorLimit("disc-rotor.fork-limit", "front.rotor", "fork", 160),
		rotorLimit("disc-rotor.frame-limit", "rear.rotor", "frame", 140),
		rotorLeast("disc-rotor.fork-least", "front.rotor", "fork"),
		rotorLeast("disc-rotor.frame-least", "rear.rotor", "frame"),
		{
			ID: "disc-rotor.size", Severity: Mating,
			Says: "the rotor is the size that was there, for which caliper and adapter are set; 200 and 203 mm are two sizes; an adapter raises the caliper for a larger one",
			Test: Match{Mine: "rotor_mm", Fill: &Fill{Wider: true, Least: 20, Most: 63,
				Brings: small("caliper-adapter", "adapter that raises the caliper for the larger rotor", 1)}, Why: "caliper and adapter are set for the other size"},
			Source: Source{"the pad sits half the difference off: 1.5 mm between 200 and 203 (arithmetic); rookiejournal.com: adapters raise a caliper for a larger rotor", TradePage},
		},
		{
			ID: "disc-rotor.caliper-gap", Severity: Safety,
			Says:   "the rotor runs free in the caliper: it is no thicker than the brake is made for",
			Test:   Limit{Sum: []Term{plus(mine("thickness_mm"))}, AtMost: []Ref{theirs("~.caliper", "thickness_max_mm")}, Optional: true, Rare: true, Plus: 0.1},
			Source: byBrakeMaker,
		},
		{
			ID: "disc-rotor.caliper-stroke", Severity: Safety,
			Says:   "the rotor is no thinner than the brake is made for: worn, its pistons would come too far out",
			Test:   Limit{Sum: []Term{plus(mine("thickness_mm"))}, AtLeast: []Ref{theirs("~.caliper", "thickness_min_mm")}, Optional: true, Rare: true},
			Source: byBrakeMaker,
		},
		{
			ID: "disc-rotor.thickness", Severity: Safety, When: []When{{Of: []Ref{theirs("~.caliper", "thickness_max_mm")}, Unknown: true}},
			Says:   "the rotor is as thick new as the old one was new: much thicker it rubs, thinner it begins near its limit",
			Test:   Custom{Of: []Ref{mine("thickness_mm")}, Judge: rotorThickness, Geometry: true},
			Source: Source{"makers' new rotors run from 1.6 to 2.3 mm (velonews.com, road.cc); rookiejournal.com: a 1.85 mm rotor in a brake made for 2.0 was not fitted", TradePage},
		},
		{
			ID: "disc-rotor.pads-kept", Severity: Safety, Unless: []Place{"~.pads"},
			Says: "it allows the pads that were there",
			Test: Lookup{Of: []Ref{mine("pads"), old("pads")}, Rows: []Row{
				{Keys: []string{"any", "*"}, Answer: Holds}, {Keys: []string{"organic-only", "organic-only"}, Answer: Holds},
				{Keys: []string{"organic-only", "any"}, Answer: CantTell, Words: "read the pads: only organic ones go on it"},
			}, Otherwise: CantTell, Optional: true, Rare: true},
			Source: Source{"a wheel builder's page on pads and rotors: cheap rotors are marked for resin pads only", Handbook},
		},
		materialRule("disc-rotor", "it wears, sheds heat and weighs differently", Source{"rotor makers build steel and layered tracks", Practice}),
		finishRule("disc-rotor"),
	},
}

var byBrakeMaker = Source{"the brake maker's specification; velonews.com and rookiejournal.com on rotors from 1.6 to 2.3 mm", TradePage}

// rotorLimit holds a rotor to the size that the fork or frame is rated for. Where nobody knows the rating it is asked, but
// not of the smallest rotor that any is rated for.
func rotorLimit(id string, at, bearer Place, smallest float64) Rule {
	return Rule{
		ID: id, Severity: Safety, At: []Place{at},
		Says:   "the rotor is no larger than the " + string(bearer) + " is rated for",
		Test:   Limit{Sum: []Term{plus(mine("rotor_mm"))}, AtMost: []Ref{theirs(bearer, "rotor_max_mm")}, Lowest: smallest},
		Source: Source{byISO4210.Text + "; bikeman.com 1638, a bikeradar forum and a bicycles question page: the smallest rotor is 160 in front, 140 behind", Handbook},
	}
}

// rotorLeast holds a rotor to the size that the mount is made for without an adapter: no adapter lowers a caliper.
func rotorLeast(id string, at, bearer Place) Rule {
	return Rule{
		ID: id, Severity: Mating, At: []Place{at},
		Says:   "the rotor is no smaller than the size that the " + string(bearer) + "'s mount is made for: adapters raise a caliper, and none lowers it",
		Test:   Limit{Sum: []Term{plus(mine("rotor_mm"))}, AtLeast: []Ref{theirs(bearer, "rotor_min_mm")}, Optional: true},
		When:   []When{{Of: []Ref{theirs(bearer, "rotor_min_mm")}, Known: true}},
		Source: Source{"byka.info on post mount: a mount for 180 takes no 160, and a larger rotor by an adapter", Handbook},
	}
}

const (
	rotorSame  = 0.1  // mm: what makers' rotors of one nominal thickness differ by
	rotorOther = 0.35 // mm thicker than the old one from which on it is another brake's
)

// rotorThickness compares new with new: a worn rotor's measured thickness says nothing of what it was.
func rotorThickness(s Scene, at Place) Judgement {
	d := s.side(mine("thickness_mm"), at)
	if !d.changed || !d.known || !d.wasKnown || s.Was[at].Spec["thickness_mm"].Origin == Measured {
		return Judgement{}
	}
	j := d.besideOld(Holds)
	switch off := d.now.number - d.was.number; {
	case abs(off) <= rotorSame+rounding:
	case off > rotorOther:
		j.Answer, j.Before = Breaks, false
		j.Words += ": it does not run free between the pads of that brake"
	default:
		j.Answer, j.Before = CantTell, false
		j.Words += ": ask the brake's maker which rotors it takes"
		j.Missing = []Missing{{Place: Place(at.end() + ".caliper"), Dimension: "thickness_max_mm", Measure: "the brake maker's specification"}}
	}
	return j
}

var discPad = Table{
	Family: "disc-pad", Plural: "disc pads",
	Sites: []Site{
		{Place: "front.pads", Words: "front brake pads", Safety: true},
		{Place: "rear.pads", Words: "rear brake pads", Safety: true},
	},
	Readings: []Reading{padLining, oilyPad},
	Pieces:   2,
	Work: []Work{
		{Replace, "fit brake pads and set brake", 20},
		{Clean, "clean and roughen pads", 15},
	},
	Dimensions: []Dimension{
		padShape,
		word("compound", "compound", "read the back of the pad", "organic", "sintered", "semi-metallic"),
	},
	Rules: []Rule{
		{
			ID: "disc-pad.shape", Severity: Safety,
			Says:   "the pad has the shape that the caliper takes",
			Test:   Match{Mine: "pad_shape", Theirs: []Ref{theirs("~.caliper", "pad_shape")}},
			Source: Source{"calipers that share a shape code share pads", Practice},
		},
		{
			ID: "disc-pad.rotor", Severity: Safety,
			Says: "the rotor allows the lining: some are marked for organic pads only",
			Test: Lookup{
				Of: []Ref{mine("compound"), theirs("~.rotor", "pads")},
				Rows: []Row{
					{Keys: []string{"organic", "*"}, Answer: Holds, Words: "every rotor takes organic pads"},
					{Keys: []string{"*", "any"}, Answer: Holds},
					{Keys: []string{"sintered", "organic-only"}, Answer: Breaks},
					{Keys: []string{"semi-metallic", "organic-only"}, Answer: CantTell, Words: "the rotor maker's word decides"},
				},
				Otherwise: CantTell, Rare: true,
			},
			Source: Source{"a wheel builder's page on pads and rotors: cheap rotors are marked for resin pads only", Handbook},
		},
		{
			ID: "disc-pad.compound", Severity: Function,
			Says: "the lining is of the kind that was there",
			Test: Same{Mine: []string{"compound"}, Feel: func(s Scene, at Place) string {
				was, _ := s.Was[at].Get("compound")
				now, _ := s.Now[at].Get("compound")
				return now.word + " lining in place of " + was.word + ": bite, noise and wear differ, and the rotor must allow it (read its marking)"
			}},
			Source: Source{"rotors are marked where they allow one lining only", Practice},
		},
	},
}

var brakeCaliper = Table{
	Family: "brake-caliper", Plural: "brake calipers",
	Sites: []Site{
		{Place: "front.caliper", Words: "front brake caliper", Safety: true},
		{Place: "rear.caliper", Words: "rear brake caliper", Safety: true},
	},
	Readings: []Reading{brakeLeaks, damaged},
	Work: []Work{
		{Replace, "fit caliper and set brake", 40},
		{Adjust, "set brake", 15},
		{Clean, "clean caliper", 20},
	},
	Dimensions: []Dimension{
		word("mount", "mount", "look: post, flat, is; for a rim brake its reach"),
		pull, actuation, padShape, hoseEnd, fluid, system, brakeKind,
		count("pistons", "pistons", 1, 8, "count them"),
		millimetres("thickness_min_mm", "thinnest rotor it takes", 0.5, 4, "the brake maker's specification"),
		millimetres("thickness_max_mm", "thickest rotor it takes", 0.5, 4, "the brake maker's specification"),
	},
	Ordered: [][2]string{{"thickness_min_mm", "thickness_max_mm"}},
	Agrees:  []Agreement{caliperKind},
	Rules: []Rule{
		caliperMount("brake-caliper.mount-front", "front.caliper", "fork"),
		caliperMount("brake-caliper.mount-rear", "rear.caliper", "frame"),
		caliperOnPosts("brake-caliper.posts-front", "front.caliper", "fork", When{Unknown: true}),
		caliperOnPosts("brake-caliper.posts-rear", "rear.caliper", "frame", When{Unknown: true}),
		caliperOnPosts("brake-caliper.tabs-front", "front.caliper", "fork", When{Known: true}, adaptersFor("front")...),
		caliperOnPosts("brake-caliper.tabs-rear", "rear.caliper", "frame", When{Known: true}, adaptersFor("rear")...),
		{
			ID: "brake-caliper.pull", Severity: Safety, When: []When{unless("actuation", "hydraulic")},
			Says:   "the caliper wants the cable pull that its lever gives: a long-pull brake on a short-pull lever does not stop, and the reverse is weak",
			Test:   Match{Mine: "pull", Theirs: []Ref{theirs("~.lever", "pull")}},
			Source: byPulls,
		},
		{
			ID: "brake-caliper.actuation", Severity: Mating,
			Says:   "cable stays cable, hydraulic stays hydraulic: the lever is the other half",
			Test:   Match{Mine: "actuation", Theirs: []Ref{theirs("~.lever", "actuation")}},
			Source: byOldPart,
		},
		{
			ID: "brake-caliper.fluid", Severity: Safety, When: []When{unless("actuation", "cable")},
			Says:   "the caliper takes the fluid that its lever holds: DOT fluid and mineral oil never mix, each ruins the other's seals",
			Test:   Match{Mine: "fluid", Theirs: []Ref{theirs("~.lever", "fluid")}, Rare: true},
			Source: byFluids,
		},
		{
			ID: "brake-caliper.system", Severity: Safety, When: []When{{Of: []Ref{mine("actuation")}, Is: []string{"hydraulic"}, Known: true}},
			Says:   "lever and caliper are of one system: piston sizes differ, and with them how hard the brake bites",
			Test:   Match{Mine: "system", Theirs: []Ref{theirs("~.lever", "system")}},
			Source: byOriginalBrakeParts,
		},
		{
			ID: "brake-caliper.kind", Severity: Mating,
			Says:   "a brake on the rim stays one, a brake on a disc likewise",
			Test:   Match{Mine: "kind", Rare: true, Why: "wheel and lever are made for the other"},
			Source: byOldPart,
		},
		{
			ID: "brake-caliper.thick-rotor", Severity: Safety, Unless: []Place{"~.rotor"},
			Says:   "it takes the rotor that the old caliper took",
			Test:   Limit{Sum: []Term{plus(mine("thickness_max_mm"))}, AtLeast: []Ref{old("thickness_min_mm")}, Optional: true},
			Source: byBrakeMaker,
		},
		{
			ID: "brake-caliper.thin-rotor", Severity: Safety, Unless: []Place{"~.rotor"},
			Says:   "it takes the rotor that the old caliper took",
			Test:   Limit{Sum: []Term{plus(mine("thickness_min_mm"))}, AtMost: []Ref{old("thickness_max_mm")}, Optional: true},
			Source: byBrakeMaker,
		},
		{
			ID: "brake-caliper.pistons", Severity: Function,
			Says:   "it has as many pistons",
			Test:   Same{Mine: []string{"pistons"}},
			Source: Source{"more pistons bite harder with the same lever", Practice},
		},
		{
			ID: "brake-caliper.pads", Severity: Function,
			Says:   "it takes the pads that were there",
			Test:   Same{Mine: []string{"pad_shape"}},
			Source: Source{"calipers that share a shape code share pads", Practice},
		},
		caliperHose,
		finishRule("brake-caliper"),
	},
}

func caliperMount(id string, at, bearer Place) Rule {
	return Rule{
		ID: id, Severity: Safety, At: []Place{at}, Unless: []Place{"~.adapter"}, When: []When{unless("mount", "post")},
		Says:   "the caliper bolts on as the old one did, on the mount that the " + string(bearer) + " has",
		Test:   Match{Mine: "mount", Theirs: []Ref{theirs(bearer, "brake_mount")}, Doubtful: reachOnBolt, Ask: askReach, Why: "none takes another's caliper"},
		Source: byMounts,
	}
}

var byMounts = Source{"published overviews of post, flat and tab mounts and of rim brake reach: none takes another's caliper", Handbook}

// caliperOnPosts is the rule of a caliper with two posts' holes: it goes on tabs too, with the adapter for its rotor. Where
// the bike's adapter is on record, that is asked in place of this.
func caliperOnPosts(id string, at, bearer Place, rotor When, onTabs ...Row) Rule {
	rows := []Row{{Keys: []string{"post", "post", "*"}, Answer: Holds}}
	for _, mount := range []string{"flat", "is", "cantilever", "u-brake", "single-bolt", "direct"} {
		rows = append(rows, Row{Keys: []string{mount, mount, "*"}, Answer: Holds})
		if mount != "is" {
			rows = append(rows, Row{Keys: []string{"post", mount, "*"}, Answer: Breaks, Words: "none takes another's caliper"})
		}
	}
	onTabs = append(onTabs, Row{Keys: []string{"post", "is", "*"}, Answer: CantTell, Words: "by an adapter for the rotor's size"})
	rotor.Of = []Ref{theirs("~.rotor", "rotor_mm")}
	return Rule{
		ID: id, Severity: Safety, At: []Place{at}, Unless: []Place{"~.adapter"}, When: []When{{Of: []Ref{mine("mount")}, Is: []string{"post"}, Known: true}, rotor},
		Says:   "a caliper for posts goes on posts, or on the tabs of the " + string(bearer) + " with an adapter for the rotor's size",
		Test:   Lookup{Of: []Ref{mine("mount"), theirs(bearer, "brake_mount"), theirs("~.rotor", "rotor_mm")}, Rows: append(rows, onTabs...), Otherwise: Breaks, Why: "none takes another's caliper"},
		Source: Source{"bikeman.com 1638 and a workshop blog on disc adapters: from tabs to posts by an adapter for the rotor's size; none takes another's caliper", Handbook},
	}
}

// adaptersFor are the adapters from tabs to posts, one a rotor.
func adaptersFor(end string) []Row {
	var rows []Row
	for _, rotor := range []int{140, 160, 180, 200, 203, 220} {
		rows = append(rows, Row{Keys: []string{"post", "is", strconv.Itoa(rotor)}, Answer: Holds, Words: "with an adapter for the rotor", Brings: []Bring{tabsToPosts(end, rotor)}})
	}
	return rows
}

// tabsToPosts is the adapter that a caliper for posts wants on tabs.
func tabsToPosts(end string, rotor int) Bring {
	spec := Spec{}
	for dimension, v := range map[string]Value{"mount_from": Text("is"), "mount_to": Text("post"), "position": Text(end), "rotor_mm": Count(rotor)} {
		spec[dimension] = Fact{Value: v, Origin: FromStandard}
	}
	return Bring{Family: "brake-adapter", Quantity: 1, Spec: spec, Words: fmt.Sprintf("%s adapter from tabs to posts for %d mm", end, rotor)}
}

// reachOnBolt is a caliper on one bolt beside a hole for one: it bolts on, and the hole does not tell how far down the rim
// is, nor does a caliper that is named by its bolt alone.
func reachOnBolt(a, b Value) bool {
	one := func(v Value) bool { return v.word == "single-bolt" }
	return (one(a) || one(b)) && (one(a) || isReach(a.word)) && (one(b) || isReach(b.word))
}

const askReach = "measure from the middle of the bolt's hole down to the middle of the rim's braking surface: it bolts on, and its reach must be the rim's"

// isReach tells a caliper's reach, 57mm, from a mount's name.
func isReach(word string) bool { return strings.HasSuffix(word, "mm") }

// caliperKind: the mounts of disc and rim brakes have no name in common.
func caliperKind(p *Part) []Follows {
	mount, known := p.Get("mount")
	switch {
	case !known || mount.word == "direct":
		return nil
	case mount.word == "post" || mount.word == "flat" || mount.word == "is":
		return []Follows{{Dimension: "kind", Value: Text("disc"), Because: "mount " + mount.word}}
	}
	return []Follows{{Dimension: "kind", Value: Text("rim"), Because: "mount " + mount.word}}
}

// A new hydraulic caliper means that its hose is opened: the joint is sealed anew.
var caliperHose = Rule{
	ID: "brake-caliper.hose", Severity: Function,
	Says:   "the hose is sealed anew: two crush washers at a banjo, an olive and an insert under a nut",
	Test:   Custom{Of: []Ref{mine("hose"), mine("actuation")}, Judge: hoseOfCaliper, Geometry: true},
	Source: Source{"a motorcycle reference and a bicycle maintenance page (whafi.com) on the two joints; that the seals are used once is common practice", Handbook},
}

func hoseOfCaliper(s Scene, at Place) Judgement {
	actuation, _ := s.Now[at].Get("actuation")
	d := s.side(mine("hose"), at)
	if !d.changed || actuation.word != "hydraulic" {
		return Judgement{}
	}
	if !d.known {
		return untold(d)
	}
	j := Judgement{Answer: Holds, Found: d.now.word, Words: d.words(), Brings: []Bring{
		small("hose-olive", "olive", 1), small("hose-insert", "insert for the hose", 1),
	}}
	if d.now.word == "banjo" {
		j.Brings = []Bring{small("crush-washer", "crush washers for a banjo", 2)}
	}
	if d.wasKnown && !d.was.Equal(d.now) {
		j.Answer, j.Wanted = Breaks, d.was.word
		j.Words += ", where " + d.was.word + " was: the hose wants another end"
	}
	return j
}
