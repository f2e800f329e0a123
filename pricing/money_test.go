package pricing

import (
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
)

func TestTax(t *testing.T) {
	cases := []struct {
		name           string
		percent, net   string
		gross, contain string
	}{
		// Worked by hand: 10.00 × 1.2 = 12.00, of which 12.00 − 10.00 = 2.00.
		{"an even rate", "20", "10.00", "12.00", "2.00"},
		// 0.125 × 1.2 = 0.15.
		{"a fraction of a penny before tax", "20", "0.125", "0.15", "0.02"},
		// 10.04 × 1.05 = 10.542; 10.54 ÷ 1.05 = 10.038…, so 0.50 is contained.
		{"a fraction that rounds down", "5", "10.04", "10.54", "0.50"},
		// 0.02 × 1.25 = 0.025, a half penny, upwards.
		{"a half penny goes upwards", "25", "0.02", "0.03", "0.01"},
		// 0.03 ÷ 1.2 = 0.025, a half penny, upwards: 0.03 before tax, and nothing is left for tax.
		{"a half penny before tax", "20", "0.025", "0.03", "0.00"},
		{"no tax", "0", "7.77", "7.77", "0.00"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			tax := Tax{"tax", decimal.RequireFromString(c.percent)}
			gross := tax.With(decimal.RequireFromString(c.net))
			require.Equal(t, c.gross, gross.StringFixed(2))
			require.Equal(t, c.contain, tax.In(gross).StringFixed(2))
		})
	}
}

// A pack of three costs 1.2625. One with 20 % tax is 1.2625 × 1.2 ÷ 3 = 0.505, a half penny, upwards. Divided first, a third
// is a hair too small, and the half penny is gone.
func TestShareDividesLast(t *testing.T) {
	require.Equal(t, "0.51", Tax{"tax", pounds("20")}.share(pounds("1.2625"), 1, 3).StringFixed(2))
}
