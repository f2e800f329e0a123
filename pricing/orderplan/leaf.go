package orderplan

import (
	"context"
	"math"
)

// leaf solves the problem that remains when every supplier's mode is fixed: pick
// one choice a line at the least cost so that the goods of each supplier reach
// what its mode requires. See the package comment's section "A leaf".
type leaf struct {
	in      *instance
	ctx     context.Context
	chooser chooser
	slack   float64 // more than rounding adds to a bound

	fees     int64
	supplier []int     // suppliers with a requirement, in order
	required []float64 // what each of these requires
	dense    []int     // supplier to position in required, or -1

	choices []leafChoice
	more    []spend
	source  []choice

	levels []*level
	target int64 // plans dearer than this are of no interest
	taken  []int32
	found  []int32 // the choices of the best plan, nil if none yet
	nodes  int
	limit  int // nodes to spend
	halted bool

	shift uint // of the certificate
	root  *lineProof
	words int // size of the certificate so far
}

// leafChoice is a choice with its spending at the suppliers with requirements:
// the first inline (at is len(required) where there is none), others in more.
type leafChoice struct {
	cost      float64
	spend     float64
	at        int32
	more, end int32
}

type spend struct {
	at     int32
	amount float64
}

// level is a node of the tree: the choices still open, line after line.
type level struct {
	base   float64 // cost of lines decided and of carriage
	goods  []float64
	line   []int32
	start  []int32
	choice []int32
	value  []float64 // shaded cost of each at the best multipliers
	lambda []float64 // multipliers, with a zero at the end for "no requirement"
	best   []float64
	slope  []float64
	pick   []int32
}

const (
	leafChoiceLimit = 200_000
	leafRootSteps   = 150
	leafSteps       = 14
	mostLambda      = 4 // multipliers above 1 only help to show that a level is out of reach
)

func newLeaf(ctx context.Context, in *instance, slack float64, shift uint) *leaf {
	return &leaf{in: in, ctx: ctx, slack: slack, shift: shift, dense: make([]int, len(in.suppliers)), taken: make([]int32, len(in.lines)),
		chooser: chooser{in: in, shade: make([]float64, len(in.suppliers))}}
}

// prepare fixes the modes and starting multipliers and returns a lower bound.
func (f *leaf) prepare(modes []mode, theta [][2]float64) float64 {
	f.fees, f.supplier, f.required = 0, f.supplier[:0], f.required[:0]
	f.chooser.modes = modes
	for s := range f.in.suppliers {
		f.dense[s], f.chooser.shade[s] = -1, 0
		m := modes[s]
		if m == unused {
			continue
		}
		t := &f.in.suppliers[s]
		f.fees += t.fee(m)
		if need := t.required(m); need > 0 {
			f.dense[s] = len(f.supplier)
			f.supplier = append(f.supplier, s)
			f.required = append(f.required, float64(need))
			lambda := theta[s][0]
			if m == paid {
				lambda = theta[s][1]
			}
			f.chooser.shade[s] = min(lambda, 0.999)
		}
	}
	return f.bound()
}

// bound is the leaf's bound at the multipliers in chooser.shade.
func (f *leaf) bound() float64 {
	total := float64(f.fees)
	for j, s := range f.supplier {
		total += f.chooser.shade[s] * f.required[j]
	}
	for l := range f.in.lines {
		total += f.chooser.least(l)
	}
	return total
}

// search looks for the cheapest plan of at most target pence, visiting so many
// nodes and listing so many choices at most, which it leaves in
// found; prepare must have been called. It reports what every plan of the leaf
// costs at least as far as it found out, the cost of the plan found included;
// done says that this is target+1 or more, or the cost of the plan found.
func (f *leaf) search(target int64, nodes, choices int) (proved int64, done bool) {
	f.found, f.halted, f.limit = nil, false, f.nodes+nodes
	bound := f.bound()
	proved = pence(bound, f.slack)
	if proved > target {
		return proved, true
	}
	if !f.load(float64(target)-bound+f.slack+0.01, choices) {
		return proved, false
	}
	f.target = target
	f.root = f.descend(0, leafRootSteps)
	for j, s := range f.supplier {
		f.chooser.shade[s] = min(f.levels[0].best[j], 0.999)
	}
	if f.halted {
		return proved, false
	}
	return f.target + 1, true
}

// load lists the choices within budget of their line's best, if there are no
// more than limit in all.
func (f *leaf) load(budget float64, limit int) bool {
	f.choices, f.more, f.source = f.choices[:0], f.more[:0], f.source[:0]
	root := f.level(0)
	root.base = float64(f.fees)
	root.reset(len(f.required))
	for i, s := range f.supplier {
		root.lambda[i] = f.chooser.shade[s]
	}
	for l := range f.in.lines {
		least := f.chooser.least(l)
		var listed []choice // none where the line can't be covered
		if !math.IsInf(least, 1) {
			var ok bool
			if listed, ok = f.chooser.list(l, least+budget, limit-len(f.choices)); !ok {
				return false
			}
		}
		root.line = append(root.line, int32(l))
		root.start = append(root.start, int32(len(root.choice)))
		for _, c := range listed {
			root.choice = append(root.choice, int32(len(f.choices)))
			f.addChoice(c)
		}
	}
	root.start = append(root.start, int32(len(root.choice)))
	return true
}

func (f *leaf) addChoice(c choice) {
	lc := leafChoice{cost: float64(c.cost), at: int32(len(f.required)), more: int32(len(f.more))}
	for _, p := range c.picks {
		a := &f.in.arcs[p.arc]
		d := f.dense[a.supplier]
		if d < 0 {
			continue
		}
		cost := float64(a.all[p.option].cost)
		if lc.at == int32(len(f.required)) {
			lc.at, lc.spend = int32(d), cost
		} else {
			f.more = append(f.more, spend{int32(d), cost})
		}
	}
	lc.end = int32(len(f.more))
	f.choices = append(f.choices, lc)
	f.source = append(f.source, c)
}

func (f *leaf) level(depth int) *level {
	for len(f.levels) <= depth {
		f.levels = append(f.levels, &level{})
	}
	return f.levels[depth]
}

func (v *level) reset(k int) {
	v.line, v.start, v.choice = v.line[:0], v.start[:0], v.choice[:0]
	if cap(v.lambda) < k+1 {
		v.lambda, v.best = make([]float64, k+1), make([]float64, k+1)
		v.goods, v.slope = make([]float64, k+1), make([]float64, k+1)
	}
	v.lambda, v.best, v.goods, v.slope = v.lambda[:k+1], v.best[:k+1], v.goods[:k+1], v.slope[:k+1]
	clear(v.goods)
	clear(v.lambda)
}

// shaded is the cost of a choice less what its spending is worth.
func (f *leaf) shaded(id int32, lambda []float64) float64 {
	c := &f.choices[id]
	v := c.cost - lambda[c.at]*c.spend
	for _, m := range f.more[c.more:c.end] {
		v -= lambda[m.at] * m.amount
	}
	return v
}

// spendOf adds the spending of a choice, times sign, to goods.
func (f *leaf) spendOf(id int32, goods []float64, sign float64) {
	c := &f.choices[id]
	goods[c.at] += sign * c.spend
	for _, m := range f.more[c.more:c.end] {
		goods[m.at] += sign * m.amount
	}
}

// descend bounds the node at depth, drops choices that cannot lead to a plan
// within the target, and branches on the choices of one line. It returns the
// proof that closes the node.
func (f *leaf) descend(depth, steps int) *lineProof {
	if f.nodes++; f.nodes >= f.limit || (f.nodes%64 == 0 && f.ctx.Err() != nil) {
		f.halted = true
		return nil
	}
	v := f.levels[depth]
	bound := f.climb(v, steps)
	proof := f.proof(v)
	if bound > float64(f.target)+f.slack {
		return proof
	}
	bound, ok := f.reduce(v)
	if !ok {
		return proof
	}
	i := f.branchLine(v)
	proof.line = int(v.line[i])
	lo, hi := v.start[i], v.start[i+1]
	// Cheapest choices first; insertion sort, the lists are short.
	for a := lo + 1; a < hi; a++ {
		for b := a; b > lo && v.value[b] < v.value[b-1]; b-- {
			v.value[b], v.value[b-1] = v.value[b-1], v.value[b]
			v.choice[b], v.choice[b-1] = v.choice[b-1], v.choice[b]
		}
	}
	least := v.value[lo]
	f.level(depth + 1)
	// Few choices are tried one by one, many in two groups.
	group := int32(1)
	if n := hi - lo; n > 6 {
		group = 1 + n/4
	}
	for a := lo; a < hi && !f.halted; {
		b := a + group
		if bound+v.value[a]-least > float64(f.target)+f.slack {
			break
		}
		if group > 1 && a > lo {
			b = hi
		}
		f.child(depth, i, a, b, proof)
		a = b
	}
	return proof
}

// proof starts the certificate of a node with its best multipliers.
func (f *leaf) proof(v *level) *lineProof {
	p := &lineProof{lambda: make([]int64, len(f.in.suppliers))}
	for j, s := range f.supplier {
		p.lambda[s] = scaled(v.best[j], f.shift)
	}
	f.words += len(p.lambda) + 8
	return p
}

// child searches the node in which line i of the node at depth keeps only its
// choices from lo up to hi.
func (f *leaf) child(depth, i int, lo, hi int32, proof *lineProof) {
	v, w := f.levels[depth], f.levels[depth+1]
	w.reset(len(f.required))
	w.base = v.base
	copy(w.goods, v.goods)
	copy(w.lambda, v.best)
	for j, line := range v.line {
		from, to := v.start[j], v.start[j+1]
		if j == i {
			from, to = lo, hi
			if hi == lo+1 {
				f.decide(w, line, v.choice[lo])
				continue
			}
		}
		w.line = append(w.line, line)
		w.start = append(w.start, int32(len(w.choice)))
		w.choice = append(w.choice, v.choice[from:to]...)
	}
	w.start = append(w.start, int32(len(w.choice)))
	branch := lineBranch{choices: make([]choice, 0, hi-lo)}
	for _, id := range v.choice[lo:hi] {
		branch.choices = append(branch.choices, f.source[id])
	}
	f.words += 8 * int(hi-lo)
	branch.proof = f.descend(depth+1, leafSteps)
	proof.child = append(proof.child, branch)
}

func (f *leaf) decide(v *level, line, id int32) {
	f.taken[line] = id
	v.base += f.choices[id].cost
	f.spendOf(id, v.goods, 1)
}

// climb raises the node's bound over the multipliers, records every plan that it
// meets, and leaves the best multipliers.
func (f *leaf) climb(v *level, steps int) float64 {
	k := len(f.required)
	bestBound := math.Inf(-1)
	if cap(v.pick) < len(v.line) {
		v.pick = make([]int32, len(v.line)+16)
	}
	factor, stale := 1.0, 0
	for step := 0; step < steps; step++ {
		bound := v.base
		for j := 0; j < k; j++ {
			v.slope[j] = f.required[j] - v.goods[j]
			bound += v.lambda[j] * v.slope[j]
		}
		v.slope[k] = 0
		for i := range v.line {
			lo, hi := v.start[i], v.start[i+1]
			if lo == hi {
				return math.Inf(1)
			}
			pick, least := v.choice[lo], f.shaded(v.choice[lo], v.lambda)
			for _, id := range v.choice[lo+1 : hi] {
				if x := f.shaded(id, v.lambda); x < least {
					pick, least = id, x
				}
			}
			bound += least
			v.pick[i] = pick
			f.spendOf(pick, v.slope, -1)
		}
		meets := true
		for j := 0; j < k; j++ {
			meets = meets && v.slope[j] <= 0
		}
		if meets {
			f.record(v)
		}
		if bound > bestBound {
			if bound > bestBound+0.01 {
				stale = 0
			}
			bestBound = bound
			copy(v.best, v.lambda)
			if bound > float64(f.target)+f.slack {
				return bound
			}
		} else if stale++; stale >= 4 {
			stale = 0
			if factor *= 0.5; factor < 0.01 {
				break
			}
		}
		norm := 0.0
		for j := 0; j < k; j++ {
			if v.lambda[j] > 0 || v.slope[j] > 0 {
				norm += v.slope[j] * v.slope[j]
			}
		}
		if norm == 0 {
			break
		}
		length := factor * (float64(f.target) + 1 - bound) / norm
		for j := 0; j < k; j++ {
			v.lambda[j] = min(mostLambda, max(0, v.lambda[j]+length*v.slope[j]))
		}
	}
	return bestBound
}

// record keeps the node's picks if they make a plan within the target, and asks
// for a cheaper one from then on.
func (f *leaf) record(v *level) {
	cost := v.base
	for i := range v.line {
		cost += f.choices[v.pick[i]].cost
	}
	if total := int64(cost); total <= f.target {
		for i, line := range v.line {
			f.taken[line] = v.pick[i]
		}
		f.found = append(f.found[:0], f.taken...)
		f.target = total - 1
	}
}

// reduce drops choices whose bound passes the target, decides lines with one
// choice left, and reports the bound, or that the node holds no plan.
func (f *leaf) reduce(v *level) (bound float64, ok bool) {
	k := len(f.required)
	bound = v.base
	for j := 0; j < k; j++ {
		v.slope[j] = v.goods[j] // from here on: the most that can be spent
		bound += v.best[j] * (f.required[j] - v.goods[j])
	}
	v.slope[k] = 0
	if cap(v.value) < len(v.choice) {
		v.value = make([]float64, len(v.choice)+len(v.choice)/2)
	}
	v.value = v.value[:len(v.choice)]
	for i := range v.line {
		least := math.Inf(1)
		for c := v.start[i]; c < v.start[i+1]; c++ {
			v.value[c] = f.shaded(v.choice[c], v.best)
			least = min(least, v.value[c])
		}
		bound += least
	}
	room := float64(f.target) + f.slack - bound
	if room < 0 {
		return bound, false
	}
	lines, at := 0, int32(0)
	for i, line := range v.line {
		lo, hi := v.start[i], v.start[i+1]
		least := math.Inf(1)
		for c := lo; c < hi; c++ {
			least = min(least, v.value[c])
		}
		first := at
		for c := lo; c < hi; c++ {
			if v.value[c]-least <= room {
				v.choice[at], v.value[at] = v.choice[c], v.value[c]
				at++
			}
		}
		if at == first+1 {
			id := v.choice[first]
			at = first
			f.decide(v, line, id)
			f.spendOf(id, v.slope, 1)
			continue
		}
		v.line[lines], v.start[lines] = line, first
		lines++
		f.mostSpent(v, first, at)
	}
	v.line = v.line[:lines]
	v.start[lines] = at
	v.start = v.start[:lines+1]
	v.choice, v.value = v.choice[:at], v.value[:at]
	for j := 0; j < k; j++ {
		if v.slope[j] < f.required[j] {
			return bound, false
		}
	}
	if lines == 0 {
		f.record(v)
		return bound, false
	}
	return bound, true
}

// mostSpent adds to slope the most that choices lo to hi can spend anywhere.
func (f *leaf) mostSpent(v *level, lo, hi int32) {
	for j := range f.required {
		most := 0.0
		for _, id := range v.choice[lo:hi] {
			c := &f.choices[id]
			spent := 0.0
			if c.at == int32(j) {
				spent = c.spend
			}
			for _, m := range f.more[c.more:c.end] {
				if m.at == int32(j) {
					spent += m.amount
				}
			}
			most = max(most, spent)
		}
		v.slope[j] += most
	}
}

// branchLine picks the line to branch on: one whose two best choices cost about
// the same at the multipliers but spend differently, for there the bound and the
// plan disagree.
func (f *leaf) branchLine(v *level) int {
	best, score := 0, -1.0
	for i := range v.line {
		lo, hi := v.start[i], v.start[i+1]
		first, second := lo, int32(-1)
		for c := lo + 1; c < hi; c++ {
			switch {
			case v.value[c] < v.value[first]:
				first, second = c, first
			case second < 0 || v.value[c] < v.value[second]:
				second = c
			}
		}
		a, b := &f.choices[v.choice[first]], &f.choices[v.choice[second]]
		apart := math.Abs(a.cost - b.cost)
		if a.at == b.at {
			apart += v.best[a.at] * math.Abs(a.spend-b.spend)
		} else {
			apart += v.best[a.at]*a.spend + v.best[b.at]*b.spend
		}
		if x := (apart + 0.01) / (1 + v.value[second] - v.value[first]); x > score {
			best, score = i, x
		}
	}
	return best
}
