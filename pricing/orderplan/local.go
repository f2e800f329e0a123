package orderplan

import (
	"cmp"
	"math"
	"slices"
)

const (
	localSteps   = 15   // steps to bound a set of modes
	startNodes   = 1000 // line nodes for one try at a set of modes
	startChoices = 100  // choices a line listed for one try
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

// improve looks for a better plan from a set of modes. It changes one supplier's
// mode at a time, or two, as long as that lowers the bound of the leaf, which is
// seldom far below the leaf's best plan; then it looks for that plan.
func (s *search) improve(n *node, modes []mode) {
	w := walk{search: s, allowed: n.modes, modes: modes, theta: slices.Clone(s.relax.theta)}
	w.bound = w.measure(s.target(n))
	for s.ctx.Err() == nil {
		near, found := w.flipOne(-1)
		if !found && !w.flipTwo(near) {
			break
		}
	}
	s.try(n, modes, w.theta)
}

// walk is a local search over sets of modes.
type walk struct {
	*search
	allowed []mode
	modes   []mode
	theta   [][2]float64
	bound   float64 // of the leaf with modes
}

// flip is a change of one supplier's mode and the bound it gives.
type flip struct {
	supplier int
	to       mode
	bound    float64
}

// measure bounds the leaf of the present modes, or says that it is not below
// target.
func (w *walk) measure(target float64) float64 {
	if !w.coverable(w.modes) {
		return math.Inf(1)
	}
	f := w.leaf
	f.prepare(w.modes, w.theta)
	bound := f.raise(target, localSteps)
	if bound < target {
		bound = f.raise(target, 10*localSteps)
	}
	if bound < target {
		for i, m := range w.modes {
			switch m {
			case pays:
				w.theta[i][0] = f.chooser.shade[i]
			case paid:
				w.theta[i][1] = f.chooser.shade[i]
			}
		}
	}
	return bound
}

// flipOne changes the first mode, other than that of the supplier fixed, whose
// change lowers the bound. Where there is none it returns all it tried.
func (w *walk) flipOne(fixed int) (tried []flip, found bool) {
	for i, allowed := range w.allowed {
		was := w.modes[i]
		for _, m := range []mode{unused, pays, paid} {
			if allowed&m == 0 || m == was || i == fixed {
				continue
			}
			w.modes[i] = m
			bound := w.measure(w.bound - 1)
			if w.ctx.Err() == nil && bound < w.bound-1 {
				w.bound = bound
				return nil, true
			}
			tried = append(tried, flip{i, m, bound})
		}
		w.modes[i] = was
	}
	return tried, false
}

// flipTwo follows the most promising of the changes that do not help by
// themselves with a second one.
func (w *walk) flipTwo(near []flip) bool {
	slices.SortStableFunc(near, func(a, b flip) int { return cmp.Compare(a.bound, b.bound) })
	for _, first := range near[:min(len(near), (len(w.modes)+4)/5)] {
		was := w.modes[first.supplier]
		w.modes[first.supplier] = first.to
		if _, found := w.flipOne(first.supplier); found {
			return true
		}
		w.modes[first.supplier] = was
	}
	return false
}

// try looks for a better plan with these modes, further and further above their
// bound as long as there are not too many choices.
func (s *search) try(n *node, modes []mode, theta [][2]float64) {
	f := s.leaf
	f.prepare(modes, theta)
	bound := pence(f.raise(s.target(n), localSteps), s.slack)
	choices := 1000 + startChoices*len(s.in.lines)
	listed := false
	for width := 8 + bound/16000; width > 0 && bound < s.best && s.ctx.Err() == nil; {
		target := min(s.best-1, bound+width, s.in.dearest)
		before := f.nodes
		_, fits, done := f.search(target, s.best, startNodes, choices)
		s.work.LineNodes += f.nodes - before
		s.keep(f)
		switch {
		case !fits && !listed:
			width /= 4
		case !done || target >= s.best-1 || target == s.in.dearest:
			return
		default:
			listed = true
			width *= 2
		}
	}
}

// greedy buys every line where it is cheapest by itself among suppliers with a
// mode other than unused, whole or in parts too. Suppliers whose minimum order
// that leaves unmet are given up one by one, the smallest order first.
func (s *search) greedy(modes []mode, whole bool) {
	c := newChooser(s.ctx, s.in)
	c.modes, c.whole = slices.Clone(modes), c.whole || whole
	var picks []pick
	goods := make([]int64, len(s.in.suppliers))
	for short := 0; short >= 0; {
		picks = picks[:0]
		clear(goods)
		for l, t := range s.in.lines {
			best := c.cheapest(l)
			if best == nil && t.need > 0 {
				return
			}
			for _, k := range best {
				a := &s.in.arcs[k.arc]
				goods[a.supplier] += a.all[k.option].cost
			}
			picks = append(picks, best...)
		}
		short = -1
		for _, k := range picks {
			if i := s.in.arcs[k.arc].supplier; goods[i] < s.in.suppliers[i].minimum && (short < 0 || goods[i] < goods[short]) {
				short = i
			}
		}
		if short >= 0 {
			c.modes[short] = unused
		}
	}
	if cost := s.in.cost(picks); cost < s.best {
		s.best, s.picks = cost, picks
	}
}
