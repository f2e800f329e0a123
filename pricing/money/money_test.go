package money

import (
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	_ "stead/testdata/drawn" // the same values in every run
)

// A price has at most four decimals, and is exact to the planners; what has more is never taken for less than it is.
func TestFineNeverPromisesTooLittle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		price := decimal.New(rapid.Int64Range(0, 1e10).Draw(t, "price in 1/10000"), -4)
		require.True(t, decimal.New(InFine(price), -6).Equal(price))
		pieces := rapid.Int64Range(1, 144).Draw(t, "pieces")
		each := price.Div(decimal.NewFromInt(pieces))
		fine := decimal.New(InFine(each), -6)
		require.True(t, fine.GreaterThanOrEqual(each) && fine.Sub(each).LessThan(decimal.New(1, -6)), "%s became %s", each, fine)
	})
}

func TestFromFineIsToThePenny(t *testing.T) {
	for fine, want := range map[int64]string{12_345_000: "12.35", 12_344_999: "12.34", 5_000: "0.01", 4_999: "0.00"} {
		require.Equal(t, want, FromFine(fine).StringFixed(2))
	}
}

func TestAmount(t *testing.T) {
	require.Equal(t, "£12.40", Amount("GBP", decimal.RequireFromString("12.4")))
	require.Equal(t, "-£0.50", Amount("GBP", decimal.RequireFromString("-0.5")))
	require.Equal(t, "CHF 3.00", Amount("CHF", decimal.NewFromInt(3)))
}
