package shelf

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/substitution"
)

func TestShelfPolicy(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	usual, err := LoadPolicy(ctx, tx)
	require.NoError(t, err)
	require.NoError(t, usual.Check())
	require.Nil(t, usual.Season)
	changed, err := ChangePolicy(ctx, tx, func(p *Policy) {
		p.Target, p.Waiting, p.Season = 0.975, pounds("2.50"), []float64{3, 4, 6, 8, 10, 11, 10, 10, 9, 8, 6, 4}
	})
	require.NoError(t, err)
	require.InDelta(t, 0.975, changed.Target, 1e-12)
	require.Equal(t, "2.50", changed.Waiting.StringFixed(2))
	require.Len(t, changed.Season, 12)
	require.Equal(t, usual.LineCost.String(), changed.LineCost.String())

	for name, c := range map[string]struct {
		change func(p *Policy)
		says   string
	}{
		"all sales":            {func(p *Policy) { p.Target = 1 }, "a shelf without end"},
		"no sales":             {func(p *Policy) { p.Target = 0 }, "not above 0"},
		"a line for less":      {func(p *Policy) { p.LineCost = pounds("-1") }, "cannot cost -1"},
		"stock for nothing":    {func(p *Policy) { p.Holding = 0 }, "25 is usual"},
		"a wait for a fortune": {func(p *Policy) { p.WaitingSafety = pounds("100000") }, "for which a job waits"},
		"looked at yearly":     {func(p *Policy) { p.LookEvery = 250 }, "every 250 working days"},
		"for ever":             {func(p *Policy) { p.Months = 1200 }, "1200 months"},
		"half a year":          {func(p *Policy) { p.Season = []float64{1, 2, 3, 4, 5, 6} }, "twelve numbers"},
		"a month of none":      {func(p *Policy) { p.Season = make([]float64, 12) }, "above 0"},
		"one month alone":      {func(p *Policy) { p.Season = []float64{1, 1, 1, 1, 1, 900, 1, 1, 1, 1, 1, 1} }, "a hundred times"},
		"sold off for more":    {func(p *Policy) { p.Excess.Reduced = 2 }, "from 0 to 100 in 100"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := ChangePolicy(ctx, tx, c.change)
			require.ErrorContains(t, err, c.says)
		})
	}
	after, err := LoadPolicy(ctx, tx)
	require.NoError(t, err)
	require.Equal(t, changed, after, "what is refused changes nothing")
}

func TestOfSafety(t *testing.T) {
	for family, want := range map[substitution.Family]bool{"disc-pad": true, "stem": true, "hub": true, "cassette": false, "bar-tape": false, "no such family": false} {
		require.Equal(t, want, ofSafety(family), string(family))
	}
}

// A part that is slow to come and seldom asked for is kept where its waiting is dear, and not where it costs nothing.
func TestWaitingIsWeighed(t *testing.T) {
	b := newBooks(t)
	slow, err := inventory.AddSupplier(t.Context(), b.tx, inventory.Supplier{Code: "slow", Name: "Slow Barge Supply", LeadDays: 30, ToOrderDays: 60})
	require.NoError(t, err)
	offer := addOffer(t, b.tx, slow.ID, b.part.ID, 1)
	offer.Breaks = []inventory.Break{{FromPacks: 1, Price: pounds("80.00")}}
	_, err = inventory.PutOffer(t.Context(), b.tx, offer)
	require.NoError(t, err)
	b.move(700, 9, inventory.Opening, nil)
	b.move(650, -1, inventory.Sold, nil)
	b.move(400, -1, inventory.Sold, nil)
	b.move(150, -1, inventory.Sold, nil)
	fill := func(waiting string) float64 {
		policy := asking(0.01)
		policy.Waiting, policy.WaitingSafety = pounds(waiting), pounds(waiting)
		k, err := KeepingOf(t.Context(), b.tx, b.part, policy, b.now)
		require.NoError(t, err)
		return k.Meets
	}
	require.Less(t, fill("0.00"), 0.85)
	require.Greater(t, fill("20.00"), 0.95)
}

// What the shop says of its year is reckoned with until the books are a year old, and the advice says so.
func TestSeasonByHand(t *testing.T) {
	b := newBooks(t)
	addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 1)
	b.move(91, 30, inventory.Opening, nil)
	for ago := 90; ago > 2; ago -= 4 {
		b.move(ago, -1, inventory.Sold, nil)
	}
	rate := func(season []float64) Keeping {
		policy := usualShelf
		policy.Season = season
		k, err := KeepingOf(t.Context(), b.tx, b.part, policy, b.now)
		require.NoError(t, err)
		return k
	}
	rising := rate([]float64{1, 1, 1, 9, 9, 9, 9, 9, 9, 1, 1, 1}) // it is the 30th of March
	falling := rate([]float64{9, 9, 9, 1, 1, 1, 1, 1, 1, 9, 9, 9})
	require.Greater(t, rising.PerDay, 2*falling.PerDay)
	require.Contains(t, rising.Ground, "the season is as you gave it")
	require.Contains(t, rate(nil).Ground, "the season is that of riding")
}
