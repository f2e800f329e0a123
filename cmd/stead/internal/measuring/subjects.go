package measuring

import (
	"fmt"
	"slices"

	"stead/substitution/measure"
	"stead/substitution/standard"
)

func bearing() *Subject {
	var b measure.Bearing
	m := newSubject("bearing", "Name a cartridge bearing by bore, outer and width",
		"  stead measure bearing --bore 14.98 --outer 27.97 --width 6.95\n  stead measure bearing --bore 15 --outer 28 --width 7 --tool ruler",
		func() (measure.Result, error) { return b.Identify() })
	m.length(&b.Bore, "bore", "diameter of the hole")
	m.length(&b.Outer, "outer", "outside diameter")
	m.length(&b.Width, "width", "width of the outer ring")
	seal := Word[standard.Seal]{&b.Seal, []standard.Seal{standard.SealOpen, standard.SealZ, standard.SealZZ, standard.SealRS, standard.Seal2RS}}
	m.Flags.Var(seal, "seal", "what closes it: "+seal.List())
	m.Flags.Float64Var(&b.InnerDeg, "inner-angle", 0, "chamfer of the inner ring in degrees, on a headset bearing")
	m.Flags.Float64Var(&b.OuterDeg, "outer-angle", 0, "chamfer of the outer ring in degrees")
	return m
}

func balls() *Subject {
	var b measure.Balls
	var ring measure.BallRing
	m := newSubject("balls", "Name loose balls, or count how many belong in a race", "", func() (measure.Result, error) {
		if ring.Across != nil || ring.Pitch != nil {
			if b.Diameter == nil {
				return measure.Result{}, fmt.Errorf("to count the balls of a race give the diameter of one too")
			}
			ring.BallMM = b.Diameter.MM
			return ring.Count()
		}
		return b.Identify()
	})
	m.Example = "  stead measure balls --diameter 3.97\n  stead measure balls --row 50.8 --in-row 8\n  stead measure balls --diameter 6.35 --across 34.3 --found 9"
	m.length(&b.Diameter, "diameter", "diameter of one ball")
	m.length(&b.Row, "row", "length of a row of balls that touch: sharper than one ball")
	m.Flags.IntVar(&b.InRow, "in-row", 0, "how many balls are in the row")
	m.Flags.Float64Var(&b.MassG, "mass-g", 0, "mass of some balls together, in grams")
	m.Flags.IntVar(&b.Weighed, "weighed", 0, "how many balls were weighed")
	m.length(&ring.Across, "across", "across the outside of the ring of balls, seated in the cup: counts them")
	m.length(&ring.Pitch, "pitch", "or the circle through the balls' centres")
	m.Flags.IntVar(&ring.Found, "found", 0, "balls that came out of the race")
	return m
}

func chainring() *Subject {
	var c measure.Chainring
	m := newSubject("chainring", "Find a chainring's bolt circle from the distance of its holes",
		"  stead measure chainring --bolts 5 --adjacent 64.6\n  stead measure chainring --bolts 4 --opposite 104",
		func() (measure.Result, error) {
			if c.Bolts == 0 {
				return measure.Result{}, fmt.Errorf("say how many bolts the ring has")
			}
			return c.Identify()
		})
	m.Flags.IntVar(&c.Bolts, "bolts", 0, "number of bolts")
	m.length(&c.Adjacent, "adjacent", "from a hole to its neighbour, centre to centre")
	m.length(&c.OtherAdjacent, "other-adjacent", "from the same hole to its other neighbour")
	m.length(&c.NonAdjacent, "non-adjacent", "from a hole to the next but one (five bolts)")
	m.length(&c.Opposite, "opposite", "from a hole to the one opposite (four bolts)")
	return m
}

// hands are the words for which way a thread turns.
var hands = []measure.Hand{measure.RightHand, measure.LeftHand}

func thread() *Subject {
	var t measure.Thread
	m := newSubject("thread", "Name a screw thread by diameter, pitch and hand",
		"  stead measure thread --diameter 34.6 --tpi 24 --family bottom-bracket\n  stead measure thread --diameter 9.9 --over 10 --turns 10",
		func() (measure.Result, error) { return t.Identify() })
	m.length(&t.Diameter, "diameter", "outside of a male thread, inside of a female one")
	m.Flags.BoolVar(&t.Female, "female", false, "it is inside a hole")
	m.Flags.Float64Var(&t.PitchMM, "pitch", 0, "pitch of the gauge leaf that fits, in mm")
	m.Flags.Float64Var(&t.PerInch, "tpi", 0, "or its turns to the inch")
	m.length(&t.Over, "over", "or a length over several turns")
	m.Flags.IntVar(&t.Turns, "turns", 0, "and how many turns that is")
	m.Flags.Var(Word[measure.Hand]{&t.Hand, hands}, "hand", "which way it tightens: right or left")
	family := Word[string]{&t.Family, threadFamilies()}
	m.Flags.Var(family, "family", "only threads of: "+family.List())
	return m
}

// threadFamilies are the kinds of part whose threads are known.
func threadFamilies() []string {
	var out []string
	for _, k := range standard.KnownThreads() {
		if !slices.Contains(out, k.Family) {
			out = append(out, k.Family)
		}
	}
	return out
}

func tyre() *Subject {
	var t measure.Tyre
	m := newSubject("tyre", "Name the bead seats that a tyre can have",
		"  stead measure tyre --round 2136 --width 28", func() (measure.Result, error) { return t.Identify() })
	m.length(&t.Outer, "outer", "outside diameter, pumped up")
	m.round(&t.Round, "round", "or a tape round the tread")
	m.length(&t.Width, "width", "width at the widest, pumped up")
	return m
}

func rim() *Subject {
	var r measure.Rim
	m := newSubject("rim", "Name a rim's bead seat and the tyres that it takes",
		"  stead measure rim --round 1954 --inner-width 17.1", func() (measure.Result, error) { return r.Identify() })
	m.length(&r.BeadSeat, "bead-seat", "diameter where the tyre's bead sits")
	m.round(&r.Round, "round", "or a tape round the bead seat")
	m.length(&r.InnerWidth, "inner-width", "between the hooks")
	return m
}

func chain() *Subject {
	var wear measure.ChainWear
	var width measure.ChainWidth
	m := newSubject("chain", "Say how worn a chain is, or which width it has", "", func() (measure.Result, error) {
		across := width.Inner != nil || width.Pins != nil
		if across && (wear.Length != nil || wear.Pitches != 0) {
			return measure.Result{}, fmt.Errorf("give the length for wear, or the widths, one at a time")
		}
		if across {
			return width.Identify()
		}
		return wear.Identify()
	})
	m.Example = "  stead measure chain --length 306.9 --pitches 24 --speeds 9\n  stead measure chain --inner 2.2 --pins 6.6"
	m.length(&wear.Length, "length", "length over some half-links, pin to pin, under light tension")
	m.Flags.IntVar(&wear.Pitches, "pitches", 0, "how many half-links that is: 24 in a foot")
	m.Flags.IntVar(&wear.Speeds, "speeds", 0, "sprockets at the back, 1 for single speed")
	m.length(&width.Inner, "inner", "between the inner plates")
	m.length(&width.Pins, "pins", "over the pins, outside")
	return m
}

func fork() *Subject {
	var f measure.Fork
	m := newSubject("fork", "Name a fork's steerer and crown race",
		"  stead measure fork --steerer 28.6 --crown 30.0\n  stead measure fork --steerer 25.4 --crown 26.4 --head-tube 30.2",
		func() (measure.Result, error) { return f.Identify() })
	m.length(&f.Steerer, "steerer", "outside of the steerer, at the stem")
	m.length(&f.Crown, "crown", "seat of the crown race, above the crown")
	m.length(&f.HeadTube, "head-tube", "inside of the head tube, for 1 inch forks")
	return m
}

func seatpost() *Subject {
	var s measure.Seatpost
	m := newSubject("seatpost", "Name a seat post's diameter",
		"  stead measure seatpost --post 27.18\n  stead measure seatpost --tube 27.25", func() (measure.Result, error) { return s.Identify() })
	m.length(&s.Post, "post", "outside of the post, on unscratched metal")
	m.length(&s.Tube, "tube", "inside of the seat tube, below the slot")
	return m
}

func handlebar() *Subject {
	var h measure.Handlebar
	m := newSubject("handlebar", "Name a handlebar's clamp diameter",
		"  stead measure handlebar --clamp 25.9", func() (measure.Result, error) { return h.Identify() })
	m.length(&h.Clamp, "clamp", "diameter where the stem holds it")
	return m
}

func spoke() *Subject {
	var s measure.Spoke
	m := newSubject("spoke", "Name a spoke's gauge and its nipple",
		"  stead measure spoke --elbow 2.0 --middle 1.8", func() (measure.Result, error) { return s.Identify() })
	m.length(&s.Elbow, "elbow", "the wire near the hub")
	m.length(&s.Middle, "middle", "the wire half way")
	m.length(&s.Thread, "thread", "outside of the thread")
	return m
}

func shell() *Subject {
	var s measure.Shell
	m := newSubject("shell", "Name a frame's bottom-bracket shell",
		"  stead measure shell --inside 33.7 --width 68 --threaded --drive-hand left", func() (measure.Result, error) { return s.Identify() })
	m.length(&s.Inside, "inside", "inside diameter, across the crests of the thread if it has one")
	m.length(&s.Width, "width", "across the shell's faces")
	m.Flags.BoolVar(&s.Threaded, "threaded", false, "it has a thread inside")
	m.Flags.Var(Word[measure.Hand]{&s.DriveHand, hands}, "drive-hand", "how the drive side's thread tightens: right or left")
	return m
}
