package orderplan

import "math"

// thin drops every option that cannot be part of a plan cheaper than the best
// one: with the relaxation's best multipliers, its supplier buying it puts the
// bound past that plan. It says whether enough went to make it worth starting
// over with a smaller instance.
func (s *search) thin(root *node, bound float64) bool {
	r := s.relax
	copy(r.shade, r.bestShade)
	r.setWorth(root.modes)
	before := 0
	var gone []dropped
	room := float64(s.best-1) + s.slack - bound // a rise of more than this rules out
	thinned := s.in.thinned(func(ai int, o option) bool {
		before++
		if r.rise(&s.in.arcs[ai], o, root.modes) > room {
			gone = append(gone, dropped{int32(ai), o.index})
			return true
		}
		return false
	})
	if len(gone)*20 < before {
		return false
	}
	root.proof.drop = gone
	s.in = thinned
	for i := range root.modes {
		root.modes[i] &= thinned.suppliers[i].modes
	}
	next := newRelaxation(s.ctx, thinned)
	copy(next.price, r.price)
	copy(next.theta, r.theta)
	copy(next.shade, r.shade)
	copy(next.usage, r.usage)
	s.relax = next
	s.leaf = newLeaf(s.ctx, thinned, s.slack, s.shift)
	return true
}

// rise is by how much the bound at the best multipliers rises at least when an
// option is bought.
func (r *relaxation) rise(a *arc, o option, modes []mode) float64 {
	need, v := r.in.lines[a.line].need, r.best[a.line]
	ratio := 0.0
	if c := r.byParts(a.line); need > 0 && !math.IsInf(c, 1) && c > 0 {
		ratio = v / c
	}
	least := math.Inf(1)
	for _, c := range r.modeCost[a.supplier] {
		least = min(least, c)
	}
	rise := math.Inf(1)
	for i := range 2 {
		if modes[a.supplier]&(pays<<i) == 0 {
			continue
		}
		theta := r.bestAt[a.supplier][i]
		worth := func(o option) float64 {
			switch {
			case need == 0:
				return 0
			case o.units >= need:
				return v
			}
			if ratio == 0 {
				return 0
			}
			return ratio * r.worth[a.line][o.units]
		}
		best := 0.0
		for _, x := range a.options {
			best = min(best, (1-theta)*float64(x.cost)-worth(x))
		}
		rise = min(rise, r.modeCost[a.supplier][1+i]-least+(1-theta)*float64(o.cost)-worth(o)-best)
	}
	return rise
}
