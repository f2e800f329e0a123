package orderplan

import (
	"context"
	"fmt"
	"math"
	"math/bits"
	"slices"
)

// Certificate proves in whole numbers that no plan costs less than Bound: it is
// the tree of the search, and in every node the multipliers that close it. They
// are in units of 2^-Shift pence (prices) or 2^-Shift (rates).
type Certificate struct {
	Bound int64
	Shift uint
	Nodes int // nodes of the tree, 0 where there is no certificate

	root *proof
}

// proof is a node over suppliers' modes. A nil child is closed by its parent.
type proof struct {
	price  []int64    // v, one a line
	shade  []int64    // λ, one a supplier
	open   []mode     // f is for suppliers with a mode other than unused here
	theta  [][2]int64 // θ for modes pays and paid, one pair a supplier
	branch int        // supplier branched on
	child  [3]*proof  // by mode: unused, pays, paid
	drop   []dropped  // options that this node closes, with thin
	thin   *proof     // instead of children: the proof without those options
	leaf   *leafProof // instead of all this, where every mode is fixed
}

// dropped is an option that no plan below the bound can use.
type dropped struct{ arc, index int32 }

// leafProof closes a leaf: its shade lists the choices worth looking at, and the
// tree below closes those.
type leafProof struct {
	shade []int64 // one a supplier
	root  *lineProof
}

// lineProof is a node over lines' choices.
type lineProof struct {
	lambda []int64 // one a supplier
	line   int     // line branched on
	child  []lineBranch
}

// lineBranch is a child in which the line keeps these choices only.
type lineBranch struct {
	choices []choice
	proof   *lineProof
}

// checker walks a certificate. All sums are in units of 2^-shift pence.
type checker struct {
	in    *instance
	bound int64
	shift uint
	unit  int64 // 2^shift
}

func checkCertificate(p Problem, c Certificate) error {
	if c.Bound <= 0 {
		return nil // nothing costs less than nothing
	}
	coarse, unit := p.coarse()
	in, err := tabulate(context.Background(), &coarse)
	if err != nil {
		return err
	}
	if c.root == nil || c.Shift > certificateShift(in) {
		return fmt.Errorf("there is no certificate for the bound %d", c.Bound)
	}
	k := &checker{in: in, bound: (c.Bound + unit - 1) / unit, shift: c.Shift, unit: 1 << c.Shift}
	modes := make([]mode, len(in.suppliers))
	for i := range modes {
		modes[i] = in.suppliers[i].modes
	}
	if !k.closes(c.root, modes) {
		return fmt.Errorf("the certificate does not prove the bound %d", c.Bound)
	}
	return nil
}

// certificateShift is the greatest shift at which no sum leaves 62 bits.
func certificateShift(in *instance) uint {
	largest := in.dearest + 1
	for _, s := range in.suppliers {
		largest += s.carriage + max(s.paidAt, s.minimum)
	}
	spare := bits.LeadingZeros64(uint64(largest)*uint64(len(in.suppliers)+8)) - 2
	return uint(max(0, min(spare, 32)))
}

// reached says whether a value proves the bound: costs are whole pence, so being
// above bound-1 is enough.
func (k *checker) reached(value int64) bool {
	return value > (k.bound-1)<<k.shift
}

// closes says whether the node proves that plans within modes cost at least the
// bound.
func (k *checker) closes(n *proof, modes []mode) bool {
	switch {
	case n == nil:
		return false
	case !k.coverable(modes):
		return true
	case n.leaf != nil:
		return k.closesLeaf(n.leaf, modes)
	}
	b, ok := k.boundOf(n, modes)
	switch {
	case !ok:
		return false
	case k.reached(b.total):
		return true
	case n.thin != nil:
		return k.closesThinned(n, b, modes)
	}
	return k.closesChildren(n, b, modes)
}

// nodeBound is what the multipliers of a node say of the plans in it.
type nodeBound struct {
	worth [][]int64  // f of every line
	cost  [][3]int64 // the least that each supplier comes to in each mode
	least []int64    // and in any mode that it may be in
	total int64      // what every plan costs at least
}

// within is what every plan costs at least in which the supplier is in the mode.
func (b *nodeBound) within(s, mode int) int64 { return b.total + b.cost[s][mode] - b.least[s] }

// boundOf adds up a node; ok is false where its multipliers prove nothing.
func (k *checker) boundOf(n *proof, modes []mode) (b nodeBound, ok bool) {
	if len(n.price) != len(k.in.lines) || len(n.shade) != len(modes) || len(n.theta) != len(modes) || len(n.open) != len(modes) {
		return b, false
	}
	for l, t := range k.in.lines {
		if n.price[l] < 0 || n.price[l] > k.in.dearest<<k.shift {
			return b, false
		}
		if t.need > 0 {
			b.total += n.price[l]
		}
	}
	b.worth = k.worth(n.shade, n.open)
	b.cost, b.least = make([][3]int64, len(modes)), make([]int64, len(modes))
	for s, m := range modes {
		if b.cost[s], b.least[s], ok = k.supplierBound(n, b.worth, s, m); !ok {
			return b, false
		}
		b.total += b.least[s]
	}
	return b, true
}

// supplierBound is the least that a supplier comes to in each of its modes, and
// in any of them.
func (k *checker) supplierBound(n *proof, worth [][]int64, s int, modes mode) (cost [3]int64, least int64, ok bool) {
	least = math.MaxInt64
	t := &k.in.suppliers[s]
	for i := range cost {
		if modes&(1<<i) == 0 {
			continue
		}
		if i > 0 {
			value, ok := k.cover(n, worth, s, n.theta[s][i-1], t.required(1<<i), nil)
			if !ok {
				return cost, least, false
			}
			cost[i] = value + t.fee(1<<i)<<k.shift
		}
		least = min(least, cost[i])
	}
	return cost, least, true
}

// closesThinned says whether the node closes the options that it drops, and the
// proof without them all the rest.
func (k *checker) closesThinned(n *proof, b nodeBound, modes []mode) bool {
	drop := map[dropped]bool{}
	for _, d := range n.drop {
		drop[d] = true
	}
	if !k.closesOptions(n, b, modes, drop) {
		return false
	}
	thin := *k
	thin.in = k.in.thinned(func(arc int, o option) bool { return drop[dropped{int32(arc), o.index}] })
	rest := slices.Clone(modes)
	for s := range rest {
		if rest[s] &= thin.in.suppliers[s].modes; rest[s] == 0 {
			return true
		}
	}
	return thin.closes(n.thin, rest)
}

// closesChildren says whether the children close every mode of the supplier
// branched on. Modes that the node closes are out for its children too.
func (k *checker) closesChildren(n *proof, b nodeBound, modes []mode) bool {
	if n.branch < 0 || n.branch >= len(modes) {
		return false
	}
	rest := slices.Clone(modes)
	for s := range rest {
		for i := range b.cost[s] {
			if rest[s]&(1<<i) != 0 && k.reached(b.within(s, i)) {
				rest[s] &^= 1 << i
			}
		}
	}
	open := rest[n.branch]
	for i, child := range n.child {
		m := mode(1) << i
		if open&m == 0 {
			continue
		}
		if rest[n.branch] = m; child == nil || !k.closes(child, rest) {
			return false
		}
	}
	return true
}

func (k *checker) coverable(modes []mode) bool {
	for _, t := range k.in.lines {
		have := 0
		for _, a := range t.arcs {
			if arc := &k.in.arcs[a]; modes[arc.supplier] != unused && (!k.in.noSplit || arc.whole >= 0) {
				have += arc.options[len(arc.options)-1].units
			}
		}
		if have < t.need {
			return false
		}
	}
	return true
}

// worth is f of every line: f(n) is the least shaded cost of n units from parts,
// each as often as liked, -1 if there is none. f(a)+f(b) is never less than
// f(a+b), so parts that cover a line are worth f(need) together at least.
func (k *checker) worth(shade []int64, open []mode) [][]int64 {
	out := make([][]int64, len(k.in.lines))
	for l, t := range k.in.lines {
		f := make([]int64, t.need+1)
		for n := 1; n <= t.need; n++ {
			f[n] = -1
		}
		out[l] = f
		if k.in.noSplit || t.need < 2 {
			continue
		}
		single := make([]int64, t.need)
		for _, ai := range t.arcs {
			a := &k.in.arcs[ai]
			if open[a.supplier] == unused {
				continue
			}
			for _, o := range a.options {
				if c := o.cost * (k.unit - shade[a.supplier]); o.units < t.need && (single[o.units] == 0 || c < single[o.units]-1) {
					single[o.units] = c + 1 // 0 stands for none
				}
			}
		}
		for units, c := range single {
			if c == 0 {
				continue
			}
			for n := 1; n <= t.need; n++ {
				if rest := f[max(0, n-units)]; rest >= 0 && (f[n] < 0 || rest+c-1 < f[n]) {
					f[n] = rest + c - 1
				}
			}
		}
	}
	return out
}

// closesOptions says whether the node closes every option to be dropped: buying
// it turns the best that its supplier could do with its line into that option's
// own cost.
func (k *checker) closesOptions(n *proof, b nodeBound, modes []mode, drop map[dropped]bool) bool {
	for s, m := range modes {
		for i := 1; i < 3; i++ {
			if m&(1<<i) == 0 {
				continue
			}
			all := true
			k.cover(n, b.worth, s, n.theta[s][i-1], 0, func(arc int, o option, over int64) {
				if drop[dropped{int32(arc), o.index}] && !k.reached(b.within(s, i)+over) {
					all = false
				}
			})
			if !all {
				return false
			}
		}
	}
	return true
}

// cover is θR + Σ min(0, cost - θ·cost - price) over what the supplier can sell.
// n units are priced at v·f(n)/f(need), rounded up so that parts which cover a
// line together are paid its price at least. visit, where given, is told
// by how much each option passes the best of its line.
func (k *checker) cover(n *proof, worth [][]int64, s int, theta, required int64, visit func(arc int, o option, over int64)) (value int64, ok bool) {
	if theta < 0 || theta > k.unit || n.shade[s] < 0 || n.shade[s] >= k.unit {
		return 0, false
	}
	value = theta * required
	var costs []int64
	for _, ai := range k.in.suppliers[s].arcs {
		a := &k.in.arcs[ai]
		need, v, f := k.in.lines[a.line].need, n.price[a.line], worth[a.line]
		best := int64(0)
		costs = costs[:0]
		for _, o := range a.options {
			paid := int64(0)
			switch {
			case need == 0: // an extra, never paid for
			case o.units >= need:
				paid = v
			case f[need] >= 0 && v > 0:
				if f[need] == 0 || f[o.units] < 0 {
					return 0, false
				}
				hi, lo := bits.Mul64(uint64(f[o.units]), uint64(v))
				if hi >= uint64(f[need]) {
					return 0, false
				}
				quotient, left := bits.Div64(hi, lo, uint64(f[need]))
				if paid = int64(quotient); left > 0 {
					paid++
				}
			}
			costs = append(costs, o.cost*(k.unit-theta)-paid)
			best = min(best, costs[len(costs)-1])
		}
		value += best
		if visit != nil {
			for i, o := range a.options {
				visit(ai, o, costs[i]-best)
			}
		}
	}
	return value, true
}
