package choose

import "stead/substitution/supply"

// partial is the partial choice that the search has come to, with what is remembered of others.
type partial struct {
	live      [][]bitset // by depth and position: the classes that still go with all that is decided
	class     []int
	chosen    []*option
	marks     [][]int    // by wide rule: the marks of decided needs, others -1
	count     []int      // by supplier: the needs that it serves
	used      []int      // suppliers that serve any, in the order in which they came in
	settled   [][]bool   // by depth and supplier: carriage that might have been free is certain by now, and in late
	discounts []int64    // by supplier: the discounts of the options taken
	goods     []int64    // by supplier: of options that are not shared
	pieces    []int      // by shared offer
	brought   []int      // by extra
	behind    [][]behind // by position: the links to needs before it
	onward    []*onward  // by position, for the suppliers that are used there
	top       []int64    // by position: the largest share of a used supplier's carriage

	round   uint32            // of descend: what onwards holds of others is out of date
	onwards [][onwards]onward // by position
	visited map[string][]visit
	visits  int
	canon   [][][]int32
	key     []byte
}

func newPartial(in *instance) partial {
	n := len(in.needs)
	x := partial{
		live: make([][]bitset, n+1), class: make([]int, n), chosen: make([]*option, n),
		count: make([]int, len(in.suppliers)), settled: make([][]bool, n+1), discounts: make([]int64, len(in.suppliers)),
		goods: make([]int64, len(in.suppliers)), pieces: make([]int, len(in.shared)), brought: make([]int, len(in.p.Extras)),
		behind: make([][]behind, n), onward: make([]*onward, n), top: make([]int64, n),
		onwards: make([][onwards]onward, n), canon: make([][][]int32, n),
	}
	for d := range x.live {
		x.settled[d], x.live[d] = make([]bool, len(in.suppliers)), make([]bitset, n)
		for k := range n {
			x.live[d][k] = newBitset(in.needs[k].classes)
		}
	}
	for _, w := range in.wides {
		marks := make([]int, len(w.at))
		for i := range marks {
			marks[i] = -1
		}
		x.marks = append(x.marks, marks)
	}
	for i := range n {
		bound := make([]bool, n)
		for k, p := range in.pairs[i] {
			if bound[k] = p != nil; bound[k] {
				x.behind[k] = append(x.behind[k], behind{pair: p, need: i})
			}
		}
		x.canon[i] = in.canons(bound, i)
	}
	return x
}

func (x *partial) take(o *option, newcomer bool) {
	if o.supplier != supply.Shelf {
		x.count[o.supplier]++
		x.goods[o.supplier] += o.goods
		x.discounts[o.supplier] += o.discount
		if newcomer {
			x.used = append(x.used, o.supplier)
		}
	}
	x.hold(o, 1)
	x.bring(o.brings, 1)
}

func (x *partial) giveBack(o *option, newcomer bool) {
	if o.supplier != supply.Shelf {
		x.count[o.supplier]--
		x.goods[o.supplier] -= o.goods
		x.discounts[o.supplier] -= o.discount
		if newcomer {
			x.used = x.used[:len(x.used)-1]
		}
	}
	x.hold(o, -1)
	x.bring(o.brings, -1)
}

// hold counts the pieces that an option takes of shared offers.
func (x *partial) hold(o *option, times int) {
	if o.shared >= 0 {
		x.pieces[o.shared] += times * o.pieces
	}
	if f := o.first; f != nil && f.shared >= 0 {
		x.pieces[f.shared] += times * f.Pieces
	}
}

func (x *partial) bring(list []Bring, times int) {
	for _, b := range list {
		x.brought[b.Extra] += times * b.Pieces
	}
}
