package reorder

import (
	"math/rand/v2"
	"slices"
)

// aims are the shares that are tried.
var aims = []float64{0.8, 0.9, 0.95, 0.98, 0.99, 0.995}

const (
	playedWeeks = 26  // how far back the rule is played over the shop's own sales
	playedParts = 700 // of how many parts
)

// keptPromises plays the rule over the last weeks of the books, knowing at each advice
// only what was sold before.
func (l *learnt) keptPromises(of StockBook, now int) promise {
	advise := max(daysPerPeriod, l.terms.AdviseEvery)
	months := min(playedWeeks*daysPerPeriod, (now-l.start)/2) / advise
	if months < 1 {
		return promise{}
	}
	w := l.replayed(of, now-months*advise, now, advise, playedParts)
	played, shelves := stockBook(w.Items), map[int]*Shelf{}
	all := make([][]month, len(aims))
	for k, aim := range aims {
		outcome := w.Play(func(b Books) []Keep {
			if shelves[b.Now] == nil {
				shelves[b.Now] = l.weigh(played, b.Now)
			}
			keeps := shelves[b.Now].For(aim)
			all[k] = append(all[k], month{said: met(keeps)})
			return keeps
		})
		for i, m := range outcome.Advised {
			all[k][i].came = m
		}
	}
	return judge(all)
}

// met is the share of all sales that is met where parts are kept so.
func met(keeps []Keep) float64 {
	met, all := 0.0, 0.0
	for _, k := range keeps {
		met += k.Fill * k.PerDay
		all += k.PerDay
	}
	if all == 0 {
		return 0
	}
	return met / all
}

// replayed is the shop's own past as a world: so many of its parts at most, with what was sold of them and nothing that
// was only asked for, for nobody was met or missed by that. Each part's orders come by themselves: what is wanted is
// the chance, not a day's luck.
func (l *learnt) replayed(of StockBook, start, end, advise, most int) *World {
	w := &World{Start: start, End: end, LookEvery: l.terms.LookEvery, AdviseEvery: advise, Seed: 1}
	number := map[int]int{} // among those played, of each
	for i := 0; i < len(of.Items); i += (len(of.Items) + most - 1) / most {
		if of.Items[i].Lead == nil {
			continue
		}
		item := of.Whole(i)
		item.Sales = slices.DeleteFunc(item.Sales, func(s Sale) bool { return s.Share > 0 })
		item.Supplier = len(w.Items)
		number[i] = len(w.Items)
		w.Items = append(w.Items, item)
	}
	Renumber(w.Items, number)
	w.Takes = func(r *rand.Rand, item *Item) int { return item.Lead.Draw(r) }
	return w
}

// Renumber tells items that were picked out of others which of those that were picked stand in for them, by their old and
// new numbers.
func Renumber(picked []Item, number map[int]int) {
	for i := range picked {
		var in []StandIn
		for _, other := range picked[i].StandIns {
			if k, there := number[other.Item]; there {
				in = append(in, StandIn{k, other.Accept})
			}
		}
		picked[i].StandIns = in
	}
}

// Draw is a lead time by its chances.
func (l *LeadTime) Draw(r *rand.Rand) int {
	u := r.Float64()
	for day, chance := range l.OnDay {
		if u -= chance; u < 0 {
			return day
		}
	}
	return len(l.OnDay) - 1
}
