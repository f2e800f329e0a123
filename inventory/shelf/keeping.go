package shelf

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/reorder"
)

// Keeping is what is kept of a part on the shelf: as it is set, and as the whole shelf's sales and suppliers advise.
type Keeping struct {
	PartID       int64           `json:"part_id"`
	Name         string          `json:"name"`
	Stock        inventory.Stock `json:"stock"`
	ReorderLevel *int            `json:"reorder_level,omitempty"` // order again when so many are left; absent: never by itself
	ReorderTo    *int            `json:"reorder_to,omitempty"`    // and up to so many
	// The advice; absent where too little is known, as Words then says, or where none should be kept.
	AdvisedLevel *int   `json:"advised_level,omitempty"`
	AdvisedTo    *int   `json:"advised_to,omitempty"`
	RidesFrom    *int   `json:"rides_along_from,omitempty"` // as advised it rides along in a parcel that goes anyway once so few are left
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
	Levels      []Level         `json:"levels,omitempty"`  // that are worth their money, from the least
	Figures     *Figures        `json:"figures,omitempty"` // that the advice is made of; of one part alone

	Limit Limit `json:"limit,omitzero"` // what its place holds, and how long it keeps

	Told *Told `json:"demand,omitempty"` // where quotes tell of more than was used and sold
	Said *Said `json:"said,omitempty"`   // to the week's list

	Doubts []string `json:"doubts,omitempty"` // what is strange about the books it rests on; of one part alone

	item    int  // its number on the shelf that was weighed; -1 for none
	sourced bool // somebody offers it, so that it can be advised
}

// Untold reports whether nothing can be advised of the part, and nothing was insisted on.
func (k Keeping) Untold() bool { return !k.sourced && k.AdvisedTo == nil }

// Level is one way of keeping a part.
type Level struct {
	Level int             `json:"level"`
	To    int             `json:"to"`
	Meets float64         `json:"meets"`
	Stock decimal.Decimal `json:"stock"` // pounds on the shelf on average
}

// Advice is what to keep of all parts.
type Advice struct {
	Target    float64   `json:"target"`
	LookEvery int       `json:"look_every"`
	Weeks     int       `json:"weeks"` // of books
	Parts     []Keeping `json:"parts"`
	// What the advised levels come to together, and the levels as they are set.
	Advised Total `json:"advised"`
	AsSet   Total `json:"as_set"`
	// Doubts say what is strange about the books, and what is left out for it.
	Doubts []string `json:"doubts,omitempty"`
	// What one step less and one step more would come to; with a sum of money also what the target would, and which
	// parts it would keep that are left out.
	Less    *Total   `json:"less,omitempty"`
	Next    *Total   `json:"next,omitempty"`
	Wanted  *Total   `json:"for_the_target,omitempty"`
	LeftOut []string `json:"left_out,omitempty"`

	Floors *Floors `json:"floors,omitempty"` // what is kept lower for what is always kept of other parts

	policy     Policy
	strange    []string // of the doubts, those about the books as a whole
	country    string   // of the shop, for the season of riding
	weighed    *weighed
	deliveries *inventory.Deliveries
	said       map[int64]Said
	approved   float64
	booked     Demand
	used       map[int64]float64        // by part, pieces in a year
	carriage   map[int64]float64        // by supplier, what a line of an order costs of it
	coming     map[int64][]calendar.Day // by part, when what is on order should be here, as far as anybody can tell
	now        time.Time
	zone       *time.Location
}

// Floors tell which parts are kept lower because of what is always kept of others.
type Floors struct {
	Lowered []LoweredPart `json:"lowered"`
	Target  float64       `json:"restored_at"` // asked for so much they are kept about as they would be without
}

// LoweredPart is one of them.
type LoweredPart struct {
	PartID  int64     `json:"part_id"`
	Name    string    `json:"name"`
	Is      KeptLevel `json:"is"`
	Without KeptLevel `json:"without"`
}

// KeptLevel is when a part is ordered again, and up to how many; with To 0 it is not kept.
type KeptLevel struct {
	Level int `json:"level"`
	To    int `json:"to"`
}

// Total is what levels come to together.
type Total struct {
	Meets float64         `json:"meets"`  // share of the sales met whole
	Stock decimal.Decimal `json:"stock"`  // on the shelf, on average
	Cost  decimal.Decimal `json:"a_year"` // for holding and ordering
	Kept  int             `json:"parts"`  // kept at all
	Waits float64         `json:"waits"`  // sales a year that are not met, and wait
}

// Load reads the books once and weighs all parts together. With spend not nil it is the shelf that so much money buys,
// not the target, that is advised.
func Load(ctx context.Context, db inventory.DB, policy Policy, spend *decimal.Decimal, now time.Time) (*Advice, error) {
	if err := policy.Check(); err != nil {
		return nil, err
	}
	b, err := loadShelfBooks(ctx, db, now)
	if err != nil {
		return nil, err
	}
	if policy.LookEvery == 0 {
		if policy.LookEvery, err = looksOf(ctx, db, now); err != nil {
			return nil, err
		}
	}
	s, err := b.advice(ctx, db, policy, now)
	if err != nil {
		return nil, err
	}
	if err := s.weigh(ctx, db, b, atOnce); err != nil {
		return nil, err
	}
	doubts, err := bookDoubts(ctx, db, b, policy, now)
	if err != nil {
		return nil, err
	}
	s.strange = doubts
	s.Doubts = append(s.Doubts, doubts...)
	s.advise(spend)
	if spend != nil && s.Advised.Kept == 0 && s.Next != nil && s.Next.Kept > 0 {
		s.Doubts = append(s.Doubts, fmt.Sprintf("so little money keeps no part at all: the first step takes %s %s on the shelf on average", b.shop.Currency, s.Next.Stock.StringFixed(2)))
	}
	return s, nil
}

// shelfBooks are what is weighed: what was asked for, what may be kept, and how it is bought.
type shelfBooks struct {
	shop       inventory.Shop
	said       map[int64]Said
	demand     Demand
	deliveries *inventory.Deliveries
	tastes     tastes
	limits     Limits
	ids        []int64 // of the parts that may be kept
}

// atOnce is of how many parts all that is in the books is held at a time. What is told and weighed of each is far less.
const atOnce = 2000

// shelfParts are some of the parts that may be kept.
type shelfParts struct {
	parts  map[int64]inventory.Part
	offers map[int64][]inventory.Offer
	stock  map[int64]inventory.Stock
}

func loadShelfParts(ctx context.Context, db inventory.DB, ids []int64) (p shelfParts, err error) {
	if p.parts, err = inventory.Parts(ctx, db, ids); err != nil {
		return p, err
	}
	if p.offers, err = inventory.OffersOf(ctx, db, ids); err != nil {
		return p, err
	}
	p.stock, err = inventory.StockOf(ctx, db, ids)
	return p, err
}

func loadShelfBooks(ctx context.Context, db inventory.DB, now time.Time) (b shelfBooks, err error) {
	if b.shop, err = inventory.LoadShop(ctx, db); err != nil {
		return b, err
	}
	if b.said, err = LoadSaid(ctx, db); err != nil {
		return b, err
	}
	if b.demand, err = LoadDemand(ctx, db, now); err != nil {
		return b, err
	}
	if b.deliveries, err = inventory.LoadDeliveries(ctx, db, now); err != nil {
		return b, err
	}
	if b.tastes, err = loadTastes(ctx, db); err != nil {
		return b, err
	}
	if b.limits, err = LoadLimits(ctx, db); err != nil {
		return b, err
	}
	b.ids, err = keepable(ctx, db, slices.Concat(slices.Collect(maps.Keys(b.said)), slices.Collect(maps.Keys(b.demand.Sold))))
	return b, err
}

// advice is that of the books, with what is not weighed but told: what is coming, what is used, what carriage comes to.
func (b shelfBooks) advice(ctx context.Context, db inventory.DB, policy Policy, now time.Time) (*Advice, error) {
	s := &Advice{policy: policy, country: b.shop.Country, Target: policy.Target, LookEvery: policy.LookEvery, Weeks: (b.demand.Today - b.demand.Start) / 5, Parts: []Keeping{},
		deliveries: b.deliveries, said: b.said, approved: b.demand.Approved, booked: b.demand, used: b.demand.usedInAYear(), now: now}
	var err error
	if s.zone, err = b.shop.Location(); err != nil {
		return nil, err
	}
	if s.coming, err = comingOf(ctx, db, b.deliveries); err != nil {
		return nil, err
	}
	s.carriage, err = carriageOfALine(ctx, db, b.deliveries, now)
	return s, err
}

// weigh puts all parts on the shelf, so many at a time, and weighs them together.
func (s *Advice) weigh(ctx context.Context, db inventory.DB, b shelfBooks, atOnce int) error {
	policy, sources := s.policy, sourcing{d: b.deliveries, leads: map[bought]*reorder.LeadTime{}}
	var book reorder.StockBook
	for ids := range slices.Chunk(b.ids, atOnce) {
		some, err := loadShelfParts(ctx, db, ids)
		if err != nil {
			return err
		}
		for _, id := range ids {
			k, item := s.keeping(b, some, sources, id)
			k.item = len(book.Items)
			book.Add(item)
			s.Parts = append(s.Parts, k)
		}
	}
	families := soldMost(book)
	parts, err := s.ofItems(ctx, db, families)
	if err != nil {
		return err
	}
	if err := b.tastes.shareStock(book.Items, families, parts); err != nil {
		return err
	}
	season, given := policy.season(b.shop.Country)
	s.weighed, err = weigh(book, b.demand.Start, b.demand.Today, reorder.Terms{LookEvery: policy.LookEvery, AdviseEvery: 20,
		LineCost: policy.LineCost.InexactFloat64(), Holding: policy.Holding, MostYears: float64(policy.Months) / 12, Season: &season, Given: given})
	return err
}

// ofItems are the parts of items, by item.
func (s *Advice) ofItems(ctx context.Context, db inventory.DB, families [][]int) (map[int]inventory.Part, error) {
	var ids []int64
	for _, item := range slices.Concat(families...) {
		ids = append(ids, s.Parts[item].PartID)
	}
	parts, err := inventory.Parts(ctx, db, ids)
	if err != nil {
		return nil, err
	}
	of := map[int]inventory.Part{}
	for _, item := range slices.Concat(families...) {
		of[item] = parts[s.Parts[item].PartID]
	}
	return of, nil
}

// keeping is what there is to tell of a part before it is weighed, and how it is weighed.
func (s *Advice) keeping(b shelfBooks, some shelfParts, sources sourcing, id int64) (Keeping, reorder.Item) {
	p, sales := some.parts[id], b.demand.Sales(id)
	k := Keeping{PartID: id, Name: p.Name, Stock: some.stock[id], ReorderLevel: p.ReorderLevel, ReorderTo: p.ReorderTo, Sales: len(sales), Limit: b.limits.Of(p)}
	item, found := sources.cheapest(some.offers[id])
	item.Kind = string(p.Family)
	item.Name, item.Sales, item.Unseen, item.Least = p.Name, sales, b.demand.Empty[id], b.said[id].AtLeast()
	item.Most, item.Life = k.Limit.Holds, float64(k.Limit.Months)/12
	if k.sourced = found; found {
		k.Supplier = b.deliveries.Supplier(int64(item.Supplier)).Code
		k.Price = decimal.NewFromFloat(item.Price).Round(4)
		k.LeadDays, _ = item.Lead.Moments()
		item.Waiting = s.policy.waits(p.Family, k.LeadDays)
	}
	if !found {
		k.Words = s.untold(some.offers[id])
	}
	if over := b.demand.Overreturned[id]; over > 0 {
		k.sourced = false // nothing is advised from books that cannot be right
		s.Doubts = append(s.Doubts, fmt.Sprintf("of %s %d more came back than was ever used or sold: it is left out until that is put right", p.Name, over))
	}
	if t, any := b.demand.Told[id]; any {
		k.Told = &t
	}
	if words, any := b.said[id]; any {
		k.Said = &words
	}
	return k, item
}

// comingOf is when each part that is on order should be here, the first first.
func comingOf(ctx context.Context, db inventory.DB, d *inventory.Deliveries) (map[int64][]calendar.Day, error) {
	open, err := inventory.Orders(ctx, db, true)
	if err != nil {
		return nil, err
	}
	var lines []int64
	for _, o := range open {
		for _, l := range o.Lines {
			lines = append(lines, l.ID)
		}
	}
	words, err := inventory.LastWords(ctx, db, lines)
	if err != nil {
		return nil, err
	}
	days := map[int64][]calendar.Day{}
	for _, o := range open {
		for _, l := range o.Lines {
			if l.Awaited() == 0 {
				continue
			}
			if day, err := d.Awaited(o.SupplierID, o.PlacedAt, l.Stock, words[l.ID]); err == nil {
				days[l.PartID] = append(days[l.PartID], day)
			}
		}
	}
	for _, list := range days {
		slices.Sort(list)
	}
	return days, nil
}

// keepable are the parts that were ever asked for, are on the shelf or are to be ordered for it, and those given.
func keepable(ctx context.Context, db inventory.DB, also []int64) ([]int64, error) {
	ids, err := inventory.Collect(ctx, db, pgx.RowTo[int64], `
		SELECT id FROM part
		WHERE merged_into IS NULL AND (reorder_level IS NOT NULL OR id = ANY($1)
			OR EXISTS (SELECT FROM movement JOIN part AS moved ON moved.id = movement.part_id WHERE coalesce(moved.merged_into, moved.id) = part.id))
		ORDER BY name, id`, also)
	if err != nil {
		return nil, fmt.Errorf("read the parts that may be kept: %w", err)
	}
	return ids, nil
}

// looksOf is how many working days lie between the shop's orders, in the middle, by those of the last year: once a week
// where it has hardly ordered yet.
func looksOf(ctx context.Context, db inventory.DB, now time.Time) (int, error) {
	placed, err := inventory.Collect(ctx, db, pgx.RowTo[time.Time], `
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

// bought is what the lead time of a part for the shelf depends on.
type bought struct {
	supplier int64
	signal   inventory.Signal
}

// sourcing knows how parts are bought. Parts of one supplier and signal share their lead time.
type sourcing struct {
	d     *inventory.Deliveries
	leads map[bought]*reorder.LeadTime
}

// cheapest is how a part is bought from whoever asks least for a piece, of those from whom anything is to be expected.
func (s sourcing) cheapest(offers []inventory.Offer) (best reorder.Item, found bool) {
	for _, o := range offers {
		home, err := s.d.InHomeMoney(o)
		if err != nil || o.Gone {
			continue // no rate for its currency, or no longer sold
		}
		if _, shut := shutFor(s.d, o.SupplierID); shut {
			continue
		}
		key := bought{o.SupplierID, o.Stock}
		lead, known := s.leads[key]
		if !known {
			lead = reorder.LeadTimeOf(s.d.Restocking(o.SupplierID, o.Stock).OnDay)
			s.leads[key] = lead
		}
		pieces := o.MinimumPacks * o.Pack
		each := home.Cost(o.MinimumPacks).Div(decimal.NewFromInt(int64(pieces))).InexactFloat64()
		if lead != nil && each > 0 && (!found || each < best.Price) {
			best, found = reorder.Item{Price: each, Pack: o.Pack, Minimum: pieces, Supplier: int(o.SupplierID), Lead: lead}, true
			for _, b := range home.Breaks {
				if price := b.Price.Div(decimal.NewFromInt(int64(o.Pack))).InexactFloat64(); b.FromPacks > o.MinimumPacks && price < each {
					best.Breaks = append(best.Breaks, reorder.Break{From: b.FromPacks * o.Pack, Price: price})
				}
			}
		}
	}
	return best, found
}

// A supplier that is shut so long from so soon on is none for the shelf: what its parcels took says nothing of when the
// next comes.
const (
	shutSoon = 14 // days from now
	shutLong = 28
)

// shutFor reports whether a supplier's door stays shut beyond what a shelf can wait for, and from when it opens again.
func shutFor(d *inventory.Deliveries, supplierID int64) (opens calendar.Day, shut bool) {
	for _, c := range d.Supplier(supplierID).Closures {
		if c.First <= d.Today+shutSoon && c.Last >= d.Today+shutLong {
			return c.Last + 1, true
		}
	}
	return 0, false
}

// untold says why nothing can be advised of a part that nobody offers as the shelf needs it.
func (s *Advice) untold(offers []inventory.Offer) string {
	for _, o := range offers {
		if opens, shut := shutFor(s.deliveries, o.SupplierID); shut && !o.Gone {
			return fmt.Sprintf("%s is shut until %s, and nobody else offers it at a price that can be compared: what to keep of it cannot be told.",
				s.deliveries.Supplier(o.SupplierID).Name, (opens - 1).Words(s.today()))
		}
	}
	return "Nobody offers it at a price that can be compared: what to keep of it cannot be told."
}

// advise puts the levels to the parts.
func (s *Advice) advise(spend *decimal.Decimal) {
	keeps := s.weighed.For(s.Target)
	if spend != nil {
		keeps = s.within(spend.InexactFloat64(), keeps)
	} else {
		s.Floors = s.floors(keeps)
	}
	s.Advised = totalOf(s.weighed.Total(keeps), keeps)
	less, more := s.weighed.Beside(keeps)
	s.Less, s.Next = s.beside(less), s.beside(more)
	asked, met := 0.0, 0.0
	for i := range s.Parts {
		k := &s.Parts[i]
		if k.item >= 0 && !k.sourced && s.booked.Overreturned[k.PartID] > 0 {
			k.Words = "More came back than was ever used or sold: nothing can be said until that is put right."
			continue
		}
		if !k.sourced {
			s.insist(k)
			continue
		}
		keep, insight := keeps[k.item], s.weighed.Insight(k.item)
		k.PerDay, k.PerDayLeast, k.PerDayMost, k.OwnShare, k.Meets = insight.PerDay, insight.Least, insight.Most, insight.Own, keep.Fill
		k.Words, k.Ground = s.words(k, insight, keep)+s.countsOn(k, keeps), insight.Ground()
		if keep.UpTo > 0 {
			at, to := keep.At, keep.UpTo // so that no more of what is kept is held than these
			k.AdvisedLevel, k.AdvisedTo = &at, &to
			s.rides(k)
		}
		s.insist(k)
		if k.ReorderLevel != nil && k.ReorderTo != nil {
			now := s.weighed.Meets(k.item, *k.ReorderLevel, *k.ReorderTo)
			k.MeetsNow = now.Fill
			met += now.Fill * insight.PerDay
			s.AsSet.Stock = s.AsSet.Stock.Add(decimal.NewFromFloat(now.Stock).Mul(k.Price))
			s.AsSet.Cost = s.AsSet.Cost.Add(decimal.NewFromFloat(now.Cost))
			s.AsSet.Kept++
		}
		asked += insight.PerDay
	}
	s.AsSet.Stock, s.AsSet.Cost = s.AsSet.Stock.Round(2), s.AsSet.Cost.Round(2)
	if asked > 0 {
		s.AsSet.Meets, s.AsSet.Waits = met/asked, (asked-met)*reorder.WorkingDaysPerYear
	}
}

// floors tell what is kept lower for what is always kept; nil for nothing.
func (s *Advice) floors(keeps []reorder.Keep) *Floors {
	lower, target := s.weighed.Lowered(s.Target, keeps)
	if len(lower) == 0 {
		return nil
	}
	f := &Floors{Target: target}
	of := map[int]reorder.Lower{}
	for _, l := range lower {
		of[l.Item] = l
	}
	for _, k := range s.Parts {
		if l, is := of[k.item]; is && k.sourced {
			f.Lowered = append(f.Lowered, LoweredPart{k.PartID, k.Name, KeptLevel{l.Is.At, l.Is.UpTo}, KeptLevel{l.Without.At, l.Without.UpTo}})
		}
	}
	return f
}

// within is what so much money keeps in place of what the target would, with what is left out for want of more.
func (s *Advice) within(money float64, wanted []reorder.Keep) []reorder.Keep {
	keeps := s.weighed.Within(money)
	total := totalOf(s.weighed.Total(wanted), wanted)
	s.Wanted = &total
	for _, k := range s.Parts {
		if k.item >= 0 && k.sourced && wanted[k.item].UpTo > 0 && keeps[k.item].UpTo == 0 && !s.said[k.PartID].Never() {
			s.LeftOut = append(s.LeftOut, k.Name)
		}
	}
	return keeps
}

// beside is what a neighbour of what is advised comes to; nil for none.
func (s *Advice) beside(keeps []reorder.Keep) *Total {
	if keeps == nil {
		return nil
	}
	total := totalOf(s.weighed.Total(keeps), keeps)
	return &total
}

func totalOf(t reorder.Total, keeps []reorder.Keep) Total {
	total := Total{Meets: t.Share, Waits: t.Waits, Stock: decimal.NewFromFloat(t.Stock).Round(2), Cost: decimal.NewFromFloat(t.Cost).Round(2)}
	for _, k := range keeps {
		if k.UpTo > 0 {
			total.Kept++
		}
	}
	return total
}

// insist puts what was said for good in the place of what was advised.
func (s *Advice) insist(k *Keeping) {
	said := s.said[k.PartID]
	least := said.AtLeast()
	switch {
	case said.Never():
		k.AdvisedLevel, k.AdvisedTo, k.Meets = nil, nil, 0
	case least > 0 && (k.AdvisedTo == nil || *k.AdvisedLevel < least-1): // of a part that never sold nothing can be weighed
		at := least - 1
		k.AdvisedLevel, k.AdvisedTo = &at, &least
	case least == 0:
		if _, useUp := said.Stay(); useUp {
			k.Words += " " + sentence(said.Ever.Words(s.zone, s.today()))
		}
		return
	}
	k.Words += " " + sentence(said.Ever.Words(s.zone, s.today()))
}

// sentence begins with a capital and ends with a stop.
func sentence(words string) string {
	first, size := utf8.DecodeRuneInString(words)
	return string(unicode.ToUpper(first)) + words[size:] + "."
}

func (s *Advice) today() calendar.Day { return s.deliveries.Today }

// words say what to keep of a part, and why.
func (s *Advice) words(k *Keeping, insight reorder.Insight, keep reorder.Keep) (words string) {
	if insight.Sales == 0 && (k.Told == nil || k.Told.Lost == 0) {
		if s.Weeks < 1 {
			return "Not a week in the books yet: nothing can be said of how it sells."
		}
		return "Never sold: keep none."
	}
	if k.Told != nil && k.Told.Used+k.Told.Lost > 0 {
		defer func() { words += k.Told.Words(s.approved) }()
	}
	sells := fmt.Sprintf("%s. It takes %s to come", insight.Words(), daysWords(k.LeadDays))
	switch {
	case s.weighed.Homeless(k.item):
		item := s.weighed.Item(k.item)
		return sells + ": keep none, order it for the job. " + tooFew(k.Limit, max(1, item.Pack, item.Minimum))
	case keep.UpTo == 0:
		return sells + ": keep none, order it for the job; money saves more sales elsewhere."
	}
	return fmt.Sprintf("%s: keep %d. Order %d when shelf and orders are down to %d; that meets %d sales in 100 from the shelf.%s",
		sells, keep.UpTo, keep.UpTo-keep.At, keep.At, int(100*keep.Fill+1e-9), within(k.Limit))
}

func daysWords(days float64) string {
	if n := int(math.Round(days)); n != 1 {
		return fmt.Sprintf("%d working days", n)
	}
	return "1 working day"
}

// Keeping is what is said of one part, with the levels that are worth their money; not ok for one that never moved.
func (s *Advice) Keeping(partID int64) (k Keeping, ok bool) {
	i := slices.IndexFunc(s.Parts, func(k Keeping) bool { return k.PartID == partID })
	if i < 0 {
		return Keeping{}, false
	}
	k = s.Parts[i]
	k.Figures, k.Doubts = s.figures(&k), s.strange
	if k.sourced {
		for _, keep := range s.weighed.Offered(k.item) {
			k.Levels = append(k.Levels, Level{Level: keep.At, To: keep.UpTo, Meets: keep.Fill,
				Stock: decimal.NewFromFloat(keep.Stock).Mul(k.Price).Round(2)})
		}
	}
	return k, true
}

// KeepingOf advises what to keep of one part, all parts of the shop considered.
func KeepingOf(ctx context.Context, db inventory.DB, p inventory.Part, policy Policy, now time.Time) (Keeping, error) {
	s, err := Load(ctx, db, policy, nil, now)
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
func (s *Advice) Changes() []Keeping {
	var changed []Keeping
	for _, k := range s.Parts {
		if !k.sourced || k.Sales == 0 && k.AdvisedLevel == nil || equal(k.ReorderLevel, k.AdvisedLevel) && equal(k.ReorderTo, k.AdvisedTo) {
			continue
		}
		changed = append(changed, k)
	}
	return changed
}

func equal(a, b *int) bool { return (a == nil) == (b == nil) && (a == nil || *a == *b) }
