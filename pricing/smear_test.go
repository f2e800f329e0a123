package pricing

import (
	"context"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/pricing/ordering"
	"stead/substitution"
	"stead/substitution/inspection"
)

// A carbon post takes assembly paste, the pedals' threads grease: each out of the tub of its purpose. Of a tub of 10 g
// a post takes 1 g, a tenth; nine tenths are left, and once they are nearly used the next is ordered.
func TestSmearsByPurpose(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ctx := t.Context()
	for _, l := range []Labour{
		{"seatpost", inspection.Clean, "clean post", 10, pounds("8.00")}, {"pedal", inspection.Clean, "clean threads", 10, pounds("8.00")},
	} {
		require.NoError(t, SetLabour(ctx, w.tx, l))
	}
	paste := w.part("paste 10 g", "grease", "purpose=carbon mass_g=10", "9.00")
	grease := w.part("grease 400 g", "grease", "purpose=general mass_g=400", "12.00")
	w.shelve(paste, 1)
	w.shelve(grease, 2)
	open := func(p inventory.Part) inventory.Tub {
		t.Helper()
		tub, err := inventory.OpenTub(ctx, w.tx, w.request, p.ID)
		require.NoError(t, err)
		return tub
	}
	tub := open(paste)
	open(grease)
	require.Equal(t, inventory.Stock{}, w.stock(paste), "it left the shelf for the bench")
	require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
		_, err := inventory.OpenTub(ctx, tx, w.request, paste.ID)
		return err
	}), "there are 0 of paste 10 g free, not 1")

	job := w.bookIn(substitution.Build{"seatpost": parsed(t, "seatpost", "material=carbon"), "pedals": nil}, Limits{})
	w.find(job, inspection.Clean, "seatpost", "pedals")
	q := w.quote(job)
	require.Equal(t, []string{"pedals: grease on the threads", "seat post: carbon assembly paste"}, q.Bench)
	w.approve(job, "no parts")
	w.use(job)
	w.use(job) // twice takes nothing more
	left := func() (out []string) {
		tubs, err := inventory.Tubs(ctx, w.tx)
		require.NoError(t, err)
		for _, tub := range tubs {
			out = append(out, tub.Left.StringFixed(4))
		}
		return out
	}
	require.Equal(t, []string{"0.9000", "0.9975"}, left())

	wanted := func() map[int64]int {
		d, err := ordering.Demands(ctx, w.tx, now)
		require.NoError(t, err)
		out := map[int64]int{}
		for id, x := range d {
			out[id] = x.ForShelf
		}
		return out
	}
	require.Empty(t, wanted())
	_, err := inventory.SetTub(ctx, w.tx, tub.ID, pounds("0.2"))
	require.NoError(t, err)
	require.Equal(t, map[int64]int{paste.ID: 1}, wanted(), "the grease has another that is sealed")
	_, err = inventory.SetTub(ctx, w.tx, tub.ID, pounds("0"))
	require.NoError(t, err)
	require.Equal(t, map[int64]int{paste.ID: 1}, wanted())
	require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
		_, err := inventory.SetTub(ctx, tx, tub.ID, pounds("0.5"))
		return err
	}), "is open")
	w.shelve(paste, 1)
	require.Empty(t, wanted())
	requireLedgerAddsUp(t, ctx, w.tx)
}

// A brake is bled from the bottle of its own fluid and a tyre without a tube filled from that of sealant; lever and
// hose of one brake take the fluid once. A chain is not opened.
func TestFluidAndSealantFromTheBench(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ctx := t.Context()
	for _, l := range []Labour{
		{"brake-lever", inspection.Clean, "bleed", 30, pounds("25.00")}, {"seal-kit", inspection.Clean, "reseal", 30, pounds("25.00")}, {"tyre", inspection.Clean, "top up", 10, pounds("8.00")},
	} {
		require.NoError(t, SetLabour(ctx, w.tx, l))
	}
	bottles := []inventory.Part{
		w.part("dot 5.1", "consumable", "purpose=brake-fluid fluid=dot", "9.00"),
		w.part("mineral oil", "consumable", "purpose=brake-fluid fluid=mineral-oil", "9.00"),
		w.part("sealant", "consumable", "purpose=sealant", "20.00"),
	}
	for _, b := range bottles {
		w.shelve(b, 1)
		_, err := inventory.OpenTub(ctx, w.tx, w.request, b.ID)
		require.NoError(t, err)
	}
	chain := w.part("chain", "chain", "speeds=9", "20.00")
	w.shelve(chain, 1)
	require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
		_, err := inventory.OpenTub(ctx, tx, w.request, chain.ID)
		return err
	}), "it is not opened but fitted")

	job := w.bookIn(substitution.Build{
		"front.lever": parsed(t, "brake-lever", "actuation=hydraulic fluid=mineral-oil"), "front.caliper.seals": nil, "rear.tyre": parsed(t, "tyre", "tubeless=yes"),
	}, Limits{})
	w.find(job, inspection.Clean, "front.lever", "front.caliper.seals", "rear.tyre")
	require.Equal(t, []string{"front brake: brake fluid, mineral-oil", "rear tyre: sealant"}, w.quote(job).Bench)
	w.approve(job, "no parts")
	w.use(job)
	tubs, err := inventory.Tubs(ctx, w.tx)
	require.NoError(t, err)
	left := map[int64]string{}
	for _, tub := range tubs {
		left[tub.PartID] = tub.Left.StringFixed(2)
	}
	require.Equal(t, map[int64]string{bottles[0].ID: "1.00", bottles[1].ID: "0.94", bottles[2].ID: "0.88"}, left)
}
