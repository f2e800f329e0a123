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
	"stead/substitution"
)

// Series is a kind of paper that is numbered by itself.
type Series string

const (
	Bills   Series = "bill"
	Credits Series = "credit note"
)

// Bill is a bill or a credit note as it was handed over.
type Bill struct {
	Series   Series          `json:"kind"`
	Number   int64           `json:"number"`
	MadeAt   time.Time       `json:"made_at"`
	JobID    int64           `json:"job,omitempty"`     // none: a sale over the counter
	Credits  int64           `json:"credits,omitempty"` // the number of the bill that a credit note corrects
	Why      string          `json:"why,omitempty"`     // of a credit note
	Seller   Seller          `json:"seller"`
	Customer string          `json:"customer,omitempty"`
	Contact  string          `json:"contact,omitempty"`
	Bike     string          `json:"bike,omitempty"`
	Currency string          `json:"currency"`
	Lines    []Line          `json:"lines"`
	Rates    []pricing.Rate  `json:"rates"`
	Net      decimal.Decimal `json:"net"`
	Tax      decimal.Decimal `json:"tax"`
	Total    decimal.Decimal `json:"total"` // tax included; of a credit note what is given back

	ID int64 `json:"-"`
}

// Seller is the workshop as it stands at the head of a bill.
type Seller struct {
	Name      string   `json:"name"`
	Address   []string `json:"address,omitempty"`
	TaxNumber string   `json:"tax_number,omitempty"`
}

// Line is one line of a bill.
type Line struct {
	Number  int                `json:"line"`
	Kind    pricing.LineKind   `json:"kind"`
	Place   substitution.Place `json:"place,omitempty"`
	Words   string             `json:"words"`
	PartID  int64              `json:"part_id,omitempty"`
	Pieces  int                `json:"pieces,omitempty"`
	Minutes int                `json:"minutes,omitempty"`
	Tax     pricing.Tax        `json:"tax"`
	Amount  decimal.Decimal    `json:"amount"` // tax included
}

// sumUp works out a bill's sums from its lines.
func (b *Bill) sumUp() {
	lines := make([]pricing.AgreedLine, len(b.Lines))
	for i, l := range b.Lines {
		b.Lines[i].Number = i + 1
		lines[i] = pricing.AgreedLine{Tax: l.Tax, Amount: l.Amount}
	}
	b.Rates = pricing.ByRate(lines)
	b.sumRates()
}

func (b *Bill) sumRates() {
	b.Net, b.Tax, b.Total = decimal.Zero, decimal.Zero, decimal.Zero
	for _, r := range b.Rates {
		b.Net, b.Tax, b.Total = b.Net.Add(r.Net), b.Tax.Add(r.Tax), b.Total.Add(r.Gross)
	}
}

// Make writes the bill of a job that is closed. A job has one bill; after a credit note for the whole of it there may be
// another. Where the clock is behind the last paper it is a BehindError.
func Make(ctx context.Context, tx pgx.Tx, jobID int64, at Moment) (Bill, error) {
	if err := inventory.Lock(ctx, tx, []int64{jobID}, nil); err != nil {
		return Bill{}, err
	}
	job, err := pricing.JobByID(ctx, tx, jobID)
	if err != nil {
		return Bill{}, err
	}
	switch job.State {
	case pricing.Closed:
	case pricing.Cancelled:
		return Bill{}, fmt.Errorf("job %d is cancelled: nothing is due for it", jobID)
	default:
		return Bill{}, &NotDoneError{JobID: jobID, State: job.State}
	}
	before, err := ofJob(ctx, tx, jobID)
	if err != nil {
		return Bill{}, err
	}
	for _, b := range before {
		if b.Series == Bills && slices.ContainsFunc(b.left(before), func(x decimal.Decimal) bool { return !x.IsZero() }) {
			return Bill{}, fmt.Errorf("job %d has bill %d already: give that back with a credit note first", jobID, b.Number)
		}
	}
	agreed, err := pricing.AgreedOn(ctx, tx, jobID)
	if err != nil {
		return Bill{}, err
	}
	made, err := at.next(ctx, tx)
	if err != nil {
		return Bill{}, err
	}
	b := Bill{Series: Bills, MadeAt: made, JobID: jobID, Currency: agreed.Currency, Customer: job.Bike.Customer.Name, Contact: job.Bike.Customer.Reach(),
		Bike: job.Bike.Words, Lines: linesOf(agreed, job.Ending)}
	b.sumUp()
	if job.Ending != nil && !b.Total.Equal(job.Ending.Due) {
		return Bill{}, fmt.Errorf("the lines of job %d come to %s and %s is due: this is a fault of the program", jobID, b.Total, job.Ending.Due)
	}
	return b, b.write(ctx, tx)
}

// MakePaid writes the bill of a job and takes all that is due for it; how is how it was paid, empty: it was not yet.
func MakePaid(ctx context.Context, tx pgx.Tx, jobID int64, how string, at Moment) (Bill, error) {
	b, err := Make(ctx, tx, jobID, at)
	if err != nil || how == "" {
		return b, err
	}
	a, err := AccountOf(ctx, tx, b)
	if err != nil || !a.Due.IsPositive() {
		return b, err
	}
	_, err = Pay(ctx, tx, jobID, decimal.NullDecimal{}, how, b.MadeAt)
	return b, err
}

// NotDoneError says that a job is not billed yet because it is not closed.
type NotDoneError struct {
	JobID int64
	State pricing.JobState
}

func (e *NotDoneError) Error() string {
	return fmt.Sprintf("job %d is %s: it is billed when the work is done", e.JobID, e.State)
}

// linesOf are the lines of what was agreed and done.
func linesOf(agreed pricing.Agreement, ending *pricing.Ending) []Line {
	lines := agreed.Standing()
	if ending == nil {
		return asBilled(lines)
	}
	for _, left := range ending.LeftOut {
		i := slices.IndexFunc(lines, left.Of)
		if i < 0 { // of a job that ended before its lines were kept as they are
			lines = append(lines, pricing.AgreedLine{Kind: pricing.DiscountLine, Place: left.Place, Words: "left out: " + left.Words, Tax: agreed.Lines[0].Tax, Amount: left.Amount.Neg()})
			continue
		}
		lines[i].Amount, lines[i].Pieces = lines[i].Amount.Sub(left.Amount), lines[i].Pieces-left.Pieces
		if lines[i].Amount.IsZero() && lines[i].Pieces == 0 {
			lines = slices.Delete(lines, i, i+1)
		}
	}
	out := asBilled(lines)
	for _, x := range ending.Extras {
		out = append(out, Line{Kind: pricing.PartsLine, Place: x.Place, Words: x.Words, PartID: x.PartID, Pieces: x.Pieces, Tax: x.Tax, Amount: x.Amount})
	}
	return summed(out)
}

// summed puts lines of one part at one rate of tax into one, with all its pieces: the balls of both sides of a hub, or
// what came off the shelf and what was ordered. The line keeps its place where all of it is for that place.
func summed(lines []Line) (out []Line) {
	for _, l := range lines {
		i := slices.IndexFunc(out, func(o Line) bool {
			return l.Kind == pricing.PartsLine && o.Kind == l.Kind && l.PartID != 0 && o.PartID == l.PartID && o.Words == l.Words &&
				o.Tax.Name == l.Tax.Name && o.Tax.Percent.Equal(l.Tax.Percent) && l.Pieces > 0 && o.Pieces > 0
		})
		if i < 0 {
			out = append(out, l)
			continue
		}
		out[i].Pieces, out[i].Amount = out[i].Pieces+l.Pieces, out[i].Amount.Add(l.Amount)
		if out[i].Place != l.Place {
			out[i].Place = ""
		}
	}
	return out
}

// asBilled are agreed lines as they stand on a bill.
func asBilled(lines []pricing.AgreedLine) (out []Line) {
	for _, l := range lines {
		out = append(out, Line{Kind: l.Kind, Place: l.Place, Words: l.Words, PartID: l.PartID, Pieces: l.Pieces, Minutes: l.Minutes, Tax: l.Tax, Amount: l.Amount})
	}
	return out
}

// write keeps a bill, under the head of the shop as it is now, and gets its number.
func (b *Bill) write(ctx context.Context, tx pgx.Tx) error {
	shop, err := inventory.LoadShop(ctx, tx)
	if err != nil {
		return err
	}
	b.Seller = Seller{Name: shop.Name, TaxNumber: shop.TaxNumber}
	for line := range strings.SplitSeq(shop.Address, "\n") {
		if line = strings.TrimSpace(line); line != "" {
			b.Seller.Address = append(b.Seller.Address, line)
		}
	}
	var credits *int64
	if b.Series == Credits {
		bill, err := Numbered(ctx, tx, Bills, b.Credits)
		if err != nil {
			return err
		}
		credits = &bill.ID
	}
	err = tx.QueryRow(ctx, `
		INSERT INTO bill (series, number, job_id, credits, made_at, total, document) VALUES ($1, 0, nullif($2, 0), $3, $4, $5, $6) RETURNING id, number`,
		b.Series, b.JobID, credits, b.MadeAt, b.Total, b).Scan(&b.ID, &b.Number)
	if err != nil {
		return fmt.Errorf("writing the %s: %w", b.Series, err)
	}
	return nil
}

// Numbered is a bill or credit note by its number.
func Numbered(ctx context.Context, db inventory.DB, series Series, number int64) (Bill, error) {
	list, err := bills(ctx, db, `WHERE series = $1 AND number = $2`, series, number)
	if err != nil {
		return Bill{}, err
	}
	if len(list) == 0 {
		return Bill{}, &inventory.UnknownError{Kind: inventory.Kind(series), Name: fmt.Sprint(number)}
	}
	return list[0], nil
}

// List are all bills and credit notes of the days from a moment on, in the order in which they were written.
func List(ctx context.Context, db inventory.DB, from time.Time) ([]Bill, error) {
	return bills(ctx, db, `WHERE made_at >= $1`, from)
}

func ofJob(ctx context.Context, db inventory.DB, jobID int64) ([]Bill, error) {
	return bills(ctx, db, `WHERE job_id = $1`, jobID)
}

func bills(ctx context.Context, db inventory.DB, where string, args ...any) ([]Bill, error) {
	rows, err := db.Query(ctx, `SELECT id, number, document FROM bill `+where+` ORDER BY id`, args...)
	if err != nil {
		return nil, fmt.Errorf("loading bills: %w", err)
	}
	list, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (b Bill, err error) {
		var id, number int64
		err = row.Scan(&id, &number, &b)
		b.ID, b.Number = id, number
		return b, err
	})
	if err != nil {
		return nil, fmt.Errorf("loading bills: %w", err)
	}
	return list, nil
}

var errNothing = errors.New("nothing is sold: name a part and how many")
