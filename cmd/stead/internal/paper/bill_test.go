package paper_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/paper"
	"stead/pricing"
	"stead/pricing/billing"
)

func TestBill(t *testing.T) {
	vat := pricing.Tax{Name: "VAT", Percent: money("20")}
	v := desk.Bill{Clock: desk.At(now), Bill: billing.Bill{
		Series: billing.Bills, Number: 12, MadeAt: now, JobID: 101, Customer: "Ines Falkner", Bike: "blue touring bike", Currency: "GBP",
		Seller: billing.Seller{Name: "Tannery Yard", Address: []string{"4 Tannery Yard"}, TaxNumber: "GB 000"},
		Lines: []billing.Line{
			{Number: 1, Words: "fit chainring", Minutes: 20, Tax: vat, Amount: money("18")},
			{Number: 2, Words: "ring bolt", Pieces: 5, Tax: vat, Amount: money("30")},
			{Number: 3, Words: "10 % off: club member", Tax: vat, Amount: money("-4.80")},
		},
		Rates: []pricing.Rate{{Name: vat.Name, Percent: vat.Percent, Net: money("36"), Tax: money("7.20"), Gross: money("43.20")}}, Net: money("36"), Tax: money("7.20"), Total: money("43.20"),
	}}
	v.Account = billing.Account{Papers: []billing.Bill{v.Bill}, Billed: v.Total, Due: money("23.20"), Paid: money("20"),
		Payments: []billing.Payment{{How: "cash", Amount: money("20"), At: now}}}
	says := append(v.Head(), v.Title(), "18.00", "5 × ring bolt", "30.00", "4.80", "total £43.20", "paid on 2 December 2026, cash: £20.00", "to pay: £23.20")
	for _, l := range v.Lines {
		says = append(says, desk.LineWords(l))
	}
	requireRead(t, paper.Bill(v), append(says, v.TaxWords()...)...)
	for _, size := range []paper.Size{paper.A4, roll} {
		require.Equal(t, 1, strings.Count(read(t, size, paper.Bill(v)), v.Title()), "its title stands once, with its day")
	}

	v.Series, v.Number, v.Credits, v.Why = billing.Credits, 3, 12, "scratched"
	v.Account.Due = decimal.NewFromInt(-5)
	requireRead(t, paper.Bill(v), "Credit note 3 for bill 12", "why: scratched", "to be paid back: £5.00")
}
