package orderplan

import (
	"context"
	"math"
)

// relaxation computes the lower bound of the package comment's section "The
// bound" for a set of modes still allowed to each supplier. It owns its
// buffers: nothing is allocated once it exists.
type relaxation struct {
	ctx context.Context
	in  *instance

	price []float64   // v: what a line pays for being covered, one a line
	shade []float64   // λ: discount on a supplier's goods inside split purchases
	worth [][]float64 // f: worth[l][n] is the least shaded cost of n units in parts, each part as often as liked

	bySupplier []supplierArcs
	theta      [][2]float64 // θ of modes pays and paid, one pair a supplier
	slope      []float64    // direction in which the bound rises, one a line

	best      []float64 // prices at the best bound so far
	bestTheta [][2]float64
	bestAt    [][2]float64 // θ at which the cover problems took their values
	bestShade []float64
	open      []mode // modes for which f was computed last
	atTheta   [][2]float64
	modeCost  [][3]float64 // cost of modes unused, pays, paid at the best bound
	usage     [][3]float64 // running average of the mode chosen
	single    []float64
	magnitude float64 // no partial sum of a bound is larger
}

// supplierArcs holds a supplier's arcs side by side for the inner loop. Only
// lines with a need take part: a line without one never lowers the bound.
type supplierArcs struct {
	line []int32

	// What arc i may sell at some price are points first[i] to first[i+1]: parts
	// and the cheapest whole cover, with the share of the line's price each is paid.
	first []int32
	point []point
}

type point struct{ cost, share float64 }

const reshadeEvery = 25 // steps between changes of λ

func newRelaxation(ctx context.Context, in *instance) *relaxation {
	nl, ns := len(in.lines), len(in.suppliers)
	r := &relaxation{ctx: ctx, in: in,
		price: make([]float64, nl), worth: make([][]float64, nl), slope: make([]float64, nl), best: make([]float64, nl),
		shade: make([]float64, ns), bySupplier: make([]supplierArcs, ns), theta: make([][2]float64, ns), bestTheta: make([][2]float64, ns),
		bestAt: make([][2]float64, ns), bestShade: make([]float64, ns), open: make([]mode, ns), atTheta: make([][2]float64, ns),
		modeCost: make([][3]float64, ns), usage: make([][3]float64, ns)}
	longest := 0
	for s := range in.suppliers {
		sa := &r.bySupplier[s]
		for _, ai := range in.suppliers[s].arcs {
			a := &in.arcs[ai]
			r.magnitude += float64(a.greatest) * 2
			if in.lines[a.line].need == 0 {
				continue
			}
			sa.line = append(sa.line, int32(a.line))
		}
		r.magnitude += 2 * float64(in.suppliers[s].carriage+max(in.suppliers[s].paidAt, in.suppliers[s].minimum))
	}
	for i, l := range in.lines {
		if l.need > 1 && !in.noSplit {
			longest = max(longest, l.need)
			r.worth[i] = make([]float64, l.need+1)
		}
	}
	r.single = make([]float64, longest+1)
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
	if bound < 0 {
		return 0 // nothing costs less than nothing
	}
	if bound >= math.MaxInt64/4 {
		return math.MaxInt64 / 4
	}
	return int64(math.Ceil(bound - margin))
}

// setWorth recomputes f for the suppliers open under modes, and from it the
// parts that each arc may sell at some price.
func (r *relaxation) setWorth(modes []mode) {
	for l := range r.in.lines {
		f := r.worth[l]
		if f == nil {
			continue
		}
		t := &r.in.lines[l]
		single := r.single[:t.need]
		for n := range single {
			single[n] = math.Inf(1)
		}
		for _, ai := range t.arcs {
			a := &r.in.arcs[ai]
			if modes[a.supplier] == unused {
				continue
			}
			keep := 1 - r.shade[a.supplier]
			for i := range a.options {
				o := &a.options[i]
				if o.units >= t.need {
					break
				}
				single[o.units] = min(single[o.units], keep*float64(o.cost))
			}
		}
		r.fillWorth(f, single)
	}
	for s := range r.bySupplier {
		r.setPoints(s)
	}
}

// fillWorth computes f(n), the least cost of at least n units, from the least
// cost of a single part of each size.
func (r *relaxation) fillWorth(f, single []float64) {
	f[0] = 0
	for n := 1; n < len(f); n++ {
		f[n] = math.Inf(1)
	}
	for units := 1; units < len(single); units++ {
		if units%256 == 0 && r.ctx.Err() != nil {
			return
		}
		cost := single[units]
		if math.IsInf(cost, 1) {
			continue
		}
		for n := 1; n < len(f); n++ {
			f[n] = min(f[n], f[max(0, n-units)]+cost)
		}
	}
}

// setPoints keeps the lower convex hull of cost over share of what each arc
// sells: whatever the price, the best is one of these or nothing.
func (r *relaxation) setPoints(s int) {
	sa := &r.bySupplier[s]
	sa.first, sa.point = sa.first[:0], sa.point[:0]
	for _, ai := range r.in.suppliers[s].arcs {
		a := &r.in.arcs[ai]
		need := r.in.lines[a.line].need
		if need == 0 {
			continue
		}
		base := len(sa.point)
		sa.first = append(sa.first, int32(base))
		add := func(p point) {
			for n := len(sa.point); n > base; n-- {
				// The last point stays if it lies below the line from the one before it (or the origin) to the new one.
				last, before := sa.point[n-1], point{}
				if n-1 > base {
					before = sa.point[n-2]
				}
				if (last.cost-before.cost)*(p.share-before.share) < (p.cost-before.cost)*(last.share-before.share) {
					break
				}
				sa.point = sa.point[:n-1]
			}
			sa.point = append(sa.point, p)
		}
		if all := r.byParts(a.line); all > 0 && !math.IsInf(all, 1) {
			f := r.worth[a.line]
			for k := range a.options {
				if o := &a.options[k]; o.units < need {
					add(point{float64(o.cost), f[o.units] / all})
				}
			}
		}
		if a.whole >= 0 {
			add(point{float64(a.whole), 1})
		}
	}
	sa.first = append(sa.first, int32(len(sa.point)))
}

// at evaluates the inner cover problem of a supplier at θ: its value without the
// constant θR, and the goods it sells.
func (r *relaxation) at(s int, theta float64) (value, goods float64) {
	sa := &r.bySupplier[s]
	rest, at := 1-theta, int32(0)
	for i, end := range sa.first[1:] {
		v, least, cost := r.price[sa.line[i]], 0.0, 0.0
		for _, p := range sa.point[at:end] {
			if x := rest*p.cost - v*p.share; x < least {
				least, cost = x, p.cost
			}
		}
		at = end
		value += least
		goods += cost
	}
	return value, goods
}

// take lowers the slope by what the supplier sells at θ, weighted.
func (r *relaxation) take(s int, theta, weight float64) {
	sa := &r.bySupplier[s]
	rest, at := 1-theta, int32(0)
	for i, end := range sa.first[1:] {
		l := sa.line[i]
		v, least, share := r.price[l], 0.0, 0.0
		for _, p := range sa.point[at:end] {
			if x := rest*p.cost - v*p.share; x < least {
				least, share = x, p.share
			}
		}
		at = end
		r.slope[l] -= weight * share
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

// byParts is f(need), +Inf where a line can't be covered by parts.
func (r *relaxation) byParts(l int) float64 {
	if f := r.worth[l]; f != nil {
		return f[len(f)-1]
	}
	return math.Inf(1)
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
		if r.byParts(l) <= 0 {
			// What costs nothing in parts can't be priced above nothing.
			total -= r.price[l]
			r.price[l] = 0
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
// and leaves the best prices, multipliers and mode costs found: of an earlier
// climb, where ctx ends before the first step.
func (r *relaxation) climb(modes []mode, target float64, steps int, trial [][3]float64) float64 {
	bestBound, most := math.Inf(-1), float64(r.in.dearest)
	factor, stale := 1.0, 0
	for step := 0; step < steps; step++ {
		if step%reshadeEvery == 0 {
			r.reshade(modes)
		}
		if r.ctx.Err() != nil {
			break
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
	copy(r.open, modes)
	r.setWorth(modes)
}
