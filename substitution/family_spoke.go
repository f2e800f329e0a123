package substitution

import (
	"fmt"

	"stead/substitution/standard"
)

var _ = families(&spoke, &nipple)

var spoke = Table{
	Family: "spoke", Plural: "spokes",
	Sites: []Site{
		{Place: "front.spokes-left", Words: "front spokes, left", Safety: true},
		{Place: "front.spokes-right", Words: "front spokes, right", Safety: true},
		{Place: "rear.spokes-left", Words: "rear spokes, left", Safety: true},
		{Place: "rear.spokes-right", Words: "rear spokes, right", Safety: true},
	},
	Readings: []Reading{brokenSpokes, spokeTension, damaged, wanted("count the spokes that are wanted on this side")},
	Counted:  true,
	Work: []Work{
		{Replace, "fit spokes and true wheel", 30},
		{Adjust, "set spoke tension", 25},
	},
	Dimensions: []Dimension{
		length(50, 400, "inside of the bend to the end, with a spoke rule"),
		millimetres("gauge_mm", "wire", 1, 4, "caliper at the threaded end"),
		Dimension{Name: "butted", Form: Flag, Means: "butted", Measure: "caliper in the middle and at the end"},
		threadWord,
		spokeHead,
	},
	Agrees: []Agreement{wireThread},
	Rules: []Rule{
		{
			ID: "spoke.head", Severity: Mating,
			Says:   "a bent spoke for a bent one, a straight one for a straight one",
			Test:   Match{Mine: "head", Theirs: []Ref{theirs("~.hub", "head")}, Usual: "bend"},
			Source: byStraightPull,
		},
		{
			ID: "spoke.hole", Severity: Mating,
			Says:   "the wire goes through the hub's hole",
			Test:   Limit{Sum: []Term{plus(mine("gauge_mm"))}, AtMost: []Ref{theirs("~.hub", "spoke_hole_mm")}, Optional: true},
			Source: byArithmetic,
		},
		{
			ID: "spoke.hole-loose", Severity: Safety,
			Says:   "the wire fills the hub's hole: holes are 2.3 to 2.8 mm for 2.0 mm wire, and in a wider one the head works loose",
			Test:   Limit{Sum: []Term{plus(mine("gauge_mm"))}, AtLeast: []Ref{theirs("~.hub", "spoke_hole_mm")}, Plus: 0.85, Doubt: 5, Ask: "see whether washers under the heads take it up", Optional: true},
			Source: Source{"jitetan.com on spoke holes: 2.3, 2.5, 2.8 and 3.1 mm, 2.5 usual; that a wide one wants washers is common practice", Handbook},
		},
		{
			ID: "spoke.length", Severity: Mating,
			Says:   "the spoke is as long as the old one",
			Test:   Custom{Of: []Ref{mine("length_mm")}, Judge: spokeLength, Geometry: true},
			Source: Source{"a wheel builder's page: half a millimetre of rounding is taken up; a spoke calculator's page: beyond a millimetre thread is missing", Handbook},
		},
		{
			ID: "spoke.wire", Severity: Function,
			Says:   "the wire is as thick as it was",
			Test:   Same{Mine: []string{"gauge_mm"}},
			Source: Source{"gauges of two reference pages: 14 is 2.0 mm", Handbook},
		},
		{
			ID: "spoke.butted", Severity: Function,
			Says:   "it is butted, or plain, as the old one was",
			Test:   Same{Mine: []string{"butted"}},
			Source: byOldPart,
		},
		materialRule("spoke", "stainless does not rust; titanium and alloy stretch more", Source{"makers' lists", Practice}),
		finishRule("spoke"),
	},
}

func spokeLength(s Scene, at Place) Judgement {
	d := s.side(mine("length_mm"), at)
	if !d.changed || !d.known || !d.wasKnown {
		return Match{Mine: "length_mm"}.judge(s, at)
	}
	return d.spokesOff(abs(d.now.number - d.was.number))
}

// nippleThread is inside and too fine for a gauge: a spoke of the wheel tells it.
var nippleThread = word("thread", "thread", "screw one on a spoke of the wheel: by hand it runs on to the end of the thread, or not at all; or read the bag: FG 2.3 is for wire of 2.0 mm, 14 gauge")

var nipple = Table{
	Family: "nipple", Plural: "spoke nipples",
	Sites: []Site{
		{Place: "front.nipples", Words: "front nipples", Safety: true},
		{Place: "rear.nipples", Words: "rear nipples", Safety: true},
	},
	Readings: []Reading{damaged, wanted("count the nipples that are wanted")},
	Counted:  true,
	Work: []Work{
		{Replace, "fit nipples and true wheel", 30},
	},
	Dimensions: []Dimension{nippleThread, length(8, 30, "caliper")},
	Rules: []Rule{
		{
			ID: "nipple.thread", Severity: Mating, Presumed: true,
			Says:   "the nipple has the spokes' thread: 2.0 mm wire carries an FG 2.3 thread",
			Test:   Match{Mine: "thread", Theirs: []Ref{theirs("~.spokes-left", "thread"), theirs("~.spokes-right", "thread")}, Each: true},
			Source: Source{"rolled spoke threads of DIN 79012, as a dealer's page reproduces them; the standard itself was not read", Handbook},
		},
		{
			ID: "nipple.length", Severity: Function,
			Says: "the nipple is as long as it was",
			Test: Same{Mine: []string{"length_mm"}, Feel: func(s Scene, at Place) string {
				was, _ := s.Was[at].Get("length_mm")
				now, _ := s.Now[at].Get("length_mm")
				return fmt.Sprintf("nipples of %s mm in place of %s mm: with some makers the thread is longer too and wants a shorter spoke, with others not", now, was)
			}},
			Source: Source{"spokeservice.ca on nipple length", Handbook},
		},
		materialRule("nipple", "brass lasts, alloy weighs less and seizes on steel", Source{"an anodic-index guideline", Handbook}),
		finishRule("nipple"),
	},
}

// wireThread: the rolled thread follows from the wire; another thread than the rolled one contradicts it.
func wireThread(p *Part) []Follows {
	wire, known := p.Get("gauge_mm")
	rolled, ok := standard.SpokeThread(wire.number)
	if !known || !ok {
		return nil
	}
	if had, given := p.Get("thread"); given && sameThread(had.word, rolled.String()) {
		return nil
	}
	return []Follows{{Dimension: "thread", Value: Text(rolled.String()), Because: "gauge_mm " + wire.String()}}
}

// sameThread compares two threads as they are meant, not as they are written.
func sameThread(a, b string) bool {
	x, errX := standard.ParseThread(a)
	y, errY := standard.ParseThread(b)
	return a == b || errX == nil && errY == nil && x.Same(y)
}
