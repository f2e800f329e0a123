package orderplan

import "stead/substitution/supply"

// Problem is what has to be bought and from whom it can be had. Amounts of
// money are whole numbers of one unit, which the caller chooses: pence in a
// file, finer in the program. Days are counted from the day the order is
// placed, which is day 0. Lines, suppliers and offers are known by their
// indices here and in the answer; an ID names a line or supplier in words and
// in JSON.
//
// A Problem reads from and writes to the JSON that the package comment shows.
type Problem struct {
	Lines     []Line
	Suppliers []Supplier
	Offers    []Offer

	// NoSplit forbids buying one line from two suppliers.
	NoSplit bool
}

// Line is one thing to buy.
type Line struct {
	ID string

	// Need is how many units must be bought at least. A line that need not be
	// bought at all has Need 0 (a reorder brought forward): it costs money like
	// any other, so it is bought only where that lowers the total, by reaching a
	// carriage-paid level or a minimum order.
	Need int

	// Max is how many units may be bought at most, over all suppliers.
	Max int

	// DueDay is the last day on which the goods may arrive; nil: any day will do.
	DueDay *int
}

// Supplier is a firm that delivers everything bought from it as one order.
type Supplier struct {
	ID string
	supply.Supplier
}

// Offer is one supplier's price list for one line. A supplier may make several
// offers for a line (singly and by the box); they may be used together. An offer
// that arrives after the line's due day is not used. The planner orders, so
// there is no shelf among the sources, and Most is not asked.
type Offer struct {
	Line int // index into Problem.Lines
	supply.Offer
}

// Undated is the day of an offer that no day is held against.
const Undated = -supply.MaxDay

// cost is what a number of units of the offer costs, without carriage; ok is
// false where the offer does not sell that quantity: not whole packs, none, or
// fewer than the least sold.
func (o Offer) cost(units int) (cost int64, ok bool) {
	if units%o.Pack != 0 {
		return 0, false
	}
	return o.Cost(units / o.Pack)
}

// inTime says whether the offer arrives by the line's due day.
func (o Offer) inTime(l Line) bool { return l.DueDay == nil || o.Day <= *l.DueDay }

// Plan is what to buy from whom, with a proof of how good it is.
type Plan struct {
	// Total is the landed cost: goods and carriage.
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
	Supplier int    `json:"-"` // index into Problem.Suppliers
	ID       string `json:"id"`
	Goods    int64  `json:"goods"`
	Carriage int64  `json:"carriage"`
}

// Purchase is so many units of a line bought from one offer of a supplier.
type Purchase struct {
	Line     int    `json:"-"` // index into Problem.Lines
	Offer    int    `json:"-"` // index into Problem.Offers
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
