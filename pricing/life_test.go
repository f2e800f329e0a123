package pricing

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/pricing/ordering"
	"stead/substitution"
	"stead/substitution/inspection"
	_ "stead/testdata/drawn" // the same values in every run
)

// aLife is one job of which anything may be asked at any time.
type aLife struct {
	*workshop
	r     *rapid.T
	job   int64
	extra inventory.Part
	bill  decimal.Decimal // what was agreed last, as the model keeps it
	back  map[int64]int   // pieces that the customer has brought back
	said  []string        // the quotes as they were written
}

// try asks for something: done as a whole, or refused in words with nothing changed.
func (l *aLife) try(do func(ctx context.Context, w *workshop) error) bool {
	inner, err := l.tx.Begin(l.t.Context())
	require.NoError(l.r, err)
	inside := *l.workshop
	inside.tx = inner
	if err := do(l.t.Context(), &inside); err != nil {
		require.NotContains(l.r, err.Error(), "SQLSTATE", "refused in words before the last wall")
		require.NoError(l.r, inner.Rollback(l.t.Context()))
		return false
	}
	require.NoError(l.r, inner.Commit(l.t.Context()))
	return true
}

// written are a job's quotes as they stand in the database.
func (l *aLife) written() []string {
	rows, err := l.tx.Query(l.t.Context(), `SELECT document::text FROM quote WHERE job_id = $1 ORDER BY version`, l.job)
	require.NoError(l.r, err)
	out, err := pgx.CollectRows(rows, pgx.RowTo[string])
	require.NoError(l.r, err)
	return out
}

// out is how many pieces of a part the customer has: those used and the extras, less what came back.
func (l *aLife) out(part int64) int {
	n := -l.back[part]
	used := 0
	require.NoError(l.r, l.tx.QueryRow(l.t.Context(), `SELECT coalesce(sum(pieces), 0) FROM reservation WHERE job_id = $1 AND part_id = $2 AND state = 'used'`, l.job, part).Scan(&used))
	extras, err := ExtrasOf(l.t.Context(), l.tx, l.job)
	require.NoError(l.r, err)
	for _, x := range extras {
		if x.PartID == part {
			n += x.Pieces
		}
	}
	return n + used
}

// bringBack brings pieces back, which is done where the customer has so many and not otherwise; they lie on the shelf then.
func (l *aLife) bringBack(p inventory.Part, pieces int) {
	can, before := l.out(p.ID) >= pieces, l.stock(p).OnHand
	done := l.try(func(ctx context.Context, w *workshop) error {
		return inventory.BringBack(ctx, w.tx, w.request, l.job, p.ID, "A1", pieces, "did not need it")
	})
	require.Equal(l.r, can, done, "%d of %s", pieces, p.Name)
	if done {
		l.back[p.ID] += pieces
		require.Equal(l.r, before+pieces, l.stock(p).OnHand)
	}
}

// require checks what must hold whatever was asked: no quote is changed, what is agreed adds up and changed only by a yes,
// and each agreed piece is held, used or to come, and no other.
func (l *aLife) require() {
	requireLedgerAddsUp(l.r, l.t.Context(), l.tx)
	now := l.written()
	require.GreaterOrEqual(l.r, len(now), len(l.said))
	require.True(l.r, slices.Equal(l.said, now[:len(l.said)]), "a quote stays as it was written")
	l.said = now
	job := l.workshop.job(l.job)
	state := job.State
	if state == Cancelled {
		require.True(l.r, job.Ending.Due.IsZero(), "nothing is due for what was given up")
		require.True(l.r, job.Ending.Hold || len(l.held(l.job)) == 0, "its parts are free")
		for _, c := range l.claims(l.job) {
			require.NotContains(l.r, []inventory.ClaimState{inventory.ClaimWanted, inventory.ClaimOrdered}, c.State, "nothing is wanted for it")
		}
	}
	if state != JobApproved && state != Closed {
		return
	}
	g := l.agreed(l.job)
	require.True(l.r, sumOf(g.Standing()).Equal(g.Total), "the lines come to %s, not %s", sumOf(g.Standing()), g.Total)
	require.True(l.r, g.Total.Equal(l.bill), "%s was agreed, and it is %s", l.bill, g.Total)
	spent := decimal.Zero
	extras, err := ExtrasOf(l.t.Context(), l.tx, l.job)
	require.NoError(l.r, err)
	for _, x := range extras {
		spent = spent.Add(x.Amount)
	}
	require.True(l.r, spent.LessThanOrEqual(g.Allowed.Decimal), "%s of extras where %s was allowed", spent, g.Allowed.Decimal)
	if state == Closed {
		require.False(l.r, l.workshop.job(l.job).Ending.Due.IsNegative())
		return
	}
	terms, err := TermsOf(l.t.Context(), l.tx, l.job)
	require.NoError(l.r, err)
	since, err := FoundSince(l.t.Context(), l.tx, []int64{l.job})
	require.NoError(l.r, err)
	require.Equal(l.r, len(g.New(terms, job.Findings)) > 0, since[l.job], "what was found since is told alike of one job and of many")
	agreed, there := map[string]int{}, map[string]int{}
	for _, line := range g.Standing() {
		if line.Kind == PartsLine {
			agreed[fmt.Sprint(line.placeName(), " ", line.PartID)] += line.Pieces
		}
	}
	for _, c := range l.claims(l.job) {
		if c.State == inventory.ClaimWanted || c.State == inventory.ClaimOrdered {
			there[fmt.Sprint(c.Place, " ", c.PartID)] += c.Pieces
		}
	}
	rows, err := l.tx.Query(l.t.Context(), `SELECT place, part_id, pieces FROM reservation WHERE job_id = $1 AND state IN ('held', 'used')`, l.job)
	require.NoError(l.r, err)
	var place string
	var part int64
	var pieces int
	_, err = pgx.ForEachRow(rows, []any{&place, &part, &pieces}, func() error { there[fmt.Sprint(place, " ", part)] += pieces; return nil })
	require.NoError(l.r, err)
	require.Equal(l.r, agreed, there)
}

// From any state every act that is allowed keeps what was agreed, stock and money whole; what is not allowed changes
// nothing.
func TestAJobsLife(t *testing.T) {
	fewChecks(t)
	outer := newWorkshop(t, testdb.Tx(t))
	rapid.Check(t, func(r *rapid.T) {
		inner, err := outer.tx.Begin(t.Context())
		require.NoError(r, err)
		defer func() { require.NoError(t, inner.Rollback(t.Context())) }()
		shop := *outer
		shop.tx = inner
		l := &aLife{workshop: &shop, r: r, back: map[int64]int{}}
		_, err = inventory.ChangeShop(t.Context(), inner, func(s *inventory.Shop) { s.Hourly, s.WheelMinutes = nullPounds("48.00"), 5 })
		require.NoError(r, err)
		black, _ := ringsOffered(l.workshop)
		l.shelve(black, rapid.IntRange(1, 2).Draw(r, "rings"))
		chain := l.part("chain 9-speed", "chain", chain9, "20.00")
		l.shelve(chain, 1)
		l.extra = l.part("ring bolt", "chainring-bolt", "bolts=5", "3.60")
		l.shelve(l.extra, 4)
		l.job = l.bookIn(touringBike(t), Limits{})
		places := []substitution.Place{"crank.outer-ring", "chain", "headset", "rear.derailleur"}
		place := func() substitution.Place { return rapid.SampledFrom(places).Draw(r, "place") }
		decide := func(w *workshop, allow decimal.NullDecimal) error {
			q, found, err := LastQuote(t.Context(), w.tx, l.job)
			if err != nil || !found || len(q.Options) == 0 {
				return fmt.Errorf("there is nothing to decide on: %w", err)
			}
			o := rapid.SampledFrom(q.Options).Draw(r, "option")
			_, err = Approve(t.Context(), w.tx, Decision{JobID: l.job, Version: q.Version, Option: o.Name(), By: "Ines Falkner", Accept: []string{"all"}, Allow: allow}, nil, now)
			if err == nil {
				l.bill = o.Total
			}
			return err
		}
		r.Repeat(map[string]func(*rapid.T){
			"find": func(*rapid.T) {
				p, action := place(), rapid.SampledFrom([]inspection.Action{inspection.Keep, inspection.Adjust, inspection.Replace}).Draw(r, "action")
				if p != "chain" && p != "crank.outer-ring" && action == inspection.Replace {
					action = inspection.Adjust
				}
				if (p == "chain" || p == "crank.outer-ring") && action == inspection.Adjust {
					action = inspection.Replace
				}
				l.try(func(ctx context.Context, w *workshop) error {
					_, err := Inspect(ctx, w.tx, l.job, inspection.Taken{Place: p, Action: action}, now)
					return err
				})
			},
			"leave out": func(*rapid.T) {
				p := place()
				l.try(func(ctx context.Context, w *workshop) error {
					_, err := LeaveOut(ctx, w.tx, l.job, p, "", now)
					return err
				})
			},
			"take in": func(*rapid.T) {
				p := place()
				l.try(func(ctx context.Context, w *workshop) error { return TakeIn(ctx, w.tx, l.job, p) })
			},
			"work": func(*rapid.T) {
				l.try(func(ctx context.Context, w *workshop) error {
					_, err := AddWork(ctx, w.tx, l.job, AddedWork{Words: "true", Place: "rear.rim"}, decimal.NullDecimal{}, now)
					return err
				})
			},
			"discount": func(*rapid.T) {
				d := Discount{Percent: nullPounds("10"), Why: "club"}
				if rapid.Bool().Draw(r, "of a place") {
					d = Discount{Place: place(), Amount: nullPounds("3.33"), Why: "scratched"}
				}
				l.try(func(ctx context.Context, w *workshop) error {
					_, err := AddDiscount(ctx, w.tx, l.job, d, now)
					return err
				})
			},
			"if opened": func(*rapid.T) {
				l.try(func(ctx context.Context, w *workshop) error {
					return SetIfOpened(ctx, w.tx, l.job, IfOpened{Place: "headset", Action: inspection.Adjust, Most: pounds("30.00")}, now)
				})
			},
			"quote": func(*rapid.T) {
				l.try(func(ctx context.Context, w *workshop) error { _, err := MakeQuote(ctx, w.tx, l.job, now); return err })
			},
			"yes": func(*rapid.T) {
				allow := decimal.NullDecimal{}
				if rapid.Bool().Draw(r, "allows more") {
					allow = nullPounds("8.00")
				}
				l.try(func(_ context.Context, w *workshop) error { return decide(w, allow) })
			},
			"amend": func(*rapid.T) {
				var anew []substitution.Place
				if rapid.IntRange(0, 3).Draw(r, "another ring") == 0 {
					anew = append(anew, "crank.outer-ring")
				}
				l.try(func(ctx context.Context, w *workshop) error {
					q, err := Amend(ctx, w.tx, l.job, anew, now)
					if err == nil && q.State == Approved {
						words := w.agreed(l.job).Words
						l.bill = words[len(words)-1].Total
					}
					return err
				})
			},
			"no": func(*rapid.T) {
				l.try(func(ctx context.Context, w *workshop) error {
					q, _, err := LastQuote(ctx, w.tx, l.job)
					if err != nil {
						return err
					}
					_, err = DeclineQuote(ctx, w.tx, l.job, q.Version, "Ines Falkner", WhyNot{}, now)
					return err
				})
			},
			"extra": func(*rapid.T) {
				n := rapid.IntRange(1, 2).Draw(r, "pieces")
				l.try(func(ctx context.Context, w *workshop) error {
					_, err := useExtra(ctx, w.tx, w.request, l.job, l.extra.ID, "crank.ring-bolts", n, false, now)
					return err
				})
			},
			"use": func(*rapid.T) {
				l.try(func(ctx context.Context, w *workshop) error {
					_, err := UseHeld(ctx, w.tx, w.request, l.job)
					return err
				})
			},
			"bring back": func(*rapid.T) {
				l.bringBack(rapid.SampledFrom([]inventory.Part{l.extra, chain, black}).Draw(r, "part"), rapid.IntRange(1, 2).Draw(r, "pieces"))
			},
			"own part": func(*rapid.T) {
				o := OwnPart{Place: rapid.SampledFrom([]substitution.Place{"chain", "crank.outer-ring"}).Draw(r, "own"), Words: "from my spares box"}
				if rapid.Bool().Draw(r, "known") && o.Place == "chain" {
					o.Part = parsed(t, "chain", chain9)
				}
				l.try(func(ctx context.Context, w *workshop) error { return SetOwnPart(ctx, w.tx, l.job, o, now) })
			},
			"no own part": func(*rapid.T) {
				p := place()
				l.try(func(ctx context.Context, w *workshop) error { return DropOwnPart(ctx, w.tx, l.job, p) })
			},
			"cancel": func(*rapid.T) {
				parts := rapid.SampledFrom([]PartsGo{PartsToShelf, PartsHeld, PartsBack}).Draw(r, "parts")
				if rapid.IntRange(0, 2).Draw(r, "really") == 0 {
					l.try(func(ctx context.Context, w *workshop) error {
						_, err := CancelWith(ctx, w.tx, w.request, l.job, "sold the bike", parts, now)
						return err
					})
				}
			},
			"reopen": func(*rapid.T) {
				l.try(func(ctx context.Context, w *workshop) error {
					return Reopen(ctx, w.tx, l.job, inventory.Hand{By: "Otis", Why: "they rang again", At: now})
				})
			},
			"send back": func(*rapid.T) {
				orders, err := inventory.Orders(t.Context(), l.tx, false)
				require.NoError(r, err)
				for _, o := range orders {
					for _, line := range o.Lines {
						l.try(func(ctx context.Context, w *workshop) error {
							_, err := inventory.SendBack(ctx, w.tx, w.request, line.ID, 1, inventory.BackNotNeeded, 0, "", now)
							return err
						})
					}
				}
			},
			"order and receive": func(*rapid.T) {
				l.place(l.plan(ordering.Policy{FillUp: []string{"northmoor"}}))
				w := aWeek{workshop: l.workshop, r: r}
				w.receive(true)
			},
			"close": func(*rapid.T) {
				leave := rapid.Bool().Draw(r, "leave out the rest")
				if rapid.IntRange(0, 2).Draw(r, "really") == 0 {
					l.try(func(ctx context.Context, w *workshop) error { return CloseJob(ctx, w.tx, l.job, leave, now) })
				}
			},
			"": func(*rapid.T) { l.require() },
		})
		if !slices.Contains([]JobState{Closed, Cancelled}, l.workshop.job(l.job).State) {
			l.try(func(ctx context.Context, w *workshop) error {
				if err := CancelJob(ctx, w.tx, l.job, "given up", now); err != nil {
					return CloseJob(ctx, w.tx, l.job, true, now)
				}
				return nil
			})
		}
		l.require()
	})
}
