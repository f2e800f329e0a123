package substitution

import (
	"fmt"

	"stead/substitution/standard"
)

// circleWithin is how far published tables differ for one and the same bolt circle, and the caliper's error.
const circleWithin = 0.3

// boltHead is a ring bolt's head across, in mm, as a published technical FAQ has it.
const boltHead = 11

var boltCircles = standard.BoltCircles()

// byDirectMount tells whether a joint of ring and crankset is made without bolts: then the circle has no say.
func byDirectMount(s Scene, at Place) bool {
	ring, crank := s.side(mine("direct_mount"), at), s.side(theirs("crank", "direct_mount"), at)
	return ring.known || crank.known && !s.side(mine("bcd_mm"), at).known
}

// mayBeDirect tells whether a ring without bolts could be accepted, because crankset or old ring have that interface.
func mayBeDirect(s Scene, at Place) bool {
	return s.side(theirs("crank", "direct_mount"), at).known || s.side(mine("direct_mount"), at).wasKnown
}

// notDirect asks a test of a bolted joint only.
func notDirect(dimension string, t Match) Custom {
	return Custom{
		Of: append([]Ref{mine(dimension), mine("direct_mount"), mine("bcd_mm"), theirs("crank", "direct_mount")}, t.Theirs...),
		Judge: func(s Scene, at Place) Judgement {
			if byDirectMount(s, at) {
				return Judgement{}
			}
			return t.judge(s, at)
		},
		Narrow: func(s Scene, at, choosing Place) []Condition {
			if mayBeDirect(s, at) {
				return nil
			}
			return t.narrow(s, at, choosing)
		},
	}
}

// circleOf is the crankset's circle that a ring at a place bolts to. The inner ring of a triple has its own; that of a
// double shares the outer's unless the crankset says otherwise.
func circleOf(s Scene, at Place) side {
	outer, inner := s.side(theirs("crank", "bcd_mm"), at), s.side(theirs("crank", "bcd_inner_mm"), at)
	if at != "crank.inner-ring" || inner.known {
		if at == "crank.inner-ring" {
			return inner
		}
		return outer
	}
	ring := s.side(mine("bcd_mm"), at)
	if ring.known && outer.known && ring.now.number > outer.now.number-2*boltHead {
		return outer // the heads of two rings' bolts stand beside each other, so no inner circle is as large
	}
	return inner
}

func ringCircle(s Scene, at Place) Judgement {
	if byDirectMount(s, at) {
		return Judgement{}
	}
	ring, crank := s.side(mine("bcd_mm"), at), s.side(theirs("crank", "direct_mount"), at)
	if circle := s.side(theirs("crank", "bcd_mm"), at); ring.known && crank.known && !circle.known {
		return Judgement{Answer: Breaks, Wanted: crank.now.word, Found: ring.words(), Words: ring.words() + " on a crank without a spider: it takes rings for " + crank.now.word}
	}
	if mount := s.side(mine("direct_mount"), at); ring.known && mount.wasKnown && !mount.known && mount.changed && !crank.known && !crank.changed && !circleOf(s, at).known {
		return Judgement{Answer: Breaks, Wanted: mount.was.word, Found: ring.words(), Words: ring.words() + ", and the old ring was held without bolts"}
	}
	return Match{Mine: "bcd_mm", Theirs: []Ref{theirs("crank", circleOf(s, at).dim)}, Within: circleWithin}.judge(s, at)
}

func ringCircleNarrow(s Scene, at, choosing Place) []Condition {
	circle := s.side(theirs("crank", "bcd_mm"), at)
	if mayBeDirect(s, at) {
		return nil
	}
	if at == "crank.inner-ring" {
		circle = s.side(theirs("crank", "bcd_inner_mm"), at)
		if !circle.known {
			return nil
		}
	}
	return Match{Mine: "bcd_mm", Theirs: []Ref{theirs("crank", circle.dim)}, Within: circleWithin}.narrow(s, at, choosing)
}

// unequal reports whether a circle is also made with unequal angles, as far as published: the question then has to be
// asked. Five bolts on 110 are even unless somebody says otherwise.
func unequal(bcdMM float64, bolts int) (made, always bool) {
	even := false
	for _, c := range boltCircles {
		if c.Bolts == bolts && near(c.BCDMM, bcdMM, circleWithin) {
			made = made || c.Pattern == standard.PatternAsymmetric
			even = even || c.Pattern == standard.PatternEven
		}
	}
	return made, made && !even
}

func ringPattern(s Scene, at Place) Judgement {
	match := Match{Mine: "bolt_pattern", Theirs: []Ref{theirs("crank", "bolt_pattern")}, Rare: true}
	if byDirectMount(s, at) {
		return Judgement{}
	}
	circle, number := s.side(mine("bcd_mm"), at), s.side(mine("bolts"), at)
	made, always := unequal(circle.now.number, int(number.now.number))
	ring, crank := s.side(mine("bolt_pattern"), at), s.side(theirs("crank", "bolt_pattern"), at)
	uneven := func(d side) bool { return d.known && d.now.word == "asymmetric" }
	if circle.known && number.known && !made && !uneven(ring) && !uneven(crank) {
		return Judgement{} // nobody makes this circle with unequal angles
	}
	if !ring.known && number.now.number == 5 && crank.known && !uneven(crank) {
		return Judgement{Answer: Holds, Found: "even", Words: "five bolts at even angles, as usual"}
	}
	if always && !ring.known && !crank.known {
		match.Rare = false
	}
	return match.judge(s, at)
}

// ringOnCircle refuses a ring whose teeth would cut into its own bolts.
func ringOnCircle(p *Part) []Follows {
	teeth, known := p.Get("teeth")
	circle, told := p.Get("bcd_mm")
	if known && told && !standard.RingClearsBolts(int(teeth.number), circle.number) {
		return []Follows{{Wrong: fmt.Sprintf("teeth %s leave no room for the bolts of bcd_mm %s", teeth, circle)}}
	}
	return nil
}

// ringClears checks a ring's teeth against its own bolt circle: what the tables give as its smallest ring, or else
// the geometric floor.
func ringClears(s Scene, at Place) Judgement {
	teeth, circle, number := s.side(mine("teeth"), at), s.side(mine("bcd_mm"), at), s.side(mine("bolts"), at)
	if !circle.known && !byDirectMount(s, at) {
		circle = circleOf(s, at)
	}
	if !teeth.known || !circle.known {
		return Judgement{}
	}
	n := int(teeth.now.number)
	j := Judgement{Answer: Holds, Found: fmt.Sprintf("%dT", n), Words: fmt.Sprintf("%dT on a circle of %s mm", n, circle.now)}
	if !standard.RingClearsBolts(n, circle.now.number) {
		j.Answer = Breaks
		j.Words += fmt.Sprintf(": the bottom of the teeth, %.0f mm across, leaves no room for the bolts", standard.RootMM(n))
		return j
	}
	for _, c := range boltCircles {
		if number.known && c.Bolts == int(number.now.number) && near(c.BCDMM, circle.now.number, circleWithin) && c.MinTeeth > 0 {
			j.Wanted = fmt.Sprintf("%dT or more as usually made", c.MinTeeth)
		}
	}
	return j
}
