package pricing

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/substitution"
)

// The black ring costs the workshop 20.00 + 4.50, the silver one 14.25 + 5.95 and two days less; the customer pays
// 33.49 + 5.40 for the one and 14.25 × 1.5 × 1.2 + 7.14 for the other.
func TestWhy(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	black, silver := w.part("black ring 50T", "chainring", blackRing, "33.49"), w.part("silver ring 50T", "chainring", silverRing, "")
	w.offer(w.north, black, 1, inventory.InStock, at("20.00"))
	w.offer(w.harbour, silver, 1, inventory.InStock, at("14.25"))
	job := w.ringJob(Limits{SameFinish: true})
	s, err := LoadSituation(t.Context(), w.tx, job, now)
	require.NoError(t, err)

	why, err := s.Why(context.Background(), "cheapest", "crank.outer-ring")
	require.NoError(t, err)
	require.Equal(t, black.ID, why.Chosen[0].PartID)
	require.Len(t, why.Alternatives, 1)
	a := why.Alternatives[0]
	require.Equal(t, silver.ID, a.PartID)
	require.Equal(t, "harbour", a.Supplier)
	require.Equal(t, "-6.10", a.More.StringFixed(2))
	require.Equal(t, -2, a.Days)
	require.Equal(t, []string{"against “it looks as before”"}, a.Against)
	require.Nil(t, a.Cheaper, "no price makes it black")
	require.Equal(t, "-4.30", a.With.Landed.Sub(why.Option.Landed).StringFixed(2))

	s.Job.Limits.SameFinish = false
	why, err = s.Why(context.Background(), "closest", "crank.outer-ring")
	require.NoError(t, err)
	require.Empty(t, why.Alternatives[0].Against)
	why, err = s.Why(context.Background(), "cheapest", "crank.outer-ring")
	require.NoError(t, err)
	require.Equal(t, silver.ID, why.Chosen[0].PartID)
	require.Nil(t, why.Alternatives[0].Cheaper, "no price brings the black ring as soon")

	for _, c := range []struct{ name, option, place, want string }{
		{"no such option", "nicest", "crank.outer-ring", `has no option "nicest": choose soonest, cheapest, balanced or closest`},
		{"a place that stays as it is", "cheapest", "chain", "needs no part for the chain"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := s.Why(context.Background(), c.option, substitution.Place(c.place))
			require.ErrorContains(t, err, c.want)
		})
	}
	s.Job.Limits.MostToSpend = nullPounds("1")
	_, err = s.Why(context.Background(), "cheapest", "crank.outer-ring")
	require.ErrorContains(t, err, "nothing does job")
}
