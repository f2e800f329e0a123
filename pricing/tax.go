package pricing

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/substitution"
)

// Taxed is what a rate of tax is for: [Everything], [Work], [Repairs], or the parts of a family by its name.
type Taxed string

const (
	Everything Taxed = ""        // that has no rate of its own
	Work       Taxed = "work"    // what the workshop does
	Repairs    Taxed = "repairs" // a job as a whole: its work, the parts fitted and their carriage; nothing over the counter
)

// check is an error for what no rate can be for.
func (t Taxed) check() error {
	if t == Everything || t == Work || t == Repairs {
		return nil
	}
	if _, err := substitution.TableOf(substitution.Family(t)); err != nil {
		return fmt.Errorf("a rate of tax is for %s, %s or the parts of a family: %w", Work, Repairs, err)
	}
	return nil
}

// check is an error for what cannot be a rate of tax.
func (t Tax) check() error {
	if strings.TrimSpace(t.Name) == "" {
		return errors.New("a tax needs its name, such as VAT")
	}
	if t.Percent.IsNegative() || t.Percent.GreaterThanOrEqual(hundred) || !t.Percent.Equal(t.Percent.Round(3)) {
		return fmt.Errorf("tax %q: a rate of %s %% cannot be meant: it is from 0 to below 100, with at most three decimals", t.Name, t.Percent)
	}
	return nil
}

// SetTax records a rate of tax from a day on, for all or for one thing alone.
func SetTax(ctx context.Context, tx pgx.Tx, t Tax, on Taxed, from time.Time) error {
	if err := t.check(); err != nil {
		return err
	}
	if err := on.check(); err != nil {
		return err
	}
	_, err := tx.Exec(ctx, `
		INSERT INTO tax_rate (name, applies_to, valid_from, percent) VALUES ($1, $2, $3, $4)
		ON CONFLICT (applies_to, name, valid_from) DO UPDATE SET percent = excluded.percent`, t.Name, on, from, t.Percent)
	if err != nil {
		return fmt.Errorf("tax %q: %w", t.Name, err)
	}
	return nil
}

// ErrNoTax says that the shop has recorded no tax for a day.
var ErrNoTax = errors.New("no rate of tax is recorded")

// Taxes are the rates in force on a day: the one for all, and those of what carries another.
type Taxes struct {
	Tax
	On map[Taxed]Tax `json:"on,omitempty"`
}

// TaxesOn are the rates in force on a day, or [ErrNoTax]. A shop that has recorded none for everything cannot quote: a price
// without its tax is not a price.
func TaxesOn(ctx context.Context, db inventory.DB, day time.Time) (Taxes, error) {
	rows, err := db.Query(ctx, `
		SELECT DISTINCT ON (applies_to) applies_to, name, percent FROM tax_rate
		WHERE valid_from <= $1 ORDER BY applies_to, valid_from DESC, name`, day)
	if err != nil {
		return Taxes{}, fmt.Errorf("loading the rates of tax: %w", err)
	}
	all := Taxes{On: map[Taxed]Tax{}}
	var on Taxed
	var t Tax
	if _, err := pgx.ForEachRow(rows, []any{&on, &t.Name, &t.Percent}, func() error { all.On[on] = t; return nil }); err != nil {
		return Taxes{}, fmt.Errorf("loading the rates of tax: %w", err)
	}
	var known bool
	if all.Tax, known = all.On[Everything]; !known {
		return Taxes{}, fmt.Errorf("%w for %s", ErrNoTax, day.Format("2 January 2006"))
	}
	delete(all.On, Everything)
	return all, nil
}

// TaxOn is the rate in force on a day for what has none of its own, or [ErrNoTax].
func TaxOn(ctx context.Context, db inventory.DB, day time.Time) (Tax, error) {
	all, err := TaxesOn(ctx, db, day)
	return all.Tax, err
}

// first is the rate of the first of some things that has one of its own, else the rate of everything.
func (t Taxes) first(things ...Taxed) Tax {
	for _, thing := range things {
		if own, has := t.On[thing]; has {
			return own
		}
	}
	return t.Tax
}

// OnWork is the rate of what the workshop does.
func (t Taxes) OnWork() Tax { return t.first(Work, Repairs) }

// OnFitted is the rate of a part that is fitted on a job.
func (t Taxes) OnFitted(f substitution.Family) Tax { return t.first(Taxed(f), Repairs) }

// OnSold is the rate of a part that is sold over the counter.
func (t Taxes) OnSold(f substitution.Family) Tax { return t.first(Taxed(f)) }

// OnCarriage is the rate of the carriage of a job's parts: what goes with a delivery is taxed as it is. Common practice, no
// source.
func (t Taxes) OnCarriage() Tax { return t.first(Repairs) }

// Own are the things that carry another rate than the rest, in their order.
func (t Taxes) Own() []Taxed { return slices.Sorted(maps.Keys(t.On)) }

// same reports whether two rates are one.
func (t Tax) same(u Tax) bool { return t.Name == u.Name && t.Percent.Equal(u.Percent) }

// unless is the rate, or none where it is the one that goes without saying.
func (t Tax) unless(usual Tax) Tax {
	if t.same(usual) {
		return Tax{}
	}
	return t
}

// or is the rate, or the usual one where there is none.
func (t Tax) or(usual Tax) Tax {
	if t.Name == "" {
		return usual
	}
	return t
}

// Words are a rate as it is written: "VAT at 20 %"; none is empty.
func (t Tax) Words() string {
	if t.Name == "" {
		return ""
	}
	return fmt.Sprintf("%s at %s %%", t.Name, t.Percent)
}

// byTax sorts lines by their rates, in the order in which these first come.
func byTax(lines []AgreedLine) (rates []Tax, amounts []decimal.Decimal) {
	for _, l := range lines {
		i := slices.IndexFunc(rates, l.Tax.same)
		if i < 0 {
			i, rates, amounts = len(rates), append(rates, l.Tax), append(amounts, decimal.Zero)
		}
		amounts[i] = amounts[i].Add(l.Amount)
	}
	return rates, amounts
}

// shareOut parts an amount by the sizes of its parts, to the penny, so that the shares come to just the amount.
func shareOut(amount decimal.Decimal, parts []decimal.Decimal) []decimal.Decimal {
	all, upTo, given := decimal.Zero, decimal.Zero, decimal.Zero
	for _, p := range parts {
		all = all.Add(p)
	}
	out := make([]decimal.Decimal, len(parts))
	for i, p := range parts {
		upTo = upTo.Add(p)
		sum := inventory.Rounded(amount.Mul(upTo), all, 2)
		out[i], given = sum.Sub(given), sum
	}
	return out
}

// TaxWords name the rates that a quote's prices contain.
func (q Quote) TaxWords() string {
	var lines []AgreedLine
	for _, o := range q.Options {
		lines = append(lines, q.lines(o)...)
	}
	rates, _ := byTax(append(lines, q.lines(Option{})...))
	if len(rates) == 0 {
		return q.Tax.Words()
	}
	words := make([]string, len(rates))
	for i, r := range rates {
		words[i] = r.Words()
	}
	return joinAnd(words)
}
