package substitution

import (
	"fmt"

	"stead/substitution/standard"
)

var _ = families(&hub)

var (
	rotorMount = word("rotor_mount", "rotor mount", "look: six bolts or a splined ring with a lockring", "6-bolt", "centre-lock", "none")
	hubAxleDim = word("axle", "axle", "look: qr is hollow with a skewer, solid has nuts, or a thru-axle written DIAMETERxOLN")
	spokeHead  = word("head", "spoke head", "look at the spoke in the hub: bent at the flange, or straight through it", "bend", "straight")
)

var hub = Table{
	Family: "hub", Plural: "hubs",
	Sites: []Site{
		{Place: "front.hub", Words: "front hub", Safety: true},
		{Place: "rear.hub", Words: "rear hub", Safety: true},
	},
	Readings: houseReadings,
	Work: []Work{
		{Replace, "build hub into wheel", 90},
		{Adjust, "adjust hub", 15},
		{Clean, "strip, clean and grease hub", 40},
	},
	Dimensions: []Dimension{
		count("holes", "spoke holes", 8, 60, "count the spokes"),
		millimetres("oln_mm", "over locknut width", 60, 220, "outside faces of the locknuts, caliper"),
		hubAxleDim,
		freehubWord, bodyLength,
		threadWord,
		word("lockring_thread", "thread for a lockring", "beside the sprocket's thread look for a smaller one that runs the other way: 32.8 mm across is 1.29x24, 33.5 mm is 1.32x24", "1.29x24", "1.32x24", "none"),
		rotorMount,
		word("position", "position", "look", "front", "rear"),
		millimetres("flange_left_mm", "left flange circle", 20, 140, "middle of a spoke hole to that opposite, caliper"),
		millimetres("flange_right_mm", "right flange circle", 20, 140, "middle of a spoke hole to that opposite, caliper"),
		millimetres("offset_left_mm", "left flange offset", 0, 80, "middle of the hub to the left flange, caliper"),
		millimetres("offset_right_mm", "right flange offset", 0, 80, "middle of the hub to the right flange, caliper"),
		millimetres("spoke_hole_mm", "spoke hole", 1.5, 5, "drill shanks"),
		spokeHead,
	},
	Agrees: []Agreement{widthOfAxle},
	Rules: []Rule{
		hubWidth("hub.width-front", "front.hub", "fork"),
		hubWidth("hub.width-rear", "rear.hub", "frame"),
		hubAxle("hub.axle-front", "front.hub", "fork"),
		hubAxle("hub.axle-rear", "rear.hub", "frame"),
		{
			ID: "hub.holes", Severity: Mating, Presumed: true,
			Says:   "the hub has as many spoke holes as the rim",
			Test:   Match{Mine: "holes", Theirs: []Ref{theirs("~.rim", "holes")}},
			Source: Source{"each spoke has its hole", Arithmetic},
		},
		{
			ID: "hub.head", Severity: Mating,
			Says:   "a hub for bent spokes takes no straight ones, nor the other way round",
			Test:   Match{Mine: "head", Theirs: []Ref{theirs("~.spokes-left", "head"), theirs("~.spokes-right", "head")}, Usual: "bend"},
			Source: byStraightPull,
		},
		{
			ID: "hub.flanges", Severity: Mating,
			Says:   "the spokes that stay are long enough for the new hub's flanges, by the length that rim, flange and offset give",
			Test:   Custom{Of: hubFlangeRefs(), Judge: hubFlanges, Geometry: true},
			Source: Source{"spoke length from rim, flange circle and offset (tristable.net and three pages with worked examples); a spoke calculator's page: beyond a millimetre thread is missing", Handbook},
		},
		{
			ID: "hub.rotor-mount", Severity: Mating, Unless: []Place{"~.rotor"},
			Says: "the rotor that was there goes on the new hub: six bolts on splines with an adapter, splines on six bolts not at all",
			Test: Lookup{
				Of: []Ref{mine("rotor_mount"), old("rotor_mount")},
				Rows: append(alike("6-bolt", "centre-lock", "none"),
					Row{Keys: []string{"centre-lock", "6-bolt"}, Answer: Holds, Words: "with an adapter for the six-bolt rotor", Brings: []Bring{rotorAdapter}},
					Row{Keys: []string{"*", "none"}, Answer: Holds, Words: "the old hub carried no rotor"},
				),
				Otherwise: Breaks, Why: "there is nothing to hold the rotor by", Rare: true, Optional: true,
			},
			Source: byRotorMounts,
		},
		{
			ID: "hub.drive", Severity: Mating, At: []Place{"rear.hub"}, Unless: []Place{"rear.cassette", "rear.freewheel", "rear.sprocket"},
			Says: "the sprockets that were there go on the new hub: screwed ones on a thread, a cassette on its own spline, or on a longer body of it",
			Test: Lookup{
				Of: []Ref{mine("freehub"), old("freehub")},
				Rows: []Row{
					{Keys: []string{"threaded", "threaded"}, Answer: Holds},
					{Keys: []string{"threaded", "*"}, Answer: Breaks, Words: "the sprockets that were there are a cassette"},
					{Keys: []string{"*", "threaded"}, Answer: Breaks, Words: "the sprockets that were there are screwed on"},
					{Keys: []string{"hg-l", "hg"}, Answer: Holds, Words: "with a spacer behind the set"},
					{Keys: []string{"hg", "hg-l"}, Answer: CantTell, Words: "a set of 11 for the road does not go on the shorter body: count its sprockets"},
					{Keys: []string{"xdr", "xd"}, Answer: Holds, Words: "with a spacer behind the set"},
					{Keys: []string{"xd", "xdr"}, Answer: CantTell, Words: "a set for the longer body does not go on the shorter one"},
					{Keys: []string{"hg-ev", "*"}, Answer: CantTell, Words: "hg-ev may name the teeth and not the spline: look at the body"},
					{Keys: []string{"*", "hg-ev"}, Answer: CantTell, Words: "hg-ev may name the teeth and not the spline: look at the body"},
					{Keys: []string{"8-spline", "8-spline-short"}, Answer: CantTell, Words: "the maker's word"},
					{Keys: []string{"8-spline-short", "8-spline"}, Answer: CantTell, Words: "the maker's word"},
				},
				Same: true, Otherwise: Breaks, Why: "the splines differ", Rare: true, Optional: true,
			},
			Source: Source{"ISO 6698, freewheel and hub thread (title and scope)", Handbook},
		},
		{
			ID: "hub.body", Severity: Mating, At: []Place{"rear.hub"}, Unless: []Place{"rear.cassette"},
			Says:   "the freehub body is no shorter than the old one",
			Test:   Limit{Sum: []Term{plus(mine("body_mm"))}, AtLeast: []Ref{old("body_mm")}, Optional: true, Plus: 0.3},
			Source: byArithmetic,
		},
		{
			ID: "hub.thread", Severity: Mating, At: []Place{"rear.hub"}, Unless: []Place{"rear.freewheel"},
			Says:   "a screwed-on hub has the old one's thread: ISO, British and Italian go together, French with nothing else",
			Test:   Match{Mine: "thread", Alike: inchHubThreads, Rare: true},
			Source: Source{"Sheldon Brown, freewheels; ISO 6698:1989 and BS 811 give the threads", Handbook},
		},
		{
			ID: "hub.lockring", Severity: Safety, At: []Place{"rear.hub"}, Unless: []Place{"rear.sprocket"}, When: []When{{Of: []Ref{old("lockring_thread")}, Known: true}},
			Says: "a fixed sprocket's lockring goes on: the hub has the old one's left-hand thread for it",
			Test: Lookup{Of: []Ref{mine("lockring_thread"), old("lockring_thread")}, Rows: append([]Row{{Keys: []string{"*", "none"}, Answer: Holds, Words: "the old hub had none"}}, alike("1.29x24", "1.32x24")...),
				Otherwise: Breaks, Why: "the lockring does not go on"},
			Source: Source{"mtb-news.de on sprocket and lockring threads", Handbook},
		},
		{
			ID: "hub.spoke-hole", Severity: Mating, Unless: []Place{"~.spokes-left", "~.spokes-right"},
			Says:   "the spokes that were there go through its holes",
			Test:   Limit{Sum: []Term{plus(mine("spoke_hole_mm"))}, AtLeast: []Ref{old("spoke_hole_mm")}, Optional: true, Plus: 0.1, Doubt: 3, Ask: "measure the spokes' wire"},
			Source: byArithmetic,
		},
		{
			ID: "hub.position", Severity: Mating,
			Says:   "a front hub goes in front, a rear hub behind",
			Test:   Is{Mine: "position", Placed: true, Silent: true},
			Source: Source{"a rear hub carries the sprockets", Practice},
		},
		finishRule("hub"),
	},
}

var byStraightPull = Source{"artscyclery and faqload.com on straight-pull and bent spokes: they do not interchange, and a straight-pull hub fixes the lacing", Handbook}

func hubWidth(id string, at, bearer Place) Rule {
	return Rule{
		ID: id, Severity: Mating, At: []Place{at},
		Says:   "the hub is as wide over its locknuts as the " + string(bearer) + " is between its ends",
		Test:   Match{Mine: "oln_mm", Theirs: []Ref{theirs(bearer, "oln_mm")}, Within: 1},
		Source: Source{"published hub spacings: 100, 110, 120, 126, 130, 135, 142, 148 mm; 126 in 135 wants 9 mm of spacers", Handbook},
	}
}

func hubAxle(id string, at, bearer Place) Rule {
	return Rule{
		ID: id, Severity: Safety, At: []Place{at},
		Says:   "the hub's axle is the " + string(bearer) + "'s: quick release and nuts share open ends, a thru-axle has its own diameter and width",
		Test:   Match{Mine: "axle", Theirs: []Ref{theirs(bearer, "axle")}, Alike: []string{"qr", "solid"}},
		Source: Source{"published overviews of axle standards", Handbook},
	}
}

func openEnds(v Value) bool { return v.word == "qr" || v.word == "solid" }

func hubFlangeRefs() []Ref {
	refs := []Ref{theirs("~.rim", "erd_mm"), mine("holes"), theirs("~.spokes-left", "length_mm"), theirs("~.spokes-right", "length_mm")}
	for _, dim := range hubFlangeDims {
		refs = append(refs, mine(dim))
	}
	return refs
}

var hubFlangeDims = []string{"flange_left_mm", "offset_left_mm", "flange_right_mm", "offset_right_mm"}

// hubFlanges asks by how much the spokes' length changes, in whichever lacing changes it most: how often they cross is not
// recorded. It is asked where both hubs' flanges are known, or where the bike's spokes are recorded and stay.
func hubFlanges(s Scene, at Place) Judgement {
	left, right := Place(at.end()+".spokes-left"), Place(at.end()+".spokes-right")
	_, leftThere := s.Now[left]
	_, rightThere := s.Now[right]
	if s.kept(at) || s.Was[at] == nil || !s.kept(left) || !s.kept(right) {
		return Judgement{}
	}
	worst := 0.0
	told := 0
	var unknown []side
	for _, end := range []string{"left", "right"} {
		circle, offset := s.side(mine("flange_"+end+"_mm"), at), s.side(mine("offset_"+end+"_mm"), at)
		for _, d := range []side{circle, offset} {
			if !d.known || !d.wasKnown {
				unknown = append(unknown, d)
			}
			if d.known || d.wasKnown {
				told++
			}
		}
		worst = max(worst, s.lengthens(at, circle, offset))
	}
	if told == 0 && !leftThere && !rightThere {
		return Judgement{} // nobody speaks of flanges, and the bike records no spokes
	}
	if len(unknown) > 0 && worst <= spokeLimit {
		return Judgement{Answer: CantTell, Words: "not known: flanges of both hubs, so whether the old spokes are long enough", Missing: []Missing{unknown[0].missing()}}
	}
	j := Judgement{Answer: Holds, Found: fmt.Sprintf("%.1f mm", worst), Words: fmt.Sprintf("with the new flanges the spokes are %.1f mm off at most", worst)}
	switch {
	case worst > spokeLimit:
		j.Answer = Breaks
		j.Words += ": they want other spokes"
	case worst > spokeMost:
		j.Answer, j.Missing = CantTell, []Missing{s.side(mine("flange_left_mm"), at).missing()}
		j.Words += ": work the length out for this lacing"
	}
	return j
}

// lengthens is the largest change of a spoke's length from the old flange to the new one; nothing where either is not known.
func (s Scene) lengthens(at Place, circle, offset side) float64 {
	if !circle.known || !circle.wasKnown || !offset.known || !offset.wasKnown {
		return 0
	}
	erd, holes := 600.0, 32
	if d := s.side(theirs("~.rim", "erd_mm"), at); d.known {
		erd = d.now.number
	}
	if d := s.side(mine("holes"), at); d.known {
		holes = int(d.now.number)
	}
	worst := 0.0
	for crosses := range 5 {
		if 4*crosses >= holes {
			break // beyond a quarter of the circle spokes wind round the flange
		}
		was := standard.SpokeLengthMM(erd, circle.was.number, offset.was.number, holes, crosses, 0)
		now := standard.SpokeLengthMM(erd, circle.now.number, offset.now.number, holes, crosses, 0)
		worst = max(worst, abs(now-was))
	}
	return worst
}
