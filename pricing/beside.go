package pricing

import (
	"fmt"
	"slices"
	"strings"

	"stead/substitution"
	"stead/substitution/solver"
)

// broughtName is what the solver calls a thing that another part needs beside it.
func broughtName(b substitution.Bring) string {
	return strings.TrimSpace(string(b.Family) + " " + b.Spec.String())
}

// broughtWords says for what a brought thing is needed: "crush washers for a banjo".
func (s Situation) broughtWords(name string) string {
	for _, b := range s.Brought {
		if broughtName(b.Bring) == name {
			return b.Bring.Words
		}
	}
	return ""
}

// bringer is what one choice needs of a thing beside it.
type bringer struct {
	with   []substitution.Place // the chosen parts for which it is needed
	pieces int
}

// bringers are the choices for which a brought thing is needed, each with its pieces, so that it goes when its choice goes.
func (s Situation) bringers(c solver.Chosen, v substitution.Verdict) (out []bringer) {
	left := c.Pieces
	for _, t := range s.setUps() {
		for _, b := range t.Brings {
			if broughtName(b) == c.Need {
				left -= b.Quantity
				out = append(out, bringer{[]substitution.Place{t.tape}, b.Quantity})
			}
		}
	}
	for _, f := range v.Findings {
		for _, b := range f.Brings {
			if broughtName(b) != c.Need {
				continue
			}
			left -= b.Quantity
			with := s.chosenUnder(f)
			if i := slices.IndexFunc(out, func(o bringer) bool { return slices.Equal(o.with, with) }); i >= 0 {
				out[i].pieces += b.Quantity
			} else {
				out = append(out, bringer{with, b.Quantity})
			}
		}
	}
	if left != 0 {
		return []bringer{{pieces: c.Pieces}}
	}
	return out
}

// chosenUnder are the places of the needs that a finding looked at.
func (s Situation) chosenUnder(f substitution.Finding) (out []substitution.Place) {
	for _, n := range s.Needs {
		if slices.ContainsFunc(substitution.Instances(n.Place), func(r substitution.Instance) bool { return r.Rule() == f.Rule && r.At() == f.At }) {
			out = append(out, n.Place)
		}
	}
	return out
}

// lackingBeside names what parts that would do need beside them and nobody has, for needs of which every such part does.
func (s Situation) lackingBeside() []string {
	nobodyHas := map[string]bool{}
	for _, b := range s.Brought {
		if !slices.ContainsFunc(b.Parts, s.obtainable) {
			nobodyHas[broughtName(b.Bring)] = true
		}
	}
	scene := s.scene()
	var out []string
	for i, n := range s.Needs {
		var lacking []string
		does := false
		for _, id := range s.Candidates[i] {
			part := s.Parts[id].Part
			v := scene.Choose(n.Place, &part).Check(n.Place)
			if !s.obtainable(id) || len(v.Stops()) > 0 {
				continue
			}
			beside := slices.DeleteFunc(slices.Concat(s.besideTape(n.Place), v.Brings()), func(b substitution.Bring) bool { return !nobodyHas[broughtName(b)] })
			does = does || len(beside) == 0
			for _, b := range beside {
				words := fmt.Sprintf("the %s wants beside it: %s; neither the shelf nor any supplier has that", siteWords(n.Place), b.Words)
				if !slices.Contains(lacking, words) {
					lacking = append(lacking, words)
				}
			}
		}
		if !does {
			out = append(out, lacking...)
		}
	}
	return out
}
