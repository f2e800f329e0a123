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

// Credit corrects a bill by a credit note. The lines keep the numbers that they have on the bill. The tax given back of a
// rate is what lies between the tax of what was left of it and of what is left now, so that of a bill that is given back in
// steps no penny of tax stays. Where the clock is behind the last paper it is a BehindError.
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
	c.Rates = ratesBetween(bill.Lines, left, c.Lines)
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

// ratesBetween are what given lines come to by rate, of lines of which so much was left.
func ratesBetween(lines []Line, left []decimal.Decimal, given []Line) (out []pricing.Rate) {
	before, after := make([]pricing.AgreedLine, len(lines)), make([]pricing.AgreedLine, len(lines))
	for i, l := range lines {
		before[i] = pricing.AgreedLine{Tax: l.Tax, Amount: left[i]}
		after[i] = before[i]
	}
	for _, g := range given {
		after[g.Number-1].Amount = after[g.Number-1].Amount.Sub(g.Amount)
	}
	now := pricing.ByRate(after)
	for i, r := range pricing.ByRate(before) {
		r.Gross, r.Tax, r.Net = r.Gross.Sub(now[i].Gross), r.Tax.Sub(now[i].Tax), r.Net.Sub(now[i].Net)
		if !r.Gross.IsZero() || !r.Tax.IsZero() {
			out = append(out, r)
		}
	}
	return out
}
