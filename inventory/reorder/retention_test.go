package reorder

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The rule for a known rate, in Rosenfield's closed form (Operations Research 37, 1989, 404-409; the form is from memory, so
// the simulation below is the proof).
func TestRetentionInClosedForm(t *testing.T) {
	for _, test := range []struct {
		perYear float64
		Retention
	}{
		{12, Retention{Value: 10, Salvage: 5, Interest: 0.25}},
		{2, Retention{Value: 10, Salvage: 5, Interest: 0.25}},
		{0.5, Retention{Value: 10, Salvage: 8, Interest: 0.1}},
		{6, Retention{Value: 40, Salvage: 10, Interest: 0.12, Storage: 3}},
	} {
		storage := test.Storage / test.Interest
		want := math.Floor(math.Log((test.Salvage+storage)/(test.Value+storage)) / math.Log(test.perYear/(test.perYear+test.Interest)))
		require.Equal(t, int(want), test.Keep(Rate{known(test.perYear)}, 1000), "%+v", test)
	}
}

// What a kept piece is worth is what it comes to, played.
func TestRetentionAgainstSimulation(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	rule := Retention{Value: 10, Salvage: 4, Interest: 0.2, Storage: 0.5, Life: 3}
	rate := Rate{gamma{3, 1}}
	for _, n := range []int{1, 4, 9} {
		sum, sums := 0.0, 200_000
		for range sums {
			perYear := 0.0
			for range 3 {
				perYear += r.ExpFloat64()
			}
			wait := 0.0
			for range n {
				wait += r.ExpFloat64() / perYear
			}
			today := math.Exp(-rule.Interest * wait)
			if wait <= rule.Life {
				sum += rule.Value * today
			}
			sum -= rule.Storage / rule.Interest * (1 - today)
		}
		require.InDelta(t, sum/float64(sums), rule.Worth(rate, n), 0.12, "piece %d", n)
	}
}

func TestRetentionIsReasonable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Retention{Value: 10, Salvage: rapid.Float64Range(0, 9).Draw(t, "salvage"), Interest: rapid.Float64Range(0.05, 0.5).Draw(t, "interest"),
			Life: rapid.SampledFrom([]float64{0, 1, 4}).Draw(t, "life")}
		rate := Rate{gamma{rapid.Float64Range(0.3, 20).Draw(t, "shape"), rapid.Float64Range(0.2, 5).Draw(t, "rate")}}
		for n := 2; n < 12; n++ {
			require.LessOrEqual(t, r.Worth(rate, n), r.Worth(rate, n-1)+1e-9, "a later piece is worth no more")
		}
		more := r
		more.Salvage += 0.5
		require.LessOrEqual(t, more.Keep(rate, 50), r.Keep(rate, 50), "the more a piece brings, the fewer are kept")
		require.LessOrEqual(t, rate.Sells(1, 50), rate.Sells(2, 50))
	})
}
