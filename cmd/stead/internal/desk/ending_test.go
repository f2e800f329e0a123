package desk

import (
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/pricing"
	"stead/pricing/billing"
)

// What is left is said after each payment, and what is all paid is not said to be due.
func TestWhatIsLeftToPay(t *testing.T) {
	pounds := decimal.RequireFromString
	for _, c := range []struct{ name, paid, due, words, took string }{
		{"nothing yet", "0", "61.63", "due: £61.63", ""},
		{"some of it", "20", "41.63", "due: £41.63; it comes to £61.63, and £20.00 is paid", "; to pay: £41.63"},
		{"all of it", "61.63", "0", "paid: all of the £61.63", ""},
		{"too much", "70", "-8.37", "to be paid back: £8.37; it comes to £61.63, and £70.00 is paid", "; to be paid back: £8.37"},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := billing.Account{Papers: []billing.Bill{{}}, Billed: pounds("61.63"), Paid: pounds(c.paid), Due: pounds(c.due)}
			require.Equal(t, c.words, dueWords(pricing.Ending{}, a, "GBP"))
			p := billing.Payment{How: "card", Amount: pounds("20")}
			if c.took != "" || a.Due.IsZero() {
				require.Equal(t, p.Words()+c.took, TookWords(p, a, "GBP"))
			}
			a.Papers = nil
			require.Equal(t, p.Words(), TookWords(p, a, "GBP"), "a deposit leaves nothing of a bill that is not written")
		})
	}
}
