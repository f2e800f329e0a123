package shelf

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/reorder"
)

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
	book := reorder.RoomFor(len(b.parts))
	s.Parts = make([]Keeping, 0, len(b.parts))
	for some := range slices.Chunk(b.parts, atOnce) {
		supplies, err := loadSupplies(ctx, db, some)
		if err != nil {
			return err
		}
		for _, p := range some {
			k, item := s.keeping(b, p, supplies, sources)
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

func (s *Advice) today() calendar.Day { return s.deliveries.Today }
