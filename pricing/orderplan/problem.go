package orderplan

// Problem is what has to be bought and from whom it can be had. Amounts of
// money are whole pence (or the minor unit of whatever one currency the caller
// converted everything to); quantities are units; days are counted from the day
// the order is placed, which is day 0.
//
// A Problem reads from and writes to the JSON that the package comment shows.
type Problem struct {
	Lines     []Line     `json:"lines"`
	Suppliers []Supplier `json:"suppliers"`
	Offers    []Offer    `json:"offers"`

	// NoSplit forbids buying one line from two suppliers.
	NoSplit bool `json:"no_split,omitempty"`
}

// Line is one thing to buy.
type Line struct {
	ID string `json:"id"`

	// Need is how many units must be bought at least. A line that need not be
	// bought at all has Need 0 (a reorder brought forward): it costs money like
	// any other, so it is bought only where that lowers the total, by reaching a
	// carriage-paid level or a minimum order.
	Need int `json:"need"`

	// Max is how many units may be bought at most, over all suppliers.
	Max int `json:"max"`

	// DueDay is the last day on which the goods may arrive; nil: any day will do.
	DueDay *int `json:"due_day,omitempty"`
}

// Supplier is a firm that delivers everything bought from it as one order.
type Supplier struct {
	ID string `json:"id"`

	// Carriage is charged once where anything is bought and the goods stay
	// below CarriagePaidAt (nil: always charged).
	Carriage       int64  `json:"carriage"`
	CarriagePaidAt *int64 `json:"carriage_paid_at,omitempty"`

	// MinimumOrder is what the goods must come to where anything is bought.
	MinimumOrder int64 `json:"minimum_order,omitempty"`
}

// Offer is one supplier's price list for one line. A supplier may make several
// offers for a line (singly and by the box); they may be used together.
type Offer struct {
	Line     string `json:"line"`
	Supplier string `json:"supplier"`

	// Pack is how many units one pack holds; only whole packs are sold.
	Pack int `json:"pack"`

	// ArrivalDay is the day the goods are here; nil: no day is held against the
	// offer. An offer that arrives after the line's due day is not used.
	ArrivalDay *int `json:"arrival_day,omitempty"`

	Discount Discount `json:"discount"`
	Breaks   []Break  `json:"breaks"`
}

// Discount says which units a price break applies to.
type Discount string

const (
	// AllUnits: the highest tier reached prices every unit.
	AllUnits Discount = "all-units"
	// Incremental: each unit costs the price of the tier it lies in.
	Incremental Discount = "incremental"
)

// Break is a tier of a price list: from Min units on, UnitPrice a unit. The
// first break's Min is the least quantity sold.
//
// In an incremental list the tiers are counted from where the list begins. In a
// list that begins at 0, Min is a boundary: {0 at 8}, {1200 at 7} prices 1200
// units at 8 and the next at 7. In a list that begins at 1 or more, Min is the
// number of a unit: {1 at 8}, {1200 at 7} prices the 1200th unit at 7; units
// before the first Min cost the first price.
type Break struct {
	Min       int   `json:"min"`
	UnitPrice int64 `json:"unit_price"`
}

// Cost is what a quantity of the offer costs, in pence, without carriage. ok is
// false where the offer does not sell that quantity: not whole packs, none, or
// fewer than the least sold.
func (o Offer) Cost(units int) (pence int64, ok bool) {
	if units < 1 || units%o.Pack != 0 || units < o.Breaks[0].Min {
		return 0, false
	}
	if o.Discount == AllUnits || len(o.Breaks) == 1 {
		price := o.Breaks[0].UnitPrice
		for _, b := range o.Breaks {
			if units >= b.Min {
				price = b.UnitPrice
			}
		}
		return int64(units) * price, true
	}
	left, from := units, 0
	for i, b := range o.Breaks {
		upTo := units
		if i+1 < len(o.Breaks) {
			upTo = min(units, o.Breaks[i+1].Min)
			if o.Breaks[0].Min > 0 {
				upTo = min(units, o.Breaks[i+1].Min-1)
			}
		}
		pence += int64(upTo-from) * b.UnitPrice
		left -= upTo - from
		from = upTo
	}
	return pence, left == 0
}

// inTime says whether the offer arrives by the line's due day.
func (o Offer) inTime(l Line) bool {
	return l.DueDay == nil || o.ArrivalDay == nil || *o.ArrivalDay <= *l.DueDay
}

// Plan is what to buy from whom, with a proof of how good it is.
type Plan struct {
	// Total is the landed cost: goods and carriage, in pence.
	Total int64 `json:"total"`

	// LowerBound is what every plan costs at least. Proven says that it equals
	// Total: no plan is cheaper by even a penny.
	LowerBound int64 `json:"lower_bound"`
	Proven     bool  `json:"proven"`

	Suppliers []SupplierTotal `json:"suppliers"`
	Lines     []Purchase      `json:"lines"`

	// Certificate lets Check re-add a lower bound in whole numbers.
	Certificate Certificate `json:"-"`

	// Work is how much searching it took.
	Work Work `json:"-"`
}

// Gap is how far above the least possible cost the plan may be, in pence.
func (p Plan) Gap() int64 { return p.Total - p.LowerBound }

// SupplierTotal is the order placed with one supplier.
type SupplierTotal struct {
	ID       string `json:"id"`
	Goods    int64  `json:"goods"`
	Carriage int64  `json:"carriage"`
}

// Purchase is so many units of a line bought from one offer of a supplier.
type Purchase struct {
	ID       string `json:"id"`
	Supplier string `json:"supplier"`
	Units    int    `json:"units"`
	Cost     int64  `json:"cost"`
}

// Work counts what the search did.
type Work struct {
	ModeNodes int // nodes of the tree over suppliers' modes
	LineNodes int // nodes of the trees over lines, modes being fixed
}
