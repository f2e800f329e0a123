package inventory

import (
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
)

// Every amount is rounded by one rule, a half away from nought, and once: what is turned into the shop's currency too.
func TestOneRounding(t *testing.T) {
	t.Parallel()
	d := decimal.RequireFromString
	for _, c := range []struct {
		name, x, by string
		places      int32
		want        string
	}{
		{"half a penny", "0.125", "1", 2, "0.13"},
		{"half a penny after an odd one", "0.135", "1", 2, "0.14"},
		{"half a penny back", "-0.125", "1", 2, "-0.13"},
		{"just below half", "0.1249999999999999999999", "1", 2, "0.12"},
		{"a third, divided and rounded at once", "0.99985", "2", 4, "0.4999"},
		{"a sum that would round twice", "0.4449999999999999999", "1", 2, "0.44"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			require.Equal(t, c.want, Rounded(d(c.x), d(c.by), c.places).String())
		})
	}
	home, err := Rates{home: "GBP", rates: map[string]decimal.Decimal{"EUR": d("1.6")}}.Home(Supplier{Currency: "EUR"}, d("0.00024"))
	require.NoError(t, err)
	require.Equal(t, Rounded(d("0.00015"), decimal.NewFromInt(1), 4).String(), home.String(), "a conversion rounds as the rest does")
}
