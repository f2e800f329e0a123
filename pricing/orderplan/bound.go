package orderplan

import "math"

// relaxation computes the lower bound of the package comment's section "The
// bound" for a set of modes still allowed to each supplier. It owns its
// buffers: nothing is allocated once it exists.
type relaxation struct {
	in *instance

	price  []float64 // v: what a line pays for being covered, one a line
	shade  []float64 // λ: discount on a supplier's goods inside split purchases
	spread []float64 // C: least shaded cost of covering a line by parts only, +Inf if none
	ratio  []float64 // v/C, 0 where C is infinite

	bySupplier []supplierArcs
	theta      [][2]float64 // θ of modes pays and paid, one pair a supplier
	slope      []float64    // direction in which the bound rises, one a line

	best      []float64 // prices at the best bound so far
	bestTheta [][2]float64
	bestAt    [][2]float64 // θ at which the cover problems took their values
	bestShade []float64
	atTheta   [][2]float64
	modeCost  [][3]float64 // cost of modes unused, pays, paid at the best bound
	usage     [][3]float64 // running average of the mode chosen
	reach     []float64
	magnitude float64 // no partial sum of a bound is larger
}

// supplierArcs holds a supplier's arcs side by side for the inner loop. Only
// lines with a need take part: a line without one never lowers the bound.
type supplierArcs struct {
	line  []int32
	whole []float64 // cost of the cheapest whole cover
	has   []float64 // 1 where there is one, else 0
	part  []float64 // greatest cost of a part, 0 where none
}

func newRelaxation(in *instance) *relaxation {
	nl, ns := len(in.lines), len(in.suppliers)
	r := &relaxation{in: in,
		price: make([]float64, nl), spread: make([]float64, nl), ratio: make([]float64, nl), slope: make([]float64, nl), best: make([]float64, nl),
		shade: make([]float64, ns), bySupplier: make([]supplierArcs, ns), theta: make([][2]float64, ns), bestTheta: make([][2]float64, ns),
		bestAt: make([][2]float64, ns), bestShade: make([]float64, ns), atTheta: make([][2]float64, ns),
		modeCost: make([][3]float64, ns), usage: make([][3]float64, ns), reach: make([]float64, nl)}
	longest := 0
	for s := range in.suppliers {
		sa := &r.bySupplier[s]
		for _, ai := range in.suppliers[s].arcs {
			a := &in.arcs[ai]
			r.magnitude += float64(a.greatest) * 2
			if in.lines[a.line].need == 0 {
				continue
			}
			whole, has, most := 0.0, 0.0, 0.0
			if a.whole >= 0 {
				whole, has = float64(a.whole), 1
			}
			if !in.noSplit {
				most = float64(a.part)
			}
			sa.line = append(sa.line, int32(a.line))
			sa.whole = append(sa.whole, whole)
			sa.has = append(sa.has, has)
			sa.part = append(sa.part, most)
		}
		r.magnitude += 2 * float64(in.suppliers[s].carriage+max(in.suppliers[s].paidAt, in.suppliers[s].minimum))
	}
	for _, l := range in.lines {
		longest = max(longest, l.need)
	}
	r.reach = make([]float64, longest+1)
	return r
}

// margin is more than rounding can have added to a bound: every bound is a sum
// of at most n products of magnitude at most m in all, so the error of summing
// stays below n·m·2⁻⁵² (Higham, Accuracy and Stability of Numerical Algorithms,
// 2nd ed., SIAM 2002, section 4.2).
func (r *relaxation) margin() float64 {
	n := float64(4*(len(r.in.arcs)+len(r.in.suppliers)+len(r.in.lines)) + 16)
	return n * r.magnitude * 0x1p-52
}

// pence is the least whole amount that a bound proves.
func pence(bound, margin float64) int64 {
	if bound >= math.MaxInt64/4 {
		return math.MaxInt64 / 4
	}
	return int64(math.Ceil(bound - margin))
}

// setSpread recomputes C for the suppliers still open under modes.
func (r *relaxation) setSpread(modes []mode) {
	for l := range r.in.lines {
		r.spread[l] = math.Inf(1)
		t := &r.in.lines[l]
		if r.in.noSplit || t.need < 2 {
			continue
		}
		reach := r.reach[:t.need+1]
		for i := range reach {
			reach[i] = math.Inf(1)
		}
		reach[0] = 0
		for _, ai := range t.arcs {
			a := &r.in.arcs[ai]
			if modes[a.supplier] == unused {
				continue
			}
			keep := 1 - r.shade[a.supplier]
			for have := t.need - 1; have >= 0; have-- {
				base := reach[have]
				if math.IsInf(base, 1) {
					continue
				}
				for i := range a.options {
					o := &a.options[i]
					if o.units >= t.need {
						break
					}
					to := min(have+o.units, t.need)
					if c := base + keep*float64(o.cost); c < reach[to] {
						reach[to] = c
					}
				}
			}
		}
		r.spread[l] = reach[t.need]
	}
}

// at evaluates the inner cover problem of a supplier at θ: its value without the
// constant θR, and the goods it sells.
func (r *relaxation) at(s int, theta float64) (value, goods float64) {
	sa := &r.bySupplier[s]
	rest, keep := 1-theta, 1-r.shade[s]
	for i, l := range sa.line {
		m, c := rest*sa.whole[i]-r.price[l]*sa.has[i], sa.whole[i]
		if p := sa.part[i]; p > 0 {
			if b := p * (rest - keep*r.ratio[l]); b < m {
				m, c = b, p
			}
		}
		if m < 0 {
			value += m
			goods += c
		}
	}
	return value, goods
}

// take lowers the slope by what the supplier sells at θ, weighted.
func (r *relaxation) take(s int, theta, weight float64) {
	sa := &r.bySupplier[s]
	rest, keep := 1-theta, 1-r.shade[s]
	for i, l := range sa.line {
		m, d := rest*sa.whole[i]-r.price[l]*sa.has[i], 1.0
		if p := sa.part[i]; p > 0 {
			if b := p * (rest - keep*r.ratio[l]); b < m {
				m, d = b, p*keep/r.spread[l]
			}
		}
		if m < 0 {
			r.slope[l] -= weight * d
		}
	}
}

// covered is the solution of a supplier's cover problem: its value and the one
// or two values of θ whose mixture spends exactly what is required.
type covered struct {
	value    float64
	at       float64 // θ that gives value
	low, top float64 // θ on either side of the optimum
	mix      float64 // weight of top
}

// cover maximises θR + Σ min(0, reduced cost - θ·spend) over 0 ≤ θ ≤ 1, a concave
// piecewise linear function, by intersecting tangents from both sides.
func (r *relaxation) cover(s int, required, guess float64) covered {
	v0, g0 := r.at(s, 0)
	if g0 >= required {
		return covered{value: v0}
	}
	low, lowV, lowD := 0.0, v0, required-g0
	top, topV, topD := 1.0, math.Inf(-1), 0.0
	theta := guess
	if theta <= 0 || theta >= 1 {
		theta = 0.03
	}
	best, bestV := 0.0, v0
	for step := 0; step < 20; step++ {
		v, g := r.at(s, theta)
		v += theta * required
		d := required - g
		if v > bestV {
			best, bestV = theta, v
		}
		if d > 0 {
			low, lowV, lowD = theta, v, d
			if theta >= 1 {
				return covered{value: v, at: 1, low: 1, top: 1}
			}
		} else {
			top, topV, topD = theta, v, d
			if d == 0 {
				return covered{value: v, at: theta, low: theta, top: theta}
			}
		}
		if math.IsInf(topV, -1) {
			theta = min(1, theta*4)
			continue
		}
		next := (topV - lowV + lowD*low - topD*top) / (lowD - topD)
		if !(next > low && next < top) {
			break
		}
		if meet := lowV + lowD*(next-low); meet-bestV < 0.02 {
			break
		}
		theta = next
	}
	if math.IsInf(topV, -1) {
		return covered{value: bestV, at: best, low: best, top: best}
	}
	return covered{value: bestV, at: best, low: low, top: top, mix: lowD / (lowD - topD)}
}

// evaluate computes the bound at the present prices, leaves the slope, and the
// cost of each mode in cost.
func (r *relaxation) evaluate(modes []mode, cost [][3]float64) float64 {
	total := 0.0
	for l := range r.price {
		r.slope[l] = 0
		if r.in.lines[l].need == 0 {
			continue
		}
		r.slope[l] = 1
		total += r.price[l]
		r.ratio[l] = 0
		if !math.IsInf(r.spread[l], 1) {
			// A spread cover that costs nothing can't be scaled up to the price.
			if r.spread[l] <= 0 {
				total -= r.price[l]
				r.price[l] = 0
			} else {
				r.ratio[l] = r.price[l] / r.spread[l]
			}
		}
	}
	for s := range r.in.suppliers {
		t := &r.in.suppliers[s]
		cost[s] = [3]float64{0, math.Inf(1), math.Inf(1)}
		m := modes[s]
		if m == unused {
			continue
		}
		var c [2]covered
		if m&pays != 0 {
			c[0] = r.cover(s, float64(t.minimum), r.theta[s][0])
			r.theta[s][0] = (c[0].low + c[0].top) / 2
			r.atTheta[s][0] = c[0].at
			cost[s][1] = c[0].value + float64(t.carriage)
		}
		if m&paid != 0 {
			c[1] = r.cover(s, float64(t.paidAt), r.theta[s][1])
			r.theta[s][1] = (c[1].low + c[1].top) / 2
			r.atTheta[s][1] = c[1].at
			cost[s][2] = c[1].value
		}
		if m&unused == 0 {
			cost[s][0] = math.Inf(1)
		}
		pick := 0
		for i := 1; i < 3; i++ {
			if cost[s][i] < cost[s][pick] {
				pick = i
			}
		}
		total += cost[s][pick]
		for i := range r.usage[s] {
			r.usage[s][i] *= 0.95
		}
		r.usage[s][pick] += 0.05
		if pick > 0 {
			k := c[pick-1]
			if k.mix < 1 {
				r.take(s, k.low, 1-k.mix)
			}
			if k.mix > 0 {
				r.take(s, k.top, k.mix)
			}
		}
	}
	return total
}

// climb raises the bound by subgradient steps of Polyak's length towards target
// and stops early where the target is passed. It starts from the present prices
// and leaves the best prices, multipliers and mode costs found.
func (r *relaxation) climb(modes []mode, target float64, steps int, trial [][3]float64) float64 {
	bestBound, most := math.Inf(-1), float64(r.in.dearest)
	factor, stale := 1.0, 0
	for step := 0; step < steps; step++ {
		if step%25 == 0 {
			r.reshade(modes)
		}
		bound := r.evaluate(modes, trial)
		if bound > bestBound {
			if bound > bestBound+1e-3 {
				stale = 0
			}
			bestBound = bound
			copy(r.best, r.price)
			copy(r.bestTheta, r.theta)
			copy(r.bestAt, r.atTheta)
			copy(r.bestShade, r.shade)
			copy(r.modeCost, trial)
			if bound > target {
				break
			}
		} else if stale++; stale >= 8 {
			stale = 0
			if factor *= 0.6; factor < 1e-3 {
				break
			}
			copy(r.price, r.best)
			continue
		}
		norm := 0.0
		for l, g := range r.slope {
			if g < 0 && r.price[l] <= 0 {
				r.slope[l] = 0
				continue
			}
			norm += g * g
		}
		if norm < 1e-12 {
			break
		}
		length := factor * (target + 1 - bound) / norm
		for l, g := range r.slope {
			r.price[l] = min(most, max(0, r.price[l]+length*g))
		}
	}
	copy(r.price, r.best)
	copy(r.theta, r.bestTheta)
	return bestBound
}

// reshade moves λ to the θ of the mode each supplier is mostly in, the value at
// which a part's price and its worth to the supplier agree.
func (r *relaxation) reshade(modes []mode) {
	if r.in.noSplit {
		return
	}
	for s := range r.shade {
		switch {
		case modes[s] == pays:
			r.shade[s] = r.theta[s][0]
		case modes[s] == paid:
			r.shade[s] = r.theta[s][1]
		default:
			r.shade[s] = r.theta[s][0]*r.usage[s][1] + r.theta[s][1]*r.usage[s][2]
		}
		r.shade[s] = min(r.shade[s], 0.999)
	}
	r.setSpread(modes)
}
