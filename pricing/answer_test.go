package pricing

import (
	"context"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/substitution"
)

func facts(name string, v substitution.Value) substitution.Spec {
	return substitution.Spec{name: {Value: v, Origin: substitution.Measured}}
}

// One missing word stops a quote; it is answered there and then, for the part and for all that say the same, and stands.
func TestAnAnswerLetsTheQuoteGoOn(t *testing.T) {
	const unmeasured = "teeth=50 bolts=5 bolt_pattern=even position=outer speeds=9,10 chain_width=11/128 pairs_with=34 material=alloy"
	w := newWorkshop(t, testdb.Tx(t))
	black := w.part("Corvane ring 50T black", "chainring", unmeasured+" colour=black treatment=anodised", "42.00")
	silver := w.part("Corvane ring 50T silver", "chainring", unmeasured+" colour=silver treatment=polished", "42.00")
	other := w.part("Alderfell ring 50T", "chainring", unmeasured+" colour=black", "42.00")
	smaller := w.part("Corvane ring 46T", "chainring", "teeth=46 bolts=5 bolt_pattern=even position=outer speeds=9,10 chain_width=11/128 pairs_with=34 material=alloy colour=black", "42.00")
	for _, p := range []inventory.Part{black, silver, other, smaller} {
		_, err := inventory.CorrectPart(t.Context(), w.tx, p.ID, hand("Otis", ""), func(p *inventory.Part) error {
			if p.Brand = "Corvane"; p.ID == other.ID {
				p.Brand = "Alderfell"
			}
			return nil
		})
		require.NoError(t, err)
		w.shelve(p, 1)
	}
	job := w.ringJob(Limits{})
	q := w.quote(job)
	require.Empty(t, q.Options)
	require.NotNil(t, q.Refusal)
	asks := map[int64]Ask{}
	for _, u := range q.Unsure {
		require.Len(t, u.Asks, 1)
		asks[u.PartID] = u.Asks[0]
	}
	require.Contains(t, asks, black.ID)
	require.Equal(t, "bcd_mm", asks[black.ID].Dimension)
	require.Equal(t, []string{"110 mm"}, asks[black.ID].FitsIf, "what the crankset takes")

	says := w.refused(func(ctx context.Context, tx pgx.Tx) error {
		_, err := AnswerAsks(ctx, tx, job, []Answer{{PartID: black.ID, Facts: facts("bcd_mm", substitution.Num(9000)), Alike: true}}, hand("Otis", ""), now)
		return err
	})
	require.Contains(t, says, "9000")
	out, err := AnswerAsks(t.Context(), w.tx, job, []Answer{{PartID: black.ID, Facts: facts("bcd_mm", substitution.Num(110)), Alike: true}}, hand("Otis", "calliper"), now)
	require.NoError(t, err)
	require.ElementsMatch(t, []int64{black.ID, silver.ID}, out.Parts, "of a size only what differs in finish says the same")
	require.NotEmpty(t, out.Quote.Options)
	require.Equal(t, 2, out.Quote.Version)
	require.Equal(t, black.ID, named(t, out.Quote, "closest").Parts[0].PartID)

	says = w.refused(func(ctx context.Context, tx pgx.Tx) error {
		_, err := AnswerAsks(ctx, tx, job, []Answer{{PartID: black.ID, Facts: facts("bcd_mm", substitution.Num(110)), Alike: false}}, hand("Otis", ""), now)
		return err
	})
	require.Contains(t, says, "nothing to correct", "twice")

	t.Run("a correction ends the quote that rests on the part", func(t *testing.T) {
		_, err := CorrectPart(t.Context(), w.tx, black.ID, hand("Otis", "misread"), func(p *inventory.Part) error {
			p.Spec = p.Spec.With("bcd_mm", substitution.Num(130), substitution.Measured)
			return nil
		})
		require.NoError(t, err)
		require.Equal(t, Inspected, w.job(job).State)
		_, err = w.decide(Decision{JobID: job, Option: "closest", Accept: []string{"all"}})
		require.ErrorContains(t, err, "out of date")
	})
	t.Run("an approved job is not answered for", func(t *testing.T) {
		w.quote(job)
		w.approve(job, "soonest")
		says := w.refused(func(ctx context.Context, tx pgx.Tx) error {
			_, err := AnswerAsks(ctx, tx, job, []Answer{{PartID: other.ID, Facts: facts("bcd_mm", substitution.Num(110)), Alike: false}}, hand("Otis", ""), now)
			return err
		})
		require.Contains(t, says, "answered before the work is approved")
	})
}

// Where the answer is a word the same product in other sizes says the same.
func TestAlikeByWordAndBySize(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	add := func(name, text, brand string) inventory.Part {
		p := inventory.Part{Part: *parsed(t, "chainring", text), Brand: brand}
		p.Name = name
		p, err := inventory.AddPart(t.Context(), w.tx, p)
		require.NoError(t, err)
		return p
	}
	asked := add("50", "teeth=50 bcd_mm=110 bolts=5 position=outer", "Corvane")
	finish := add("50 silver", "teeth=50 bcd_mm=110 bolts=5 position=outer colour=silver", "corvane")
	size := add("46", "teeth=46 bcd_mm=110 bolts=5 position=outer", "Corvane")
	add("inner", "teeth=34 bcd_mm=110 bolts=5 position=inner", "Corvane")
	add("another's", "teeth=50 bcd_mm=110 bolts=5 position=outer", "Alderfell")
	add("known", "teeth=48 bcd_mm=110 bolts=5 position=outer bolt_pattern=asymmetric chain_width=3/32 material=steel", "Corvane")
	for _, c := range []struct {
		name, dimension string
		want            []int64
	}{{"a word", "bolt_pattern", []int64{finish.ID, size.ID}}, {"a size", "pairs_with", []int64{finish.ID}}} {
		t.Run(c.name, func(t *testing.T) {
			alike, err := inventory.AlikeLacking(t.Context(), w.tx, asked, c.dimension)
			require.NoError(t, err)
			var ids []int64
			for _, p := range alike {
				ids = append(ids, p.ID)
			}
			require.Equal(t, c.want, ids)
		})
	}
}
