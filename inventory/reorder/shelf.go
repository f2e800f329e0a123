package reorder

import (
	"cmp"
	"math"
	"slices"
	"sync"
)

// Item is a part of the shop, as the whole shelf is weighed.
type Item struct {
	Name     string
	Kind     string    // parts of one kind may have a season of their own; empty: of none
	Sales    []Sale    // oldest first
	Unseen   []Stretch // days on which not all who wanted it could have had it, so that none of them is a day without demand
	Price    float64   // of a piece, in the least quantity that is sold
	Breaks   []Break   // lower prices from larger quantities on, the smallest first
	Pack     int       // pieces that are sold together; 0 is 1
	Minimum  int       // pieces that are ordered at least
	Supplier int       // number of whoever it comes from
	Lead     *LeadTime // how long that takes, as far as it is known; nil where nobody sells it any more
	Least    int       // pieces that are to be on the shelf and on order whatever sells; 0 is none
	Most     int       // pieces that its place holds; 0 is any number
	Life     float64   // years until it perishes, or nobody rides what it is for; 0 is for ever
	StandIns []StandIn // parts taken in its stead where its own shelf is empty, the first first
	Waiting  float64   // pounds that it costs where a sale of it is not met whole; 0: only the target asks for it
}

// Break is the price of a piece from a number of pieces on.
type Break struct {
	From  int
	Price float64
}

// PriceAt is the price of a piece where so many are ordered.
func (i *Item) PriceAt(pieces int) float64 {
	price := i.Price
	for _, b := range i.Breaks {
		if pieces >= b.From {
			price = b.Price
		}
	}
	return price
}

// room reports whether so many pieces may be kept: what its place holds, and what sells while it keeps.
func (i *Item) room(upTo int, perYear float64) bool {
	return (i.Life == 0 || float64(upTo) <= perYear*i.Life) && (i.Most == 0 || upTo <= i.Most)
}

// ToOrder is how many pieces bring a position at or below the level up to the upper one, in whole packs: no more than
// that, unless one pack or what is ordered at least is more.
func (i *Item) ToOrder(position, upTo int) int {
	pack := max(1, i.Pack)
	return max((upTo-position)/pack, (i.Minimum+pack-1)/pack, 1) * pack
}

// Terms are what the shop decides for all parts.
type Terms struct {
	LookEvery   int     // working days from one look at the shelf to the next
	AdviseEvery int     // working days for which levels are kept as advised
	LineCost    float64 // what one more order line costs
	Holding     float64 // what a year on the shelf costs, for each pound of stock
	MostYears   float64 // how long stock may lie
	Season      *Season // what is believed of the year before the shop's own books are a year old; days then are those of [WorkingDay]; nil: no season
	Given       bool    // and it is the shop's own word, not that of riding
}

// choice is one way of keeping a part that is worth its money: more of it meets more
// sales at a price that the next piece of no other part beats. Of each part a dozen are kept, so it has nothing that
// follows from the others: see [Shelf.gain].
type choice struct {
	upTo, gap   int32   // pieces
	fill, stock float64 // share of sales met whole; pieces on the shelf on average
	cost        float64 // a year
}

// met is the sales a year that a choice meets, of so many a day.
func (c choice) met(perDay float64) float64 { return c.fill * perDay * WorkingDaysPerYear }

// Shelf is the shop's parts, weighed.
type Shelf struct {
	items   []Item
	choices [][]choice // of each item, the cheapest first; none is not to keep it
	sales   float64    // a year
	perDay  []float64
	asked   []float64 // a day of each item: its own sales and those that come to it from parts whose shelf is empty
	covered []float64 // chance that a sale which finds the item's own shelf empty is met by a stand-in; nil where none is
	promise promise
	learnt  *learnt
	books   *books
	now     int
	unbound func() *Shelf // the same shelf if nothing were insisted on
}

// Weigh works out, for all parts together, what each level is worth.
func Weigh(items []Item, start, now int, terms Terms) *Shelf {
	return stockBook(items).Weigh(start, now, terms)
}

// Weigh does so for the parts of a shop, of which there may be many.
func (b StockBook) Weigh(start, now int, terms Terms) *Shelf {
	l := learn(b, start, now, terms)
	s := l.weigh(b, now)
	s.promise = l.keptPromises(b, now)
	s.unbound = sync.OnceValue(s.withoutFloors)
	return s
}

// weigh does so by what was learnt.
func (l *learnt) weigh(of StockBook, now int) *Shelf {
	items := of.Items
	s := &Shelf{items: items, choices: make([][]choice, len(items)), perDay: make([]float64, len(items)), asked: make([]float64, len(items)), learnt: l, books: booksOf(of, l.start, now), now: now}
	s.books.bend(l.kinds)
	var r record
	var o outlook
	spans := map[*LeadTime][]span{}
	weighed := func(i int, extra float64) []choice {
		if items[i].Lead == nil || !s.books.record(i, &r) { // nobody sells it any more, so nothing can be kept of it
			return nil
		}
		rate, form := l.outlook(&r, now)
		if own := rate.shape / rate.rate; extra > 0 {
			rate.rate *= own / (own + extra)
		}
		lead := items[i].Lead
		if spans[lead] == nil {
			spans[lead] = protection(lead, l.terms.LookEvery)
		}
		o.look(rate, form, spans[lead], l.terms.LookEvery, l.rhythm())
		s.asked[i], s.perDay[i] = o.perDay, o.perDay-extra
		return o.choices(&items[i], l.terms, l.seasonAhead(&r, now))
	}
	for i := range items {
		s.choices[i] = weighed(i, 0)
		s.sales += s.perDay[i] * WorkingDaysPerYear
	}
	s.share(weighed)
	return s
}

// choices are the levels and gaps that are worth a thought: the corners of the curve of
// sales met against money. The season is that of the coming weeks, which a part's life outlasts.
func (o *outlook) choices(item *Item, terms Terms, season float64) []choice {
	perYear := o.perDay * o.pieces * WorkingDaysPerYear
	all := o.room.choices[:0]
	tried := -1
	for _, pieces := range gaps(perYear, season, item, terms) {
		gap := min(finest, max(1, (pieces+o.unit/2)/o.unit))
		if gap == tried {
			continue
		}
		tried = gap
		pack := max(1, item.Pack)
		pieces = min(pieces, max(pack, finest*o.unit/pack*pack))
		price := item.PriceAt(pieces)
		l := o.lots(gap)
		least := 0
		if item.Least > 0 {
			least = (item.Least - 1 + o.unit - 1) / o.unit
		}
		for upTo := gap + least; upTo <= gap+max(o.most, least); upTo++ {
			most := (upTo-gap)*o.unit + pieces
			if !item.room(most, perYear/season) {
				break
			}
			k := o.keep(upTo, gap, l)
			all = append(all, choice{upTo: int32(most), gap: int32(pieces), fill: k.fill, stock: k.stock * float64(o.unit), cost: o.cost(k, item, price, terms)})
			if k.fill > 0.9995 {
				break
			}
		}
	}
	o.room.choices = all
	if len(all) == 0 {
		return nil // no room for as many as are ordered together
	}
	return corners(all, o.perDay, item.Least > 0)
}

// cost is what so keeping a part costs a year for holding and ordering, less what a lower price saves: what is not met from
// the shelf is bought singly, for the job.
func (o *outlook) cost(k kept, item *Item, price float64, terms Terms) float64 {
	perYear := o.perDay * o.pieces * WorkingDaysPerYear
	return k.stock*float64(o.unit)*price*terms.Holding + k.orders*WorkingDaysPerYear*terms.LineCost + k.fill*perYear*(price-item.Price)
}

// gaps are the order quantities to be weighed: about the economic one, in whole packs.
// And the quantities from which a piece is cheaper, up to what sells in the time that stock may lie.
func gaps(perYear, season float64, item *Item, terms Terms) []int {
	best := economicQuantity(perYear, terms.LineCost, item.Price*terms.Holding)
	most := max(1, perYear*terms.MostYears)
	pack := max(1, item.Pack)
	var all []int
	for _, times := range []float64{0.75, 1, 1.5} {
		packs := max(1, int(math.Round(min(best*times, most)/float64(pack))))
		all = append(all, max(packs*pack, (item.Minimum+pack-1)/pack*pack))
	}
	room := float64(item.Most)
	if keeps := perYear / season * item.Life; keeps > 0 && (room == 0 || keeps < room) {
		room = keeps
	}
	if room > 0 && room < 2*best { // what an order leaves of the room is for the level
		for _, part := range []float64{1, 2, 4} {
			all = append(all, max(int(room/part)/pack*pack, (item.Minimum+pack-1)/pack*pack, pack))
		}
	}
	for _, b := range item.Breaks {
		quantity := (b.From + pack - 1) / pack * pack
		if float64(quantity) > most {
			continue
		}
		if economic := economicQuantity(perYear, terms.LineCost, b.Price*terms.Holding); economic > float64(quantity) {
			quantity = int(math.Round(min(economic, most)/float64(pack))) * pack
		}
		all = append(all, max(quantity, (item.Minimum+pack-1)/pack*pack))
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// corners keeps the choices on the upper hull of sales met against cost: those that the
// next pound may buy. Where the part is kept whatever it costs the cheapest of them is insisted on, and the others begin
// from it. What waiting costs tilts the curve and leaves its corners where they are.
func corners(all []choice, perDay float64, kept bool) []choice {
	met := func(c choice) float64 { return c.met(perDay) }
	slices.SortFunc(all, func(a, b choice) int {
		if byCost := cmp.Compare(a.cost, b.cost); byCost != 0 {
			return byCost
		}
		return cmp.Compare(met(b), met(a))
	})
	hull := []choice{{}}
	if kept {
		hull = []choice{all[0]}
	}
	for _, c := range all {
		if met(c) <= met(hull[len(hull)-1]) {
			continue
		}
		for len(hull) > 1 {
			last, before := hull[len(hull)-1], hull[len(hull)-2]
			if (met(c)-met(last))*(last.cost-before.cost) < (met(last)-met(before))*(c.cost-last.cost) {
				break
			}
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, c)
	}
	if !kept {
		hull = hull[1:]
	}
	return slices.Clone(hull) // no more room than they take
}

// record is that of an item; nil for one that has not sold.
func (s *Shelf) record(item int) *record {
	var r record
	if !s.books.record(item, &r) {
		return nil
	}
	return &r
}

// Homeless reports whether an item sells and can be had, but not so few at a time as its place holds or as sell while
// it keeps.
func (s *Shelf) Homeless(item int) bool {
	return s.books.sold(item) && s.items[item].Lead != nil && len(s.choices[item]) == 0
}

// Keep is what to keep of a part: nothing, if UpTo is 0.
type Keep struct {
	At, UpTo int
	Fill     float64 // share of sales that are then met whole, by what came of what was said before
	PerDay   float64 // sales a day
	Stock    float64 // pieces on the shelf, on average
	Cost     float64 // pounds a year for holding and ordering, less what a lower price saves
	own      float64 // share of its sales that its own stock meets; the rest of Fill stand-ins meet
	choice   int     // its number among the part's choices, from 1; 0 is not to keep it
}

// For is what to keep so that the share of sales is met for the least money. More is kept where a customer's waiting costs
// more than that.
func (s *Shelf) For(target float64) []Keep {
	keeps := s.walk(s.promise.ask(target) * s.sales)
	s.tell(keeps)
	return keeps
}

// tell says what comes of each part: what its own stock and its stand-ins meet, as far as what was said before came true.
func (s *Shelf) tell(keeps []Keep) {
	for i := range keeps {
		fill := keeps[i].own
		if len(s.items[i].StandIns) > 0 {
			fill += (1 - fill) * s.coveredAt(i, keeps)
		}
		keeps[i].Fill = s.promise.gives(fill)
	}
}

// walk takes step after step until so many sales a year are met, or none is left: the marginal analysis of Fox ("Discrete
// optimization via marginal analysis", Management Science 13, 1966). As each part's choices are the corners of its curve,
// no other shelf meets as many for less.
func (s *Shelf) walk(sales float64) []Keep {
	out, met := s.bare(), 0.0
	for st := range s.steps() {
		if met >= sales-1e-9 && st.worth > 0 { // what saves money, by a lower price or a wait, is taken whatever is asked for
			break
		}
		_, sold, _ := s.gain(st.item, st.choice)
		met += sold
		out[st.item] = s.kept(st.item, st.choice)
	}
	return out
}

// bare is a shelf on which nothing is kept.
func (s *Shelf) bare() []Keep {
	out := make([]Keep, len(s.items))
	for i := range out {
		out[i].PerDay = s.perDay[i]
	}
	return out
}

// kept is a part kept by one of its choices.
func (s *Shelf) kept(item, k int) Keep {
	c := s.choices[item][k]
	return Keep{At: int(c.upTo - c.gap), UpTo: int(c.upTo), Fill: c.fill, own: c.fill, PerDay: s.perDay[item], Stock: c.stock, Cost: c.cost, choice: k + 1}
}

// Total is what a shelf comes to as a whole.
type Total struct {
	Share float64 // of the sales met whole
	Stock float64 // pounds on the shelf, on average
	Cost  float64 // pounds a year, for holding and ordering
	Waits float64 // sales a year not met
	met   float64
	cost  float64
}

// total adds up what is kept.
func (s *Shelf) total(keeps []Keep) Total {
	var t Total
	for i, k := range keeps {
		if k.choice == 0 {
			continue
		}
		c := s.choices[i][k.choice-1]
		t.met += c.met(s.asked[i])
		t.cost += c.cost
		t.Stock += c.stock * s.items[i].Price
	}
	t.Cost = t.cost
	if s.sales > 0 {
		t.Share = s.promise.gives(t.met / s.sales)
		t.Waits = (1 - t.Share) * s.sales
	}
	return t
}

// Offered are the levels of one part that are worth their money, from the least, with what each meets and costs.
func (s *Shelf) Offered(item int) []Keep {
	var all []Keep
	for k := range s.choices[item] {
		level := s.kept(item, k)
		level.Fill = s.promise.gives(level.Fill)
		all = append(all, level)
	}
	return all
}

// Total is what the keeps come to together.
func (s *Shelf) Total(keeps []Keep) Total { return s.total(keeps) }

// Within is the shelf that meets the most sales with so many pounds on it on average. A part that is too dear for what
// is left is passed over.
func (s *Shelf) Within(stock float64) []Keep {
	keeps := s.bare()
	passed := make([]bool, len(s.items))
	taken := 0.0
	for st := range s.steps() {
		_, _, pieces := s.gain(st.item, st.choice)
		adds := pieces * s.items[st.item].Price
		if passed[st.item] {
			continue
		}
		if taken+adds > stock && st.worth != insisted {
			passed[st.item] = true
			continue
		}
		taken += adds
		keeps[st.item] = s.kept(st.item, st.choice)
	}
	s.tell(keeps)
	return keeps
}

// Beside are the neighbours of what is kept: without the step that is worth least of those taken, and with the one that
// is worth most of the others. One that there is not is nil.
func (s *Shelf) Beside(keeps []Keep) (less, more []Keep) {
	var last, next *step
	for st := range s.steps() {
		switch kept := keeps[st.item].choice; {
		case st.choice == kept-1 && st.worth > 0: // what saves money, or is insisted on, is not left out
			last = &st
		case st.choice == kept && next == nil:
			next = &st
		}
	}
	if last != nil {
		less = slices.Clone(keeps)
		less[last.item] = Keep{PerDay: s.perDay[last.item]}
		if last.choice > 0 {
			less[last.item] = s.kept(last.item, last.choice-1)
		}
		s.tell(less)
	}
	if next != nil {
		more = slices.Clone(keeps)
		more[next.item] = s.kept(next.item, next.choice)
		s.tell(more)
	}
	return less, more
}

func meanOf(form []float64) (mean float64) {
	for x, chance := range form {
		mean += float64(x) * chance
	}
	return mean
}

// Item is one of those weighed, without its sales.
func (s *Shelf) Item(item int) Item { return s.items[item] }

// Sales are those of an item, oldest first.
func (s *Shelf) Sales(item int) []Sale { return s.books.Sold[item].Sales(nil) }
