package reorder

import (
	"cmp"
	"math"
	"slices"
)

// Item is a part of the shop, as the whole shelf is weighed.
type Item struct {
	Name     string
	Sales    []Sale    // oldest first
	Price    float64   // of a piece
	Pack     int       // pieces that are sold together; 0 is 1
	Minimum  int       // pieces that are ordered at least
	Supplier int       // number of whoever it comes from
	Lead     *LeadTime // how long that takes, as far as it is known
}

// Terms are what the shop decides for all parts.
type Terms struct {
	LookEvery   int     // working days from one look at the shelf to the next
	AdviseEvery int     // working days for which levels are kept as advised
	LineCost    float64 // what one more order line costs
	Holding     float64 // what a year on the shelf costs, for each pound of stock
	MostYears   float64 // how long stock may lie
}

// choice is one way of keeping a part that is worth its money: more of it meets more
// sales at a price that the next piece of no other part beats.
type choice struct {
	kept
	cost  float64 // a year
	met   float64 // sales a year, weighed
	worth float64 // pounds a sale met, beyond the choice before
}

// Shelf is the shop's parts, weighed.
type Shelf struct {
	items    []Item
	choices  [][]choice // of each item, the cheapest first; none is not to keep it
	sales    float64    // a year, weighed
	steps    []step
	perDay   []float64
	promise  promise
	insights []Insight
	learnt   *learnt
	records  []*record
	now      int
}

// step is one choice more for a part.
type step struct {
	item, choice int
	worth        float64
}

// Weigh works out, for all parts together, what each level is worth.
func Weigh(items []Item, start, now int, terms Terms) *Shelf {
	l := learn(items, start, now, terms)
	s := l.weigh(items, now)
	s.promise = l.keptPromises(items, now)
	s.insights = make([]Insight, len(items))
	all, known := recordsOf(items, start, now)
	s.learnt, s.records, s.now = l, all, now
	for i, r := range all {
		if r != nil {
			rate, form := l.outlook(r, now)
			s.insights[i] = l.insight(r, now, rate, meanOf(form), len(known))
		}
	}
	return s
}

// weigh does so by what was learnt.
func (l *learnt) weigh(items []Item, now int) *Shelf {
	s := &Shelf{items: items, perDay: make([]float64, len(items))}
	all, _ := recordsOf(items, l.start, now)
	spans := map[*LeadTime][]span{}
	for i, r := range all {
		if r == nil {
			s.add(i, nil)
			continue
		}
		rate, form := l.outlook(r, now)
		lead := items[i].Lead
		if spans[lead] == nil {
			spans[lead] = protection(lead, l.terms.LookEvery)
		}
		o := look(rate, form, spans[lead], l.terms.LookEvery)
		s.perDay[i] = o.perDay
		s.sales += o.perDay * WorkingDaysPerYear
		s.add(i, o.choices(&items[i], l.terms))
	}
	s.sort()
	return s
}

// add takes in the choices of the next item.
func (s *Shelf) add(item int, choices []choice) {
	s.choices = append(s.choices, choices)
	for k, c := range choices {
		s.steps = append(s.steps, step{item, k, c.worth})
	}
}

// sort puts the steps in the order in which the next pound is best spent.
func (s *Shelf) sort() {
	slices.SortStableFunc(s.steps, func(a, b step) int { return cmp.Compare(a.worth, b.worth) })
}

// choices are the levels and gaps that are worth a thought: the corners of the curve of
// sales met against money.
func (o *outlook) choices(item *Item, terms Terms) []choice {
	perYear := o.perDay * o.pieces * WorkingDaysPerYear
	holding := item.Price * terms.Holding
	var all []choice
	tried := -1
	for _, pieces := range gaps(perYear, holding, item, terms) {
		gap := min(finest, max(1, (pieces+o.unit/2)/o.unit))
		if gap == tried {
			continue
		}
		tried = gap
		l := o.lots(gap)
		for upTo := gap; upTo <= gap+o.most; upTo++ {
			k := o.keep(upTo, gap, l)
			all = append(all, choice{kept: kept{k.upTo * o.unit, k.gap * o.unit, k.fill, k.stock * float64(o.unit), k.orders},
				cost: k.stock*float64(o.unit)*holding + k.orders*WorkingDaysPerYear*terms.LineCost,
				met:  k.fill * o.perDay * WorkingDaysPerYear})
			if k.fill > 0.9995 {
				break
			}
		}
	}
	return corners(all)
}

// gaps are the order quantities to be weighed: about the economic one, in whole packs.
func gaps(perYear, holding float64, item *Item, terms Terms) []int {
	best := economicQuantity(perYear, terms.LineCost, holding)
	most := max(1, perYear*terms.MostYears)
	pack := max(1, item.Pack)
	var all []int
	for _, times := range []float64{0.75, 1, 1.5} {
		packs := max(1, int(math.Round(min(best*times, most)/float64(pack))))
		all = append(all, max(packs*pack, (item.Minimum+pack-1)/pack*pack))
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// corners keeps the choices on the upper hull of sales met against cost: those that the
// next pound may buy.
func corners(all []choice) []choice {
	slices.SortFunc(all, func(a, b choice) int { return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(b.met, a.met)) })
	hull := []choice{{}}
	for _, c := range all {
		if c.met <= hull[len(hull)-1].met {
			continue
		}
		for len(hull) > 1 {
			last, before := hull[len(hull)-1], hull[len(hull)-2]
			if (c.met-last.met)*(last.cost-before.cost) < (last.met-before.met)*(c.cost-last.cost) {
				break
			}
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, c)
	}
	for i := 1; i < len(hull); i++ {
		hull[i].worth = (hull[i].cost - hull[i-1].cost) / (hull[i].met - hull[i-1].met)
	}
	return hull[1:]
}

// Keep is what to keep of a part: nothing, if UpTo is 0.
type Keep struct {
	At, UpTo int
	Fill     float64 // share of sales that are then met whole
	PerDay   float64 // sales a day
	Stock    float64 // pieces on the shelf, on average
	choice   int     // its number among the part's choices, from 1; 0 is not to keep it
}

// For is what to keep so that the share of sales is met for the least money.
func (s *Shelf) For(target float64) []Keep {
	return s.walk(s.promise.ask(target) * s.sales)
}

// walk takes step after step until so many sales a year are met, or none is left: the marginal analysis of Fox ("Discrete
// optimization via marginal analysis", Management Science 13, 1966). As each part's choices are the corners of its curve,
// no other shelf meets as many for less.
func (s *Shelf) walk(sales float64) []Keep {
	out := make([]Keep, len(s.items))
	for i := range out {
		out[i].PerDay = s.perDay[i]
	}
	met := 0.0
	for _, st := range s.steps {
		if met >= sales-1e-9 {
			break
		}
		c := s.choices[st.item][st.choice]
		met += c.met
		if st.choice > 0 {
			met -= s.choices[st.item][st.choice-1].met
		}
		out[st.item] = Keep{At: c.upTo - c.gap, UpTo: c.upTo, Fill: c.fill, PerDay: s.perDay[st.item], Stock: c.stock, choice: st.choice + 1}
	}
	return out
}

// Total is what a shelf comes to as a whole.
type Total struct {
	Share float64 // of the sales met whole
	Stock float64 // pounds on the shelf, on average
	Cost  float64 // pounds a year, for holding and ordering
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
		t.met += c.met
		t.cost += c.cost
		t.Stock += c.stock * s.items[i].Price
	}
	t.Cost = t.cost
	if s.sales > 0 {
		t.Share = t.met / s.sales
	}
	return t
}

// bound is what meeting so many sales a year costs at least, by Lagrange's relaxation at the price of the last step that
// they need.
func (s *Shelf) bound(sales float64) float64 {
	price, met := 0.0, 0.0
	for _, st := range s.steps {
		if met >= sales {
			break
		}
		price = st.worth
		met += s.choices[st.item][st.choice].met
		if st.choice > 0 {
			met -= s.choices[st.item][st.choice-1].met
		}
	}
	least := price * sales
	for _, choices := range s.choices {
		best := 0.0
		for _, c := range choices {
			best = min(best, c.cost-price*c.met)
		}
		least += best
	}
	return least
}

// Offered are the levels of one part that are worth their money, from the least, with what each meets and costs.
func (s *Shelf) Offered(item int) []Keep {
	var all []Keep
	for k, c := range s.choices[item] {
		all = append(all, Keep{At: c.upTo - c.gap, UpTo: c.upTo, Fill: c.fill, PerDay: s.perDay[item], Stock: c.stock, choice: k + 1})
	}
	return all
}

// Total is what the keeps come to together.
func (s *Shelf) Total(keeps []Keep) Total { return s.total(keeps) }

// Within is the shelf that meets the most sales with so many pounds on it on average, and what the next step would add.
func (s *Shelf) Within(stock float64) (keeps, next []Keep) {
	taken := 0.0
	sales := 0.0
	for _, st := range s.steps {
		c, was := s.choices[st.item][st.choice], choice{}
		if st.choice > 0 {
			was = s.choices[st.item][st.choice-1]
		}
		taken += (c.stock - was.stock) * s.items[st.item].Price
		if taken > stock {
			return s.walk(sales), s.walk(sales + c.met - was.met)
		}
		sales += c.met - was.met
	}
	return s.walk(sales), nil
}

func meanOf(form []float64) (mean float64) {
	for x, chance := range form {
		mean += float64(x) * chance
	}
	return mean
}

// Item is one of those weighed.
func (s *Shelf) Item(item int) Item { return s.items[item] }
