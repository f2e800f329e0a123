package pricing

import (
	"context"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
)

// What cannot be told, or works differently, passes where a person answers for it with name and reason; what is broken wants
// the caution besides. Another job, and the part itself, know nothing of it.
func TestVouch(t *testing.T) {
	const (
		wrongCircle = "teeth=50 bcd_mm=130 bolts=5 bolt_pattern=even position=outer speeds=9,10 chain_width=11/128 pairs_with=34 colour=black material=alloy treatment=anodised"
		fewer       = "teeth=48 bcd_mm=110 bolts=5 bolt_pattern=even position=outer speeds=9,10 chain_width=11/128 pairs_with=34 colour=black material=alloy treatment=anodised"
	)
	for _, c := range []struct {
		name, ring, rule, severity string
		limits                     Limits
		caution                    bool
	}{
		{"cannot be told", unsureRing, "chainring.bcd", "mating", Limits{}, false},
		{"is broken", wrongCircle, "chainring.bcd", "mating", Limits{}, true},
		{"works differently", fewer, "chainring.teeth", "function", Limits{NoFunctionChange: true}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			ring := w.part("ring", "chainring", c.ring, "42.00")
			w.shelve(ring, 2)
			job := w.ringJob(c.limits)
			require.Empty(t, w.quote(job).Options, "not without a person")
			otis := hand("Otis Wren", "tried it on the stand")
			vouch := func(ctx context.Context, tx pgx.Tx, read bool, by inventory.Hand) error {
				_, err := Vouch(ctx, tx, job, "crank.outer-ring", ring.ID, c.rule, read, by)
				return err
			}
			require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error { return vouch(ctx, tx, true, hand("Otis Wren", " ")) }), "name and the reason")
			require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
				_, err := Vouch(ctx, tx, job, "crank.outer-ring", ring.ID, "chainring.no-such", true, otis)
				return err
			}), "it is "+c.rule)
			if c.caution {
				says := w.refused(func(ctx context.Context, tx pgx.Tx) error { return vouch(ctx, tx, false, otis) })
				require.Contains(t, says, "competent mechanic")
			}
			require.NoError(t, vouch(t.Context(), w.tx, c.caution, otis))
			require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error { return vouch(ctx, tx, true, otis) }), "there is nothing to answer for", "twice")

			q := w.quote(job)
			require.NotEmpty(t, q.Options)
			o := q.Options[0]
			require.Equal(t, ring.ID, o.Parts[0].PartID)
			require.Len(t, o.Vouched, 1)
			require.Equal(t, []string{"Otis Wren", "tried it on the stand", c.severity}, []string{o.Vouched[0].By, o.Vouched[0].Why, o.Vouched[0].Severity})
			require.Equal(t, c.caution, o.Vouched[0].Caution != "")
			for _, d := range o.Deviations {
				require.NotEqual(t, c.rule, d.Rule, "it is not the customer's to decide")
			}
			trail, err := inventory.Corrections(t.Context(), w.tx, inventory.OfJob, job)
			require.NoError(t, err)
			require.Len(t, trail, 1)
			same, err := inventory.PartByID(t.Context(), w.tx, ring.ID)
			require.NoError(t, err)
			require.Equal(t, ring, same, "no fact about the part")
			require.Empty(t, w.quote(w.ringJob(c.limits)).Options, "nor of another job")

			require.NoError(t, TakeBackVouched(t.Context(), w.tx, job, "crank.outer-ring", hand("Otis Wren", "")))
			require.Empty(t, w.quote(job).Options)
			require.NoError(t, vouch(t.Context(), w.tx, c.caution, otis))
			w.quote(job)
			w.approve(job, "soonest")
			require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error { return vouch(ctx, tx, true, otis) }), "before the work is approved")
		})
	}
}
