package pricing

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/shelf"
	"stead/migrations/testdb"
)

// One question of a quote that came to nothing; what it says of a part that was not there is demand for it.
func TestLostQuotes(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ctx := t.Context()
	ring := w.part("ring 50T black", "chainring", blackRing, "40")
	w.offer(w.north, ring, 1, inventory.InStock, at("20"))
	job := w.ringJob(Limits{MostToSpend: nullPounds("1.00")})
	require.Empty(t, w.quote(job).Options)
	w.limit(job, Limits{})
	w.quote(job)
	lost, err := LostQuotes(ctx, w.tx, true, now)
	require.NoError(t, err)
	require.Empty(t, lost, "it still stands, and the one before it offered nothing")
	require.ErrorContains(t, SayLost(ctx, w.tx, job, 7, ForDate, "", now), "no such quote")
	require.ErrorContains(t, SayLost(ctx, w.tx, job, 0, "mood", "", now), `not for "mood"`)

	require.ErrorContains(t, SayLost(ctx, w.tx, job, 0, ForDate, "", now), "still stands, until")
	require.NoError(t, SayLost(ctx, w.tx, job, 1, ForPrice, "", now), "the one before it does not")

	require.NoError(t, CancelJob(ctx, w.tx, job, "too late for the tour", now))
	lost, err = LostQuotes(ctx, w.tx, true, now)
	require.NoError(t, err)
	require.Len(t, lost, 1)
	require.Equal(t, "declined", lost[0].How)

	demand := func() shelf.Demand {
		t.Helper()
		d, err := shelf.LoadDemand(ctx, w.tx, now.AddDate(0, 0, 7))
		require.NoError(t, err)
		return d
	}
	require.Empty(t, demand().Sales(ring.ID))
	require.NoError(t, SayLost(ctx, w.tx, job, 0, ForPrice, "", now))
	require.Empty(t, demand().Sales(ring.ID), "what is too dear is not asked for")
	require.NoError(t, SayLost(ctx, w.tx, job, 0, ForDate, "the tour", now))
	d := demand()
	require.Len(t, d.Sales(ring.ID), 1)
	require.InDelta(t, 0.75, d.Sales(ring.ID)[0].Share, 1e-9)
	require.Equal(t, shelf.Told{Lost: 1}, d.Told[ring.ID])
	lost, err = LostQuotes(ctx, w.tx, true, now)
	require.NoError(t, err)
	require.Empty(t, lost, "asked once")

	policy, err := shelf.LoadPolicy(ctx, w.tx)
	require.NoError(t, err)
	k, err := shelf.KeepingOf(ctx, w.tx, ring, policy, now.AddDate(0, 0, 7))
	require.NoError(t, err)
	require.Contains(t, k.Words, "lost for being late or absent: 1, each counted as 0.75 of a sale")

	other := w.ringJob(Limits{})
	w.quote(other)
	w.approve(other, "cheapest")
	require.ErrorContains(t, SayLost(ctx, w.tx, other, 0, ForDate, "", now), "it was not lost")
	require.ErrorAs(t, SayLost(ctx, w.tx, 99999, 0, ForDate, "", now), new(*inventory.UnknownError))
}

// A customer says themselves why not: by a reason, in their own words, or both. The reason counts as the workshop's would; with
// words alone the workshop is asked for it still, and its answer leaves the words.
func TestCustomersSayWhyNot(t *testing.T) {
	for _, test := range []struct {
		name  string
		why   WhyNot
		asked int // of the workshop, still
		lost  int
		wrong string
	}{
		{"nothing said", WhyNot{}, 1, 0, ""},
		{"a reason", WhyNot{Because: ForDate}, 0, 1, ""},
		{"too dear", WhyNot{Because: ForPrice, Words: "I could have a new bike for that"}, 0, 0, ""},
		{"words alone", WhyNot{Words: "  my brother does it  "}, 1, 0, ""},
		{"not a customer's reason", WhyNot{Because: NoAnswer}, 0, 0, `not for "no-answer"`},
		{"no reason", WhyNot{Because: "mood"}, 0, 0, `not for "mood"`},
	} {
		t.Run(test.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			ring := w.part("ring 50T black", "chainring", blackRing, "40")
			w.offer(w.north, ring, 1, inventory.InStock, at("20"))
			job := w.ringJob(Limits{})
			q := w.quote(job)
			_, err := DeclineQuote(t.Context(), w.tx, job, q.Version, "Ines Falkner", test.why, now)
			if test.wrong != "" {
				require.ErrorContains(t, err, test.wrong)
				return
			}
			require.NoError(t, err)
			_, err = DeclineQuote(t.Context(), w.tx, job, q.Version, "Ines Falkner", test.why, now)
			require.ErrorContains(t, err, "is declined already")

			lost, err := LostQuotes(t.Context(), w.tx, true, now)
			require.NoError(t, err)
			require.Len(t, lost, test.asked)
			noes, err := NoesOf(t.Context(), w.tx, job)
			require.NoError(t, err)
			require.Len(t, noes, 1)
			require.Equal(t, strings.TrimSpace(test.why.Words), noes[0].Words)
			require.True(t, noes[0].Whole)
			d, err := shelf.LoadDemand(t.Context(), w.tx, now.AddDate(0, 0, 7))
			require.NoError(t, err)
			require.Equal(t, test.lost, d.Told[ring.ID].Lost)

			require.NoError(t, SayLost(t.Context(), w.tx, job, q.Version, ForPart, "asked on the telephone", now))
			noes, err = NoesOf(t.Context(), w.tx, job)
			require.NoError(t, err)
			require.Equal(t, strings.TrimSpace(test.why.Words), noes[0].Words, "their words stay theirs")
			require.Equal(t, ForPart, noes[0].Because)
			require.NotEmpty(t, w.quote(job).Options, "another quote may be made")
		})
	}
}
