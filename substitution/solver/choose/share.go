package choose

import (
	"math"
	"slices"
)

// lot is what an option takes off the shelf before its offer meets the rest. It is no goods of any supplier's, so that it
// moves neither carriage nor minimum orders.
type lot struct {
	Lot
	shared int   // as of an option
	goods  int64 // as of an option
}

// same reports whether two options take the same off the shelf first, or both nothing: then they differ in their offers
// alone.
func (f *lot) same(g *lot) bool {
	return f == nil && g == nil || f != nil && g != nil && f.Lot == g.Lot
}

// share finds the offers that several needs may take, and gives each such lot a price that its share of the packs never
// falls below, however the needs pool: pieces times the least price a piece over all poolings.
func (in *instance) share() {
	takers := in.takers()
	brought := map[int]bool{}
	for _, e := range in.p.Extras {
		for _, o := range e.Options {
			brought[o.Offer] = true
		}
	}
	for i := range in.needs {
		share := func(offer, pieces int, goods int64) (int, int64) {
			if len(takers[offer]) < 2 && !brought[offer] {
				return -1, goods
			}
			index := slices.Index(in.shared, offer)
			if index < 0 {
				index = len(in.shared)
				in.shared = append(in.shared, offer)
			}
			return index, in.leastShare(offer, pieces, i, takers[offer], brought[offer])
		}
		for k := range in.needs[i].options {
			if in.ended() {
				return
			}
			o := &in.needs[i].options[k]
			o.shared, o.goods = share(o.offer, o.pieces, o.goods)
			if f := o.first; f != nil {
				f.shared, f.goods = share(f.Offer, f.Pieces, f.goods)
			}
		}
	}
}

// taking is a need that may take an offer, with the numbers of pieces that it may take of it.
type taking struct {
	need   int
	pieces []int
}

// takers are the needs that may take each offer.
func (in *instance) takers() map[int][]taking {
	out := map[int][]taking{}
	for i := range in.needs {
		take := func(offer, pieces int) {
			t := out[offer]
			if len(t) == 0 || t[len(t)-1].need != i {
				t = append(t, taking{need: i})
				out[offer] = t
			}
			if last := &t[len(t)-1]; !slices.Contains(last.pieces, pieces) {
				last.pieces = append(last.pieces, pieces)
			}
		}
		for _, o := range in.needs[i].options {
			take(o.offer, o.pieces)
			if o.first != nil {
				take(o.first.Offer, o.first.Pieces)
			}
		}
	}
	return out
}

// mostPoolings is how many ways in which needs can pool an offer are gone through.
const mostPoolings = 1 << 10

// leastShare is what so many pieces that a need takes of an offer cost at least, however many the others take with it.
// Where that is too many ways, or unknown, it is by the least price a piece.
func (in *instance) leastShare(offer, pieces, need int, takers []taking, brought bool) int64 {
	o, mine, ways := in.p.Offers[offer], int64(pieces), 1
	least := int64(math.MaxInt64)
	for _, t := range takers {
		ways = min(ways*(1+len(t.pieces)), mostPoolings+1)
	}
	if brought || ways > mostPoolings {
		for _, b := range o.Breaks {
			least = min(least, mulDiv(mine, b.Price, int64(o.Pack)))
		}
		return least
	}
	sums := []int{pieces}
	for _, t := range takers {
		if t.need == need {
			continue
		}
		for _, sum := range slices.Clone(sums) {
			for _, more := range t.pieces {
				sums = append(sums, sum+more)
			}
		}
	}
	for _, sum := range sums {
		if buy, ok := o.Cover(sum); ok {
			least = min(least, mulDiv(mine, buy.Cost, int64(sum)))
		}
	}
	return least
}
