package billing

import (
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/pricing"
	"stead/substitution"
)

// The balls of both sides of a hub are one line of a bill; what differs in part, words or tax, and all work, stays apart.
// The bill comes to the same.
func TestLinesOfOnePartAreSummed(t *testing.T) {
	vat, other := pricing.Tax{Name: "VAT", Percent: decimal.NewFromInt(20)}, pricing.Tax{Name: "VAT", Percent: decimal.NewFromInt(5)}
	part := func(place substitution.Place, id int64, pieces int, amount string, tax pricing.Tax) Line {
		return Line{Kind: pricing.PartsLine, Place: place, Words: "ball 1/4 in", PartID: id, Pieces: pieces, Tax: tax, Amount: decimal.RequireFromString(amount)}
	}
	work := Line{Kind: pricing.WorkLine, Place: "front.hub", Words: "open hub", Minutes: 20, Tax: vat, Amount: decimal.NewFromInt(20)}
	left, right := substitution.Place("rear.hub.balls-left"), substitution.Place("rear.hub.balls-right")
	lines := []Line{part(left, 1, 9, "1.35", vat), work, part(right, 1, 9, "1.36", vat), part(right, 2, 9, "1.35", vat), part(left, 1, 2, "0.30", other), work,
		part(right, 2, 1, "0.15", vat)}
	want := []Line{part("", 1, 18, "2.71", vat), work, part(right, 2, 10, "1.50", vat), part(left, 1, 2, "0.30", other), work}
	got := summed(lines)
	require.Equal(t, len(want), len(got))
	for i := range want {
		require.True(t, want[i].Amount.Equal(got[i].Amount), "%d: %s", i, got[i].Amount)
		got[i].Amount = want[i].Amount
		require.Equal(t, want[i], got[i])
	}
	sum := func(list []Line) (all decimal.Decimal) {
		for _, l := range list {
			all = all.Add(l.Amount)
		}
		return all
	}
	require.True(t, sum(lines).Equal(sum(summed(lines))))
}

// So are they on the bill of a job.
func TestBillOfAJobSumsItsBalls(t *testing.T) {
	ball := func(place substitution.Place) pricing.AgreedLine {
		return pricing.AgreedLine{Kind: pricing.PartsLine, Place: place, Words: "ball 1/4 in", PartID: 1, Pieces: 9, Amount: decimal.NewFromInt(1)}
	}
	lines := linesOf(pricing.Agreement{Lines: []pricing.AgreedLine{ball("rear.hub.balls-left"), ball("rear.hub.balls-right")}}, &pricing.Ending{})
	require.Len(t, lines, 1)
	require.Equal(t, 18, lines[0].Pieces)
}
