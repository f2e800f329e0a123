package reorder

import (
	"iter"
	"math"
	"slices"
)

// books are items with what was sold of them up to a day. A record takes more room than all else that is known of a part,
// so none is kept: each is made when it is asked for, and whoever goes through all has one at a time.
type books struct {
	StockBook
	start, now int
	middle     float64           // log of the price in the middle
	known      int               // items that have sold
	leads      map[*LeadTime]int // weeks that each takes
	bends      map[string]bend
}

// bend is how the season of a kind differs from the shop's, and that in each week of the books.
type bend struct {
	season *Weekly
	weekly []float64
}

// booksOf are those of all items up to the day, which is not over and not counted.
func booksOf(of StockBook, start, now int) *books {
	b := &books{StockBook: of, start: start, now: now, leads: map[*LeadTime]int{}}
	var prices []float64
	for i := range of.Items {
		if of.Items[i].Price > 0 {
			prices = append(prices, math.Log(of.Items[i].Price))
		}
		if b.sold(i) {
			b.known++
		}
		lead := of.Items[i].Lead
		if _, told := b.leads[lead]; lead != nil && !told {
			mean, _ := lead.Moments()
			b.leads[lead] = int(math.Round(mean / daysPerPeriod))
		}
	}
	slices.Sort(prices)
	if len(prices) > 0 {
		b.middle = prices[len(prices)/2]
	}
	return b
}

// sold reports whether an item has sold.
func (b *books) sold(item int) bool { return b.Sold[item].before(b.now) }

// bend lets each record know the season of its kind: a week of a strong month counts for more time.
func (b *books) bend(kinds map[string]*Weekly) {
	b.bends = map[string]bend{}
	for kind, season := range kinds {
		weekly := make([]float64, max(0, weekOf(b.now-1)-weekOf(b.start)+1))
		for week := range weekly {
			weekly[week] = season.of(weekOf(b.start) + week)
		}
		b.bends[kind] = bend{season, weekly}
	}
}

// record is that of an item, in the room of another that is no longer wanted; false for one that has not sold.
func (b *books) record(item int, r *record) bool {
	of := &b.Items[item]
	r.sizes = b.Sold[item].Sales(r.sizes[:0])
	if !r.count(b.start, b.now) {
		return false
	}
	r.unsee(of.Unseen)
	r.dear = 0
	if of.Price > 0 {
		r.dear = math.Log(of.Price) - b.middle
	}
	r.lead = b.leads[of.Lead]
	r.first -= weekOf(b.start)
	bend := b.bends[of.Kind]
	if r.bend = bend.season; r.bend != nil {
		for k := range r.open {
			r.open[k] *= bend.weekly[r.first+k]
		}
	}
	return true
}

// records are those of all items that have sold, by item, each only until the next.
func (b *books) records() iter.Seq2[int, *record] {
	return func(yield func(int, *record) bool) {
		var r record
		for i := range b.Items {
			if b.record(i, &r) && !yield(i, &r) {
				return
			}
		}
	}
}

// sample are records of so many parts at most, to be kept.
func (b *books) sample(most int) []*record {
	step := max(1, (b.known+most-1)/most)
	some := make([]*record, 0, min(b.known, most))
	number := 0
	for i := range b.Items {
		if !b.sold(i) {
			continue
		}
		if number%step == 0 {
			r := &record{}
			b.record(i, r)
			some = append(some, r)
		}
		number++
	}
	return some
}

// someSales are all the sales of every so many-th part, so that there are not many more than so many.
func (b *books) someSales(most int) [][]Sale {
	n := 0
	var one []Sale
	for _, sold := range b.Sold {
		one = sold.Sales(one[:0])
		n += countBefore(one, b.now)
	}
	var some [][]Sale
	number := 0
	for i, sold := range b.Sold {
		if !b.sold(i) {
			continue
		}
		if number%(1+n/most) == 0 {
			sales := sold.Sales(nil)
			some = append(some, sales[:countBefore(sales, b.now)])
		}
		number++
	}
	return some
}
