package billing

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/pricing"
)

// Back is what a credit note gives back of a bill: of each line by its number an amount, tax included, or all that is left
// of it where the amount is absent. Without any line it is all that is left of the bill.
type Back map[int]decimal.NullDecimal

// left is what is left of each line of a bill after the credit notes among some bills.
func (b Bill) left(among []Bill) []decimal.Decimal {
	out := make([]decimal.Decimal, len(b.Lines))
	for i, l := range b.Lines {
		out[i] = l.Amount
	}
	for _, c := range among {
		if c.Series != Credits || c.Credits != b.Number {
			continue
		}
		for _, l := range c.Lines {
			out[l.Number-1] = out[l.Number-1].Sub(l.Amount)
		}
	}
	return out
}

// Credit corrects a bill by a credit note. The lines keep the numbers that they have on the bill. The tax of
// each note is that of its own sum, and the last one gives back what is left, so that of a bill that is given back in steps
// no penny of tax stays. Where the clock is behind the last paper it is a BehindError.
func Credit(ctx context.Context, tx pgx.Tx, number int64, back Back, why string, at Moment) (Bill, error) {
	bill, err := Numbered(ctx, tx, Bills, number)
	if err != nil {
		return Bill{}, err
	}
	if why = strings.TrimSpace(why); why == "" {
		return Bill{}, fmt.Errorf("say why bill %d is corrected: it stands on the credit note", number)
	}
	if _, err := tx.Exec(ctx, `SELECT FROM bill WHERE id = $1 FOR UPDATE`, bill.ID); err != nil {
		return Bill{}, fmt.Errorf("correcting bill %d: %w", number, err)
	}
	before, err := bills(ctx, tx, `WHERE credits = $1`, bill.ID)
	if err != nil {
		return Bill{}, err
	}
	made, err := at.next(ctx, tx)
	if err != nil {
		return Bill{}, err
	}
	left := bill.left(before)
	c := Bill{Series: Credits, MadeAt: made, JobID: bill.JobID, Credits: number, Why: why, Currency: bill.Currency,
		Customer: bill.Customer, Contact: bill.Contact, Bike: bill.Bike}
	if c.Lines, err = bill.giveBack(left, back); err != nil {
		return Bill{}, err
	}
	c.Rates = bill.ratesOf(c.Lines, before)
	c.sumRates()
	if c.Total.IsNegative() {
		return Bill{}, fmt.Errorf("these lines of bill %d come to less than nothing: give back what the discount was on as well", number)
	}
	return c, c.write(ctx, tx)
}

// giveBack are a credit note's lines.
func (b Bill) giveBack(left []decimal.Decimal, back Back) ([]Line, error) {
	whole := len(back) == 0
	if whole {
		back = Back{}
		for i := range b.Lines {
			if !left[i].IsZero() {
				back[i+1] = decimal.NullDecimal{}
			}
		}
		if len(back) == 0 {
			return nil, fmt.Errorf("nothing is left of bill %d to give back", b.Number)
		}
	}
	var out []Line
	for _, n := range slices.Sorted(maps.Keys(back)) {
		if n < 1 || n > len(b.Lines) {
			return nil, fmt.Errorf("bill %d has no line %d: it has %d", b.Number, n, len(b.Lines))
		}
		l, rest := b.Lines[n-1], left[n-1]
		amount := rest
		if asked := back[n]; asked.Valid {
			amount = asked.Decimal
			if l.Amount.IsNegative() {
				amount = amount.Neg()
			}
		}
		switch {
		case rest.IsZero():
			return nil, fmt.Errorf("nothing is left of line %d of bill %d to give back", n, b.Number)
		case amount.IsZero() || !amount.Equal(amount.Truncate(2)) || amount.IsNegative() != l.Amount.IsNegative():
			return nil, fmt.Errorf("%s of line %d of bill %d cannot be given back: it is above zero, in whole pence", amount.Abs(), n, b.Number)
		case amount.Abs().GreaterThan(rest.Abs()):
			return nil, fmt.Errorf("%s is left of line %d of bill %d, not %s", pricing.Amount(b.Currency, rest.Abs()), n, b.Number, pricing.Amount(b.Currency, amount.Abs()))
		}
		if !amount.Equal(l.Amount) {
			l.Pieces, l.Minutes = 0, 0 // a part of its price, not of its pieces
		}
		l.Amount = amount
		out = append(out, l)
	}
	return out, nil
}

// ratesOf are what given lines of the bill come to by rate, after the credit notes before. The tax is what the rate says of
// what is given back, to the nearer penny as on any paper (BR-CO-17); but what stays of the tax is
// never below nothing nor above the price that it is in, so that the note that closes a rate gives back what is left of both.
func (b Bill) ratesOf(given []Line, before []Bill) (out []pricing.Rate) {
	lines := make([]pricing.AgreedLine, len(given))
	for i, l := range given {
		lines[i] = pricing.AgreedLine{Tax: l.Tax, Amount: l.Amount}
	}
	for _, r := range pricing.ByRate(lines) {
		gross, tax := b.stillOf(r, before)
		stays := within(tax.Sub(r.Tax), decimal.Zero, gross.Sub(r.Gross))
		r.Tax = tax.Sub(stays)
		if r.Net = r.Gross.Sub(r.Tax); !r.Gross.IsZero() || !r.Tax.IsZero() {
			out = append(out, r)
		}
	}
	return out
}

// stillOf is what is left of a bill's rate after the credit notes before, and how much of it is tax.
func (b Bill) stillOf(rate pricing.Rate, before []Bill) (gross, tax decimal.Decimal) {
	for i, paper := range append([]Bill{b}, before...) {
		for _, r := range paper.Rates {
			switch {
			case r.Name != rate.Name || !r.Percent.Equal(rate.Percent):
			case i == 0:
				gross, tax = gross.Add(r.Gross), tax.Add(r.Tax)
			default:
				gross, tax = gross.Sub(r.Gross), tax.Sub(r.Tax)
			}
		}
	}
	return gross, tax
}

// within is a sum, or the nearer of two bounds where it is beyond them, whichever of the two is the higher.
func within(sum, one, other decimal.Decimal) decimal.Decimal {
	return decimal.Max(decimal.Min(one, other), decimal.Min(sum, decimal.Max(one, other)))
}
