package choose

import "slices"

// pool is what is known of an offer that several needs may take, before options are dropped.
type pool struct {
	takers  []taker
	brought bool  // an extra may take it as well
	twice   bool  // a need may take it in two ways, or only some of its pieces
	pieces  []int // the sums of pieces that the takers can come to together
}

// taker is a need that may take an offer.
type taker struct {
	need, class int
	deviation   int64
}

// mostTakers is up to how many takers all sums of their pieces are gone through.
const mostTakers = 8

// gatherPools gathers the offers with their takers.
func (in *instance) gatherPools() {
	in.pools = map[int]*pool{}
	of := func(offer int) *pool {
		if in.pools[offer] == nil {
			in.pools[offer] = &pool{}
		}
		return in.pools[offer]
	}
	for i := range in.needs {
		for _, o := range in.needs[i].options {
			p := of(o.offer)
			p.twice = p.twice || len(p.takers) > 0 && p.takers[len(p.takers)-1].need == i
			p.takers = append(p.takers, taker{i, o.class, o.deviation})
			if o.first != nil {
				p.twice, of(o.first.Offer).twice = true, true
			}
		}
	}
	for _, e := range in.p.Extras {
		for _, o := range e.Options {
			of(o.Offer).brought = true
		}
	}
	for _, p := range in.pools {
		if len(p.takers) > mostTakers {
			continue
		}
		for subset := 1; subset < 1<<len(p.takers); subset++ {
			sum := 0
			for k, t := range p.takers {
				if subset>>k&1 == 1 {
					sum += in.p.Needs[in.needs[t.need].index].Pieces
				}
			}
			p.pieces = append(p.pieces, sum)
		}
		slices.Sort(p.pieces)
		p.pieces = slices.Compact(p.pieces)
	}
}

// inPlace is by how much at the worst the packs of offer a cost more than those of b, if every need that takes b takes a
// in its place. More of an offer never costs more than the same in two lots, as long as its prices fall with its quantity
// and it does not run out, so that it makes no odds how much of a is bought already. It reports false where a is not known
// to do, or does just as well and stands later.
func (in *instance) inPlace(a, b int) (worst int64, does bool) {
	pa, pb := in.pools[a], in.pools[b]
	if pa.twice || pb.twice || pb.brought || pb.pieces == nil || in.p.Offers[a].Most > 0 || !in.p.Offers[a].Falls() {
		return 0, false
	}
	for _, t := range pb.takers {
		k := slices.IndexFunc(pa.takers, func(u taker) bool { return u.need == t.need })
		if k < 0 || pa.takers[k].class != t.class || pa.takers[k].deviation > t.deviation {
			return 0, false
		}
	}
	first, same := true, true
	for _, n := range pb.pieces {
		with, ok := in.p.Offers[a].Cover(n)
		if !ok {
			return 0, false
		}
		without, possible := in.p.Offers[b].Cover(n)
		if !possible {
			continue
		}
		more := with.Cost - without.Cost
		if first || more > worst {
			worst, first = more, false
		}
		same = same && more == 0
	}
	return worst, !same || a < b
}

// shareAnew numbers the shared offers that options are left for.
func (in *instance) shareAnew() {
	old := in.shared
	in.shared = nil
	anew := func(shared int) int {
		if shared < 0 {
			return shared
		}
		index := slices.Index(in.shared, old[shared])
		if index < 0 {
			index = len(in.shared)
			in.shared = append(in.shared, old[shared])
		}
		return index
	}
	for i := range in.needs {
		for k := range in.needs[i].options {
			o := &in.needs[i].options[k]
			o.shared = anew(o.shared)
			if o.first != nil {
				o.first.shared = anew(o.first.shared)
			}
		}
	}
}
