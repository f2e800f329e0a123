package pricing

import (
	"context"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
)

// Of two rings the one is like the old one but for two teeth, the other but for its colour.
func TestWeightsDecideWhatIsClosest(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	const smaller = "teeth=48 bcd_mm=110 bolts=5 bolt_pattern=even position=outer speeds=9,10 chain_width=11/128 pairs_with=34 colour=black material=alloy treatment=anodised"
	silver := w.part("silver ring 50T", "chainring", silverRing, "")
	black := w.part("black ring 48T", "chainring", smaller, "")
	w.offer(w.north, silver, 1, inventory.InStock, at("20.00"))
	w.offer(w.north, black, 1, inventory.InStock, at("20.00"))
	job := w.ringJob(Limits{})
	closest := func() int64 { return named(t, w.quote(job), "closest").Parts[0].PartID }
	require.Equal(t, silver.ID, closest())
	require.NoError(t, SetWeight(t.Context(), w.tx, "finish", 1000))
	require.Equal(t, black.ID, closest(), "a shop whose customers look first")
	require.NoError(t, SetWeight(t.Context(), w.tx, "chainring.finish", 1))
	require.Equal(t, silver.ID, closest(), "but not at their rings")
	weights, err := Weights(t.Context(), w.tx)
	require.NoError(t, err)
	require.Equal(t, int64(100), weights.Function)
	require.Equal(t, map[string]int64{"chainring.finish": 1}, weights.Rules)
}

func TestWeightsThatCannotBeMeant(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	for _, c := range []struct {
		of     string
		weight int64
		says   string
	}{
		{"function", 0, "counts for something, 1 at least"},
		{"finish", -1, "-1 is not between 0 and 1000000"},
		{"finish", 1_000_001, "1000001 is not between 0 and 1000000"},
		{"looks", 1, `there is no rule "looks"`},
		{"chainring.bcd", 1, "chainring.bcd is a mating rule, and what breaks it does not fit, whatever it weighs"},
	} {
		t.Run(c.says, func(t *testing.T) {
			require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error { return SetWeight(ctx, tx, c.of, c.weight) }), c.says)
		})
	}
}
