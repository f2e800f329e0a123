package note

import (
	"fmt"
	"strconv"

	"stead/substitution"
	"stead/substitution/standard"
)

// tyreSize reads "700x28", "28-622", "26 by one point seven five".
func tyreSize(p *parser, i int) (measured, int) {
	for _, a := range p.clampsSaid(i) {
		j := a.next
		if t := p.at(j).text; t == "c" && p.at(j).glued {
			j++
		}
		sign := p.at(j).text
		if sign != "x" && sign != "by" && sign != "-" && sign != "/" && sign != "×" && sign != "dash" {
			continue
		}
		for _, b := range p.widthsSaid(a.v, j+1) {
			mark := "x"
			if sign == "-" || sign == "/" || sign == "dash" {
				mark = "-"
			}
			t, err := standard.ParseTyre(a.size() + mark + b.size())
			if err != nil && mark == "x" && a.v < mostInches {
				t, err = standard.ParseTyre(b.size() + mark + a.size()) // "1.75 by 26"
			}
			if err != nil {
				continue
			}
			return measured{facts: []fact{count("bead_mm", float64(t.BeadMM)), count("width_mm", float64(t.WidthMM))}}, p.maybeUnit(b.next, "c", "mm")
		}
	}
	return measured{}, 0
}

// mostInches is a width in inches that no wheel is as small as.
const mostInches = 6

// widthsSaid are the numbers at item i; after a diameter in inches "one seventy-five" is 1.75.
func (p *parser) widthsSaid(diameter float64, i int) []number {
	out := p.decimals(i)
	for k, w := range out {
		if diameter < 30 && !w.broken && !p.at(i).figure && w.v >= 110 && w.v < 300 {
			out[k].v, out[k].broken = w.v/100, true
		}
	}
	return out
}

// tyreByDigits reads "thirty-seven, six two two": the width, and the bead seat figure by figure or as a number.
func tyreByDigits(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		j := p.skipJoint(w.next)
		if p.at(j).text == "," {
			j++
		}
		texts, nexts := p.digits(j)
		for k, text := range texts {
			if t, err := standard.ParseTyre(figure(w.v) + "-" + text); err == nil && len(text) == 3 && p.isEnd(nexts[k]) {
				return measured{facts: []fact{count("bead_mm", float64(t.BeadMM)), count("width_mm", float64(t.WidthMM))}}, nexts[k]
			}
		}
	}
	return measured{}, 0
}

// tyreSpoken reads "seven hundred twenty-eights", as a size is said without its "by".
func tyreSpoken(p *parser, i int) (measured, int) {
	for _, a := range p.wholes(i) {
		for _, b := range p.wholes(a.next) {
			if p.at(i).figure || !b.plural || b.v < 18 || b.v > 75 {
				continue
			}
			if t, err := standard.ParseTyre(figure(a.v) + "x" + figure(b.v)); err == nil && a.v == 700 {
				return measured{facts: []fact{count("bead_mm", float64(t.BeadMM)), count("width_mm", float64(t.WidthMM))}}, p.maybeUnit(b.next, "c", "mm")
			}
		}
	}
	return measured{}, 0
}

// rimWall reads what is left of a brake track, where the wall or the track is named: "braking surface measures one
// point two".
func rimWall(p *parser, i int) (measured, int) {
	named := p.namesTrack(i)
	for _, w := range p.decimals(i) {
		next := p.maybeUnit(w.next, "mm", "left")
		if named && w.broken && w.v >= 0.3 && w.v <= 4 && !p.otherUnit(w.next, "mm", "left") {
			return measured{readings: num("wall_mm", w.v)}, next
		}
	}
	return measured{}, 0
}

// namesTrack reports that the wall of the rim at hand was named before item i, for it or for the rim at the other end.
func (p *parser) namesTrack(i int) bool {
	for j := i - 1; j >= i-farTrack && p.at(j).sep < stop; j-- {
		switch p.at(j).text {
		case "braking surface", "brake track", "track", "sidewall", "sidewalls", "side wall", "wall", "walls", "braking surfaces", "side walls", "brake tracks":
			return true
		}
		if s := p.at(j).s; s != nil && s.head != nil && s.head.family != "rim" {
			return false
		}
	}
	return false
}

// farTrack is how many words before its figure a rim's wall may be named.
const farTrack = 16

// tyreWidth reads "thirty-twos", "28c", "28 mm", and a bare figure only right after "is" or "a".
func tyreWidth(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		next := p.maybeUnit(w.next, "c", "mm", "s", "wide")
		said := w.plural || next > w.next
		if b := p.at(i - 1); b.s != nil && (b.text == "a" || b.s.role == copula) {
			said = true
		}
		if said && w.v >= 18 && w.v <= 75 && !p.otherUnit(w.next, "c", "mm", "s", "wide") && p.between(w.next, "x", "by", "-", "/") == w.next {
			return measured{facts: []fact{count("width_mm", w.v)}}, next
		}
	}
	return measured{}, 0
}

// beadSize reads "700c", "650b", "29 inch".
func beadSize(p *parser, i int) (measured, int) {
	for _, w := range p.decimals(i) {
		text, next := figure(w.v), w.next
		switch t := p.at(next); {
		case (t.text == "c" || t.text == "b") && w.v >= 600:
			text += t.text
		case p.unit(next, "inch"):
			text += " inch"
		default:
			continue
		}
		if bead, err := standard.ParseBead(text); err == nil {
			return measured{facts: []fact{count("bead_mm", float64(bead.MM))}}, next + 1
		}
	}
	return measured{}, 0
}

// beadBare reads "six twenty-two", a bead seat that no other figure of a rim or a tube is like.
func beadBare(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		if b, ok := standard.BeadSeatByMM(int(w.v)); ok && w.v >= leastBead && !p.otherUnit(w.next, "mm") {
			return measured{facts: []fact{count("bead_mm", float64(b.MM))}}, p.maybeUnit(w.next, "mm")
		}
	}
	return measured{}, 0
}

// leastBead is a bead seat greater than any spoke is long.
const leastBead = 340

func valveLength(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		j := p.maybeUnit(w.next, "mm")
		t := p.at(j)
		if (t.text == "valve" || t.text == "valves") && w.v >= 25 {
			return measured{facts: num("valve_mm", w.v)}, j + 1
		}
		if t.s != nil && len(t.s.facts) > 0 && t.s.facts[0].name == "valve" && w.v >= 25 && j > w.next {
			return measured{facts: num("valve_mm", w.v)}, j
		}
	}
	return measured{}, 0
}

func spacing(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		if p.at(w.next).text == "qr" {
			for _, known := range standard.AxleWidths() {
				if known.OLNMM == w.v {
					return measured{facts: append(num("oln_mm", w.v), fact{"axle", substitution.Text("qr")})}, w.next + 1 // "one thirty-five QR"
				}
			}
		}
		if next := p.maybeUnit(w.next, "spacing"); next > w.next {
			return measured{facts: num("oln_mm", w.v)}, next
		}
		next := p.maybeUnit(w.next, "mm")
		b := p.at(i - 1)
		said := p.headBefore(i, "hub") && p.isEnd(next) || b.sep == comma && p.isEnd(next) || b.s != nil && b.s.role == copula && b.text != "with" && (p.isEnd(next) || p.at(next).text == "with")
		for _, known := range standard.AxleWidths() {
			if (next > w.next || said) && known.OLNMM == w.v {
				return measured{facts: num("oln_mm", w.v)}, next
			}
		}
	}
	return measured{}, 0
}

// widthOver reads "one hundred wide" of a hub, over its locknuts.
func widthOver(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		for _, known := range standard.AxleWidths() {
			if next := p.maybeUnit(w.next, "wide"); next > w.next && known.OLNMM == w.v {
				return measured{facts: num("oln_mm", w.v)}, next
			}
		}
	}
	return measured{}, 0
}

func thruAxle(p *parser, i int) (measured, int) {
	for _, d := range p.wholes(i) {
		j := p.between(d.next, "x", "by", "×")
		if j == d.next {
			continue
		}
		for _, w := range p.wholes(j) {
			text := fmt.Sprintf("%dx%d", int(d.v), int(w.v))
			if _, err := standard.ParseThruAxle(text); err == nil {
				return measured{facts: []fact{{"axle", substitution.Text(text)}}}, p.maybeUnit(w.next, "mm")
			}
		}
	}
	return measured{}, 0
}

func spokeLength(p *parser, i int) (measured, int) {
	for _, w := range p.decimals(i) {
		if w.v >= 150 && w.v <= 320 && !p.otherUnit(w.next, "mm", "long") {
			return measured{facts: num("length_mm", w.v)}, p.maybeUnit(w.next, "mm", "long")
		}
	}
	return measured{}, 0
}

func spokeGauge(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		if next := p.maybeUnit(w.next, "gauge"); next > w.next {
			if s, err := standard.ParseSpoke(strconv.Itoa(int(w.v)) + "g"); err == nil {
				return measured{facts: num("gauge_mm", s.ElbowMM)}, next
			}
		}
	}
	return measured{}, 0
}

// diameterThenLength reads "twelve by one fifty-seven" of a thru-axle.
func diameterThenLength(p *parser, i int) (measured, int) {
	for _, d := range p.wholes(i) {
		j := p.between(p.maybeUnit(d.next, "mm"), "x", "by", "×")
		if j == d.next {
			continue
		}
		for _, l := range p.wholes(j) {
			if d.v >= 10 && d.v <= 20 && l.v >= 90 && l.v <= 260 {
				return measured{facts: append(num("diameter_mm", d.v), num("length_mm", l.v)...)}, p.maybeUnit(l.next, "mm")
			}
		}
	}
	return measured{}, 0
}

// tubeSize reads "700 by 28 to 32": the bead seat and the widths that the tube is for.
func tubeSize(p *parser, i int) (measured, int) {
	for _, a := range p.clampsSaid(i) {
		j := a.next
		if p.at(j).text == "c" {
			j++
		}
		sized := p.between(j, "x", "by", "×")
		if sized == j {
			continue
		}
		for _, low := range p.decimals(sized) {
			t, err := standard.ParseTyre(a.size() + "x" + low.size())
			if err != nil {
				continue
			}
			for _, high := range p.decimals(p.between(low.next, "to", "-", "/")) {
				if high.v > low.v && high.next > low.next+1 {
					if u, err := standard.ParseTyre(a.size() + "x" + high.size()); err == nil {
						return measured{facts: []fact{count("bead_mm", float64(t.BeadMM)), count("width_min_mm", float64(t.WidthMM)), count("width_max_mm", float64(u.WidthMM))}}, p.maybeUnit(high.next, "c", "mm")
					}
				}
			}
		}
	}
	return measured{}, 0
}
