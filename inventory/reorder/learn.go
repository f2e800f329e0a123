package reorder

import (
	"math"
)

// learnt is what the shop's books taught.
type learnt struct {
	start  int
	terms  Terms
	memory memory
	sizes  sizes
	season *Weekly            // nil where none is known
	own    bool               // and it is the shop's own
	kinds  map[string]*Weekly // how the seasons of kinds of parts differ from the shop's; nil where they are not known to
	weekly []float64          // the season in each week of the books, and now
	paces  []pace             // as they were known at the start of each week, and now; nil where they would have foretold worse
}

// learn reads the books up to the day.
func learn(of StockBook, start, now int, terms Terms) *learnt {
	l := &learnt{start: start, terms: terms, memory: untaught.ready()}
	weeks := max(0, weekOf(now-1)-weekOf(start)+1)
	b := booksOf(of, start, now)
	l.weekly = make([]float64, weeks+1)
	if terms.Season != nil {
		l.season = terms.Season.byWeek()
	}
	l.weekly = l.base(l.season)
	over := ahead(of.Items, terms, weeks)
	l.sizes = teachSizes(b.someSales(mostLike))
	if b.known == 0 {
		return l
	}
	some := b.sample(mostTaught)
	l.memory = taughtBy(some, l.weekly, over).teach(l.memory)
	for _, y := range rhythms(b) {
		l.memory = inRhythm(y, some, l.weekly, over, l.memory)
	}
	if terms.Season != nil && weeks >= 52 {
		l.season, l.own = l.memory.shopWeeks(b, l.weekly).season(terms.Season), true
		l.weekly = l.base(l.season)
		l.kinds = l.memory.kindSeasons(b, l.weekly, l.season)
		b.bend(l.kinds)
		some = b.sample(mostTaught)
		l.memory = taughtBy(some, l.weekly, over).teach(l.memory)
	}
	l.choosePaces(b, over)
	return l
}

// ahead is the horizon over which levels stand and orders are on their way, or what of it so many weeks of books can
// tell of.
func ahead(items []Item, terms Terms, weeks int) horizon {
	lead, sold := 0.0, 0.0
	for i := range items {
		if items[i].Lead != nil {
			mean, _ := items[i].Lead.Moments()
			lead += mean
			sold++
		}
	}
	lead /= max(1, sold)
	over := horizon{
		weeks: max(1, int(math.Round((lead+float64(terms.LookEvery-1)/2)/daysPerPeriod))),
		wait:  max(0, terms.AdviseEvery/daysPerPeriod-1),
	}
	if over.weeks+over.wait > weeks/2 {
		over = horizon{weeks: max(1, min(over.weeks, weeks/3))}
	}
	return over
}

// choosePaces takes those paces under which the last third of the books would have been foretold best: earlier nothing was
// known that they could have told.
func (l *learnt) choosePaces(b *books, over horizon) {
	since := (len(l.weekly) - 1) * 2 / 3
	some := b.sample(mostJudged)
	told := judgedBy(some, l.weekly, over, since, 1)
	foreseen := told.foreseen(&l.memory)
	most := told.under(nil, foreseen, l.memory.rhythm)
	seen := l.memory.seen(b, l.weekly)
	for _, halfLife := range []float64{0, 4, 16} {
		for _, byOften := range []bool{false, true} {
			paces := paces(seen, halfLife, byOften)
			if score := told.under(paces, foreseen, l.memory.rhythm); score > most {
				l.paces, most = paces, score
			}
		}
	}
}

// base is the season in each week of the books, and now: all alike where none is known.
func (l *learnt) base(season *Weekly) []float64 {
	out := make([]float64, len(l.weekly))
	for i := range out {
		out[i] = 1
		if season != nil {
			out[i] = season.of(weekOf(l.start) + i)
		}
	}
	return out
}

// outlook is a part's rate of sales a day as it was known on a day, and their sizes.
func (l *learnt) outlook(r *record, now int) (gamma, []float64) {
	g := l.memory.rate(l.state(r), l.memory.like(r))
	g.rate *= daysPerPeriod / l.seasonAhead(r, now)
	g.rate /= l.pace(r, now)
	return g, l.sizes.of(r.sizes)
}

// pace is that of a part on a day.
func (l *learnt) pace(r *record, now int) float64 {
	if l.paces == nil {
		return 1
	}
	week := max(0, min(len(l.paces)-1, weekOf(now-1)-weekOf(l.start)+1))
	return l.paces[week].at(float64(now-1-r.sizes[len(r.sizes)-1].Day)/daysPerPeriod, len(r.sizes))
}

// state is what the memory holds of a part by its record.
func (l *learnt) state(r *record) state {
	s, like := l.memory.begin(r), l.memory.like(r)
	for k, asked := range r.asked {
		l.memory.add(&s, like, asked, r.open[k]*l.weekly[r.first+k])
	}
	return s
}

// rhythm is that of what is asked for from the sale on for which an order is placed.
func (l *learnt) rhythm() rhythm { return rhythm{weekly: l.memory.rhythm.weekly, sinceSale: true} }
