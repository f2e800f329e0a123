package pricing

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/shelf"
	"stead/migrations/testdb"
)

// A silver ring of which too many lie on the shelf is offered beside the black one that the bike had, once a person has
// said that jobs are to use it up; the customer pays for it as ever.
func TestJobsUseUpWhatIsTooMany(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ctx := t.Context()
	black := w.part("ring 50T black", "chainring", blackRing, "35.00")
	silver := w.part("ring 50T silver", "chainring", silverRing, "45.00")
	w.offer(w.harbour, black, 1, inventory.InStock, at("20.00"))
	w.offer(w.harbour, silver, 1, inventory.InStock, at("30.00"))
	w.shelve(black, 2)
	w.shelve(silver, 3)
	offered := func() Quote { return w.quote(w.ringJob(Limits{})) }
	use := func(q Quote, name string) PartLine {
		t.Helper()
		return named(t, q, name).Parts[0]
	}
	require.Len(t, offered().Options, 1, "the black one is as soon, cheaper and nothing is different")

	say := func(stay int) {
		require.NoError(t, shelf.Say(ctx, w.tx, shelf.Word{PartID: silver.ID, Answer: shelf.UseUp, Pieces: stay}))
	}
	say(1)
	q := offered()
	requireQuoteAddsUp(t, q)
	require.Len(t, q.Options, 2)
	require.Equal(t, black.ID, use(q, "cheapest").PartID)
	line := use(q, "shelf")
	require.Equal(t, silver.ID, line.PartID)
	require.True(t, line.UseUp)
	require.Equal(t, "45.00", line.Amount.StringFixed(2), "at its own price")
	require.NotEmpty(t, named(t, q, "shelf").Deviations, "and the customer is asked whether silver will do")
	require.Equal(t, "15.00", named(t, q, "shelf").Landed.StringFixed(2), "half of what another would cost")

	say(3)
	require.Len(t, offered().Options, 1, "no more than may stay are there")
	say(0)
	_, err := w.tx.Exec(ctx, `UPDATE part SET retail = 30 WHERE id = $1`, silver.ID)
	require.NoError(t, err)
	q = offered()
	require.True(t, use(q, "cheapest").UseUp)
	require.False(t, q.Options[0].Named("shelf") || q.Options[len(q.Options)-1].Named("shelf"), "it is offered anyway, as the cheapest")

	_, err = shelf.ChangePolicy(ctx, w.tx, func(p *shelf.Policy) { p.Excess.Reduced = 0 })
	require.NoError(t, err)
	require.Equal(t, "0.00", named(t, offered(), "cheapest").Landed.StringFixed(2), "what brings nothing costs nothing")
	require.NoError(t, shelf.Say(ctx, w.tx, shelf.Word{PartID: silver.ID, Answer: shelf.AsAdvised}))
	require.False(t, use(offered(), "cheapest").UseUp)
}
