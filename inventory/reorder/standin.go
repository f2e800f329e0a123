package reorder

import "math/rand/v2"

// StandIn is a part that is taken in the stead of another whose shelf is empty: one that fits with no difference in
// function.
type StandIn struct {
	Item   int     // its number among the items
	Accept float64 // share of the customers who take it: 1 where there is no difference at all
}

// rounds are how often levels and what they cover are reckoned in turn. Each round goes half of the way, so that two parts
// do not each leave the stock to the other.
const rounds = 4

// coveredAt is the chance that a stand-in of an item is there, by what is kept.
func (s *Shelf) coveredAt(item int, keeps []Keep) float64 {
	missing := 1.0
	for _, in := range s.items[item].StandIns {
		if in.Item != item && keeps[in.Item].UpTo > 0 {
			missing *= 1 - in.Accept*keeps[in.Item].own
		}
	}
	return 1 - missing
}

// share sets the levels of parts that stand in for one another together. A sale that finds its shelf empty overflows to
// the first stand-in that is there, whose demand grows by it; and a piece of the part itself is worth only those sales
// for which no stand-in is there (as emergency shipments between shelves are weighed: Axsäter, "Modelling emergency
// lateral transshipments in inventory systems", Management Science 36, 1990). What is covered is reckoned where 19
// sales in 20 are met.
func (s *Shelf) share(again func(item int, extra float64) []choice) {
	any := false
	for i := range s.items {
		any = any || len(s.items[i].StandIns) > 0
	}
	if !any {
		return
	}
	more := make([]float64, len(s.items)) // sales a day that come to it from parts whose shelf is empty
	s.covered = make([]float64, len(s.items))
	for range rounds {
		keeps := s.walk(0.95 * s.sales)
		extra := make([]float64, len(s.items))
		for i := range s.items {
			asked := s.perDay[i] * (1 - keeps[i].own)
			for _, in := range s.items[i].StandIns {
				if in.Item == i || keeps[in.Item].UpTo == 0 {
					continue
				}
				extra[in.Item] += asked * in.Accept
				asked *= 1 - in.Accept*keeps[in.Item].own
			}
			s.covered[i] = (s.covered[i] + s.coveredAt(i, keeps)) / 2
		}
		for i := range s.items {
			if more[i] = (more[i] + extra[i]) / 2; more[i] > 0 || s.covered[i] > 0 {
				s.choices[i] = again(i, more[i])
			}
		}
	}
}

// Cover is the chance that a sale which finds the part's own shelf empty is met by a stand-in, and by which of the
// items, by what is kept.
func (s *Shelf) Cover(item int, keeps []Keep) (chance float64, by []int) {
	for _, in := range s.items[item].StandIns {
		if in.Item != item && keeps[in.Item].UpTo > 0 {
			by = append(by, in.Item)
		}
	}
	return s.coveredAt(item, keeps), by
}

// takesInstead reports whether a customer takes a stand-in: the same whatever rule is played.
func (w *World) takesInstead(item, sale int, in StandIn) bool {
	return in.Accept >= 1 || rand.New(rand.NewPCG(w.Seed^uint64(item)<<32, uint64(sale)<<20|uint64(in.Item))).Float64() < in.Accept
}
