package choose

import (
	"cmp"
	"encoding/binary"
	"math"
	"math/bits"
	"slices"

	"stead/substitution/supply"
)

// instance is a problem made small without losing a point of its front: options that no rule tells apart are one
// class, options that another always betters are gone, and so are classes that go with nothing in some other need.
// Needs stand in the order of the search.
type instance struct {
	*deadline
	p         *Problem
	extras    []int // in an order in which each comes after all that may bring it
	needs     []need
	pairs     [][]*pair // by position, the earlier first; nil where no rule binds the two
	wides     []wide
	suppliers []source
	shared    []int         // offers that more than one need may take
	pools     map[int]*pool // by offer
	beside    []int64       // by extra: pence that a piece of it costs at least; none: nothing is offered for it
	days      []int         // on which something arrives, ascending
}

// need is a need at its position.
type need struct {
	index   int      // in Problem.Needs
	options []option // by class, then by price
	classes int
}

// option is what the search must know of an option.
type option struct {
	index     int // in the need's Options
	class     int
	offer     int
	pieces    int // of the need that are taken of the offer
	first     *lot
	supplier  int
	shared    int // index into instance.shared, or -1
	day       int // of the later of its two lots
	deviation int64
	goods     int64 // pence; for a shared offer, a part of its packs' price that it never falls below
	price     int64 // goods, and what the first lot and the extras that it brings cost at least
	discount  int64 // what bounds must take off the price for sharing out a carriage that may turn out free
	brings    []Bring
	new       bool // it is what the search of a day looks for; see open
}

// source is a supplier as far as it can be used.
type source struct {
	supply.Supplier
	certain int64 // carriage that is charged whenever it is used
	spread  int64 // carriage that bounds may share out: the certain one, or a soft one against a discount
	soft    bool  // its goods may reach the level from which carriage is free
	pooled  bool  // its goods depend on how needs pool, or on what is brought
}

// pair is what all rules that bind two needs say of their classes.
type pair struct {
	row, col []int // group by class of the earlier and of the later need: classes of one group are one to these rules
	cells    [][]cell
	allow    []bitset // by row, the classes of the later need that go with it
	tight    float64  // how much the rules forbid: minus the logarithm of the share that they allow
}

type cell struct {
	stops     bool
	deviation int64
	brings    []Bring
}

func (p *pair) at(c, d int) *cell { return &p.cells[p.row[c]][p.col[d]] }

// wide is a rule over three needs or more.
type wide struct {
	rule     *Rule
	at       []int   // positions of its needs
	marks    [][]int // by need of the rule, by class
	distinct [][]int // by need of the rule: the marks that occur
	memo     map[string]*cell
	hope     map[string]bool
}

func reduce(p *Problem, until *deadline) (*instance, error) {
	extras, err := p.extraOrder()
	if err != nil {
		return nil, err
	}
	in := &instance{deadline: until, p: p, extras: extras}
	for _, s := range p.Suppliers {
		in.suppliers = append(in.suppliers, source{Supplier: s})
	}
	in.priceExtras()
	for i := range p.Needs {
		in.needs = append(in.needs, need{index: i, options: in.admit(i)})
	}
	in.share()
	in.addExtras()
	in.limitSuppliers()
	if !in.passed && !in.empty() {
		in.classify()
		in.days = in.allDays()
	}
	return in, nil
}

// empty reports whether a need has nothing left to choose.
func (in *instance) empty() bool {
	return slices.ContainsFunc(in.needs, func(n need) bool { return len(n.options) == 0 })
}

// admit takes the options of a need that keep the limits by themselves.
func (in *instance) admit(i int) []option {
	p := in.p
	var out []option
	for k, o := range p.Needs[i].Options {
		offer := p.Offers[o.Offer]
		admitted := option{index: k, offer: o.Offer, pieces: p.Needs[i].Pieces, supplier: offer.Supplier, shared: -1, day: offer.Day, deviation: o.Deviation, brings: o.Brings}
		if o.First != nil {
			shelf := p.Offers[o.First.Offer]
			buy, ok := shelf.Cover(o.First.Pieces)
			if !ok || p.late(shelf) {
				continue
			}
			admitted.first = &lot{Lot: *o.First, shared: -1, goods: buy.Cost}
			admitted.pieces -= o.First.Pieces
			admitted.day = max(admitted.day, shelf.Day)
		}
		buy, ok := offer.Cover(admitted.pieces)
		if !ok || p.late(offer) || p.MostDeviation != nil && o.Deviation > *p.MostDeviation || in.besides(o.Brings) >= none {
			continue
		}
		admitted.goods = buy.Cost
		out = append(out, admitted)
	}
	return out
}

// priceExtras finds what a piece of each extra costs at least. In whole pence a piece, what several options bring adds up
// to the same whichever of them brings how much.
func (in *instance) priceExtras() {
	for _, e := range in.p.Extras {
		least := int64(none)
		for _, o := range e.Options {
			offer := in.p.Offers[o.Offer]
			if in.p.late(offer) {
				continue
			}
			for _, b := range offer.Breaks {
				each := b.Price / int64(offer.Pack)
				if s := offer.Supplier; s != supply.Shelf && in.p.Suppliers[s].PaidAt > in.p.Suppliers[s].Carriage {
					each -= min(each, mulDiv(each, in.p.Suppliers[s].Carriage, in.p.Suppliers[s].PaidAt)+1) // the discount for its carriage, see there
				}
				least = min(least, each)
			}
		}
		in.beside = append(in.beside, least)
	}
}

// besides is what is brought costs at least, or none where something of it is not to be had.
func (in *instance) besides(brings []Bring) int64 {
	sum := int64(0)
	for _, b := range brings {
		if in.beside[b.Extra] >= none {
			return none
		}
		sum += in.beside[b.Extra] * int64(b.Pieces)
	}
	return sum
}

// addExtras adds to each option's goods its first lot and what it brings.
func (in *instance) addExtras() {
	for i := range in.needs {
		for k := range in.needs[i].options {
			o := &in.needs[i].options[k]
			o.price = o.goods + in.besides(o.brings)
			if o.first != nil {
				o.price += o.first.goods
			}
		}
	}
}

// limitSuppliers finds which carriage is certain, and drops suppliers whose minimum order cannot be reached.
func (in *instance) limitSuppliers() {
	pooled := map[int]bool{}
	for _, o := range in.shared {
		pooled[in.p.Offers[o].Supplier] = true
	}
	for _, e := range in.p.Extras {
		for _, o := range e.Options {
			pooled[in.p.Offers[o.Offer].Supplier] = true
		}
	}
	for s := range in.suppliers {
		most := int64(0)
		for i := range in.needs {
			dearest := int64(0)
			for _, o := range in.needs[i].options {
				if o.supplier == s {
					dearest = max(dearest, o.goods)
				}
			}
			most += dearest
		}
		sup := &in.suppliers[s]
		if sup.pooled = pooled[s]; sup.pooled {
			most = math.MaxInt64
		}
		sup.soft = sup.PaidAt > 0 && most >= sup.PaidAt && sup.Carriage > 0
		switch {
		case !sup.soft:
			sup.certain, sup.spread = sup.Carriage, sup.Carriage
		case sup.Carriage < sup.PaidAt:
			sup.spread = sup.Carriage
			in.discount(s)
		}
		if most < sup.MinimumOrder {
			for i := range in.needs {
				in.needs[i].options = slices.DeleteFunc(in.needs[i].options, func(o option) bool { return o.supplier == s })
			}
		}
	}
}

// discount prepares sharing out the carriage f of a supplier whose goods G may reach the level T from which it is free:
// G(1 - f/T) + f is never more than G and the carriage that is charged, whether G reaches T or not, nor is it with less
// than G, as where needs pool.
func (in *instance) discount(supplier int) {
	src := in.suppliers[supplier]
	for i := range in.needs {
		for k := range in.needs[i].options {
			if o := &in.needs[i].options[k]; o.supplier == supplier {
				o.discount = min(o.goods, mulDiv(o.goods, src.Carriage, src.PaidAt)+1)
			}
		}
	}
}

// betters reports whether taking a in place of b, both of one class, never makes a choice worse.
func (in *instance) betters(a, b option) bool {
	if a.day > b.day || a.deviation > b.deviation || !a.first.same(b.first) {
		return false
	}
	worst := a.price - b.price
	if a.shared >= 0 || b.shared >= 0 {
		if a.offer == b.offer {
			return true
		}
		var does bool
		if worst, does = in.inPlace(a.offer, b.offer); !does {
			return false
		}
	}
	if a.supplier == b.supplier {
		if a.supplier == supply.Shelf || worst == 0 {
			return worst <= 0
		}
		s := in.suppliers[a.supplier]
		if s.soft {
			worst += s.Carriage // the dearer one may have made carriage free
		}
		return worst <= 0 && s.MinimumOrder == 0
	}
	if a.supplier != supply.Shelf {
		s := in.suppliers[a.supplier]
		if s.MinimumOrder > 0 || in.p.MostSuppliers > 0 {
			return false
		}
		worst += s.Carriage
	}
	if b.supplier != supply.Shelf {
		s := in.suppliers[b.supplier]
		if s.MinimumOrder > 0 {
			return false
		}
		if s.soft {
			worst += s.Carriage
		}
	}
	return worst <= 0
}

func (in *instance) allDays() []int {
	var days []int
	for i := range in.needs {
		for _, o := range in.needs[i].options {
			days = append(days, o.day)
		}
	}
	for _, e := range in.p.Extras {
		for _, o := range e.Options {
			if offer := in.p.Offers[o.Offer]; !in.p.late(offer) {
				days = append(days, offer.Day)
			}
		}
	}
	slices.Sort(days)
	return slices.Compact(days)
}

// sortOptions puts options by class, then price, day, deviation and place in the problem, and drops those that one
// before them betters.
func (in *instance) sortOptions(n *need) {
	slices.SortFunc(n.options, func(a, b option) int {
		return cmp.Or(cmp.Compare(a.class, b.class), cmp.Compare(a.price, b.price), cmp.Compare(a.day, b.day), cmp.Compare(a.deviation, b.deviation), cmp.Compare(a.index, b.index))
	})
	kept := n.options[:0]
	first := 0 // of the class
	for _, o := range n.options {
		if len(kept) > 0 && kept[len(kept)-1].class != o.class {
			first = len(kept)
		}
		if !slices.ContainsFunc(kept[first:], func(a option) bool { return in.betters(a, o) }) {
			kept = append(kept, o)
		}
	}
	n.options = kept
}

// numbering gives equal tuples of numbers one number.
type numbering struct {
	known map[string]int
	buf   []byte
}

func (n *numbering) of(tuple ...int) int {
	n.buf = n.buf[:0]
	for _, x := range tuple {
		n.buf = binary.AppendVarint(n.buf, int64(x))
	}
	if n.known == nil {
		n.known = map[string]int{}
	}
	if id, ok := n.known[string(n.buf)]; ok {
		return id
	}
	n.known[string(n.buf)] = len(n.known)
	return len(n.known) - 1
}

// mulDiv is a×b/c rounded down, for numbers that are not negative.
func mulDiv(a, b, c int64) int64 {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	q, _ := bits.Div64(hi, lo, uint64(c))
	return int64(q)
}
