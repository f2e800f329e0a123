package billing

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/pricing"
)

// Payment is money that came, or with an amount below zero went back.
type Payment struct {
	ID     int64           `json:"payment"`
	Amount decimal.Decimal `json:"amount"`
	How    string          `json:"how"` // cash, card, transfer
	At     time.Time       `json:"at"`

	currency string // the shop's, of a payment that is just taken
}

// Words say that money came, or went back: "paid, card: £20.00".
func (p Payment) Words() string {
	if p.Amount.IsNegative() {
		return fmt.Sprintf("paid back, %s: %s", p.How, pricing.Amount(p.currency, p.Amount.Neg()))
	}
	return fmt.Sprintf("paid, %s: %s", p.How, pricing.Amount(p.currency, p.Amount))
}

// Account is what a job, or a sale over the counter, comes to and what was paid of it.
type Account struct {
	Papers   []Bill          `json:"papers,omitempty"` // bills and credit notes, in their order
	Payments []Payment       `json:"payments,omitempty"`
	Billed   decimal.Decimal `json:"billed"` // with what was given back
	Paid     decimal.Decimal `json:"paid"`
	Due      decimal.Decimal `json:"due"` // below zero: too much was paid, such as a deposit before the bill
}

// Open reports whether a bill can be written: there is none yet, or all of it was given back.
func (a Account) Open() bool {
	for _, b := range a.Papers {
		if b.Series == Bills && slices.ContainsFunc(b.left(a.Papers), func(x decimal.Decimal) bool { return !x.IsZero() }) {
			return false
		}
	}
	return true
}

// AccountOfJob is what a job comes to and what was paid of it.
func AccountOfJob(ctx context.Context, db inventory.DB, jobID int64) (Account, error) {
	papers, err := ofJob(ctx, db, jobID)
	if err != nil {
		return Account{}, err
	}
	return account(ctx, db, papers, `WHERE job_id = $1`, jobID)
}

// AccountOf is the account to which a bill belongs: its job's, or its own.
func AccountOf(ctx context.Context, db inventory.DB, b Bill) (Account, error) {
	if b.JobID != 0 {
		return AccountOfJob(ctx, db, b.JobID)
	}
	if b.Series == Credits {
		bill, err := Numbered(ctx, db, Bills, b.Credits)
		if err != nil {
			return Account{}, err
		}
		b = bill
	}
	papers, err := bills(ctx, db, `WHERE id = $1 OR credits = $1`, b.ID)
	if err != nil {
		return Account{}, err
	}
	return account(ctx, db, papers, `WHERE bill_id = $1`, b.ID)
}

func account(ctx context.Context, db inventory.DB, papers []Bill, where string, of int64) (Account, error) {
	a := Account{Papers: papers}
	rows, err := db.Query(ctx, `SELECT id, amount, how, at FROM payment `+where+` ORDER BY id`, of)
	if err != nil {
		return a, fmt.Errorf("loading payments: %w", err)
	}
	if a.Payments, err = pgx.CollectRows(rows, pgx.RowToStructByPos[Payment]); err != nil {
		return a, fmt.Errorf("loading payments: %w", err)
	}
	for _, b := range papers {
		if b.Series == Credits {
			a.Billed = a.Billed.Sub(b.Total)
		} else {
			a.Billed = a.Billed.Add(b.Total)
		}
	}
	for _, p := range a.Payments {
		a.Paid = a.Paid.Add(p.Amount)
	}
	a.Due = a.Billed.Sub(a.Paid)
	return a, nil
}

// Pay records money for a job: before its bill a deposit. After the bill no more is taken than is due; without an
// amount it is all that is due. Of what is paid back there must have been as much.
func Pay(ctx context.Context, tx pgx.Tx, jobID int64, amount decimal.NullDecimal, how string, now time.Time) (Payment, error) {
	if err := inventory.Lock(ctx, tx, []int64{jobID}, nil); err != nil {
		return Payment{}, err
	}
	a, err := AccountOfJob(ctx, tx, jobID)
	if err != nil {
		return Payment{}, err
	}
	if len(a.Papers) == 0 && !amount.Valid {
		return Payment{}, fmt.Errorf("job %d has no bill yet: say how much is paid before it", jobID)
	}
	if len(a.Papers) == 0 && amount.Decimal.IsPositive() {
		job, err := pricing.JobByID(ctx, tx, jobID)
		if err != nil {
			return Payment{}, err
		}
		if job.State == pricing.Cancelled {
			return Payment{}, fmt.Errorf("job %d is cancelled: nothing is due for it", jobID)
		}
	}
	return a.take(ctx, tx, amount, how, now, len(a.Papers) == 0, &jobID, nil)
}

// take records a payment on an account.
func (a Account) take(ctx context.Context, tx pgx.Tx, amount decimal.NullDecimal, how string, now time.Time, deposit bool, jobID, billID *int64) (Payment, error) {
	shop, err := inventory.LoadShop(ctx, tx)
	if err != nil {
		return Payment{}, err
	}
	p := Payment{Amount: a.Due, How: strings.TrimSpace(how), At: now, currency: shop.Currency}
	if amount.Valid {
		p.Amount = amount.Decimal
	}
	switch {
	case p.How == "":
		return p, errors.New("say how it was paid: cash, card, transfer")
	case !amount.Valid && p.Amount.IsZero():
		return p, errors.New("nothing is due: all is paid")
	case p.Amount.IsZero() || !p.Amount.Equal(p.Amount.Truncate(2)) || p.Amount.Abs().GreaterThan(decimal.NewFromInt(1_000_000)):
		return p, fmt.Errorf("a payment of %s cannot be meant: it is in whole pence", p.Amount)
	case !deposit && p.Amount.IsPositive() && p.Amount.GreaterThan(a.Due):
		return p, fmt.Errorf("%s is due, not %s: take that, or part of it", pricing.Amount(p.currency, decimal.Max(a.Due, decimal.Zero)), pricing.Amount(p.currency, p.Amount))
	case p.Amount.Neg().GreaterThan(a.Paid):
		return p, fmt.Errorf("%s was paid, so %s cannot be paid back", pricing.Amount(p.currency, a.Paid), pricing.Amount(p.currency, p.Amount.Neg()))
	}
	err = tx.QueryRow(ctx, `INSERT INTO payment (job_id, bill_id, amount, how, at) VALUES ($1, $2, $3, $4, $5) RETURNING id`,
		jobID, billID, p.Amount, p.How, now).Scan(&p.ID)
	if err != nil {
		return p, fmt.Errorf("recording a payment: %w", err)
	}
	return p, nil
}
