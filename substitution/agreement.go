package substitution

import (
	"fmt"
	"maps"
)

// Agreement finds what a spec says twice, and what follows from the rest of it: the code on a bearing gives its bore,
// outside and width.
type Agreement func(p *Part) []Follows

// Follows is a value that follows from another dimension, or what is wrong with the two.
type Follows struct {
	Dimension string
	Value     Value
	Within    float64 // how far a measured figure may lie off
	Loose     bool    // usual rather than certain: it fills in what is not known, and contradicts nothing
	Because   string  // what it follows from: "designation 6902"
	Wrong     string  // the contradiction, where no single value follows
}

// Contradiction says what in a spec contradicts itself, naming both sides; nil where nothing does. The values are in the
// table's own form already.
func (t *Table) Contradiction(spec Spec) error {
	if len(t.Agrees) == 0 || len(spec) < 2 {
		return nil
	}
	p := Part{Family: t.Family, Spec: spec}
	own := false // whether p's spec is its own: most have nothing filled in, and a reader of lists asks for each line
	return t.eachFollows(&p, func(name string, f Fact) {
		if !own {
			p.Spec, own = maps.Clone(spec), true
		}
		p.Spec[name] = f
	})
}

// agree fills in what follows from the spec, each fact with the standard as its origin, or says what contradicts itself,
// naming both sides.
func (t *Table) agree(p *Part) error {
	return t.eachFollows(p, func(name string, f Fact) { p.Spec[name] = f })
}

// eachFollows goes through what follows from the spec and fills in what is not known.
func (t *Table) eachFollows(p *Part, fill func(name string, f Fact)) error {
	for _, agreement := range t.Agrees {
		for _, f := range agreement(p) {
			if f.Wrong != "" {
				return fmt.Errorf("%s: %s: one of the two is wrong", p.Family, f.Wrong)
			}
			had, known := p.Spec[f.Dimension]
			switch {
			case !known:
				fill(f.Dimension, Fact{Value: f.Value, Origin: FromStandard})
			case f.Loose || had.Value.Equal(f.Value):
			case f.Value.form != Word && near(had.Value.number, f.Value.number, f.Within):
			default:
				d, _ := t.Dimension(f.Dimension)
				return fmt.Errorf("%s: %s %s does not agree with %s, which means %s: one of the two is wrong",
					p.Family, f.Dimension, d.Show(had.Value), f.Because, d.Show(f.Value))
			}
		}
	}
	return nil
}
