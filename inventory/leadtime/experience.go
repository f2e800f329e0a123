package leadtime

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"stead/inventory/calendar"
)

// Experience is what past receipts teach, ready to be asked about any supplier.
type Experience struct {
	now         calendar.Day
	suppliers   map[string]*record
	worthOfBase float64
	strain      *strain
}

// record is what came from one supplier, oldest order first, and what should
// have come.
type record struct {
	receipts []Receipt
	votes    []vote // one a receipt, in the same order
	alike    []vote // the same, those that say the same joined
	overdue  []Outstanding
	memories []memory
	change   *Change
}

// newRecord is that of a supplier from whom nothing has come.
func newRecord() *record {
	return &record{memories: []memory{{weight: 1, shifts: []shift{{days: 0, chance: 1}}}}}
}

// vote is a receipt as it counts today, whatever is asked.
type vote struct {
	late   int // working days after its quote
	quoted int // working days
	signal Signal
	weight float64
}

// joined are the votes with those that say the same as one.
func joined(votes []vote) []vote {
	at := map[vote]int{}
	var all []vote
	for _, v := range votes {
		says := v
		says.weight = 0
		i, ok := at[says]
		if !ok {
			i = len(all)
			at[says] = i
			all = append(all, says)
		}
		all[i].weight += v.weight
	}
	return all
}

// Learn takes in all receipts that had come by now, and the orders still out.
// Lines that came in one parcel count once, whether or not the caller joined
// them.
func Learn(receipts []Receipt, outstanding []Outstanding, now calendar.Day) *Experience {
	e := learn(receipts, outstanding, now)
	e.strain = e.findStrain(receipts, outstanding, now)
	return e
}

// learn is Learn without looking for a strain.
func learn(receipts []Receipt, outstanding []Outstanding, now calendar.Day) *Experience {
	e := &Experience{now: now, suppliers: map[string]*record{}}
	var late [][]int
	own := parcels(receipts, now)
	for _, supplier := range slices.Sorted(maps.Keys(own)) { // in order: sums of floats depend on it
		r := &record{receipts: own[supplier]}
		for _, receipt := range r.receipts {
			r.votes = append(r.votes, vote{
				late: receipt.DaysLate(), quoted: quotedDays(receipt.Quoted, receipt.Signal), signal: receipt.Signal,
				weight: math.Exp2(-float64(now-receipt.Arrived) / daysToHalf),
			})
		}
		r.alike = joined(r.votes)
		late = append(late, r.daysLate())
		e.suppliers[supplier] = r
	}
	e.worthOfBase = worthOfBase(late)
	for _, o := range overdueParcels(outstanding) {
		if e.suppliers[o.Supplier] == nil {
			e.suppliers[o.Supplier] = newRecord()
		}
		r := e.suppliers[o.Supplier]
		r.overdue = append(r.overdue, o)
	}
	for _, supplier := range slices.Sorted(maps.Keys(own)) {
		e.remember(supplier, e.suppliers[supplier])
	}
	return e
}

// remember finds out since when a supplier has been as it is now. What it is
// likened to are the other suppliers, for an order such as it usually gets.
func (e *Experience) remember(supplier string, r *record) {
	quotes := make([]int, len(r.votes))
	for i, v := range r.votes {
		quotes[i] = v.quoted
	}
	quoted := median(quotes)
	base := e.base(Order{Supplier: supplier, Quoted: &quoted, Signal: r.votes[len(r.votes)-1].signal})
	r.memories = memories(r.inOrder(), base.lateness(quoted), e.worthOfBase)
	r.change = findChange(r.receipts, r.memories)
}

// inOrder are what came and what is overdue, the oldest order first. What is overdue may still come today; what is so by
// more than any spread reaches is lost, or here and never booked in.
func (r *record) inOrder() []wait {
	type ordered struct {
		day calendar.Day
		wait
	}
	var all []ordered
	for _, came := range r.receipts {
		all = append(all, ordered{came.Ordered, wait{late: came.DaysLate()}})
	}
	for _, o := range r.overdue {
		if o.DaysOverdue() <= mostSpread {
			all = append(all, ordered{o.Ordered, wait{late: o.DaysOverdue() - 1, open: true}})
		}
	}
	slices.SortStableFunc(all, func(a, b ordered) int { return cmp.Compare(a.day, b.day) })
	seen := make([]wait, len(all))
	for i, one := range all {
		seen[i] = one.wait
	}
	return seen
}

// DaysLate are how many working days after their quotes a supplier's receipts came, the oldest order first.
func (e *Experience) DaysLate(supplier string) []int {
	if r := e.suppliers[supplier]; r != nil {
		return r.daysLate()
	}
	return nil
}

func (r *record) daysLate() []int {
	days := make([]int, len(r.votes))
	for i, v := range r.votes {
		days[i] = v.late
	}
	return days
}

// parcels sorts the receipts that had come by now by supplier and age, and leaves
// out all but one of the lines of a parcel.
func parcels(receipts []Receipt, now calendar.Day) map[string][]Receipt {
	type parcel struct {
		supplier         string
		ordered, arrived calendar.Day
		quoted           int
		signal           Signal
	}
	seen := map[parcel]bool{}
	own := map[string][]Receipt{}
	for _, r := range receipts {
		p := parcel{r.Supplier, r.Ordered, r.Arrived, quotedDays(r.Quoted, r.Signal), r.Signal}
		if r.Arrived <= now && !seen[p] {
			seen[p] = true
			own[r.Supplier] = append(own[r.Supplier], r)
		}
	}
	for _, r := range own {
		slices.SortStableFunc(r, func(a, b Receipt) int {
			return cmp.Or(cmp.Compare(a.Ordered, b.Ordered), cmp.Compare(a.Arrived, b.Arrived))
		})
	}
	return own
}

// overdueParcels are the orders that should have come, one a parcel whatever its lines.
func overdueParcels(outstanding []Outstanding) (overdue []Outstanding) {
	type parcel struct {
		kind
		ordered calendar.Day
	}
	seen := map[parcel]bool{}
	for _, o := range outstanding {
		p := parcel{kind{o.Supplier, quotedDays(o.Quoted, o.Signal), o.Signal}, o.Ordered}
		if o.DaysOverdue() > 0 && !seen[p] {
			seen[p] = true
			overdue = append(overdue, o)
		}
	}
	return overdue
}

// daysToHalf makes a receipt a year older count half. Halving is as fine as such
// a judgement, the project's own, can be.
const daysToHalf = 365.0

// Order is a shipment to be forecast.
type Order struct {
	Supplier string
	Quoted   *int // working days, absent if the supplier gives no lead time
	Signal   Signal
}

// count adds up votes on the order.
func count(votes []vote, order Order) (total float64) {
	quoted := quotedDays(order.Quoted, order.Signal)
	for _, v := range votes {
		total += v.weight * likeness(order.Signal, quoted, v.signal, v.quoted)
	}
	return total
}

// cast adds votes on the order, each times worth, to the days that they speak for.
func cast(ballot *Distribution, votes []vote, order Order, worth float64) {
	quoted := quotedDays(order.Quoted, order.Signal)
	for _, v := range votes {
		ballot.add(quoted+v.late, worth*v.weight*likeness(order.Signal, quoted, v.signal, v.quoted))
	}
}

// overdueToHalf makes an order so many working days overdue count half: the longer
// it is, the likelier it is lost, or here and never booked in, and the less it says
// of how long the next one takes.
const overdueToHalf = 40.0

func freshness(o Outstanding) float64 { return math.Exp2(-float64(o.DaysOverdue()) / overdueToHalf) }

// overdueVotes are the votes of orders that are overdue. Each speaks for the
// days still open to it, in the proportions of the base (Susarla and Van Ryzin,
// "Nonparametric Bayesian estimation of survival curves from incomplete
// observations", JASA 71, 1976, spread such votes in this way).
func (r *record) overdueVotes(order Order, base Distribution) Distribution {
	quoted := quotedDays(order.Quoted, order.Signal)
	votes := newDistribution()
	for _, o := range r.overdue {
		like := likeness(order.Signal, quoted, o.Signal, quotedDays(o.Quoted, o.Signal))
		votes.mixIn(base.StillWaiting(quoted+o.DaysOverdue()), like*freshness(o))
	}
	return votes
}

// unseen is what a memory leaves to be seen, in receipts; nought of a supplier that never changed.
func (r *record) unseen(m memory) float64 {
	if m.since == 0 {
		return 0
	}
	return unseen(len(r.votes) - m.since)
}

// latestOf is by how many working days the latest receipt that a memory counts was late, nought if none was.
func (r *record) latestOf(m memory) int {
	latest := 0
	for _, v := range r.votes[m.since:] {
		latest = max(latest, v.late)
	}
	return min(latest, horizonDays)
}

// shifts are those of all memories, each as likely as its memory, times a share.
func (r *record) shifts(share func(memory) float64) []shift {
	var chances [mostSpread - mostEarlier + 1]float64
	for _, m := range r.memories {
		of := m.weight * share(m)
		for _, s := range m.shifts {
			chances[s.days-mostEarlier] += of * s.chance
		}
	}
	var shifts []shift
	for i, chance := range chances {
		if chance > 0 {
			shifts = append(shifts, shift{mostEarlier + i, chance})
		}
	}
	return shifts
}

// likeness is how much a past order resembles the one asked about, from 0 to 1, by
// what was said of the stock and by the working days quoted. Its figures are the
// project's own judgement too.
func likeness(asked Signal, askedDays int, seen Signal, seenDays int) float64 {
	return likeSignal(asked, seen) * likeQuote(askedDays, seenDays)
}

// likeSignal: a part in stock and one to order travel different ways.
func likeSignal(asked, seen Signal) float64 {
	switch {
	case asked == seen:
		return 1
	case asked == Unknown || seen == Unknown:
		return 0.5
	case asked == ToOrder || seen == ToOrder:
		return 0.125
	}
	return 0.5 // in stock and low
}

// likeQuote: a day late on a quote of one day says little about a quote of
// twenty. One day is added to both, or nothing would be like "the same day".
func likeQuote(asked, seen int) float64 {
	ratio := float64(asked+1) / float64(seen+1)
	switch {
	case ratio > 4 || ratio < 0.25:
		return 0.25
	case ratio > 2 || ratio < 0.5:
		return 0.5
	}
	return 1
}
