package inventory

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory/reorder"
)

// ShelfPolicy is what the shop wants of its shelf.
type ShelfPolicy struct {
	Target    float64         // share of the sales to be met whole from the shelf
	LineCost  decimal.Decimal // what one more line of an order costs in handling and carriage
	LookEvery int             // working days from one look at the shelf to the next; 0: as the shop's own orders tell
}

// Keeping is what is kept of a part on the shelf: as it is set, and as the whole shelf's sales and suppliers advise.
type Keeping struct {
	PartID       int64  `json:"part"`
	Name         string `json:"name"`
	Stock        Stock  `json:"stock"`
	ReorderLevel *int   `json:"reorder_level,omitempty"` // order again when so many are left; absent: never by itself
	ReorderTo    *int   `json:"reorder_to,omitempty"`    // and up to so many
	// The advice; absent where too little is known, as Words then says, or where none should be kept.
	AdvisedLevel *int   `json:"advised_level,omitempty"`
	AdvisedTo    *int   `json:"advised_to,omitempty"`
	Words        string `json:"advice"`
	Ground       string `json:"ground,omitempty"` // on what little it rests, if it does
	// What it rests on. Rates are sales a working day.
	Sales       int             `json:"sales,omitempty"`
	PerDay      float64         `json:"sales_a_day,omitempty"`
	PerDayLeast float64         `json:"sales_a_day_least,omitempty"` // nine times in ten it is between these
	PerDayMost  float64         `json:"sales_a_day_most,omitempty"`
	OwnShare    float64         `json:"own_share,omitempty"` // how much of this the part's own sales tell
	Meets       float64         `json:"meets,omitempty"`     // share of its sales met whole as advised
	MeetsNow    float64         `json:"meets_now,omitempty"` // and as set
	Supplier    string          `json:"supplier,omitempty"`
	Price       decimal.Decimal `json:"price,omitzero"` // a piece
	LeadDays    float64         `json:"lead_days,omitempty"`
	Levels      []ShelfLevel    `json:"levels,omitempty"` // that are worth their money, from the least

	item int // its number on the shelf that was weighed; -1 for none
}

// ShelfLevel is one way of keeping a part.
type ShelfLevel struct {
	Level int             `json:"level"`
	To    int             `json:"to"`
	Meets float64         `json:"meets"`
	Stock decimal.Decimal `json:"stock"` // pounds on the shelf on average
}

// ShelfAdvice is what to keep of all parts.
type ShelfAdvice struct {
	Target    float64   `json:"target"`
	LookEvery int       `json:"look_every"`
	Weeks     int       `json:"weeks"` // of books
	Parts     []Keeping `json:"parts"`
	// What the advised levels come to together, and the levels as they are set.
	Advised ShelfTotal `json:"advised"`
	AsSet   ShelfTotal `json:"as_set"`
	// With a sum of money: what one more step would come to.
	Next *ShelfTotal `json:"next,omitempty"`

	weighed *reorder.Shelf
}

// ShelfTotal is what levels come to together.
type ShelfTotal struct {
	Meets float64         `json:"meets"`  // share of the sales met whole
	Stock decimal.Decimal `json:"stock"`  // on the shelf, on average
	Cost  decimal.Decimal `json:"a_year"` // for holding and ordering
	Kept  int             `json:"parts"`  // kept at all
}

// heldPerYear is what a year on the shelf costs for each pound of stock: common practice, no source.
const heldPerYear = 0.25

// LoadShelf reads the books once and weighs all parts together. With spend not nil it is the shelf that so much money buys,
// not the target, that is advised.
func LoadShelf(ctx context.Context, db DB, policy ShelfPolicy, spend *decimal.Decimal, now time.Time) (*ShelfAdvice, error) {
	if !(policy.Target > 0 && policy.Target < 1) {
		return nil, fmt.Errorf("a target of %v sales in 100 is not between 0 and 100: to meet all would need a shelf without end", 100*policy.Target)
	}
	if policy.LineCost.IsNegative() {
		return nil, fmt.Errorf("a line of an order cannot cost %s", policy.LineCost)
	}
	demand, err := LoadDemand(ctx, db, now)
	if err != nil {
		return nil, err
	}
	deliveries, err := LoadDeliveries(ctx, db, now)
	if err != nil {
		return nil, err
	}
	ids, err := keepable(ctx, db)
	if err != nil {
		return nil, err
	}
	parts, err := Parts(ctx, db, ids)
	if err != nil {
		return nil, err
	}
	offers, err := OffersOf(ctx, db, ids)
	if err != nil {
		return nil, err
	}
	stock, err := StockOf(ctx, db, ids)
	if err != nil {
		return nil, err
	}
	if policy.LookEvery == 0 {
		if policy.LookEvery, err = looksOf(ctx, db, now); err != nil {
			return nil, err
		}
	}
	s := &ShelfAdvice{Target: policy.Target, LookEvery: policy.LookEvery, Weeks: (demand.Today - demand.Start) / 5, Parts: []Keeping{}}
	sources := sourcing{d: deliveries, leads: map[parcel]*reorder.LeadTime{}}
	var items []reorder.Item
	for _, id := range ids {
		p := parts[id]
		k := Keeping{PartID: id, Name: p.Name, Stock: stock[id], ReorderLevel: p.ReorderLevel, ReorderTo: p.ReorderTo, item: -1, Sales: len(demand.Sales[id])}
		if source, found := sources.cheapest(offers[id]); found {
			source.Name, source.Sales = p.Name, demand.Sales[id]
			k.item = len(items)
			k.Supplier = deliveries.Supplier(int64(source.Supplier)).Code
			k.Price = decimal.NewFromFloat(source.Price).Round(4)
			k.LeadDays, _ = source.Lead.Moments()
			items = append(items, source)
		}
		s.Parts = append(s.Parts, k)
	}
	s.weighed = reorder.Weigh(items, demand.Start, demand.Today, reorder.Terms{LookEvery: policy.LookEvery, AdviseEvery: 20,
		LineCost: policy.LineCost.InexactFloat64(), Holding: heldPerYear, MostYears: 1})
	s.advise(spend)
	return s, nil
}

// keepable are the parts that were ever asked for, are on the shelf or are to be ordered for it.
func keepable(ctx context.Context, db DB) ([]int64, error) {
	ids, err := collect(ctx, db, pgx.RowTo[int64], `
		SELECT id FROM part
		WHERE reorder_level IS NOT NULL OR EXISTS (SELECT FROM movement WHERE movement.part_id = part.id)
		ORDER BY name, id`)
	if err != nil {
		return nil, fmt.Errorf("read the parts that may be kept: %w", err)
	}
	return ids, nil
}

// looksOf is how many working days lie between the shop's orders, in the middle, by those of the last year: once a week
// where it has hardly ordered yet.
func looksOf(ctx context.Context, db DB, now time.Time) (int, error) {
	placed, err := collect(ctx, db, pgx.RowTo[time.Time], `
		SELECT DISTINCT date_trunc('day', placed_at) FROM purchase_order WHERE placed_at > $1 ORDER BY 1`, now.AddDate(-1, 0, 0))
	if err != nil {
		return 0, fmt.Errorf("read when orders were placed: %w", err)
	}
	const once, fewest, most = 5, 10, 10
	if len(placed) < fewest {
		return once, nil
	}
	var gaps []int
	for i := 1; i < len(placed); i++ {
		gaps = append(gaps, reorder.WorkingDay(placed[i])-reorder.WorkingDay(placed[i-1]))
	}
	slices.Sort(gaps)
	return min(most, max(1, gaps[len(gaps)/2])), nil
}

// sourcing knows how parts are bought. Parts of one supplier and signal share their lead time.
type sourcing struct {
	d     *Deliveries
	leads map[parcel]*reorder.LeadTime
}

// cheapest is how a part is bought from whoever asks least for a piece, of those from whom anything is to be expected.
func (s sourcing) cheapest(offers []Offer) (best reorder.Item, found bool) {
	for _, o := range offers {
		home, err := s.d.InHomeMoney(o)
		if err != nil || o.Gone {
			continue // no rate for its currency, or no longer sold
		}
		key := parcel{o.SupplierID, o.Stock}
		lead, known := s.leads[key]
		if !known {
			lead = reorder.LeadTimeOf(s.d.Forecast(o.SupplierID, o.Stock).OnDay)
			s.leads[key] = lead
		}
		pieces := o.MinimumPacks * o.Pack
		each := home.Cost(o.MinimumPacks).Div(decimal.NewFromInt(int64(pieces))).InexactFloat64()
		if lead != nil && each > 0 && (!found || each < best.Price) {
			best, found = reorder.Item{Price: each, Pack: o.Pack, Minimum: pieces, Supplier: int(o.SupplierID), Lead: lead}, true
		}
	}
	return best, found
}

// advise puts the levels to the parts.
func (s *ShelfAdvice) advise(spend *decimal.Decimal) {
	keeps := s.weighed.For(s.Target)
	if spend != nil {
		var next []reorder.Keep
		if keeps, next = s.weighed.Within(spend.InexactFloat64()); next != nil {
			total := totalOf(s.weighed.Total(next), next)
			s.Next = &total
		}
	}
	s.Advised = totalOf(s.weighed.Total(keeps), keeps)
	asked, met := 0.0, 0.0
	for i := range s.Parts {
		k := &s.Parts[i]
		if k.item < 0 {
			k.Words = "Nobody offers it at a price that can be compared: how long it takes to come is not known."
			continue
		}
		keep, insight := keeps[k.item], s.weighed.Insight(k.item)
		k.PerDay, k.PerDayLeast, k.PerDayMost, k.OwnShare, k.Meets = insight.PerDay, insight.Least, insight.Most, insight.Own, keep.Fill
		k.Words, k.Ground = s.words(k, insight, keep), insight.Ground()
		if keep.UpTo > 0 {
			k.AdvisedLevel, k.AdvisedTo = &keep.At, &keep.UpTo
		}
		if k.ReorderLevel != nil && k.ReorderTo != nil {
			now := s.weighed.Meets(k.item, *k.ReorderLevel, *k.ReorderTo)
			k.MeetsNow = now.Fill
			met += now.Fill * insight.PerDay
			s.AsSet.Stock = s.AsSet.Stock.Add(decimal.NewFromFloat(now.Stock).Mul(k.Price))
			s.AsSet.Kept++
		}
		asked += insight.PerDay
	}
	s.AsSet.Stock = s.AsSet.Stock.Round(2)
	if asked > 0 {
		s.AsSet.Meets = met / asked
	}
}

func totalOf(t reorder.Total, keeps []reorder.Keep) ShelfTotal {
	total := ShelfTotal{Meets: t.Share, Stock: decimal.NewFromFloat(t.Stock).Round(2), Cost: decimal.NewFromFloat(t.Cost).Round(2)}
	for _, k := range keeps {
		if k.UpTo > 0 {
			total.Kept++
		}
	}
	return total
}

// words say what to keep of a part, and why.
func (s *ShelfAdvice) words(k *Keeping, insight reorder.Insight, keep reorder.Keep) string {
	if insight.Sales == 0 {
		if s.Weeks < 1 {
			return "Not a week in the books yet: nothing can be said of how it sells."
		}
		return "Never sold: keep none."
	}
	sells := fmt.Sprintf("%s. It takes %s to come", insight.Words(), daysWords(k.LeadDays))
	if keep.UpTo == 0 {
		return sells + ": keep none, order it for the job; money saves more sales elsewhere."
	}
	return fmt.Sprintf("%s: keep %d. Order %d when shelf and orders are down to %d; that meets %d sales in 100 from the shelf.",
		sells, keep.UpTo, keep.UpTo-keep.At, keep.At, int(100*keep.Fill+1e-9))
}

func daysWords(days float64) string {
	if n := int(math.Round(days)); n != 1 {
		return fmt.Sprintf("%d working days", n)
	}
	return "1 working day"
}

// Keeping is what is said of one part, with the levels that are worth their money; not ok for one that never moved.
func (s *ShelfAdvice) Keeping(partID int64) (k Keeping, ok bool) {
	i := slices.IndexFunc(s.Parts, func(k Keeping) bool { return k.PartID == partID })
	if i < 0 {
		return Keeping{}, false
	}
	k = s.Parts[i]
	if k.item >= 0 {
		for _, keep := range s.weighed.Offered(k.item) {
			k.Levels = append(k.Levels, ShelfLevel{Level: keep.At, To: keep.UpTo, Meets: keep.Fill,
				Stock: decimal.NewFromFloat(keep.Stock).Mul(k.Price).Round(2)})
		}
	}
	return k, true
}

// KeepingOf advises what to keep of one part, all parts of the shop considered.
func KeepingOf(ctx context.Context, db DB, p Part, policy ShelfPolicy, now time.Time) (Keeping, error) {
	s, err := LoadShelf(ctx, db, policy, nil, now)
	if err != nil {
		return Keeping{}, err
	}
	if k, ok := s.Keeping(p.ID); ok {
		return k, nil
	}
	return Keeping{PartID: p.ID, Name: p.Name, ReorderLevel: p.ReorderLevel, ReorderTo: p.ReorderTo, item: -1,
		Words: "It was never on the shelf and never asked for: nothing can be said of how it sells."}, nil
}

// Changes are the parts whose levels are not as advised. A part of which nothing can be said is none of them.
func (s *ShelfAdvice) Changes() []Keeping {
	var changed []Keeping
	for _, k := range s.Parts {
		if k.item < 0 || k.Sales == 0 || equal(k.ReorderLevel, k.AdvisedLevel) && equal(k.ReorderTo, k.AdvisedTo) {
			continue
		}
		changed = append(changed, k)
	}
	return changed
}

func equal(a, b *int) bool { return (a == nil) == (b == nil) && (a == nil || *a == *b) }
