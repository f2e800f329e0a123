package note

import (
	"fmt"
	"math"
	"strings"

	"stead/substitution"
	"stead/substitution/standard"
)

func chainWear(p *parser, i int) (measured, int) {
	if num, den, _, ok := p.fraction(i); ok && num < den && den > leastPart {
		return measured{}, 0 // a sixteenth is of an inch
	}
	for _, w := range p.decimals(i) {
		next := p.maybeUnit(w.next, "percent")
		if (w.broken || next > w.next) && w.v <= mostWear && !p.otherUnit(w.next, "percent") && !p.unit(w.next, "inch") {
			return measured{readings: num("wear_percent", w.v)}, next
		}
	}
	return measured{}, 0
}

// leastPart is the part that a per cent is halved and quartered to.
const leastPart = 4

// chainByRule reads "twelve and a sixteenth", what twelve inches of chain have come to: 1/16 in on 12 in is 0.52 per cent.
func chainByRule(p *parser, i int) (measured, int) {
	for _, w := range p.decimals(i) {
		over := w.v - chainFoot
		if w.mixed == "" || over <= 0 || over/chainFoot*100 > mostWear {
			continue
		}
		return measured{readings: num("wear_percent", math.Round(over/chainFoot*1e4)/100)}, p.maybeUnit(w.next, "inch")
	}
	return measured{}, 0
}

// chainFoot is the inches of chain over which a rule is laid: 24 half links when new.
const chainFoot = 12

// mostWear is the most that a chain is worn and still on a bike: beyond it the figure was not of wear.
const mostWear = 3

func speeds(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		if next := p.maybeUnit(w.next, "speeds"); next > w.next {
			return measured{facts: []fact{{"speeds", substitution.List(int(w.v))}}}, next
		}
	}
	return measured{}, 0
}

func chainWidth(p *parser, i int) (measured, int) {
	n, d, next, ok := p.fraction(i)
	if !ok {
		return measured{}, 0
	}
	width, err := standard.ParseChainWidth(fmt.Sprintf("%d/%d", n, d))
	if err != nil || p.at(next).s.is(bound) || strings.HasPrefix(p.at(next).text, "over ") { // "an eighth over the foot"
		return measured{}, 0
	}
	return measured{facts: []fact{{"chain_width", substitution.Text(width.Name)}}}, p.maybeUnit(next, "inch", "wide")
}

// gluedLinks reads "116L".
func gluedLinks(p *parser, i int) (measured, int) {
	if it, l := p.at(i), p.at(i+1); it.figure && l.text == "l" && l.glued {
		return measured{facts: []fact{count("links", it.value)}}, i + 2
	}
	return measured{}, 0
}

func teethPair(p *parser, i int) (measured, int) {
	for _, low := range p.wholes(i) {
		for _, high := range p.wholes(p.between(low.next, "to", "-", "/", "x", "by")) {
			if low.v >= 9 && low.v <= 28 && high.v >= 12 && high.v <= 52 && high.v-low.v >= 4 && !p.otherUnit(high.next, "teeth") {
				next := p.maybeUnit(high.next, "teeth")
				return measured{facts: []fact{count("teeth_min", low.v), count("teeth_max", high.v)}}, next
			}
		}
	}
	return measured{}, 0
}

// teethBare reads "a nineteen" right after "is" or its article.
func teethBare(p *parser, i int) (measured, int) {
	b := p.at(i - 1)
	for _, w := range p.wholes(i) {
		if (determiner(b.text) || b.s.is(copula) || b.s != nil && b.s.mod != 0 && b.s.head == nil) && w.v >= 8 && w.v <= 25 && (p.isEnd(w.next) || p.at(w.next).s.is(and)) {
			return measured{facts: []fact{count("teeth", w.v)}}, w.next
		}
	}
	return measured{}, 0
}

func singleFreewheel(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		if next := p.maybeUnit(w.next, "teeth"); next > w.next {
			return measured{facts: []fact{count("teeth_min", w.v), count("teeth_max", w.v)}}, next
		}
	}
	return measured{}, 0
}

func ringTeeth(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		if w.v >= 18 && w.v <= 64 && !p.otherUnit(w.next, "teeth") {
			return measured{facts: []fact{count("teeth", w.v)}}, p.maybeUnit(w.next, "teeth")
		}
	}
	return measured{}, 0
}

// ringSet reads "fifty thirty-four", "50/34" and "48 38 28".
func ringSet(p *parser, i int) (measured, int) {
	ring := func(n, below float64) bool { return n >= 20 && n <= 60 && n < below }
	for _, a := range p.wholes(i) {
		for _, b := range p.wholes(p.between(a.next, "/", "-", "to")) {
			if !ring(a.v, 61) || !ring(b.v, a.v) {
				continue
			}
			for _, c := range p.wholes(p.between(b.next, "/", "-")) {
				if ring(c.v, b.v) && !p.otherUnit(c.next, "teeth") {
					return onCircle(p, []fact{count("teeth_outer", a.v), count("teeth_middle", b.v), count("teeth_inner", c.v)}, p.maybeUnit(c.next, "teeth"))
				}
			}
			if !p.otherUnit(b.next, "teeth") {
				return onCircle(p, []fact{count("teeth_outer", a.v), count("teeth_inner", b.v)}, p.maybeUnit(b.next, "teeth"))
			}
		}
	}
	return measured{}, 0
}

// onCircle reads the bolt circle that rings are said to be on: "42-32-22 on 104".
func onCircle(p *parser, rings []fact, next int) (measured, int) {
	if p.at(next).text == "on" {
		for _, w := range p.wholes(p.skipA(next + 1)) {
			if w.v >= 50 && w.v <= 144 && p.isEnd(w.next) {
				return measured{facts: append(rings, num("bcd_mm", w.v)...)}, w.next
			}
		}
	}
	return measured{facts: rings}, next
}

// boltCircle reads "110 BCD", "BCD 110" and "one-ten five-bolt": a circle that the number of bolts follows.
func boltCircle(p *parser, i int) (measured, int) {
	label := i
	if s := p.at(i).s; s != nil && s.label == "bcd" {
		label++
	}
	for _, w := range p.decimals(label) {
		if label > i {
			return measured{facts: num("bcd_mm", w.v)}, p.maybeUnit(w.next, "mm")
		}
		if next := p.maybeUnit(w.next, "bcd"); next > w.next {
			return measured{facts: num("bcd_mm", w.v)}, next
		}
		after := p.maybeUnit(w.next, "mm")
		if m, next := counted("bolts", "bolts")(p, p.skipJoint(after)); next > 0 && w.v >= 50 {
			return measured{facts: append(num("bcd_mm", w.v), m.facts...)}, next
		}
	}
	return measured{}, 0
}

// circleOn reads the bolt circle after its rings: "48-36-26 chainset on 104".
func circleOn(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		b := i - 1
		if p.at(b).text != "on" && !(determiner(p.at(b).text) && p.at(b-1).text == "on") || w.v < 50 || w.v > 144 {
			continue
		}
		for _, in := range p.wholes(p.between(w.next, "/", "-", "and")) {
			if in.v >= 50 && in.v < w.v && p.isEnd(in.next) {
				return measured{facts: append(num("bcd_mm", w.v), num("bcd_inner_mm", in.v)...)}, in.next // "on 104/64"
			}
		}
		if p.isEnd(w.next) {
			return measured{facts: num("bcd_mm", w.v)}, w.next
		}
	}
	return measured{}, 0
}

func armLength(p *parser, i int) (measured, int) {
	for _, w := range p.decimals(i) {
		if k := w.next; !w.broken && !p.at(i).figure && p.class(k) == ones && p.at(k).s.number == 5 && w.v >= 160 && w.v <= 180 && !p.startsNumber(k+1) {
			return measured{facts: num("arm_mm", w.v+0.5)}, k + 1 // "one seventy-two five"
		}
		if w.v >= 150 && w.v <= 190 && !p.otherUnit(w.next, "mm", "s") {
			return measured{facts: num("arm_mm", w.v)}, p.maybeUnit(p.maybeUnit(w.next, "mm"), "s")
		}
	}
	return measured{}, 0
}

func pedalThread(p *parser, i int) (measured, int) {
	n, d, next, ok := p.fraction(i)
	if !ok {
		return measured{}, 0
	}
	thread := fmt.Sprintf("%d/%dx20", n, d)
	return measured{facts: []fact{{"thread", substitution.Text(thread)}}}, p.maybeUnit(next, "inch")
}
