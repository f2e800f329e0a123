package orderplan

// bruteForce finds the least landed cost by trying everything: line after line
// it keeps the set of all goods totals, supplier by supplier, that can be
// reached. It shares no code with the planner but Offer.Cost. ok is false where
// no plan exists.
func bruteForce(p Problem) (total int64, ok bool) {
	type state struct {
		goods [4]int64
		used  [4]bool
	}
	index := map[string]int{}
	for i, s := range p.Suppliers {
		index[s.ID] = i
	}
	states := map[state]bool{{}: true}
	for _, l := range p.Lines {
		type way struct {
			state
			units int
		}
		ways := map[way]bool{{}: true}
		for _, o := range p.Offers {
			if o.Line != l.ID || (l.DueDay != nil && o.ArrivalDay != nil && *o.ArrivalDay > *l.DueDay) {
				continue
			}
			more := map[way]bool{}
			for w := range ways {
				for units := 1; w.units+units <= l.Max; units++ {
					cost, sold := o.Cost(units)
					if !sold {
						continue
					}
					n := w
					n.units += units
					n.goods[index[o.Supplier]] += cost
					n.used[index[o.Supplier]] = true
					more[n] = true
				}
			}
			for w := range more {
				ways[w] = true
			}
		}
		next := map[state]bool{}
		for w := range ways {
			places := 0
			for _, u := range w.used {
				if u {
					places++
				}
			}
			if w.units < l.Need || (p.NoSplit && places > 1) {
				continue
			}
			for s := range states {
				for i := range s.goods {
					s.goods[i] += w.goods[i]
					s.used[i] = s.used[i] || w.used[i]
				}
				next[s] = true
			}
		}
		states = next
	}
	for s := range states {
		cost, keeps := int64(0), true
		for i, u := range p.Suppliers {
			if !s.used[i] {
				continue
			}
			keeps = keeps && s.goods[i] >= u.MinimumOrder
			cost += s.goods[i]
			if u.CarriagePaidAt == nil || s.goods[i] < *u.CarriagePaidAt {
				cost += u.Carriage
			}
		}
		if keeps && (!ok || cost < total) {
			total, ok = cost, true
		}
	}
	return total, ok
}
