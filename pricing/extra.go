package pricing

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/substitution"
)

// Extra is a part used on a job beyond what was agreed, within what the customer allowed.
type Extra struct {
	PartID int64              `json:"part_id"`
	Place  substitution.Place `json:"place,omitempty"`
	Words  string             `json:"words"`
	Pieces int                `json:"pieces"`
	Amount decimal.Decimal    `json:"amount"` // tax included
	Tax    Tax                `json:"tax"`
	At     time.Time          `json:"at"`
}

// NotAllowedError says that an extra comes to more than the customer allowed.
type NotAllowedError struct {
	JobID    int64
	Part     string
	currency string
	amount   decimal.Decimal
	left     decimal.Decimal
}

func (e *NotAllowedError) Error() string {
	return fmt.Sprintf("%s comes to %s, and the customer of job %d allows %s more: ask them first", e.Part, Amount(e.currency, e.amount), e.JobID, Amount(e.currency, e.left))
}

// useExtra takes free pieces off the shelf for an approved job beyond what was agreed. They are charged as on a quote, and
// the customer must have allowed as much; free gives them away.
func useExtra(ctx context.Context, tx pgx.Tx, request string, jobID, partID int64, place substitution.Place, pieces int, free bool, now time.Time) (Extra, error) {
	state, err := lockJob(ctx, tx, jobID)
	if err != nil {
		return Extra{}, err
	}
	if state != JobApproved {
		return Extra{}, &inventory.JobStateError{JobID: jobID, State: state}
	}
	agreed, err := AgreedOn(ctx, tx, jobID)
	if err != nil {
		return Extra{}, err
	}
	part, err := inventory.PartByID(ctx, tx, partID)
	if err != nil {
		return Extra{}, err
	}
	e := Extra{PartID: partID, Words: part.Name, Pieces: pieces, At: now}
	if _, err := substitution.SiteOf(place); err == nil {
		e.Place = place
	}
	counter, err := CounterPrices(ctx, tx, []inventory.Part{part}, now)
	if err != nil {
		return Extra{}, err
	}
	e.Tax = counter.situation.Taxes.OnFitted(part.Family)
	if !free {
		if e.Amount, err = counter.at(e.Tax, part, pieces); err != nil {
			return Extra{}, err
		}
		before, err := ExtrasOf(ctx, tx, jobID)
		if err != nil {
			return Extra{}, err
		}
		left := agreed.Allowed.Decimal
		for _, b := range before {
			left = left.Sub(b.Amount)
		}
		if e.Amount.GreaterThan(left) {
			return Extra{}, &NotAllowedError{JobID: jobID, Part: fmt.Sprintf("%d of %s", pieces, part.Name), currency: agreed.Currency, amount: e.Amount, left: left}
		}
	}
	// What is held for the job was agreed, so an extra is of what is free.
	if err := inventory.UseFree(ctx, tx, request, jobID, partID, place, pieces); err != nil {
		return Extra{}, err
	}
	_, err = tx.Exec(ctx, `INSERT INTO extra (job_id, part_id, place, words, pieces, amount, tax, at) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
		jobID, e.PartID, e.Place, e.Words, e.Pieces, e.Amount, e.Tax, now)
	if err != nil {
		return Extra{}, fmt.Errorf("recording %d of %s on job %d: %w", pieces, part.Name, jobID, err)
	}
	return e, nil
}

// ExtrasOf are the parts used on a job beyond what was agreed.
func ExtrasOf(ctx context.Context, db inventory.DB, jobID int64) ([]Extra, error) {
	return termRows[Extra](ctx, db, jobID, `SELECT part_id, place, words, pieces, amount, tax, at FROM extra WHERE job_id = $1 ORDER BY id`)
}

// Counter prices parts off the shelf for whoever pays for them there and then.
type Counter struct {
	situation Situation
}

// CounterPrices are the prices of parts off the shelf today: the retail price, else what they cost to buy again with the
// mark-up and tax.
func CounterPrices(ctx context.Context, db inventory.DB, parts []inventory.Part, now time.Time) (Counter, error) {
	s := Situation{Now: now, Parts: map[int64]inventory.Part{}}
	var err error
	if s.Shop, err = inventory.LoadShop(ctx, db); err != nil {
		return Counter{}, err
	}
	if s.Deliveries, err = inventory.LoadDeliveries(ctx, db, now); err != nil {
		return Counter{}, err
	}
	if s.Taxes, err = TaxesOn(ctx, db, s.Deliveries.Today.Time()); err != nil {
		return Counter{}, err
	}
	var ids []int64
	for _, p := range parts {
		s.Parts[p.ID] = p
		ids = append(ids, p.ID)
	}
	offers, err := inventory.OffersOf(ctx, db, ids)
	if err != nil {
		return Counter{}, err
	}
	s.priceAtHome(offers)
	return Counter{s}, nil
}

// Tax is the tax that the price of a part contains.
func (c Counter) Tax(part inventory.Part) Tax { return c.situation.Taxes.OnSold(part.Family) }

// Currency is the shop's.
func (c Counter) Currency() string { return c.situation.Shop.Currency }

// Of is what pieces of a part cost, tax included.
func (c Counter) Of(part inventory.Part, pieces int) (decimal.Decimal, error) {
	return c.at(c.Tax(part), part, pieces)
}

func (c Counter) at(tax Tax, part inventory.Part, pieces int) (decimal.Decimal, error) {
	cost, of, known := c.situation.worth(part.ID)
	if !known && !part.Retail.Valid {
		return decimal.Zero, fmt.Errorf("%s has no price: give it a retail price, or record what a supplier asks", part.Name)
	}
	return c.situation.priced(tax, part, pieces, cost, of), nil
}

// Use is pieces of a part that go onto a job's bike.
type Use struct {
	JobID  int64
	PartID int64
	Place  substitution.Place // or [inventory.Bench]
	Pieces int
	Free   bool // what is beyond what was agreed is given away
}

// Used says what a use came to.
type Used struct {
	PartID int64  `json:"part_id"`
	Held   int    `json:"held"`            // pieces that were held for the job
	Extra  *Extra `json:"extra,omitempty"` // beyond what was agreed
}

// UsePart takes pieces of a part for an approved job: first what is held for it, and beyond that extras; see [useExtra].
func UsePart(ctx context.Context, tx pgx.Tx, request string, u Use, now time.Time) (Used, error) {
	if _, err := lockJob(ctx, tx, u.JobID); err != nil {
		return Used{}, err
	}
	held, err := inventory.ReservationsOf(ctx, tx, u.JobID)
	if err != nil {
		return Used{}, err
	}
	out := Used{PartID: u.PartID}
	for _, r := range held {
		if r.PartID == u.PartID {
			out.Held += r.Pieces
		}
	}
	if out.Held = min(out.Held, u.Pieces); out.Held > 0 {
		if err := inventory.UseOnJob(ctx, tx, request, u.JobID, u.PartID, u.Place, out.Held); err != nil {
			return Used{}, err
		}
	}
	if beyond := u.Pieces - out.Held; beyond > 0 || u.Pieces <= 0 {
		x, err := useExtra(ctx, tx, request, u.JobID, u.PartID, u.Place, beyond, u.Free, now)
		if err != nil {
			return Used{}, err
		}
		out.Extra = &x
	}
	return out, nil
}
