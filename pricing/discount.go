package pricing

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
	"stead/substitution"
)

// Discount is less to pay: of the lines at one place, or of the whole.
type Discount struct {
	ID       int64               `json:"id"`
	Place    substitution.Place  `json:"place,omitempty"` // empty: the whole
	Percent  decimal.NullDecimal `json:"percent,omitzero"`
	Amount   decimal.NullDecimal `json:"amount,omitzero"` // tax included
	Warranty bool                `json:"warranty,omitempty"`
	Why      string              `json:"why"`
}

// AddDiscount gives a discount on a job. What is agreed stays as it was agreed: a discount after the approval comes with the
// next amendment.
func AddDiscount(ctx context.Context, tx pgx.Tx, jobID int64, d Discount, now time.Time) (Discount, error) {
	d.Why = strings.TrimSpace(d.Why)
	switch {
	case d.Why == "":
		return d, errors.New("a discount needs its reason, such as \"club member\"")
	case d.Percent.Valid == d.Amount.Valid:
		return d, errors.New("a discount is so much in the hundred, or an amount: say one of the two")
	case d.Percent.Valid && (!d.Percent.Decimal.IsPositive() || d.Percent.Decimal.GreaterThan(hundred) || !d.Percent.Decimal.Equal(d.Percent.Decimal.Round(3))):
		return d, fmt.Errorf("a discount of %s %% cannot be meant: it is above 0 and at most 100, with at most three decimals", d.Percent.Decimal)
	case d.Amount.Valid && !d.Amount.Decimal.IsPositive():
		return d, fmt.Errorf("a discount of %s cannot be meant: it is above zero", d.Amount.Decimal)
	case d.Amount.Valid:
		if err := checkPence(d.Amount.Decimal); err != nil {
			return d, err
		}
	}
	if d.Place != "" {
		if _, err := substitution.SiteOf(d.Place); err != nil {
			return d, err
		}
	}
	err := changeTerms(ctx, tx, jobID, func(Job) error {
		return tx.QueryRow(ctx, `
			INSERT INTO job_discount (job_id, place, percent, amount, warranty, why, at) VALUES ($1, $2, $3, $4, $5, $6, $7) RETURNING id`,
			jobID, d.Place, d.Percent, d.Amount, d.Warranty, d.Why, now).Scan(&d.ID)
	})
	return d, err
}

// DropDiscount takes a discount back. One that is agreed stays.
func DropDiscount(ctx context.Context, tx pgx.Tx, jobID, id int64, now time.Time) error {
	return dropTerm(ctx, tx, jobID, id, DiscountLine, `UPDATE job_discount SET gone_at = $3 WHERE job_id = $1 AND id = $2 AND gone_at IS NULL`, now)
}

// Words are how a discount is called on paper.
func (d Discount) Words() string {
	words := d.Why
	if d.Warranty {
		words = "under warranty: " + words
	}
	if d.Percent.Valid && !d.Warranty {
		words = fmt.Sprintf("%s %% off: %s", d.Percent.Decimal, words)
	}
	if d.Place != "" {
		words += " (" + siteWords(d.Place) + ")"
	}
	return words
}

// Less is a discount as it comes to on one option; of one on lines at several rates of tax, on those of each.
type Less struct {
	ID     int64              `json:"id"`
	Place  substitution.Place `json:"place,omitempty"`
	Words  string             `json:"words"`
	Tax    Tax                `json:"tax,omitzero"` // where it is not the quote's
	Amount decimal.Decimal    `json:"amount"`       // tax included, below zero
}

// discountsOn work out what discounts come to on lines: those of places first, and those of the whole on what is left. gone
// are agreed lines that give way, on which what was given off goes back; standing are the agreed lines that stay, which
// count for a discount that is new. A discount is never more than its lines. It is at the rates of tax of its lines: so much
// in the hundred of what each rate comes to, an amount shared out by that.
func discountsOn(discounts []Discount, added, gone, standing []AgreedLine) (out []Less) {
	left := slices.Clone(added)
	for _, whole := range []bool{false, true} {
		for _, d := range discounts {
			if (d.Place == "") != whole {
				continue
			}
			agreed := slices.ContainsFunc(slices.Concat(gone, standing), func(l AgreedLine) bool { return l.Kind == DiscountLine && l.Of == d.ID })
			at := func(lines []AgreedLine) []AgreedLine {
				return slices.DeleteFunc(slices.Clone(lines), func(l AgreedLine) bool { return !whole && l.Place != d.Place })
			}
			base := at(added)
			if whole {
				base = slices.Clone(left)
			}
			if agreed {
				for _, l := range at(gone) {
					l.Amount = l.Amount.Neg()
					base = append(base, l)
				}
			} else {
				base = append(base, at(standing)...)
			}
			rates, amounts := byTax(base)
			for i, amount := range d.on(amounts, agreed) {
				if !amount.IsZero() {
					out = append(out, Less{ID: d.ID, Place: d.Place, Words: d.Words(), Tax: rates[i], Amount: amount.Neg()})
					left = append(left, AgreedLine{Tax: rates[i], Amount: amount.Neg()})
				}
			}
		}
	}
	return out
}

// on is what a discount comes to on amounts, each at a rate of tax of its own. One that is agreed and an amount was given
// already.
func (d Discount) on(amounts []decimal.Decimal, agreed bool) []decimal.Decimal {
	out := make([]decimal.Decimal, len(amounts))
	all := decimal.Zero
	for i, a := range amounts {
		all = all.Add(a)
		if d.Percent.Valid {
			out[i] = inventory.Rounded(a.Mul(d.Percent.Decimal), hundred, 2)
		}
	}
	if d.Percent.Valid || agreed || !all.IsPositive() {
		return out
	}
	return shareOut(decimal.Min(d.Amount.Decimal, all), amounts)
}
