package pricing

import (
	"context"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/pricing/ordering"
	"stead/substitution/inspection"
)

var ada = inventory.Hand{By: "Ada", Why: "dented boxes", At: now}

// chainJob is approved and wants a chain at £20.00 that only the harbour has.
func chainJob(w *workshop) (job int64, chain inventory.Part) {
	chain = w.part("chain 9-speed", "chain", chain9, "20.00")
	w.offer(w.harbour, chain, 1, inventory.InStock, at("8.00"))
	job = w.bookIn(touringBike(w.t), Limits{})
	w.find(job, inspection.Replace, "chain")
	w.quote(job)
	w.approve(job, "cheapest")
	return job, chain
}

func TestStandInOnAJob(t *testing.T) {
	alike := chain9 + " "
	for _, c := range []struct {
		name, spec, retail string
		approved           bool
	}{
		{"the same for less", alike, "18.00", true},
		{"the same for as much", alike, "20.00", true},
		{"dearer", alike, "20.01", false},
		{"grey in place of silver", "speeds=9 chain_width=11/128 links=116 colour=grey material=steel", "18.00", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			job, chain := chainJob(w)
			before := w.agreed(job)
			other := w.part("another chain", "chain", c.spec, c.retail)
			w.offer(w.harbour, other, 1, inventory.InStock, at("7.00"))
			stood, err := StandIn(t.Context(), w.tx, chain, other, ada, now)
			require.NoError(t, err)
			require.Len(t, stood, 1)
			require.Equal(t, c.approved, stood[0].Quote.State == Approved)
			g := w.agreed(job)
			require.True(t, sumOf(g.Standing()).Equal(g.Total))
			if !c.approved {
				require.Equal(t, before, g, "it is theirs to answer")
				require.Equal(t, chain.ID, w.claims(job)[0].PartID)
				return
			}
			require.False(t, g.Total.GreaterThan(before.Total))
			require.Equal(t, 1, w.stock(other).Wanted)
			require.Zero(t, w.stock(chain).Wanted)
			require.Equal(t, "Ada, like for like", g.Words[1].By)
			require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
				_, err := StandIn(ctx, tx, chain, other, ada, now)
				return err
			}), "is so already")
		})
	}
}

func TestStandInRefused(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	job, chain := chainJob(w)
	eight := w.part("chain 8-speed", "chain", "speeds=8 chain_width=3/32 links=116", "10.00")
	w.offer(w.harbour, eight, 1, inventory.InStock, at("5.00"))
	unsold := w.part("another chain", "chain", chain9, "18.00")
	for name, other := range map[string]inventory.Part{"does not stand in for chain 9-speed": eight, "another chain does not do for the chain of job N": unsold} {
		require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
			_, err := StandIn(ctx, tx, chain, other, ada, now)
			return err
		}), name)
	}
	require.Len(t, w.agreed(job).Words, 1)
}

// What the shelf lacks is bought as the stand-in, less what there is of that; what is on order already stays.
func TestStandInForTheShelf(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	chain := w.part("chain 9-speed", "chain", chain9, "20.00")
	w.offer(w.harbour, chain, 1, inventory.InStock, at("8.00"))
	w.keepOnShelf(chain, 2, 6)
	other := w.part("another chain", "chain", chain9, "20.00")
	w.offer(w.harbour, other, 1, inventory.InStock, at("9.00"))
	w.shelve(other, 1)
	_, err := StandIn(t.Context(), w.tx, chain, other, ada, now)
	require.NoError(t, err)
	list := w.plan(ordering.Policy{})
	require.Len(t, list.Orders, 1)
	require.Len(t, list.Orders[0].Lines, 1)
	require.Equal(t, other.ID, list.Orders[0].Lines[0].PartID)
	require.Equal(t, 5, list.Orders[0].Lines[0].ForShelf)
	require.Contains(t, list.Orders[0].Reasons, "another chain is bought in place of chain 9-speed: dented boxes (Ada)")
	w.place(list)
	require.Empty(t, w.plan(ordering.Policy{}).Orders, "what is on its way is there for it")
}
