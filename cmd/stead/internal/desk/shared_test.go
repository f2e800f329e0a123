package desk

import (
	"slices"
	"strconv"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/pricing"
	_ "stead/testdata/drawn" // the same values in every run
)

// What all options have is said once, what is said apart and together is the whole, and an option alone keeps its own.
func TestSharedIsSaidOnce(t *testing.T) {
	line := func(amount int64) QuoteLine {
		return QuoteLine{For: "chain", Name: "chain 9", From: []From{{"from the shelf", decimal.NewFromInt(amount)}}}
	}
	choices := []Choice{
		{Option: pricing.Option{Checks: []string{"length", "wear"}}, Lines: []QuoteLine{line(20), line(7)}},
		{Option: pricing.Option{Checks: []string{"wear"}}, Lines: []QuoteLine{line(20), line(8)}},
		{Option: pricing.Option{Checks: []string{"wear"}}, Lines: []QuoteLine{line(9), line(20)}},
	}
	shared := sayOnce(choices)
	require.Equal(t, Said{Lines: []QuoteLine{line(20)}, Checks: []string{"wear"}}, shared)
	require.Equal(t, []QuoteLine{line(8)}, choices[1].Apart.Lines)
	require.Equal(t, []string{"length"}, choices[0].Apart.Checks)

	rapid.Check(t, func(t *rapid.T) {
		choices := make([]Choice, rapid.IntRange(1, 4).Draw(t, "options"))
		for i := range choices {
			for _, n := range rapid.SliceOfNDistinct(rapid.IntRange(1, 5), 0, 5, rapid.ID).Draw(t, "cautions") {
				choices[i].Cautions = append(choices[i].Cautions, strconv.Itoa(n))
			}
		}
		shared := sayOnce(choices)
		for _, c := range choices {
			got := append(slices.Clone(shared.Cautions), c.Apart.Cautions...)
			want := slices.Clone(c.Cautions)
			slices.Sort(got)
			slices.Sort(want)
			if !slices.Equal(got, want) {
				t.Fatalf("%v is said of an option with %v", got, want)
			}
		}
	})
}
