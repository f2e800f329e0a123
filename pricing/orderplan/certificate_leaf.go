package orderplan

import "slices"

// lineDomain is a line with the choices that a node of a leaf leaves it.
type lineDomain struct {
	line    int
	choices []choice
}

// closesLeaf lists, for every line, the choices that the leaf's shade does not
// close, and walks the tree over them.
func (k *checker) closesLeaf(p *leafProof, modes []mode) bool {
	if len(p.shade) != len(modes) {
		return false
	}
	total := int64(0)
	for s, m := range modes {
		t := &k.in.suppliers[s]
		if p.shade[s] < 0 || p.shade[s] >= k.unit || (t.required(m) == 0 || m == unused) && p.shade[s] != 0 {
			return false
		}
		if m != unused {
			total += t.fee(m)<<k.shift + p.shade[s]*t.required(m)
		}
	}
	lists := make([]wayLister, len(k.in.lines))
	for l := range k.in.lines {
		lists[l] = k.newLister(l, p.shade, modes)
		least := lists[l].finish[0][k.in.lines[l].need]
		if least < 0 {
			return true // the line can't be covered
		}
		total += least
	}
	if k.reached(total) {
		return true
	}
	domains := make([]lineDomain, len(lists))
	for l := range lists {
		w := &lists[l]
		t := &k.in.lines[l]
		w.extend(0, t.need, t.max, (k.bound-1)<<k.shift-total+w.finish[0][t.need], 0)
		domains[l] = lineDomain{l, w.out}
	}
	return k.closesLines(p.root, domains, modes)
}

// wayLister lists the ways of buying a line whose shaded cost is within a budget.
type wayLister struct {
	k      *checker
	shade  []int64
	single bool
	arcs   []int
	finish [][]int64 // finish[i][n]: least shaded cost of n units from arcs i and on, -1 if none
	picks  []pick
	out    []choice
}

func (k *checker) newLister(l int, shade []int64, modes []mode) wayLister {
	t := &k.in.lines[l]
	w := wayLister{k: k, shade: shade, single: k.in.noSplit}
	for _, a := range t.arcs {
		if modes[k.in.arcs[a].supplier] != unused {
			w.arcs = append(w.arcs, a)
		}
	}
	n := len(w.arcs)
	w.finish = make([][]int64, n+1)
	for i := n; i >= 0; i-- {
		w.finish[i] = make([]int64, t.need+1)
		for want := 1; want <= t.need; want++ {
			w.finish[i][want] = -1
			if i == n {
				continue
			}
			best := w.finish[i+1][want]
			a := &k.in.arcs[w.arcs[i]]
			for _, o := range a.options {
				rest := w.finish[i+1][max(0, want-o.units)]
				if w.single && o.units < t.need {
					continue
				}
				if c := rest + o.cost*(k.unit-shade[a.supplier]); rest >= 0 && (best < 0 || c < best) {
					best = c
				}
			}
			w.finish[i][want] = best
		}
	}
	return w
}

func (w *wayLister) extend(i, want, room int, budget, cost int64) {
	if i == len(w.arcs) {
		w.out = append(w.out, choice{cost, slices.Clone(w.picks)})
		return
	}
	if f := w.finish[i+1][want]; f >= 0 && f <= budget {
		w.extend(i+1, want, room, budget, cost)
	}
	if w.single && len(w.picks) > 0 {
		return
	}
	a := &w.k.in.arcs[w.arcs[i]]
	for _, o := range a.options {
		rest, left := max(0, want-o.units), budget-o.cost*(w.k.unit-w.shade[a.supplier])
		if f := w.finish[i+1][rest]; o.units <= room && f >= 0 && f <= left {
			w.picks = append(w.picks, pick{int32(w.arcs[i]), o.index})
			w.extend(i+1, rest, room-o.units, left, cost+o.cost)
			w.picks = w.picks[:len(w.picks)-1]
		}
	}
}

// closesLines says whether the node closes every plan within the domains.
func (k *checker) closesLines(n *lineProof, domains []lineDomain, modes []mode) bool {
	if n == nil {
		return false
	}
	total, ok := k.mustPay(n.lambda, modes)
	if !ok {
		return false
	}
	values := make([][]int64, len(domains))
	for i, d := range domains {
		if len(d.choices) == 0 {
			return true
		}
		values[i] = k.valuesOf(d, n.lambda)
		total += slices.Min(values[i])
	}
	if k.reached(total) {
		return true
	}
	rest := k.leftOpen(domains, values, total)
	if !k.canRequire(rest, modes) {
		return true
	}
	if cost, decided := k.costOf(rest, modes); decided {
		return cost >= k.bound
	}
	return k.closesBranches(n, rest, modes)
}

// mustPay is what the suppliers in use cost whatever is bought: their fees, and
// λ for what their modes require; ok is false where λ may not be so.
func (k *checker) mustPay(lambda []int64, modes []mode) (total int64, ok bool) {
	if len(lambda) != len(modes) {
		return 0, false
	}
	for s, m := range modes {
		if lambda[s] < 0 || lambda[s] > mostLambda*k.unit || m == unused && lambda[s] != 0 {
			return 0, false
		}
		if m != unused {
			t := &k.in.suppliers[s]
			total += t.fee(m)<<k.shift + lambda[s]*t.required(m)
		}
	}
	return total, true
}

// valuesOf are the choices of a line at λ: what each costs, less what it brings
// towards what the modes require.
func (k *checker) valuesOf(d lineDomain, lambda []int64) []int64 {
	values := make([]int64, len(d.choices))
	for j, c := range d.choices {
		values[j] = c.cost << k.shift
		for _, p := range c.picks {
			a := &k.in.arcs[p.arc]
			values[j] -= lambda[a.supplier] * a.all[p.option].cost
		}
	}
	return values
}

// leftOpen are the choices that the multipliers do not close.
func (k *checker) leftOpen(domains []lineDomain, values [][]int64, total int64) []lineDomain {
	rest := make([]lineDomain, len(domains))
	for i, d := range domains {
		rest[i].line = d.line
		least := slices.Min(values[i])
		for j, c := range d.choices {
			if !k.reached(total + values[i][j] - least) {
				rest[i].choices = append(rest[i].choices, c)
			}
		}
	}
	return rest
}

// canRequire says whether what the modes require of each supplier can be spent
// there at all.
func (k *checker) canRequire(domains []lineDomain, modes []mode) bool {
	most := make([]int64, len(modes))
	for _, d := range domains {
		top := map[int]int64{}
		for _, c := range d.choices {
			for _, p := range c.picks {
				a := &k.in.arcs[p.arc]
				top[a.supplier] = max(top[a.supplier], a.all[p.option].cost)
			}
		}
		for s, c := range top {
			most[s] += c
		}
	}
	for s, m := range modes {
		if m != unused && most[s] < k.in.suppliers[s].required(m) {
			return false
		}
	}
	return true
}

// costOf is what the only plan left costs; decided is false where there are more.
func (k *checker) costOf(domains []lineDomain, modes []mode) (cost int64, decided bool) {
	for _, d := range domains {
		if len(d.choices) != 1 {
			return 0, false
		}
		cost += d.choices[0].cost
	}
	for s, m := range modes {
		cost += k.in.suppliers[s].fee(m)
	}
	return cost, true
}

// closesBranches says whether the children share out all choices of the line
// branched on, and close each their own.
func (k *checker) closesBranches(n *lineProof, domains []lineDomain, modes []mode) bool {
	branch := slices.IndexFunc(domains, func(d lineDomain) bool { return d.line == n.line })
	if branch < 0 || len(n.child) == 0 {
		return false
	}
	open := domains[branch].choices
	for _, c := range open {
		if !slices.ContainsFunc(n.child, func(b lineBranch) bool { return b.has(c) }) {
			return false
		}
	}
	for _, b := range n.child {
		domains[branch].choices = nil
		for _, c := range open {
			if b.has(c) {
				domains[branch].choices = append(domains[branch].choices, c)
			}
		}
		if !k.closesLines(b.proof, domains, modes) {
			return false
		}
	}
	return true
}

func (b lineBranch) has(c choice) bool {
	return slices.ContainsFunc(b.choices, func(x choice) bool { return slices.Equal(x.picks, c.picks) })
}
