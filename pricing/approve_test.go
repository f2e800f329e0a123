package pricing

import (
	"context"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/substitution"
)

const ringFinish = "crank.outer-ring chainring.finish"

func TestApproveMakesClaims(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	_, silver := ringsOffered(w)
	job := w.ringJob(Limits{})
	q := w.quote(job)
	o := named(t, q, "cheapest")
	require.Equal(t, Approved, w.approve(job, "cheapest").State)

	require.Equal(t, JobApproved, w.job(job).State)
	claims := w.claims(job)
	require.Len(t, claims, 1)
	require.Equal(t, inventory.Claim{ID: claims[0].ID, JobID: job, Place: "crank.outer-ring", PartID: silver.ID, OfferID: o.Parts[0].OfferID,
		Pieces: 1, Substitute: true, DueOn: o.ReadyOn, State: inventory.ClaimWanted}, claims[0])
	require.Empty(t, w.held(job))

	t.Run("each decision is kept in the exact words, with who and when", func(t *testing.T) {
		var words, by string
		var accepted bool
		require.NoError(t, w.tx.QueryRow(t.Context(), `SELECT words, by_whom, accepted FROM decision WHERE quote_id = $1 AND at = $2`, q.ID, now).Scan(&words, &by, &accepted))
		require.Equal(t, "outer chainring: silver polished alloy in place of black anodised alloy", words)
		require.Equal(t, "Ines Falkner", by)
		require.True(t, accepted)
	})
}

func TestApproveReservesTheShelf(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	black, _ := ringsOffered(w)
	w.shelve(black, 2)
	job := w.ringJob(Limits{})
	w.quote(job)
	w.approve(job, "closest")
	require.Empty(t, w.claims(job))
	require.Equal(t, inventory.Stock{OnHand: 2, Reserved: 1}, w.stock(black))
	require.Equal(t, substitution.Place("crank.outer-ring"), w.held(job)[0].Place)
}

// What is refused leaves the job quoted, with nothing decided, reserved or claimed.
func TestApproveRefused(t *testing.T) {
	for _, c := range []struct {
		name     string
		decision Decision
		wishBack []string
		says     string
	}{
		{"nobody's name", Decision{Option: "closest", By: " "}, nil, "needs the name of who gave it"},
		{"no such version", Decision{Option: "closest", Version: 7}, nil, "quote version 7 of job N is out of date, the newest is version 1"},
		{"no such option", Decision{Option: "nicest"}, nil, `has no option "nicest": choose soonest, cheapest, balanced or closest`},
		{"a difference not decided", Decision{Option: "cheapest"}, nil,
			`must accept or decline each difference; not said yet: "` + ringFinish + `" (outer chainring: silver polished alloy in place of black anodised alloy)`},
		{"a difference that the option has not", Decision{Option: "closest", Accept: []string{ringFinish}}, nil, `has no difference "` + ringFinish + `"`},
		{"accepted and declined", Decision{Option: "cheapest", Accept: []string{ringFinish}, Decline: []string{ringFinish}}, nil, "both accepted and declined"},
		{"all declined", Decision{Option: "cheapest", Decline: []string{"all"}}, nil, `has no difference "all"`},
		{"a wish for what is not different", Decision{Option: "closest"}, []string{ringFinish}, "there is nothing to wish back"},
		{"a wish with a decline", Decision{Option: "cheapest", Decline: []string{ringFinish}}, []string{ringFinish}, "nothing is approved yet"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			ringsOffered(w)
			c.decision.JobID = w.ringJob(Limits{})
			w.quote(c.decision.JobID)
			says := w.refused(func(ctx context.Context, tx pgx.Tx) error {
				inside := *w
				inside.tx = tx
				_, err := inside.decide(c.decision, c.wishBack...)
				return err
			})
			require.Contains(t, says, c.says)
			require.NotContains(t, says, "\n")
			require.Equal(t, Quoted, w.job(c.decision.JobID).State)
			require.Empty(t, w.claims(c.decision.JobID))
			var decided int
			require.NoError(t, w.tx.QueryRow(t.Context(), `SELECT count(*) FROM decision`).Scan(&decided))
			require.Zero(t, decided)
		})
	}
	t.Run("never quoted", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		job := w.ringJob(Limits{})
		require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
			_, err := Approve(ctx, tx, Decision{JobID: job, Version: 1, Option: "closest", By: "Ines Falkner"}, nil, now)
			return err
		}), "has no quote yet")
	})
	t.Run("the shelf has changed since", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		black, _ := ringsOffered(w)
		w.shelve(black, 1)
		job := w.ringJob(Limits{})
		w.quote(job)
		require.NoError(t, inventory.Scrap(t.Context(), w.tx, w.request, black.ID, "A1", 1, "dropped"))
		require.Equal(t, "the shelf has changed since the quote: there are 0 of black ring 50T free, not 1",
			w.refused(func(ctx context.Context, tx pgx.Tx) error {
				inside := *w
				inside.tx = tx
				_, err := inside.decide(Decision{JobID: job, Option: "closest"})
				return err
			}))
		require.Equal(t, Quoted, w.job(job).State)
	})
}

func TestDeclined(t *testing.T) {
	decline := Decision{Option: "cheapest", Decline: []string{ringFinish}}
	silver := Difference{Place: "crank.outer-ring", Rule: "chainring.finish", Found: "silver polished alloy"}
	t.Run("planned again without it", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		black, _ := ringsOffered(w)
		decline := decline
		decline.JobID = w.ringJob(Limits{})
		w.quote(decline.JobID)
		q, err := w.decide(decline)
		require.NoError(t, err)
		require.Equal(t, 2, q.Version)
		require.Len(t, q.Options, 1)
		require.Equal(t, black.ID, q.Options[0].Parts[0].PartID)
		require.Subset(t, q.Options[0].Names, []string{"soonest", "cheapest", "closest"})

		job := w.job(decline.JobID)
		require.Equal(t, Quoted, job.State, "nothing is approved yet")
		require.Equal(t, []Difference{silver}, job.Limits.Declined)
		require.Empty(t, w.claims(decline.JobID))
		require.Equal(t, []Difference{silver}, w.job(decline.JobID).Limits.Declined)
		for range 2 {
			require.Len(t, w.quote(decline.JobID).Options, 1, "later quotes remember it")
		}
		w.approve(decline.JobID, "closest")
		require.Equal(t, black.ID, w.claims(decline.JobID)[0].PartID)
	})
	t.Run("with nothing else to be had", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		w.offer(w.harbour, w.part("silver ring 50T", "chainring", silverRing, ""), 1, inventory.InStock, at("14.25"))
		decline := decline
		decline.JobID = w.ringJob(Limits{})
		w.quote(decline.JobID)
		q, err := w.decide(decline)
		require.NoError(t, err)
		require.Empty(t, q.Options)
		require.Equal(t, RefusalWords{Why: []string{"every set of parts that does the job brings a difference that was declined"},
			WaysOut: []string{"accept what was declined: £50.79, all here by Monday 9 March, 9 in 10; outer chainring: silver polished alloy in place of black anodised alloy"}}, *q.Refusal)
		require.Equal(t, []Difference{silver}, w.job(decline.JobID).Limits.Declined)
	})
	t.Run("another part of the same difference is not offered either", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		black, _ := ringsOffered(w)
		w.shelve(w.part("silver ring 50T, another", "chainring", silverRing, "1.00"), 1)
		decline := decline
		decline.JobID = w.ringJob(Limits{})
		w.quote(decline.JobID)
		q, err := w.decide(decline)
		require.NoError(t, err)
		require.Len(t, q.Options, 1)
		require.Equal(t, black.ID, q.Options[0].Parts[0].PartID)
	})
}

func TestWishes(t *testing.T) {
	grantable := func(w *workshop) []Granted {
		w.t.Helper()
		g, err := GrantableWishes(w.t.Context(), w.tx, w.deliveries(0))
		require.NoError(w.t, err)
		return g
	}
	w := newWorkshop(t, testdb.Tx(t))
	silver := w.part("silver ring 50T", "chainring", silverRing, "")
	w.offer(w.harbour, silver, 1, inventory.InStock, at("14.25"))
	job := w.ringJob(Limits{})
	w.quote(job)
	_, err := w.decide(Decision{JobID: job, Option: "cheapest", Accept: []string{"all"}}, ringFinish)
	require.NoError(t, err)
	require.Empty(t, grantable(w), "nobody has the black one")

	small := w.part("black ring 50T, 130 mm", "chainring", "teeth=50 bcd_mm=130 bolts=5 bolt_pattern=even position=outer speeds=9,10 chain_width=11/128 colour=black material=alloy treatment=anodised", "20.00")
	w.shelve(small, 1)
	require.Empty(t, grantable(w), "black, and does not fit")

	fewer := w.part("black ring 46T", "chainring", strings.Replace(blackRing, "teeth=50", "teeth=46", 1), "20.00")
	require.Equal(t, "46", fewer.Spec["teeth"].Value.String())
	w.shelve(fewer, 1)
	require.Empty(t, grantable(w), "black, and another gear, which nobody wished for")

	black := w.part("black ring 50T", "chainring", blackRing, "")
	late := w.offer(w.north, black, 1, inventory.ToOrder, at("20.00"))
	require.Empty(t, grantable(w), "not to be had now")
	late.Stock, late.AsOf = inventory.InStock, now.AddDate(0, 0, 1)
	_, err = inventory.PutOffer(t.Context(), w.tx, late)
	require.NoError(t, err)
	got := grantable(w)
	require.Len(t, got, 1)
	require.Equal(t, black.ID, got[0].Part.ID)
	require.Equal(t, "Ines Falkner", got[0].Owner)
	require.Equal(t, "outer chainring as it was: black anodised alloy", got[0].Wish.Words)
	require.Equal(t, "Northmoor Wheel Goods, here by Wednesday 11 March, 9 in 10", got[0].Source)

	w.shelve(black, 1)
	require.Equal(t, "on the shelf", grantable(w)[0].Source)

	t.Run("fitted on a later job, it is met", func(t *testing.T) {
		require.NoError(t, CloseJob(t.Context(), w.tx, job, true, now))
		next, err := OpenJob(t.Context(), w.tx, w.job(job).Bike.ID, "", nil, Limits{}, now)
		require.NoError(t, err)
		w.find(next, "replace", "crank.outer-ring")
		w.quote(next)
		w.approve(next, "closest")
		_, err = UseHeld(t.Context(), w.tx, w.request, next)
		require.NoError(t, err)
		require.Empty(t, grantable(w))
	})
}
