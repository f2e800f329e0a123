package note

import (
	"strconv"

	"stead/substitution/standard"
)

func rotorSize(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		if r, err := standard.ParseRotor(strconv.Itoa(int(w.v))); err == nil {
			return measured{facts: []fact{count("rotor_mm", float64(r.MM))}}, p.maybeUnit(w.next, "mm")
		}
	}
	return measured{}, 0
}

func rotorThickness(p *parser, i int) (measured, int) {
	for _, w := range p.spokenTenths(i) {
		next := p.maybeUnit(w.next, "mm", "left")
		if (w.broken || next > w.next) && w.v > 0.5 && w.v < 4 && !p.otherUnit(w.next, "mm", "left") {
			return measured{readings: num("thickness_mm", w.v)}, next
		}
	}
	return measured{}, 0
}

// spokenTenths are the numbers at item i. A thickness is also said without its point, after "at" or "stamped": "one
// fifty-five", "one five".
func (p *parser) spokenTenths(i int) []number {
	out := p.decimals(i)
	before := p.at(i - 1)
	if p.at(i).figure || !before.s.is(at) && before.text != "at" && !(before.s != nil && before.s.label != "") && !before.s.is(copula) {
		return out
	}
	if j := p.skipJoint(i + 1); p.class(i) == ones && p.class(j) == ones && !p.startsNumber(j+1) && !p.otherUnit(j+1, "mm") {
		return append([]number{{v: p.at(i).s.number + p.at(j).s.number/10, next: j + 1, broken: true}}, out...)
	}
	for _, w := range out {
		if _, err := standard.ParseRotor(strconv.Itoa(int(w.v))); err != nil && !w.broken && w.v > 105 && w.v < 300 && !p.startsNumber(w.next) {
			return append([]number{{v: w.v / 100, next: w.next, broken: true}}, out...)
		}
	}
	return out
}

// rotorMinimum reads "stamp one point five" and "1.5 minimum".
func rotorMinimum(p *parser, i int) (measured, int) {
	label := p.label(i, "minimum")
	for _, w := range p.spokenTenths(label) {
		next := p.maybeUnit(w.next, "mm")
		behind := p.label(next, "minimum")
		if label == i && (behind == next || p.startsNumber(behind)) {
			continue
		}
		if label > i {
			behind = next
		}
		if w.v > 0.5 && w.v < 4 && (w.broken || next > w.next) {
			return measured{readings: num("marked_minimum_mm", w.v)}, behind
		}
	}
	return measured{}, 0
}

// label steps over words that name the figure beside them.
func (p *parser) label(i int, name string) int {
	for j := i; j < i+5; j++ {
		s := p.at(j).s
		switch {
		case s != nil && s.label == name:
			i = j + 1
		case s != nil && (s.role == copula || s.role == at || s.role == filler), p.at(j).sep == joint:
			if j == i {
				continue
			}
		default:
			if i < j && p.startsNumber(j) && i > 0 && p.at(i-1).s != nil && p.at(i-1).s.label == name {
				return j
			}
			return i
		}
	}
	return i
}

func lining(p *parser, i int) (measured, int) {
	for _, w := range p.spokenTenths(i) {
		next := p.maybeUnit(p.maybeUnit(w.next, "mm"), "left")
		before := p.at(i - 1).s
		said := before != nil && (before.text() == "at" || before.label == "lining")
		if (w.broken || next > w.next || said) && w.v <= 8 && !p.otherUnit(w.next, "mm", "left") {
			return measured{readings: num("lining_mm", w.v)}, next
		}
	}
	return measured{}, 0
}

func (s *sense) text() string {
	if s.role == at {
		return "at"
	}
	return ""
}
