package shelf

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/reorder"
	"stead/substitution"
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
	Supplier    string          `json:"supplier,omitempty"`  // its code
	From        string          `json:"-"`                   // what it is called
	Price       decimal.Decimal `json:"price,omitzero"`      // a piece
	LeadDays    float64         `json:"lead_days,omitempty"`
	Levels      []Level         `json:"levels,omitempty"`  // that are worth their money, from the least
	Figures     *Figures        `json:"figures,omitempty"` // that the advice is made of; of one part alone

	Limit Limit `json:"limit,omitzero"` // what its place holds, and how long it keeps

	Told *Told `json:"demand,omitempty"` // where quotes tell of more than was used and sold
	Said *Said `json:"said,omitempty"`   // to the week's list

	Doubts []string `json:"doubts,omitempty"` // what is strange about the books it rests on; of one part alone

	Family substitution.Family `json:"-"`

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

// keeping is what there is to tell of a part before it is weighed, and how it is weighed.
func (s *Advice) keeping(b shelfBooks, p keptPart, some supplies, sources sourcing) (Keeping, reorder.Item) {
	id, sales := p.ID, b.demand.Sales(p.ID)
	k := Keeping{PartID: id, Name: p.Name, Family: p.Family, Stock: some.stock[id], ReorderLevel: p.ReorderLevel, ReorderTo: p.ReorderTo, Sales: len(sales), Limit: b.limits.Of(p.ID, p.Family)}
	item, found := sources.cheapest(some.offers[id])
	item.Kind = string(p.Family)
	item.Name, item.Sales, item.Unseen, item.Least = p.Name, sales, b.demand.Empty[id], b.said[id].AtLeast()
	item.Most, item.Life = k.Limit.Holds, float64(k.Limit.Months)/12
	if k.sourced = found; found {
		from := b.deliveries.Supplier(int64(item.Supplier))
		k.Supplier, k.From = from.Code, from.Name
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
	return Keeping{PartID: p.ID, Name: p.Name, Family: p.Family, ReorderLevel: p.ReorderLevel, ReorderTo: p.ReorderTo, item: -1,
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

// Advised are the levels that are advised of parts.
func Advised(of []Keeping) []Levels {
	all := make([]Levels, len(of))
	for i, k := range of {
		all[i] = Levels{PartID: k.PartID, Level: k.AdvisedLevel, To: k.AdvisedTo}
	}
	return all
}

func equal(a, b *int) bool { return (a == nil) == (b == nil) && (a == nil || *a == *b) }
