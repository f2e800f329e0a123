package reorder

import (
	"cmp"
	"maps"
	"slices"
)

// Outcome is what a rule came to.
type Outcome struct {
	Sales, Met         int // that counted, and of these those met whole
	NewSales, NewMet   int // of parts first sold after the start
	Pieces             int
	Stock              float64 // pounds on the shelf, on average over the days
	Dead               float64 // pounds on the shelf at the end of what has not sold since the start
	Lines, Parcels     int
	Carriage           float64 // pounds, for all parcels
	Days               int
	ItemSales, ItemMet []int // by item
	Advised            []Met // from each advice to the next
	ItemStock          []float64
}

// Met is how many sales counted in a time, and how many of them were met whole.
type Met struct{ Sales, Met int }

// Share of sales that were met whole.
func (o Outcome) Share() float64 { return share(o.Met, o.Sales) }

// NewShare is that of parts first sold after the start.
func (o Outcome) NewShare() float64 { return share(o.NewMet, o.NewSales) }

func share(met, sales int) float64 {
	if sales == 0 {
		return 0
	}
	return float64(met) / float64(sales)
}

// years is how long was played.
func (o Outcome) years() float64 { return float64(o.Days) / WorkingDaysPerYear }

// HoldingPerYear and OrderingPerYear are what stock and order lines cost, in pounds a year.
func (o Outcome) HoldingPerYear(w *World) float64  { return o.Stock * w.Holding }
func (o Outcome) OrderingPerYear(w *World) float64 { return float64(o.Lines) * w.LineCost / o.years() }

// MissedPerYear is what sales not met cost, in pounds a year.
func (o Outcome) MissedPerYear(w *World) float64 {
	return float64(o.Sales-o.Met) * w.Missed / o.years()
}

// CostPerYear is what holding and ordering cost together.
func (o Outcome) CostPerYear(w *World) float64 { return o.HoldingPerYear(w) + o.OrderingPerYear(w) }

// order is a parcel's line on its way.
type order struct{ due, pieces int }

// parcel is what is ordered of a supplier in the evening of a day: its carriage is paid once, as an order's is.
type parcel struct{ supplier, day int }

// sent is the carriage of all parcels, by the worth of the goods in each; in one order, so that sums are the same every time.
func (w *World) sent(goods map[parcel]float64) (carriage float64) {
	inOrder := slices.SortedFunc(maps.Keys(goods), func(a, b parcel) int {
		return cmp.Or(cmp.Compare(a.day, b.day), cmp.Compare(a.supplier, b.supplier))
	})
	for _, p := range inOrder {
		carriage += w.Carriage[p.supplier].of(goods[p])
	}
	return carriage
}

// rack is one item's.
type rack struct {
	onHand  int
	coming  []order
	level   Keep
	counts  bool
	isNew   bool
	next    int // the next of its sales
	soldAny bool
}

func (s *rack) position() int {
	n := s.onHand
	for _, o := range s.coming {
		n += o.pieces
	}
	return n
}

// Play plays a rule over the world.
func (w *World) Play(rule Rule) Outcome {
	out := Outcome{Days: w.End - w.Start, ItemSales: make([]int, len(w.Items)), ItemMet: make([]int, len(w.Items)), ItemStock: make([]float64, len(w.Items))}
	shelves := make([]rack, len(w.Items))
	for i, item := range w.Items {
		shelves[i].next = countBefore(item.Sales, w.Start)
	}
	parcels := map[parcel]float64{}
	for day := w.Start; day < w.End; day++ {
		if (day-w.Start)%w.AdviseEvery == 0 {
			w.advise(rule, day, shelves)
			out.Advised = append(out.Advised, Met{})
		}
		look := (day-w.Start+1)%w.LookEvery == 0
		for i := range shelves {
			s, item := &shelves[i], &w.Items[i]
			if day > w.Start && (day-w.Start)%w.AdviseEvery == 0 && s.counts {
				w.order(s, item, day-1, &out, parcels) // whoever gets advice looks at the shelf with it
			}
			s.receive(day)
		}
		for i := range shelves {
			w.sell(shelves, i, day, &out)
		}
		for i := range shelves {
			s, item := &shelves[i], &w.Items[i]
			if look && s.counts {
				w.order(s, item, day, &out, parcels)
			}
			out.ItemStock[i] += float64(s.onHand) * item.Price / float64(out.Days)
			out.Stock += float64(s.onHand) * item.Price / float64(out.Days)
		}
	}
	for i := range shelves {
		if !shelves[i].soldAny {
			out.Dead += float64(shelves[i].onHand) * w.Items[i].Price
		}
	}
	out.Parcels, out.Carriage = len(parcels), w.sent(parcels)
	return out
}

// advise asks the rule in the evening before the day.
func (w *World) advise(rule Rule, day int, shelves []rack) {
	levels := rule(Books{World: w, Now: day})
	for i := range shelves {
		s := &shelves[i]
		s.level = levels[i]
		if s.counts || s.next == 0 {
			continue
		}
		s.counts = true
		if day == w.Start {
			s.onHand = s.level.UpTo
		} else {
			s.isNew = true
		}
	}
}

// receive takes in what is due.
func (s *rack) receive(day int) {
	kept := s.coming[:0]
	for _, o := range s.coming {
		if o.due <= day {
			s.onHand += o.pieces
		} else {
			kept = append(kept, o)
		}
	}
	s.coming = kept
}

// sell plays the sales of the day. What a part's own shelf cannot meet whole a stand-in's may: all pieces of it, for of
// a pair no two are of different parts.
func (w *World) sell(shelves []rack, i, day int, out *Outcome) {
	s, item := &shelves[i], &w.Items[i]
	for ; s.next < len(item.Sales) && item.Sales[s.next].Day <= day; s.next++ {
		if !s.counts {
			continue
		}
		pieces := item.Sales[s.next].Pieces
		met := 0
		s.soldAny = true
		switch in := w.insteadOf(shelves, i, pieces); {
		case s.onHand >= pieces:
			met = 1
			s.onHand -= pieces
		case in != nil:
			met = 1
			in.onHand -= pieces
			in.soldAny = true
		default:
			s.onHand = 0
		}
		out.Sales++
		out.Met += met
		now := &out.Advised[len(out.Advised)-1]
		now.Sales, now.Met = now.Sales+1, now.Met+met
		out.Pieces += pieces
		out.ItemSales[i]++
		out.ItemMet[i] += met
		if s.isNew {
			out.NewSales++
			out.NewMet += met
		}
	}
}

// insteadOf is the shelf of the first stand-in that is there and that the customer takes; nil for none.
func (w *World) insteadOf(shelves []rack, i, pieces int) *rack {
	for _, in := range w.Items[i].StandIns {
		if shelves[in.Item].onHand >= pieces && in.Item != i && w.takesInstead(i, shelves[i].next, in) {
			return &shelves[in.Item]
		}
	}
	return nil
}

// order orders in the evening of a day what the level asks for.
func (w *World) order(s *rack, item *Item, day int, out *Outcome, parcels map[parcel]float64) {
	position := s.position()
	if s.level.UpTo <= 0 || position > s.level.At || position >= s.level.UpTo {
		return
	}
	// A parcel comes on a later day even where the supplier says "the same day": it is ordered in the evening.
	pieces := item.ToOrder(position, s.level.UpTo)
	s.coming = append(s.coming, order{day + max(1, w.takes(item, day)), pieces})
	out.Lines++
	parcels[parcel{item.Supplier, day}] += float64(pieces) * item.PriceAt(pieces)
}
