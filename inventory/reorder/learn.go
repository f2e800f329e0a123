package reorder

import (
	"math"
	"slices"
)

// learnt is what the shop's books taught.
type learnt struct {
	start  int
	terms  Terms
	memory memory
	sizes  sizes
	tempo  []float64 // what the shop sold in each week, over what its parts usually do; and now
}

// recordsOf are the records of the items by the day; nil for one that has not sold.
func recordsOf(items []Item, start, now int) (all, known []*record) {
	all = make([]*record, len(items))
	var prices []float64
	for i := range items {
		if items[i].Price > 0 {
			prices = append(prices, math.Log(items[i].Price))
		}
	}
	slices.Sort(prices)
	for i := range items {
		r, ok := recordOf(items[i].Sales, start, now)
		if !ok {
			continue
		}
		if items[i].Price > 0 {
			r.dear = math.Log(items[i].Price) - prices[len(prices)/2]
		}
		r.first -= weekOf(start)
		all[i] = &r
		known = append(known, &r)
	}
	return all, known
}

// learn reads the books up to the day.
func learn(items []Item, start, now int, terms Terms) *learnt {
	l := &learnt{start: start, terms: terms, memory: untaught.ready()}
	weeks := max(0, weekOf(now-1)-weekOf(start)+1)
	_, known := recordsOf(items, start, now)
	l.tempo = make([]float64, weeks+1)
	for i := range l.tempo {
		l.tempo[i] = 1
	}
	l.sizes = teachSizes(known)
	if len(known) == 0 {
		return l
	}
	lead := 0.0
	for i := range items {
		mean, _ := items[i].Lead.Moments()
		lead += mean / float64(len(items))
	}
	over := horizon{
		weeks: max(1, int(math.Round((lead+float64(terms.LookEvery-1)/2)/daysPerPeriod))),
		wait:  max(0, terms.AdviseEvery/daysPerPeriod-1),
	}
	if over.weeks+over.wait > weeks/2 {
		over = horizon{weeks: max(1, min(over.weeks, weeks/3))}
	}
	some := sample(known)
	plain := teach(some, l.tempo, over, l.memory, 8)
	l.memory = plain
	most := plain.score(some, l.tempo, over)
	for _, halfLife := range []float64{3, 10} {
		tempo := plain.tempos(known, weeks, halfLife)
		m := teach(some, tempo, over, plain, 5)
		tempo = m.tempos(known, weeks, halfLife)
		if score := m.score(some, tempo, over); score > most {
			l.memory, l.tempo, most = m, tempo, score
		}
	}
	return l
}

// outlook is a part's rate of sales a day as it was known on a day, and their sizes.
func (l *learnt) outlook(r *record, now int) (gamma, []float64) {
	g := l.memory.rate(l.state(r), l.memory.like(r))
	g.rate *= daysPerPeriod / l.tempo[max(0, min(len(l.tempo)-1, weekOf(now-1)-weekOf(l.start)))]
	return g, l.sizes.of(r.sizes)
}

// state is what the memory holds of a part by its record.
func (l *learnt) state(r *record) state {
	s := l.memory.begin(r)
	for k, asked := range r.asked {
		l.memory.add(&s, asked, r.open[k]*l.tempo[r.first+k])
	}
	return s
}
