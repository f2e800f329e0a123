package desk

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/pricing"
	"stead/pricing/billing"
)

// Bill is a bill or a credit note as it is handed over, with what was paid: the receipt.
type Bill struct {
	billing.Bill
	Clock
	Account  billing.Account    `json:"account"`
	Unmended []pricing.Unmended `json:"not_mended,omitempty"` // as the bike was handed back
}

// LoadBill gathers a bill or credit note by its number, with the account to which it belongs.
func LoadBill(ctx context.Context, db inventory.DB, series billing.Series, number int64, now time.Time) (Bill, error) {
	b, err := billing.Numbered(ctx, db, series, number)
	if err != nil {
		return Bill{}, err
	}
	return LoadPaid(ctx, db, b, now)
}

// LoadPaid gathers what was paid of a bill that was just written.
func LoadPaid(ctx context.Context, db inventory.DB, b billing.Bill, now time.Time) (Bill, error) {
	a, err := billing.AccountOf(ctx, db, b)
	v := Bill{Bill: b, Clock: At(now), Account: a}
	if err == nil && b.JobID != 0 && b.Series == billing.Bills {
		v.Unmended, err = pricing.UnmendedOn(ctx, db, b.JobID)
	}
	return v, err
}

// Paper is one of the job's own bills and credit notes.
func (v Job) Paper(b billing.Bill) Bill {
	out := Bill{Bill: b, Clock: v.Clock, Account: v.Account}
	if b.Series == billing.Bills {
		out.Unmended = v.Job.Unmended(v.Terms, v.Agreement)
	}
	return out
}

// Title is what the paper is called: "Bill 12", "Credit note 3 for bill 12".
func (v Bill) Title() string {
	if v.Series == billing.Credits {
		return fmt.Sprintf("Credit note %d for bill %d", v.Number, v.Credits)
	}
	return fmt.Sprintf("Bill %d", v.Number)
}

// Heading is the title with the day on which the paper was written.
func (v Bill) Heading() string { return fmt.Sprintf("%s, %s", v.Title(), v.Written(v.MadeAt)) }

// Signed is a sum of the paper as it counts for the customer: what a credit note gives back is below zero.
func (v Bill) Signed(sum decimal.Decimal) decimal.Decimal { return counted(v.Bill, sum) }

func counted(b billing.Bill, sum decimal.Decimal) decimal.Decimal {
	if b.Series == billing.Credits {
		return sum.Neg()
	}
	return sum
}

// Due is what is still to be paid, or below zero to be paid back, in the line of a list of papers. Of several papers of one
// account it stands once: what is to be paid with the last bill, what is to be paid back with the last paper.
func (v Bill) Due() decimal.Decimal {
	last := slices.Clone(v.Account.Papers)
	if !v.Account.Due.IsNegative() {
		last = slices.DeleteFunc(last, func(b billing.Bill) bool { return b.Series == billing.Credits })
	}
	if len(last) == 0 || last[len(last)-1].ID != v.ID {
		return decimal.Zero
	}
	return v.Account.Due
}

// Head are the lines at the head of the paper: the seller, the day, the customer and the job.
func (v Bill) Head() []string {
	out := append([]string{v.Seller.Name}, v.Seller.Address...)
	if v.Seller.TaxNumber != "" {
		out = append(out, "tax number "+v.Seller.TaxNumber)
	}
	out = append(out, v.Heading())
	if v.JobID != 0 {
		out = append(out, fmt.Sprintf("job %d: %s, %s", v.JobID, v.Customer, v.Bike))
	}
	if v.Why != "" {
		out = append(out, "why: "+v.Why)
	}
	return out
}

// Lacking says what the head of the paper lacks of the shop, in one sentence; empty where it is whole. A shop that
// charges no tax needs no number for it.
func (v Bill) Lacking() string {
	return lacking(len(v.Seller.Address) == 0, v.Seller.TaxNumber == "" && !v.Tax.IsZero())
}

// BillWillLack says the same of the next bill, before it is written and stands for good.
func BillWillLack(shop inventory.Shop, taxed bool) string {
	return lacking(strings.TrimSpace(shop.Address) == "", shop.TaxNumber == "" && taxed)
}

func lacking(address, number bool) string {
	switch {
	case address && number:
		return "the shop's address and tax number are not on it"
	case address:
		return "the shop's address is not on it"
	case number:
		return "the shop's tax number is not on it"
	}
	return ""
}

// WhoseWords say of whom the paper is.
func (v Bill) WhoseWords() string {
	if v.JobID == 0 {
		return "over the counter"
	}
	return fmt.Sprintf("job %d, %s", v.JobID, v.Customer)
}

// LineWords are a line's words: "2 × gear inner", "fit chain, 15 min".
func LineWords(l billing.Line) string {
	switch {
	case l.Kind == pricing.CarriesLine: // whose it was is the workshop's own
		return "carriage"
	case l.Pieces > 1:
		return fmt.Sprintf("%d × %s", l.Pieces, l.Words)
	case l.Minutes > 0:
		return fmt.Sprintf("%s, %d min", l.Words, l.Minutes)
	}
	return l.Words
}

// LineWords are a line's words, with its rate of tax where the bill has several.
func (v Bill) LineWords(l billing.Line) string {
	if len(v.Rates) < 2 {
		return LineWords(l)
	}
	return LineWords(l) + " (" + l.Tax.Words() + ")"
}

// TaxWords say what each rate comes to.
func (v Bill) TaxWords() []string {
	var out []string
	for _, r := range v.Rates {
		r.Net, r.Tax = v.Signed(r.Net), v.Signed(r.Tax)
		out = append(out, rateWords(r, v.Currency))
	}
	return out
}

// rateWords say what a rate of tax comes to: "£89.32 before tax, VAT at 20 % £17.86".
func rateWords(r pricing.Rate, currency string) string {
	return fmt.Sprintf("%s before tax, %s at %s %% %s", pricing.Amount(currency, r.Net), r.Name, r.Percent, pricing.Amount(currency, r.Tax))
}

// PaidWords say what was paid, when and how, and what is due; of a sale or job with several papers of all of them.
func (v Bill) PaidWords() []string { return accountWords(v.Account, v.Currency, v.Clock) }

// accountWords say what was billed beyond one paper, what was paid, and what is due or is to be paid back.
func accountWords(a billing.Account, currency string, clock Clock) []string {
	var out []string
	if len(a.Papers) > 1 {
		out = append(out, "billed in all, without what was given back: "+pricing.Amount(currency, a.Billed))
	}
	for _, p := range a.Payments {
		words := "paid"
		if p.Amount.IsNegative() {
			words = "paid back"
		}
		out = append(out, fmt.Sprintf("%s on %s, %s: %s", words, clock.Written(p.At), p.How, pricing.Amount(currency, p.Amount.Abs())))
	}
	switch {
	case len(a.Papers) == 0 && a.Paid.IsPositive():
		out = append(out, "paid before the bill: "+pricing.Amount(currency, a.Paid))
	case len(a.Papers) == 0:
	default:
		out = append(out, balanceWords(a, currency))
	}
	return out
}

// TookWords say of money that came or went back what is left of a bill after it, where something is.
func TookWords(p billing.Payment, after billing.Account, currency string) string {
	if len(after.Papers) == 0 || after.Due.IsZero() {
		return p.Words()
	}
	return p.Words() + "; " + balanceWords(after, currency)
}

// balanceWords say what is to be paid or to be paid back of what is billed; of several papers that it is of all of them.
func balanceWords(a billing.Account, currency string) string {
	all := ""
	if len(a.Papers) > 1 {
		all = " in all"
	}
	if a.Due.IsNegative() {
		return "to be paid back" + all + ": " + pricing.Amount(currency, a.Due.Neg())
	}
	if a.Due.IsZero() {
		return "all of it is paid"
	}
	return "to pay" + all + ": " + pricing.Amount(currency, a.Due)
}

// LoadBills lists bills and credit notes from a moment on.
func LoadBills(ctx context.Context, db inventory.DB, from, now time.Time) ([]Bill, error) {
	list, err := billing.List(ctx, db, from)
	if err != nil {
		return nil, err
	}
	out := []Bill{}
	for _, b := range list {
		a, err := billing.AccountOf(ctx, db, b)
		if err != nil {
			return nil, err
		}
		out = append(out, Bill{Bill: b, Clock: At(now), Account: a})
	}
	return out, nil
}
