package shelf

import (
	"context"
	"fmt"
	"slices"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/reorder"
	"stead/substitution"
)

// Policy is what the shop wants of its shelf, and what that costs it. Amounts are in the shop's currency.
type Policy struct {
	Target    float64         `json:"target"`    // share of the sales to be met whole from the shelf
	LineCost  decimal.Decimal `json:"line_cost"` // what one more line of an order costs in handling and carriage
	Holding   float64         `json:"holding"`   // what a year on the shelf costs, for each pound of stock
	LookEvery int             `json:"look"`      // working days from one look at the shelf to the next; 0: as the shop's own orders tell
	Months    int             `json:"months"`    // that stock may lie: no more is ordered at a time than sells in them
	// What each working day costs for which a job waits for a part, and for one of the brakes, the steering or the
	// wheels. With 0 only the target asks for a shelf.
	Waiting       decimal.Decimal `json:"waiting"`
	WaitingSafety decimal.Decimal `json:"waiting_safety"`
	// Season is how much is asked for in each month, January first, in any measure; nil: the season of riding. It holds
	// until a year is in the books, which then say more and more themselves.
	Season []float64    `json:"season,omitempty"`
	Excess ExcessPolicy `json:"excess"`
}

// LoadPolicy gives it as it was last saved; a new shop has one that is common practice or our guess.
func LoadPolicy(ctx context.Context, db inventory.DB) (Policy, error) {
	var p Policy
	err := db.QueryRow(ctx, `
		SELECT target::float8, line_cost, holding::float8, waiting, waiting_safety, look_every, months, season::float8[], excess_months, returned::float8, reduced::float8
		FROM shelf_policy`).Scan(&p.Target, &p.LineCost, &p.Holding, &p.Waiting, &p.WaitingSafety, &p.LookEvery, &p.Months, &p.Season,
		&p.Excess.Months, &p.Excess.Returned, &p.Excess.Reduced)
	if err != nil {
		return Policy{}, fmt.Errorf("read what the shop wants of its shelf: %w", err)
	}
	return p, nil
}

// ChangePolicy changes it under the checks of [Policy.Check]. Of two changes at once the second begins from
// what the first has left.
func ChangePolicy(ctx context.Context, tx pgx.Tx, change func(*Policy)) (Policy, error) {
	if _, err := tx.Exec(ctx, `SELECT FROM shelf_policy FOR NO KEY UPDATE`); err != nil {
		return Policy{}, fmt.Errorf("change what the shop wants of its shelf: %w", err)
	}
	p, err := LoadPolicy(ctx, tx)
	if err != nil {
		return p, err
	}
	change(&p)
	if err := p.Check(); err != nil {
		return p, err
	}
	_, err = tx.Exec(ctx, `
		UPDATE shelf_policy SET (target, line_cost, holding, waiting, waiting_safety, look_every, months, season, excess_months, returned, reduced)
		    = ($1::float8, $2, $3::float8, $4, $5, $6, $7, $8::float8[], $9, $10::float8, $11::float8)`,
		p.Target, p.LineCost, p.Holding, p.Waiting, p.WaitingSafety, p.LookEvery, p.Months, p.Season, p.Excess.Months, p.Excess.Returned, p.Excess.Reduced)
	if err != nil {
		return p, fmt.Errorf("save what the shop wants of its shelf: %w", err)
	}
	return LoadPolicy(ctx, tx)
}

// mostWaiting is more than a day of any workshop is worth.
var mostWaiting = decimal.NewFromInt(10_000)

// Check says which of the figures cannot be meant.
func (p Policy) Check() error {
	switch {
	case !(p.Target > 0 && p.Target <= 0.999):
		return fmt.Errorf("a target of %v sales in 100 is not above 0 and up to 99.9: to meet all would need a shelf without end", 100*p.Target)
	case p.LineCost.IsNegative() || p.LineCost.GreaterThan(mostWaiting):
		return fmt.Errorf("a line of an order cannot cost %s", p.LineCost)
	case !(p.Holding > 0 && p.Holding <= 2):
		return fmt.Errorf("a year on the shelf for %v in 100 of the price cannot be meant: 25 is usual, above 0 and up to 200", 100*p.Holding)
	case p.Waiting.IsNegative() || p.WaitingSafety.IsNegative() || p.Waiting.GreaterThan(mostWaiting) || p.WaitingSafety.GreaterThan(mostWaiting):
		return fmt.Errorf("a working day for which a job waits cannot cost %s or %s", p.Waiting, p.WaitingSafety)
	case p.LookEvery < 0 || p.LookEvery > 60:
		return fmt.Errorf("a look at the shelf every %d working days cannot be meant: from 1 to 60, or 0 as the orders tell", p.LookEvery)
	case p.Months < 1 || p.Months > 120:
		return fmt.Errorf("stock that may lie for %d months cannot be meant: from 1 to 120", p.Months)
	}
	if err := p.checkSeason(); err != nil {
		return err
	}
	return p.Excess.Check()
}

// checkSeason refuses what is no year. A month without any sales at all is one in which the shop is shut, which
// closures say.
func (p Policy) checkSeason() error {
	if p.Season == nil {
		return nil
	}
	if len(p.Season) != 12 {
		return fmt.Errorf("a season is twelve numbers, January first, not %d", len(p.Season))
	}
	least, most := slices.Min(p.Season), slices.Max(p.Season)
	if !(least > 0) || !(most <= 1e6) || most > 100*least {
		return fmt.Errorf("a season's numbers are above 0, and no month has a hundred times another's: from %v to %v cannot be meant", least, most)
	}
	return nil
}

// season is what is believed of the year before the books tell, for a shop in a country.
func (p Policy) season(country string) (season reorder.Season, given bool) {
	if p.Season != nil {
		return reorder.SeasonOf([12]float64(p.Season)), true
	}
	if slices.Contains([]string{"AU", "NZ", "ZA", "AR", "CL", "UY"}, country) {
		return reorder.Riding.Turned(), false
	}
	return reorder.Riding, false
}

// waits is what it costs where a sale of a part is not met and takes so many working days to come.
func (p Policy) waits(family substitution.Family, days float64) float64 {
	a := p.Waiting
	if ofSafety(family) {
		a = p.WaitingSafety
	}
	return a.InexactFloat64() * days
}

// ofSafety reports whether any place of a family is one of safety: brakes, steering, wheels.
func ofSafety(family substitution.Family) bool {
	table, err := substitution.TableOf(family)
	return err == nil && slices.ContainsFunc(table.Sites, func(s substitution.Site) bool { return s.Safety })
}
