package orderplan

import "math"

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
	v := f.levels[depth]
	f.held += len(v.choice)
	defer func(held int) { f.held -= held }(len(v.choice))
	if f.nodes++; f.nodes >= f.limit || f.held > leafHeld || f.ctx.Err() != nil {
		f.halted = true
		return nil
	}
	bound := f.climb(v, steps)
	proof := f.proof(v)
	if depth == 0 && !math.IsInf(bound, 1) {
		f.repair(v)
	}
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

// proof starts the certificate of a node with its best multipliers. Of what is too large to be kept nothing is written down.
func (f *leaf) proof(v *level) *lineProof {
	if f.words > certificateWords {
		return new(lineProof)
	}
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
	if f.words > certificateWords {
		f.descend(depth+1, leafSteps)
		return
	}
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

// record keeps the node's picks if they make the best plan yet, and asks for a
// cheaper one from then on.
func (f *leaf) record(v *level) {
	cost := v.base
	for i := range v.line {
		cost += f.choices[v.pick[i]].cost
	}
	if total := int64(cost); total < f.cost {
		for i, line := range v.line {
			f.taken[line] = v.pick[i]
		}
		f.found = append(f.found[:0], f.taken...)
		f.cost, f.target = total, min(f.target, total-1)
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
