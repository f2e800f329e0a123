package note

import (
	"strconv"
	"strings"

	"stead/substitution"
	"stead/substitution/standard"
)

// measure is a dimension or a reading that a word gives to the figure beside it, and by how much the figure is to be
// multiplied.
type measure struct {
	name  string
	times float64
}

// measuresIn reads "months*12 fluid_months*12".
func measuresIn(text string) (out []measure, err error) {
	for _, field := range strings.Fields(text) {
		name, times, many := strings.Cut(field, "*")
		m := measure{name, 1}
		if many {
			if m.times, err = strconv.ParseFloat(times, 64); err != nil {
				return nil, err
			}
		}
		out = append(out, m)
	}
	return out, nil
}

// isNamed reads a figure by what it is said to be of: "bore fifteen", "thirty point two inside", "two metres long". Any part
// can be measured so in whatever its family has.
func (p *parser) isNamed(family substitution.Family, i int) (measured, int) {
	if s := p.at(i).s; s != nil && len(s.measures) > 0 {
		if m, next := p.namedBefore(family, s, p.pastOf(i+1)); next > 0 {
			return m, next
		}
	}
	return p.namedAfter(family, i)
}

// pastOf steps over "of", "is", "at" and a colon between a name and its figure.
func (p *parser) pastOf(i int) int {
	for p.at(i).s.is(copula) || p.at(i).s.is(at) || p.at(i).sep == colon || p.at(i).text == "at" {
		i++
	}
	return i
}

// namedBefore reads the figure after its name.
func (p *parser) namedBefore(family substitution.Family, s *sense, i int) (measured, int) {
	for _, w := range p.sizes(i) {
		if m, next, ok := p.figureOf(family, s.measures, w); ok {
			return m, next
		}
	}
	return measured{}, 0
}

// namedAfter reads the figure before its name.
func (p *parser) namedAfter(family substitution.Family, i int) (measured, int) {
	for _, w := range p.sizes(i) {
		for _, j := range []int{p.skipJoint(w.next), p.skipJoint(p.pastUnit(w.next))} {
			s := p.at(j).s
			if s == nil || len(s.measures) == 0 {
				continue
			}
			if m, next, ok := p.figureOf(family, s.measures, w); ok && next <= j {
				return m, j + 1
			}
		}
	}
	return measured{}, 0
}

// pastUnit steps over a unit of length, weight or torque.
func (p *parser) pastUnit(i int) int { return p.maybeUnit(i, "mm", "cm", "metre", "inch", "nm", "kg") }

// sizes are the numbers at item i, "thirty-four nine" among them as 34.9.
func (p *parser) sizes(i int) []number {
	if !p.startsNumber(i) {
		return nil
	}
	return p.clampsSaid(i)
}

// figureOf is the figure as the first of the measures that the family has, with the unit after it, and the item after both.
func (p *parser) figureOf(family substitution.Family, measures []measure, w number) (measured, int, bool) {
	for _, m := range measures {
		f, next := fact{name: m.name, value: substitution.Num(exact(w.v * m.times * p.scale(w.next, m.name)))}, p.pastUnit(w.next)
		if strings.HasSuffix(m.name, "_nm") && !p.unit(p.skipJoint(w.next), "nm") {
			continue
		}
		if _, ok := readingValue(family, f); ok {
			if !w.broken && next == w.next && strings.HasSuffix(m.name, "_mm") {
				continue // a reading in millimetres has its unit or a fraction
			}
			return measured{readings: []fact{f}}, next, true
		}
		if _, ok := factValue(family, f); ok {
			return measured{facts: []fact{f}}, next, true
		}
	}
	return measured{}, 0, false
}

// scale is what the unit at item i makes of a figure in millimetres.
func (p *parser) scale(i int, name string) float64 {
	if !strings.HasSuffix(name, "_mm") {
		return 1
	}
	switch s := p.at(p.skipJoint(i)).s; {
	case s == nil:
	case s.unit == "cm":
		return 10
	case s.unit == "metre":
		return 1000
	case s.unit == "inch":
		return standard.Inch
	}
	return 1
}
