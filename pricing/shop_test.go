package pricing

import (
	"flag"
	"slices"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/pricing/ordering"
	"stead/substitution/inspection"
)

// aWeek is a small shop with random lists and some bikes at whatever stage.
type aWeek struct {
	*workshop
	r     *rapid.T
	parts []inventory.Part
	jobs  []int64
}

// stockUp fills the catalogue, the suppliers' lists and the shelf.
func (w *aWeek) stockUp() {
	pence := func(label string) decimal.Decimal {
		return decimal.New(rapid.Int64Range(200, 4000).Draw(w.r, label), -2)
	}
	w.parts = []inventory.Part{
		w.part("black ring", "chainring", blackRing, ""), w.part("silver ring", "chainring", silverRing, ""),
		w.part("silver ring, boxed", "chainring", silverRing, "39.99"), w.part("chain", "chain", chain9, ""),
		w.part("balls", "loose-balls", "ball_mm=4.7625 material=steel", ""),
	}
	for _, p := range w.parts {
		few := 2
		if p.Family == "loose-balls" {
			few = 25
		}
		if n := rapid.IntRange(0, few).Draw(w.r, p.Name+" on the shelf"); n > 0 {
			w.shelve(p, n)
		}
		for _, s := range []inventory.Supplier{w.harbour, w.north} {
			if pack := rapid.IntRange(0, 3).Draw(w.r, p.Name+" pack at "+s.Code); pack > 0 {
				signal := rapid.SampledFrom([]inventory.Signal{inventory.InStock, inventory.ToOrder}).Draw(w.r, "stock")
				first := pence("price")
				w.offer(s, p, pack, signal, inventory.Break{FromPacks: 1, Price: first}, inventory.Break{FromPacks: 3, Price: first.Mul(pounds("0.9")).RoundUp(4)})
			}
		}
		if rapid.Bool().Draw(w.r, "watched") {
			w.keepOnShelf(p, 1, 3)
		}
	}
}

// in is a random job in a state, if there is one.
func (w *aWeek) in(state JobState) (int64, bool) {
	var some []int64
	for _, id := range w.jobs {
		if w.job(id).State == state {
			some = append(some, id)
		}
	}
	if len(some) == 0 {
		return 0, false
	}
	return rapid.SampledFrom(some).Draw(w.r, string(state)), true
}

// orderAll orders what can be ordered without buying, unasked, more of a part than the shop has said that it buys:
// twice what is wanted, or whole packs. A line by itself may be more than anybody wants: two packs of another supplier
// that fill up to its minimum.
func (w *aWeek) orderAll() {
	list := w.plan(rapid.SampledFrom([]ordering.Policy{{}, {RefillIfCheaper: true}}).Draw(w.r, "policy"))
	bought, beyond := map[int64]int{}, map[int64]int{}
	for _, o := range list.Orders {
		for _, l := range o.Lines {
			bought[l.PartID] += l.Packs * l.Pack
			beyond[l.PartID] += l.Beyond
		}
	}
	for _, p := range w.parts {
		wanted := bought[p.ID] - beyond[p.ID]
		most := 2 * wanted
		offers, err := inventory.OffersOf(w.t.Context(), w.tx, []int64{p.ID})
		require.NoError(w.r, err)
		for _, o := range offers[p.ID] {
			most = max(most, o.PacksFor(wanted)*o.Pack)
		}
		require.LessOrEqual(w.r, bought[p.ID], most, "%s, of which %d are wanted", p.Name, wanted)
	}
	w.place(list)
}

// receive books in a part, or all, of each order.
func (w *aWeek) receive(all bool) {
	orders, err := inventory.Orders(w.t.Context(), w.tx, true)
	require.NoError(w.r, err)
	for _, o := range orders {
		var arrivals []inventory.Arrival
		for _, l := range o.Lines {
			pieces := l.Awaited()
			if !all {
				pieces = rapid.IntRange(0, pieces).Draw(w.r, "came")
			}
			if pieces > 0 {
				arrivals = append(arrivals, inventory.Arrival{LineID: l.ID, Outcome: inventory.Good, Pieces: pieces})
			}
		}
		if len(arrivals) > 0 {
			_, err = inventory.ReceiveOrder(w.t.Context(), w.tx, w.request, o.ID, "", inventory.Into{Bin: "A1"}, now, arrivals, false)
			require.NoError(w.r, err)
		}
	}
}

func (w *aWeek) use(job int64) {
	_, err := UseHeld(w.t.Context(), w.tx, w.request, job)
	require.NoError(w.r, err)
}

// requireQuoteAddsUp checks a quote as a customer with a pencil would.
func requireQuoteAddsUp(t require.TestingT, q Quote) {
	if len(q.Options) == 0 {
		require.NotNil(t, q.Refusal)
		require.NotEmpty(t, q.Refusal.Why)
		return
	}
	var names []string
	for _, o := range q.Options {
		names = append(names, o.Names...)
		var lines []decimal.Decimal
		for _, l := range q.Labour {
			lines = append(lines, l.Amount)
		}
		for _, p := range o.Parts {
			lines = append(lines, p.Amount)
		}
		for _, c := range o.Carriage {
			lines = append(lines, c.Amount)
		}
		sum := decimal.Zero
		for _, l := range lines {
			require.True(t, l.Equal(l.Truncate(2)), "%s is printed with two decimals", l)
			sum = sum.Add(l)
		}
		require.True(t, sum.Equal(o.Total), "the lines come to %s, not %s", sum, o.Total)
		// The tax is within a penny of what the rate says: 20 in 120 is a sixth.
		require.True(t, o.TaxInTotal.Mul(decimal.NewFromInt(6)).Sub(o.Total).Abs().LessThanOrEqual(pounds("0.06")), "%s of tax in %s", o.TaxInTotal, o.Total)
		for _, other := range q.Options {
			require.False(t, o.Named("soonest") && other.ReadyOn < o.ReadyOn, "a sooner one is offered")
			require.False(t, o.Named("cheapest") && other.Total.LessThan(o.Total), "a cheaper one is offered")
			require.False(t, o.Named("balanced") && other.Total.LessThan(o.Total) && other.ReadyOn <= o.ReadyOn && len(other.Deviations) == 0, "one that is better in all is offered")
			require.False(t, o.Named("closest") && len(o.Deviations) > 0 && len(other.Deviations) == 0, "one without any difference is offered")
		}
	}
	slices.Sort(names)
	names = slices.DeleteFunc(names, func(name string) bool { return name == "shelf" }) // offered beside them
	require.Equal(t, []string{"balanced", "cheapest", "closest", "soonest"}, names, "each name once")
}

// requireApprovedIsAccountedFor checks that each piece of an approved job is on the shelf for it, on the bike, or to come.
func (w *aWeek) requireApprovedIsAccountedFor() {
	for _, id := range w.jobs {
		if w.job(id).State != JobApproved {
			continue
		}
		q, a, err := ApprovedQuote(w.t.Context(), w.tx, id)
		require.NoError(w.r, err)
		o, err := q.option(a.Option)
		require.NoError(w.r, err)
		approved, there := map[int64]int{}, map[int64]int{}
		for _, p := range o.Parts {
			approved[p.PartID] += p.Pieces
		}
		for _, c := range w.claims(id) {
			if c.State == inventory.ClaimWanted || c.State == inventory.ClaimOrdered {
				there[c.PartID] += c.Pieces
			}
		}
		rows, err := w.tx.Query(w.t.Context(), `SELECT part_id, pieces FROM reservation WHERE job_id = $1 AND state IN ('held', 'used')`, id)
		require.NoError(w.r, err)
		for rows.Next() {
			var part int64
			var pieces int
			require.NoError(w.r, rows.Scan(&part, &pieces))
			there[part] += pieces
		}
		require.NoError(w.r, rows.Err())
		require.Equal(w.r, approved, there, "job %d", id)
	}
}

// Whatever happens in the week, in whatever order, quotes add up, every approved piece is accounted for, and when all bikes
// have gone home shelf and ledger agree and nothing is waited for.
func TestAWeekInASmallShop(t *testing.T) {
	fewChecks(t)
	outer := newWorkshop(t, testdb.Tx(t))
	rapid.Check(t, func(r *rapid.T) {
		inner, err := outer.tx.Begin(t.Context())
		require.NoError(r, err)
		defer func() { require.NoError(t, inner.Rollback(t.Context())) }()
		shop := *outer
		shop.tx = inner
		w := &aWeek{workshop: &shop, r: r}
		w.stockUp()

		r.Repeat(map[string]func(*rapid.T){
			"book in, inspect and quote": func(*rapid.T) {
				job := w.ringJob(Limits{SameFinish: rapid.Bool().Draw(r, "same finish")})
				if rapid.Bool().Draw(r, "chain too") {
					w.find(job, inspection.Replace, "chain")
				}
				w.jobs = append(w.jobs, job)
				requireQuoteAddsUp(r, w.quote(job))
			},
			"book in a hub and quote": func(*rapid.T) {
				job := w.bookIn(looseHub(t), Limits{})
				w.find(job, inspection.Clean, "front.hub")
				w.jobs = append(w.jobs, job)
				requireQuoteAddsUp(r, w.quote(job))
			},
			"quote again": func(*rapid.T) {
				if job, ok := w.in(Quoted); ok {
					requireQuoteAddsUp(r, w.quote(job))
				}
			},
			"decide": func(*rapid.T) {
				job, ok := w.in(Quoted)
				if !ok {
					return
				}
				q := w.quote(job) // the shelf may have changed
				if len(q.Options) == 0 {
					return
				}
				o := rapid.SampledFrom(q.Options).Draw(r, "option")
				d := Decision{JobID: job, Option: o.Name(), Accept: []string{"all"}}
				if len(o.Deviations) > 0 && rapid.IntRange(0, 3).Draw(r, "mood") == 0 {
					d.Decline = []string{o.Deviations[0].Name()}
				}
				after, err := w.decide(d)
				require.NoError(r, err)
				requireQuoteAddsUp(r, after)
			},
			"order":   func(*rapid.T) { w.orderAll() },
			"receive": func(*rapid.T) { w.receive(false) },
			"use": func(*rapid.T) {
				if job, ok := w.in(JobApproved); ok {
					w.use(job)
				}
			},
			"close and leave out": func(*rapid.T) {
				if job, ok := w.in(JobApproved); ok && rapid.IntRange(0, 3).Draw(r, "really") == 0 {
					require.NoError(r, CloseJob(t.Context(), w.tx, job, true, now))
				}
			},
			"": func(*rapid.T) {
				requireLedgerAddsUp(r, t.Context(), w.tx)
				w.requireApprovedIsAccountedFor()
			},
		})

		w.place(w.plan(ordering.Policy{FillUp: []string{"northmoor"}}))
		w.receive(true)
		for _, job := range w.jobs {
			switch w.job(job).State {
			case JobApproved:
				w.use(job)
				require.NoError(r, CloseJob(t.Context(), w.tx, job, false, now), "all that was ordered has come and was used")
			case Quoted:
				require.NoError(r, CancelJob(t.Context(), w.tx, job, "no answer", now))
			}
		}
		requireLedgerAddsUp(r, t.Context(), w.tx)
		for _, p := range w.parts {
			s := w.stock(p)
			require.Equal(r, inventory.Stock{OnHand: s.OnHand}, s, "%s: nothing is held, on order or wanted", p.Name)
		}
	})
}

// fewChecks keeps a test on the database short, unless the caller asked for a number of checks.
func fewChecks(t *testing.T) {
	checks := flag.Lookup("rapid.checks")
	if usual := checks.Value.String(); usual == checks.DefValue {
		require.NoError(t, checks.Value.Set("6"))
		t.Cleanup(func() { require.NoError(t, checks.Value.Set(usual)) })
	}
}
