package note

import (
	"stead/substitution"
	"stead/substitution/standard"
)

// postDiameter reads "27.2" and, as it is said, "twenty-seven two".
func postDiameter(p *parser, i int) (measured, int) {
	try := func(v float64, next int) (measured, int) {
		if d, err := standard.ParseSeatpost(figure(v)); err == nil && !p.otherUnit(next, "mm") {
			if j := p.between(next, "x", "by", "×"); j > next {
				for _, l := range p.wholes(j) {
					if l.v >= 150 && l.v <= 500 {
						return measured{facts: append(num("diameter_mm", d.MM), num("length_mm", l.v)...)}, p.maybeUnit(l.next, "mm")
					}
				}
			}
			return measured{facts: num("diameter_mm", d.MM)}, p.maybeUnit(next, "mm")
		}
		return measured{}, 0
	}
	for _, w := range p.decimals(i) {
		if p.class(w.next) == ones && !w.broken && !p.at(i).figure {
			if m, next := try(w.v+p.at(w.next).s.number/10, w.next+1); next > 0 {
				return m, next
			}
		}
		if w.broken || p.unit(p.skipJoint(w.next), "mm") {
			if m, next := try(w.v, w.next); next > 0 {
				return m, next
			}
		}
	}
	return measured{}, 0
}

// barClamp reads "31.8" and "thirty-one eight".
func barClamp(p *parser, i int) (measured, int) {
	for _, w := range p.decimals(i) {
		v, next := w.v, w.next
		if p.class(next) == ones && !w.broken && !p.at(i).figure && w.v > 20 {
			v, next = v+p.at(next).s.number/10, next+1
		} else if !w.broken {
			continue
		}
		if d, err := standard.ParseHandlebarClamp(figure(v)); err == nil && !p.otherUnit(next, "mm", "clamp") {
			return measured{facts: num("clamp_mm", d.MM)}, p.maybeUnit(p.maybeUnit(next, "mm"), "clamp")
		}
	}
	return measured{}, 0
}

// stemClamp is a bare figure of a stem that is its bars' clamp. Of 22.2 it is open: a quill is as wide.
func stemClamp(p *parser, i int) (measured, int) {
	m, next := barClamp(p, i)
	if next > 0 && m.facts[0].value.Float() < 22.5 && !p.unit(next-1, "clamp") {
		return measured{}, 0
	}
	return m, next
}

// stemSize reads "31.8 by 110" and "90 31.8".
func stemSize(p *parser, i int) (measured, int) {
	for _, b := range p.wholes(i) {
		for _, a := range p.clampsSaid(p.between(b.next, "x", "by", "×")) {
			if d, err := standard.ParseHandlebarClamp(figure(a.v)); err == nil && a.broken && b.v >= 30 && b.v <= 160 && !p.otherUnit(a.next, "mm", "clamp") {
				return measured{facts: append(num("clamp_mm", d.MM), num("length_mm", b.v)...)}, p.maybeUnit(a.next, "mm", "clamp")
			}
		}
	}
	for _, a := range p.decimals(i) {
		d, err := standard.ParseHandlebarClamp(figure(a.v))
		j := p.between(a.next, "x", "by", "×")
		if err != nil || !a.broken {
			continue
		}
		for _, b := range p.wholes(j) {
			if b.v >= 30 && b.v <= 160 && !p.otherUnit(b.next, "mm") {
				return measured{facts: append(num("clamp_mm", d.MM), num("length_mm", b.v)...)}, p.maybeUnit(b.next, "mm")
			}
		}
	}
	return measured{}, 0
}

// clampsSaid are the numbers at item i, "thirty-one eight" among them as 31.8.
func (p *parser) clampsSaid(i int) []number {
	out := p.decimals(i)
	for _, w := range out {
		if k := w.next; !w.broken && w.v > 20 && !p.at(i).figure && p.class(k) == ones {
			out = append([]number{{v: w.v + p.at(k).s.number/10, next: k + 1, broken: true}}, out...)
			break
		}
	}
	return out
}

// barSize reads "31.8 420" and "420 by 31.8".
func barSize(p *parser, i int) (measured, int) {
	for _, a := range p.decimals(i) {
		for _, b := range p.decimals(p.between(a.next, "x", "by", "×")) {
			clamp, width := a, b
			if !a.broken {
				clamp, width = b, a
			}
			d, err := standard.ParseHandlebarClamp(figure(clamp.v))
			if err == nil && clamp.broken && !width.broken && width.v >= 300 && width.v <= 900 && !p.otherUnit(b.next, "mm") {
				return measured{facts: append(num("clamp_mm", d.MM), num("width_mm", width.v)...)}, p.maybeUnit(b.next, "mm")
			}
		}
	}
	return measured{}, 0
}

// quillSize reads "quill, 22.2": the figure after the word is the quill's, not the clamp's.
func quillSize(p *parser, i int) (measured, int) {
	if !p.saidBack(i, "quill") {
		return measured{}, 0
	}
	for _, w := range p.decimals(i) {
		if w.broken {
			return measured{facts: num("quill_mm", w.v)}, p.maybeUnit(w.next, "mm")
		}
	}
	return measured{}, 0
}

// farSaid is how many words before a figure may say what it is of: "quill stem, twenty-two point two".
const farSaid = 6

// saidBack reports that a word stands before item i in its sentence, not far from it.
func (p *parser) saidBack(i int, word string) bool {
	for j := i - 1; j >= max(0, i-farSaid) && p.items[j].sep < stop; j-- {
		if p.items[j].text == word {
			return true
		}
	}
	return false
}

// steererSize reads "an inch and an eighth", "one and an eighth", `1 1/8"` and "28.6".
func steererSize(p *parser, i int) (measured, int) {
	known := func(mm float64, next int) (measured, int) {
		for _, s := range standard.Steerers() {
			if s.SteererMM > mm-0.1 && s.SteererMM < mm+0.1 {
				return measured{facts: num("steerer_mm", s.SteererMM)}, next
			}
		}
		return measured{}, 0
	}
	start := p.skipA(i)
	if p.unit(start, "inch") {
		if j := start + 1; p.at(j).text == "and" || p.at(j).sep == joint {
			for p.at(j).sep == joint || p.at(j).text == "and" {
				j++
			}
			k := p.skipA(j)
			k = p.skipJoint(k)
			if n, d, next, ok := p.fraction(k); ok {
				return known(standard.Inch*(1+float64(n)/float64(d)), next)
			}
		}
	}
	for _, w := range p.decimals(i) {
		next := p.maybeUnit(w.next, "inch")
		switch {
		case w.v < 2 && w.v > 1 && w.broken || w.v == 1 && next > w.next:
			if m, end := known(standard.Inch*w.v, next); end > 0 {
				return m, end
			}
		case w.broken && w.v > 22:
			if m, end := known(w.v, p.maybeUnit(w.next, "mm")); end > 0 {
				return m, end
			}
		}
	}
	return measured{}, 0
}

// barWidth reads "44 cm", "width 440" and a bare figure right after "is" or its part.
func barWidth(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		if next := p.maybeUnit(w.next, "cm"); next > w.next && w.v >= 30 && w.v <= 100 {
			return measured{facts: num("width_mm", w.v*10)}, next
		}
		if next := p.maybeUnit(w.next, "wide"); next > w.next && w.v >= 34 && w.v <= 50 {
			return measured{facts: num("width_mm", w.v*10)}, next // "forty-two wide" is said in centimetres
		}
		said := p.at(i-1).text == "width" || p.at(i-1).s.is(copula) || p.headBefore(i, "handlebar") && p.isEnd(w.next)
		if said && w.v >= 300 && w.v <= 1000 && !p.otherUnit(w.next) {
			return measured{facts: num("width_mm", w.v)}, w.next
		}
	}
	return measured{}, 0
}

// stemLength reads a bare figure right after "is": no clamp is as wide as that. Right after its part, "stem sixty", it
// may be a price.
func stemLength(p *parser, i int) (measured, int) {
	b := i - 1
	for determiner(p.at(b).text) {
		b--
	}
	for _, w := range p.wholes(i) {
		if p.at(b).s.is(copula) && w.v >= 70 && w.v <= 160 && !p.otherUnit(w.next) && p.isEnd(w.next) {
			return measured{facts: num("length_mm", w.v)}, w.next
		}
	}
	return measured{}, 0
}

// clampNamed reads "clamp thirty-one eight".
func clampNamed(p *parser, i int) (measured, int) {
	if s := p.at(i).s; s == nil || s.label != "clamp" {
		return measured{}, 0
	}
	return barClamp(p, p.skipCopula(i+1))
}

// steererNamed reads "steerer inch and an eighth".
func steererNamed(p *parser, i int) (measured, int) {
	if s := p.at(i).s; s == nil || s.label != "steerer" {
		return measured{}, 0
	}
	return steererSize(p, p.skipCopula(i+1))
}

// steererBefore reads "an inch-and-an-eighth steerer".
func steererBefore(p *parser, i int) (measured, int) {
	m, next := steererSize(p, i)
	if s := p.at(p.skipJoint(next)).s; next == 0 || s == nil || s.label != "steerer" {
		return measured{}, 0
	}
	return m, p.skipJoint(next) + 1
}

// skipCopula steps over "is" and "'s".
func (p *parser) skipCopula(i int) int {
	if p.at(i).s.is(copula) {
		return i + 1
	}
	return i
}

// headBefore reports that a part of the family is named right before item i.
func (p *parser) headBefore(i int, family substitution.Family) bool {
	s := p.at(i - 1).s
	return s != nil && s.head != nil && s.head.family == family
}
