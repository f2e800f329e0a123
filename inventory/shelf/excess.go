package shelf

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/reorder"
	"stead/substitution"
)

// ExcessPolicy is what the shop can do with what will not sell. Shares are of what a piece costs.
type ExcessPolicy struct {
	Months   int     `json:"months"`   // in which a part should sell, where it has no life of its own
	Returned float64 `json:"returned"` // what a supplier gives back for a piece; 0 where none takes any back
	Reduced  float64 `json:"reduced"`  // what a piece brings that is sold off
}

// Check says which of the figures cannot be meant.
func (p ExcessPolicy) Check() error {
	if p.Months < 1 || p.Months > 600 {
		return fmt.Errorf("stock that should sell within %d months cannot be meant: from 1 to 600", p.Months)
	}
	if !(p.Returned >= 0 && p.Returned <= 1) || !(p.Reduced >= 0 && p.Reduced <= 1) {
		return fmt.Errorf("what a piece brings is from 0 to 100 in 100 of what it costs")
	}
	return nil
}

// Disposal is what to do with pieces that will not sell in time.
type Disposal string

// What may be done with them.
const (
	KeepThem   Disposal = "keep"
	ReturnThem Disposal = "return"
	ReduceThem Disposal = "reduce"
)

// Excess is a part of which more is there than will sell.
type Excess struct {
	PartID  int64               `json:"part_id"`
	Name    string              `json:"name"`
	Family  substitution.Family `json:"-"`
	Free    int                 `json:"free"`
	Sells   int                 `json:"sells"`  // of these, within its stock life, more likely than not
	Excess  int                 `json:"excess"` // the others
	Price   decimal.Decimal     `json:"price,omitzero"`
	TiedUp  decimal.Decimal     `json:"tied_up,omitzero"` // in the others
	Since   calendar.Day        `json:"since"`            // since when the oldest of what is there has lain there, first in first out
	Sold    *calendar.Day       `json:"last_sold,omitempty"`
	PerYear float64             `json:"pieces_a_year"`
	// Of the excess: what is worth more kept than given away, and what to do with the rest.
	Keep   int             `json:"keep"`
	Part   int             `json:"part_with"`
	How    Disposal        `json:"how"`
	Brings decimal.Decimal `json:"brings,omitzero"` // what is parted with
	Piece  decimal.Decimal `json:"brings_each,omitzero"`
	Said   string          `json:"said,omitempty"` // that jobs are to use it up
}

// Excess lists what will not sell in its stock life, what ties up most first.
func (s *Advice) Excess(ctx context.Context, db inventory.DB) ([]Excess, error) {
	since, err := lyingSince(ctx, db)
	if err != nil {
		return nil, err
	}
	paid, err := s.deliveries.LastPaid(ctx, db)
	if err != nil {
		return nil, err
	}
	out := []Excess{}
	for i := range s.Parts {
		k := &s.Parts[i]
		at, there := since[k.PartID]
		free := k.Stock.Free()
		if !there || free <= 0 || s.booked.Overreturned[k.PartID] > 0 { // what cannot be right is weighed by nothing
			continue
		}
		if at.Before(s.booked.Began) { // by a clock that was wrong: since when is known no further back than the books go
			at = s.booked.Began
		} else if at.After(s.now) {
			at = s.now
		}
		e := Excess{PartID: k.PartID, Name: k.Name, Family: k.Family, Free: free, Since: calendar.DayOf(at.In(s.zone)), Price: k.Price}
		if e.Price.IsZero() {
			e.Price = paid[k.PartID]
		}
		rate := s.weighed.PerYear(k.item, s.now.Sub(at).Hours()/24/7)
		e.PerYear = rate.Mean()
		life := float64(s.policy.Excess.Months) / 12
		if k.Limit.Months > 0 {
			life = float64(k.Limit.Months) / 12
		}
		e.Sells = max(rate.Sells(life, free), min(free, s.said[k.PartID].AtLeast()))
		if e.Excess = free - e.Sells; e.Excess == 0 {
			continue
		}
		if sales := s.booked.Sales(k.PartID); len(sales) > 0 {
			day := calendar.Day(reorder.DaysSince1970(sales[len(sales)-1].Day))
			e.Sold = &day
		}
		if _, useUp := s.said[k.PartID].Stay(); useUp {
			e.Said = s.said[k.PartID].Ever.Words(s.zone, s.today())
		}
		e.TiedUp = e.Price.Mul(decimal.NewFromInt(int64(e.Excess))).Round(2)
		e.advise(rate, s.policy)
		out = append(out, e)
	}
	slices.SortStableFunc(out, func(x, y Excess) int { return y.TiedUp.Cmp(x.TiedUp) })
	return out, nil
}

// advise says what to do by the economic retention rule.
func (e *Excess) advise(rate reorder.Rate, policy Policy) {
	price := e.Price.InexactFloat64()
	share := policy.Excess.Reduced
	if e.How = ReduceThem; policy.Excess.Returned > share {
		e.How, share = ReturnThem, policy.Excess.Returned
	}
	rule := reorder.Retention{Value: price, Salvage: share * price, Interest: policy.Holding}
	e.Keep = max(0, rule.Keep(rate, e.Free)-e.Sells)
	if e.Part = e.Excess - e.Keep; e.Part == 0 || price == 0 {
		e.How, e.Keep, e.Part = KeepThem, e.Excess, 0
	}
	e.Brings = decimal.NewFromFloat(share * price * float64(e.Part)).Round(2)
	e.Piece = decimal.NewFromFloat(share * price).Round(2)
}

// lyingSince is since when the oldest piece of each part on the shelf has lain there, if what came first went first.
func lyingSince(ctx context.Context, db inventory.DB) (map[int64]time.Time, error) {
	rows, err := db.Query(ctx, `
		SELECT part_id, min(at) FROM (
			SELECT m.part_id, m.at, shelf.on_hand, sum(m.pieces) OVER (PARTITION BY m.part_id ORDER BY m.id DESC) - m.pieces AS later
			FROM movement m JOIN shelf ON shelf.part_id = m.part_id
			WHERE m.pieces > 0 AND m.reason <> 'moved' AND shelf.on_hand > 0
		) AS came WHERE later < on_hand GROUP BY part_id`)
	if err != nil {
		return nil, fmt.Errorf("read since when the shelf has lain there: %w", err)
	}
	since := map[int64]time.Time{}
	var id int64
	var at time.Time
	if _, err := pgx.ForEachRow(rows, []any{&id, &at}, func() error { since[id] = at; return nil }); err != nil {
		return nil, fmt.Errorf("read since when the shelf has lain there: %w", err)
	}
	return since, nil
}
