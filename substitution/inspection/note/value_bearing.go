package note

import (
	"fmt"
	"strings"

	"stead/substitution"
	"stead/substitution/standard"
)

// shellAndSpindle reads "68 by 113".
func shellAndSpindle(p *parser, i int) (measured, int) {
	for _, a := range p.wholes(i) {
		j := p.between(p.maybeUnit(a.next, "mm"), "x", "by", "×", "/", "-")
		if j == a.next && (a.v != 68 && a.v != 70 && a.v != 73 || p.at(i).figure) {
			continue
		}
		for _, b := range p.decimals(j) {
			if a.v >= 66 && a.v <= 100 && b.v >= 100 && b.v <= 190 {
				return measured{facts: append(num("shell_mm", a.v), num("spindle_mm", b.v)...)}, p.maybeUnit(b.next, "mm")
			}
		}
	}
	return measured{}, 0
}

// spindleBare reads "one eighteen" of a bottom bracket: nothing else of it is as long.
func spindleBare(p *parser, i int) (measured, int) {
	for _, w := range p.decimals(i) {
		if next := p.maybeUnit(w.next, "mm"); w.v >= 103 && w.v <= 140 && p.saysNoFigure(next) && !p.otherUnit(w.next, "mm") {
			return measured{facts: num("spindle_mm", w.v)}, next
		}
	}
	return measured{}, 0
}

// bearingNumber reads "6902", "sixty-nine oh two", with its seal.
func bearingNumber(p *parser, i int) (measured, int) {
	texts, nexts := p.digits(i)
	for k := len(texts) - 1; k >= 0; k-- {
		if len(texts[k]) < 3 {
			break
		}
		b, err := standard.ParseBearing(texts[k])
		if err != nil || b.Name != texts[k] {
			continue
		}
		next := nexts[k]
		m := measured{facts: []fact{{"designation", substitution.Text(texts[k])}}}
		m.facts = append(m.facts, num("bore_mm", b.BoreMM)...)
		m.facts = append(m.facts, num("outer_mm", b.OuterMM)...)
		seal, after := p.seal(p.maybeUnit(next, "s"))
		if seal != "" {
			next = after
			m.facts = append(m.facts, fact{"seal", substitution.Text(seal)})
			if full, err := standard.ParseBearing(texts[k] + "-" + strings.ToUpper(seal)); err == nil {
				b = full
			}
		}
		if width, known := b.WidthMM(); known {
			m.facts = append(m.facts, num("width_mm", width)...)
		}
		return m, p.maybeUnit(next, "s")
	}
	return measured{}, 0
}

// seal reads the mark after a bearing's number.
func (p *parser) seal(i int) (seal string, next int) {
	j := p.skipJoint(i)
	if p.at(j).text == "," {
		j++ // "6902, two RS"
	}
	t := p.at(j)
	switch {
	case t.figure && t.text == "2" && p.at(j+1).text == "rs", (t.text == "two" || t.text == "double") && p.at(j+1).text == "rs":
		return "2rs", j + 2
	case t.text == "llu" || t.text == "ddu":
		return "2rs", j + 1
	case t.text == "zz":
		return "zz", j + 1
	case t.figure && t.text == "2" && p.at(j+1).text == "z":
		return "zz", j + 2
	}
	return "", i
}

// bearingSizes reads bore by outside by width.
func bearingSizes(p *parser, i int) (measured, int) {
	for _, a := range p.decimals(i) {
		j := p.between(a.next, "x", "by", "×")
		if j == a.next {
			continue
		}
		for _, b := range p.decimals(j) {
			k := p.between(b.next, "x", "by", "×")
			if k == b.next {
				continue
			}
			for _, c := range p.decimals(k) {
				bore, outer := min(a.v, b.v), max(a.v, b.v) // either may be said first
				if bore < outer && c.v < outer && (a.v < b.v || c.v < bore) {
					return measured{facts: append(append(num("bore_mm", bore), num("outer_mm", outer)...), num("width_mm", c.v)...)}, p.maybeUnit(c.next, "mm")
				}
			}
		}
	}
	return measured{}, 0
}

// ballsInside reads the balls of what they run in: "nine quarter-inch a side".
func ballsInside(p *parser, i int) (measured, int) {
	m, next := ballsHere(p, i)
	aSide := next > 0 && p.at(next).s.is(eachSide)
	if next == 0 || len(m.readings) == 0 || len(m.facts) == 0 && !aSide || m.readings[0].value.Float() < 3 {
		return measured{}, 0
	}
	m.balls = true
	return m, next
}

// ballsHere reads a count, a size, or both: "twenty-five 5/32", "quarter-inch", `1/4", 9`.
func ballsHere(p *parser, i int) (measured, int) {
	counted := func(n float64) []fact { return []fact{count("balls", n)} }
	for _, w := range p.wholes(i) {
		if w.v < 1 || w.v > 60 {
			continue
		}
		if mm, next, ok := p.ballSize(p.between(w.next, "x", "×", "of")); ok {
			return measured{readings: counted(w.v), facts: num("ball_mm", mm)}, next
		}
	}
	if mm, next, ok := p.ballSize(i); ok {
		return measured{facts: num("ball_mm", mm)}, next
	}
	if ws := p.wholes(i); len(ws) > 0 && ws[0].v >= 3 && ws[0].v <= 60 && !p.otherUnit(ws[0].next) && p.class(ws[0].next) == noNumber {
		return measured{readings: counted(ws[0].v)}, ws[0].next
	}
	return measured{}, 0
}

// ballsInCage reads "eleven balls" of a cage.
func ballsInCage(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		if s := p.at(w.next).s; s != nil && s.head != nil && s.head.family == "loose-balls" {
			return measured{readings: []fact{count("balls", w.v)}}, w.next + 1
		}
	}
	return measured{}, 0
}

// ballSize reads a ball's size as a fraction of an inch or in millimetres.
func (p *parser) ballSize(i int) (mm float64, next int, ok bool) {
	i = p.skipJoint(i)
	if n, d, next, ok := p.fraction(i); ok {
		ball, err := standard.ParseBall(fmt.Sprintf("%d/%d", n, d))
		if err != nil {
			return 0, 0, false
		}
		return exact(ball.MM), p.maybeUnit(next, "inch"), true
	}
	for _, w := range p.decimals(i) {
		if next := p.maybeUnit(w.next, "mm"); next > w.next {
			if ball, err := standard.ParseBall(figure(w.v) + " mm"); err == nil {
				return ball.MM, next, true
			}
		}
	}
	return 0, 0, false
}

// bearingAngles reads the chamfers of a headset bearing, inside by outside: "36 by 45".
func bearingAngles(p *parser, i int) (measured, int) {
	for _, a := range p.wholes(i) {
		j := p.between(a.next, "x", "by", "×", "/")
		for _, b := range p.wholes(j) {
			if j == a.next && (a.v != 36 && a.v != 45 || b.v != 45 || !p.isEnd(b.next)) {
				continue // "thirty-six forty-five" has no other meaning
			}
			if a.v >= 30 && a.v <= 60 && b.v >= 30 && b.v <= 60 {
				return measured{facts: append(num("inner_angle_deg", a.v), num("outer_angle_deg", b.v)...)}, p.maybeUnit(b.next, "degrees")
			}
		}
	}
	return measured{}, 0
}

// saysNoFigure reports that what stands at item i is known and goes on no figure before it: its end, or another word.
func (p *parser) saysNoFigure(i int) bool {
	if p.isEnd(i) {
		return true
	}
	s := p.at(i).s
	return s != nil && s.class == noNumber && s.unit == "" && s.label == "" && s.role != voidUnit && s.role != bound
}

// shellBare reads "68 mm", "a 73 shell" and "bsa 68" of a bottom bracket: no spindle is as short.
func shellBare(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		next := p.maybeUnit(w.next, "mm")
		if ends := next > w.next || p.saysNoFigure(next); ends && (w.v == 68 || w.v == 70 || w.v == 73 || w.v == 83) {
			return measured{facts: num("shell_mm", w.v)}, next
		}
	}
	return measured{}, 0
}
