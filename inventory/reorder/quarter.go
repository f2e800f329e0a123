package reorder

// Quarter is what became of what was said of the last quarter: how many of its sales the shelf would have met, kept as
// it was advised then.
type Quarter struct {
	From       int     // the first working day of it
	Said       float64 // share of the sales that was to be met whole
	Sales, Met int     // sales of parts that had sold before, and those met whole
	Every      int     // of so many parts one was played: 1 is all
	Aims       float64 // share that is aimed at now, so that what is asked for comes of it
}

const (
	quarterAdvised = 3   // times that a quarter is advised
	quarterParts   = 150 // are played at most
)

// LastQuarter plays the last quarter of the books, advised month by month by what was known then and no later: it is
// what was advised then, for the advice follows from the books alone. The quarter before is played too, so that the shelf
// is as full as shelves are: what a part was kept with lies there still when less of it is advised. There is none before
// the books are old enough.
func (s *Shelf) LastQuarter(target float64) (Quarter, bool) {
	l := s.learnt
	month := max(daysPerPeriod, l.terms.AdviseEvery)
	q := Quarter{From: s.now - quarterAdvised*month, Aims: s.promise.ask(target), Every: max(1, (len(s.items)+quarterParts-1)/quarterParts)}
	before := min(quarterAdvised, (q.From-l.start)/month-1) // months: of one at least something must be known
	if before < 0 {
		return q, false
	}
	w := l.replayed(s.books.StockBook, q.From-before*month, s.now, month, quarterParts)
	var said []float64 // of each month
	o := w.Play(func(b Books) []Keep {
		if b.Now < q.From { // by what is learnt by now, which serves to fill the shelf
			said = append(said, 0)
			filling := l.weigh(stockBook(b.known()), b.Now)
			filling.promise = s.promise
			return filling.For(target)
		}
		keeps := Weigh(b.known(), l.start, b.Now, l.terms).For(target)
		said = append(said, met(keeps))
		return keeps
	})
	for i, m := range o.Advised[before:] {
		q.Sales, q.Met = q.Sales+m.Sales, q.Met+m.Met
		q.Said += said[before+i] * float64(m.Sales)
	}
	if q.Sales == 0 {
		return q, false
	}
	q.Said /= float64(q.Sales)
	return q, true
}
