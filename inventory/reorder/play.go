package reorder

// Outcome is what a rule came to.
type Outcome struct {
	Sales, Met         int // that counted, and of these those met whole
	NewSales, NewMet   int // of parts first sold after the start
	Pieces             int
	Stock              float64 // pounds on the shelf, on average over the days
	Dead               float64 // pounds on the shelf at the end of what has not sold since the start
	Lines, Parcels     int
	Days               int
	ItemSales, ItemMet []int // by item
	ItemStock          []float64
}

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
	parcels := map[[2]int]bool{}
	for day := w.Start; day < w.End; day++ {
		if (day-w.Start)%w.AdviseEvery == 0 {
			w.advise(rule, day, shelves)
		}
		look := (day-w.Start+1)%w.LookEvery == 0
		for i := range shelves {
			s, item := &shelves[i], &w.Items[i]
			if day > w.Start && (day-w.Start)%w.AdviseEvery == 0 && s.counts {
				w.order(s, item, day-1, &out, parcels) // whoever gets advice looks at the shelf with it
			}
			s.receive(day)
			s.sell(item, day, &out, i)
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
	out.Parcels = len(parcels)
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

// sell plays the sales of the day.
func (s *rack) sell(item *Item, day int, out *Outcome, i int) {
	for ; s.next < len(item.Sales) && item.Sales[s.next].Day <= day; s.next++ {
		if !s.counts {
			continue
		}
		pieces := item.Sales[s.next].Pieces
		met := 0
		if s.onHand >= pieces {
			met = 1
		}
		s.soldAny = true
		s.onHand -= min(pieces, s.onHand)
		out.Sales++
		out.Met += met
		out.Pieces += pieces
		out.ItemSales[i]++
		out.ItemMet[i] += met
		if s.isNew {
			out.NewSales++
			out.NewMet += met
		}
	}
}

// order orders in the evening of a day what the level asks for.
func (w *World) order(s *rack, item *Item, day int, out *Outcome, parcels map[[2]int]bool) {
	position := s.position()
	if s.level.UpTo <= 0 || position > s.level.At || position >= s.level.UpTo {
		return
	}
	// A parcel comes on a later day even where the supplier says "the same day": it is ordered in the evening.
	s.coming = append(s.coming, order{day + max(1, w.takes(item.Supplier, day)), s.level.UpTo - position})
	out.Lines++
	parcels[[2]int{item.Supplier, day}] = true
}
