package orderplan

import (
	"cmp"
	"slices"
)

const (
	startNodes   = 300 // line nodes for one try at a set of modes
	startChoices = 40  // choices a line listed for one try, once there is some plan
	startFlips   = 12  // neighbours tried before giving up on a set of modes
)

// suggested are the modes that the relaxation has used most.
func (s *search) suggested(n *node) []mode {
	modes := make([]mode, len(n.modes))
	for i, allowed := range n.modes {
		most := -1.0
		for k, u := range s.relax.usage[i] {
			if m := mode(1) << k; allowed&m != 0 && u > most {
				modes[i], most = m, u
			}
		}
	}
	if !s.coverable(modes) {
		for i, allowed := range n.modes {
			if modes[i] == unused && allowed&pays != 0 {
				modes[i] = pays
			}
		}
	}
	return modes
}

// firstPlan looks for a good plan before the search: the modes that the root's
// relaxation suggests, then those with one supplier's mode changed, as long as
// that helps. All it leaves is s.best and its picks.
func (s *search) firstPlan(n *node) {
	r := s.relax
	modes := s.suggested(n)
	s.try(modes, s.best == none)
	type neighbour struct {
		modes []mode
		bound int64
	}
	for improved := true; improved && s.ctx.Err() == nil; {
		improved = false
		var near []neighbour
		for i, allowed := range n.modes {
			for _, m := range []mode{unused, pays, paid} {
				if allowed&m == 0 || m == modes[i] {
					continue
				}
				next := slices.Clone(modes)
				next[i] = m
				if s.coverable(next) {
					if bound := pence(s.leaf.prepare(next, r.theta), s.slack); bound < s.best {
						near = append(near, neighbour{next, bound})
					}
				}
			}
		}
		slices.SortStableFunc(near, func(a, b neighbour) int { return cmp.Compare(a.bound, b.bound) })
		for _, next := range near[:min(len(near), startFlips)] {
			if next.bound < s.best && s.try(next.modes, false) {
				modes, improved = next.modes, true
				break
			}
		}
	}
}

// try looks for a plan with these modes, further and further above their bound,
// and says whether it found a better one than before. Unless hard, it gives up
// where there is much to choose from.
func (s *search) try(modes []mode, hard bool) bool {
	f := s.leaf
	bound := pence(f.prepare(modes, s.relax.theta), s.slack)
	for width := 8 + bound/16000; bound < s.best && s.ctx.Err() == nil; width *= 4 {
		target := min(s.best-1, bound+width, s.in.dearest)
		before, known := f.nodes, s.best
		choices := 1000 + startChoices*len(s.in.lines)
		if hard {
			choices = leafChoiceLimit
		}
		_, done := f.search(target, startNodes, choices)
		s.work.LineNodes += f.nodes - before
		s.keep(f)
		if s.best < known {
			return true
		}
		if target == s.best-1 || target == s.in.dearest || !done && (!hard || width > bound) {
			return false
		}
	}
	return false
}

// greedy buys every line where it is cheapest by itself among suppliers with a
// mode other than unused, and keeps that if it makes a plan at all.
func (s *search) greedy(modes []mode) {
	c := &s.leaf.chooser
	c.modes = modes
	clear(c.shade)
	var picks []pick
	goods := make([]int64, len(s.in.suppliers))
	for l, t := range s.in.lines {
		if t.need == 0 {
			continue
		}
		ways, ok := c.list(l, c.least(l)+0.5, startChoices*1000)
		if !ok || len(ways) == 0 {
			return
		}
		best := slices.MinFunc(ways, func(a, b choice) int { return cmp.Compare(a.cost, b.cost) })
		picks = append(picks, best.picks...)
		for _, k := range best.picks {
			goods[s.in.arcs[k.arc].supplier] += s.in.arcs[k.arc].all[k.option].cost
		}
	}
	for _, k := range picks {
		if i := s.in.arcs[k.arc].supplier; goods[i] < s.in.suppliers[i].minimum {
			return
		}
	}
	if cost := s.in.cost(picks); cost < s.best {
		s.best, s.picks = cost, picks
	}
}
