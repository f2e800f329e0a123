package pricing

import (
	"fmt"
	"slices"
	"strings"

	"stead/substitution"
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
			beside := slices.DeleteFunc(v.Brings(), func(b substitution.Bring) bool { return !nobodyHas[broughtName(b)] })
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
