package pricing

import (
	"context"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/pricing/ordering"
	"stead/substitution/inspection"
)

func (w *workshop) plan(policy ordering.Policy) ordering.List {
	w.t.Helper()
	list, err := ordering.Plan(w.t.Context(), w.tx, policy, now)
	require.NoError(w.t, err)
	return list
}

func (w *workshop) place(list ordering.List, suppliers ...string) []inventory.Order {
	w.t.Helper()
	placed, err := ordering.Place(w.t.Context(), w.tx, list, suppliers, now)
	require.NoError(w.t, err)
	return placed
}

// approvedRing is a job whose ring must be bought.
func (w *workshop) approvedRing() int64 {
	w.t.Helper()
	job := w.ringJob(Limits{})
	w.quote(job)
	w.approve(job, "cheapest")
	return job
}

// rings, wanted by two jobs, and a chain of which the shelf lacks five.
func ringsAndChains(w *workshop) (ring, chain inventory.Part, jobs []int64) {
	ring, chain = w.part("black ring 50T", "chainring", blackRing, "33.49"), w.part("chain 9-speed", "chain", chain9, "17.99")
	w.offer(w.north, ring, 1, inventory.InStock, at("20.00"))
	w.offer(w.harbour, ring, 1, inventory.InStock, at("22.00"))
	w.offer(w.harbour, chain, 1, inventory.InStock, at("9.00"))
	w.shelve(chain, 1)
	w.keepOnShelf(chain, 2, 6)
	return ring, chain, []int64{w.approvedRing(), w.approvedRing()}
}

// For each job alone Northmoor is the cheaper: 20.00 + 4.50 against 22.00 + 5.95. Together with five chains, 6 − 1, Harbour
// Lane is: 2 × 22.00 + 5 × 9.00 = 89.00, carriage free from 75.00. Line by line at the lowest price it would be
// 40.00 + 4.50 + 45.00 + 5.95 = 95.45.
func TestOrderListAtLeastLandedCost(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ring, chain, jobs := ringsAndChains(w)
	list := w.plan(ordering.Policy{})
	require.Equal(t, []string{"89.00", "95.45", "89.00"}, onPaper(list.Total, list.EachAlone, list.LowerBound))
	require.True(t, list.Proven)
	require.Empty(t, list.Late)
	require.Empty(t, list.Missing)
	require.Len(t, list.Orders, 1)
	o := list.Orders[0]
	require.Equal(t, "harbour", o.Supplier)
	require.Equal(t, []string{"89.00", "0.00"}, onPaper(o.Goods, o.Carriage))
	require.Equal(t, []string{"goods reach the £75.00 at which carriage is paid"}, o.Reasons)
	require.Equal(t, "Monday 9 March, 9 in 10", o.Promise)
	require.Len(t, o.Lines, 2)
	for _, l := range o.Lines {
		switch l.PartID {
		case ring.ID:
			require.Equal(t, 2, l.Packs)
			require.Equal(t, jobs, l.ForJobs)
			require.Zero(t, l.ForShelf)
			require.Equal(t, "44.00", l.Amount.StringFixed(2))
		case chain.ID:
			require.Equal(t, 5, l.Packs)
			require.Empty(t, l.ForJobs)
			require.Equal(t, 5, l.ForShelf)
			require.Equal(t, "45.00", l.Amount.StringFixed(2))
		}
		require.Equal(t, o.HereOn, l.HereOn)
	}
}

func TestOrderListReasons(t *testing.T) {
	ring := func(w *workshop) inventory.Part { return w.part("black ring 50T", "chainring", blackRing, "33.49") }
	t.Run("carriage that is paid, and what would make it free", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		w.offer(w.north, ring(w), 1, inventory.InStock, at("20.00"))
		w.approvedRing()
		list := w.plan(ordering.Policy{})
		require.Equal(t, []string{"carriage £4.50; it is free from £80.00 more of goods", "minimum order £15.00 is met"}, list.Orders[0].Reasons)
		require.Equal(t, "24.50", list.Total.StringFixed(2))
	})
	t.Run("a supplier that never charges has nothing to explain", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		free := w.supplier(inventory.Supplier{Code: "free", Name: "Free", LeadDays: 1, ToOrderDays: 9, CarriagePaidAt: decimal.NewNullDecimal(pounds("50"))})
		w.offer(free, ring(w), 1, inventory.InStock, at("20.00"))
		w.approvedRing()
		require.Empty(t, w.plan(ordering.Policy{}).Orders[0].Reasons)
	})
	t.Run("a slow line for the shelf does not tell what jobs wait for", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		w.offer(w.harbour, ring(w), 1, inventory.InStock, at("20.00"))
		chain := w.part("chain 9-speed", "chain", chain9, "")
		w.offer(w.harbour, chain, 1, inventory.ToOrder, at("9.00"))
		w.keepOnShelf(chain, 0, 2)
		w.approvedRing()
		o := w.plan(ordering.Policy{}).Orders[0]
		require.Equal(t, "Monday 9 March, 9 in 10, what jobs wait for; all of it by "+o.HereOn.Words(today), o.Promise)
		require.Greater(t, o.HereOn, today+14)
	})
}

// A ring at 70.00 pays 5.95 carriage; with a chain at 5.00, which the shelf could do with, it is free: 75.00 against 75.95.
func TestOrderListRefillsWhereThatIsCheaper(t *testing.T) {
	for _, c := range []struct{ name, chain, total string }{
		{"a chain at 5.00 pays for the carriage", "5.00", "75.00"},
		{"a chain at 6.00 does not", "6.00", "75.95"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			w.offer(w.harbour, w.part("black ring 50T", "chainring", blackRing, "120.00"), 1, inventory.InStock, at("70.00"))
			chain := w.part("chain 9-speed", "chain", chain9, "")
			w.offer(w.harbour, chain, 1, inventory.InStock, at(c.chain))
			w.keepOnShelf(chain, 0, 1)
			w.approvedRing()
			require.Equal(t, c.total, w.plan(ordering.Policy{RefillIfCheaper: true}).Total.StringFixed(2))
		})
	}
}

func TestOrderListMinimumOrder(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	chain := w.part("chain 9-speed", "chain", chain9, "17.99")
	w.offer(w.north, chain, 1, inventory.InStock, at("9.00"))
	w.keepOnShelf(chain, 0, 1)
	// One chain at 9.00 is below Northmoor's 15.00, and there is nothing else to order: two are.
	list := w.plan(ordering.Policy{})
	require.Equal(t, "22.50", list.Total.StringFixed(2))
	require.Equal(t, 2, list.Orders[0].Lines[0].Packs)
}

func TestOrderListSaysWhatIsLateOrMissing(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ring := w.part("black ring 50T", "chainring", blackRing, "33.49")
	offer := w.offer(w.north, ring, 1, inventory.InStock, at("20.00"))
	w.approvedRing()

	list, err := ordering.Plan(t.Context(), w.tx, ordering.Policy{}, now.AddDate(0, 0, 14))
	require.NoError(t, err)
	require.Len(t, list.Late, 1)
	require.Regexp(t, `^black ring 50T for job \d+ was promised for Wednesday 11 March and cannot be here before Wednesday 25 March$`, list.Late[0])
	require.Len(t, list.Orders, 1, "ordered all the same")

	offer.Gone, offer.AsOf = true, now.AddDate(0, 0, 1)
	_, err = inventory.PutOffer(t.Context(), w.tx, offer)
	require.NoError(t, err)
	list = w.plan(ordering.Policy{})
	require.Equal(t, []string{"black ring 50T: no supplier offers it"}, list.Missing)
	require.Empty(t, list.Orders)
}

// Of two offers at one price the one that is here in time is ordered.
func TestOrderListOrdersWhatIsInTime(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ring := w.part("black ring 50T", "chainring", blackRing, "33.49")
	late := w.offer(w.north, ring, 1, inventory.ToOrder, at("20.00"))
	inTime, err := inventory.PutOffer(t.Context(), w.tx, inventory.Offer{SupplierID: w.north.ID, Code: "north-second", PartID: ring.ID, Stock: inventory.InStock,
		AsOf: now, Breaks: []inventory.Break{at("20.00")}})
	require.NoError(t, err)
	job := w.ringJob(Limits{})
	w.quote(job)
	w.approve(job, "soonest")
	require.NotEqual(t, late.ID, inTime.ID)
	require.Equal(t, inTime.ID, w.plan(ordering.Policy{}).Orders[0].Lines[0].Offer.ID)
}

// A hub's twenty balls, ten a side, are cheapest as a pack of 15 at 6.00 and five at 0.50, 8.50 in all, against two packs
// at 12.00 or twenty singles at 10.00. The second side's ten stand on both lines.
func TestOrderListSharesAClaimBetweenLines(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	balls := w.part("balls 3/16 in", "loose-balls", "ball_mm=4.7625 material=steel", "")
	w.offer(w.harbour, balls, 15, inventory.InStock, at("6.00"))
	w.offer(w.harbour, balls, 1, inventory.InStock, at("0.50"))
	job := w.bookIn(looseHub(t), Limits{})
	w.find(job, inspection.Clean, "front.hub")
	w.quote(job)
	w.approve(job, "cheapest")

	list := w.plan(ordering.Policy{})
	require.Equal(t, "14.45", list.Total.StringFixed(2), "8.50 and carriage 5.95")
	for _, l := range list.Orders[0].Lines {
		require.Equal(t, []int64{job}, l.ForJobs)
		require.Zero(t, l.ForShelf)
	}
	w.place(list)
	ordered := 0
	for _, c := range w.claims(job) {
		require.Equal(t, inventory.ClaimOrdered, c.State)
		ordered += c.Pieces
	}
	require.Equal(t, 20, ordered)
	require.Empty(t, w.plan(ordering.Policy{}).Orders, "nothing is ordered twice")
}

// Without carriage the same twenty balls are cheapest from two suppliers; from one alone twenty singles at 10.00 are.
func TestOrderListWithoutSplitting(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	balls := w.part("balls 3/16 in", "loose-balls", "ball_mm=4.7625 material=steel", "")
	for code, offer := range map[string]inventory.Offer{
		"bags":    {Pack: 15, Breaks: []inventory.Break{at("6.00")}},
		"singles": {Pack: 1, Breaks: []inventory.Break{at("0.50")}},
	} {
		w.offer(w.supplier(inventory.Supplier{Code: code, Name: code, LeadDays: 2, ToOrderDays: 9}), balls, offer.Pack, inventory.InStock, offer.Breaks...)
	}
	w.keepOnShelf(balls, 0, 20)
	require.Equal(t, "8.50", w.plan(ordering.Policy{}).Total.StringFixed(2))
	list := w.plan(ordering.Policy{NoSplit: true})
	require.Equal(t, "10.00", list.Total.StringFixed(2))
	require.Len(t, list.Orders, 1)
}

// One chain at 10.00, or three at 2.00 each.
func TestOrderListBuysMoreOnlyAsFarAsTheShopWants(t *testing.T) {
	for _, c := range []struct{ overbuy, total string }{{"1", "10.00"}, {"2.9", "10.00"}, {"3", "6.00"}} {
		t.Run(c.overbuy+" times", func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			chain := w.part("chain 9-speed", "chain", chain9, "")
			free := w.supplier(inventory.Supplier{Code: "free", Name: "Free", LeadDays: 2, ToOrderDays: 9})
			w.offer(free, chain, 1, inventory.InStock, at("10.00"), inventory.Break{FromPacks: 3, Price: pounds("2.00")})
			w.keepOnShelf(chain, 0, 1)
			shop, err := inventory.LoadShop(t.Context(), w.tx)
			require.NoError(t, err)
			shop.Overbuy = pounds(c.overbuy)
			require.NoError(t, inventory.SaveShop(t.Context(), w.tx, shop))
			require.Equal(t, c.total, w.plan(ordering.Policy{}).Total.StringFixed(2))
		})
	}
}

func TestPlaceOrders(t *testing.T) {
	t.Run("what is not placed stays wanted", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		_, _, jobs := ringsAndChains(w)
		require.Empty(t, w.place(w.plan(ordering.Policy{}), "northmoor"))
		require.Equal(t, inventory.ClaimWanted, w.claims(jobs[0])[0].State)
		placed := w.place(w.plan(ordering.Policy{}), "harbour")
		require.Len(t, placed, 1)
		require.Equal(t, inventory.ClaimOrdered, w.claims(jobs[0])[0].State)
		require.Empty(t, w.plan(ordering.Policy{}).Orders)
	})
	t.Run("a list made before something else was ordered", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		ringsAndChains(w)
		list := w.plan(ordering.Policy{})
		w.place(list)
		require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
			_, err := ordering.Place(ctx, tx, list, nil, now)
			return err
		}), "what is wanted of black ring 50T has changed since the orders were planned, and nothing was ordered: plan the order again")
	})
}

// Whatever a list rests on, once that has changed the list is not placed: neither what it would order twice nor what was
// cheapest at yesterday's prices.
func TestAListIsPlacedOnlyAsItWasMade(t *testing.T) {
	for _, c := range []struct {
		name, problem string
		change        func(t *testing.T, w *workshop, ring, chain inventory.Part, jobs []int64)
	}{
		{"nothing", "", func(*testing.T, *workshop, inventory.Part, inventory.Part, []int64) {}},
		{"the refill was ordered", "what is wanted of chain 9-speed has changed", func(t *testing.T, w *workshop, ring, chain inventory.Part, jobs []int64) {
			_, err := inventory.PlaceOrder(t.Context(), w.tx, inventory.Order{SupplierID: w.harbour.ID, PlacedAt: now, Lines: []inventory.OrderLine{{
				OfferID: offersOf(t, w.tx, chain)[0].ID, PartID: chain.ID, Packs: 5, Pack: 1, Price: pounds("9.00"), Stock: inventory.InStock, ExpectedOn: today + 6}}})
			require.NoError(t, err)
		}},
		{"the refill was put on the shelf", "what is wanted of chain 9-speed has changed", func(t *testing.T, w *workshop, ring, chain inventory.Part, jobs []int64) {
			w.shelve(chain, 9)
		}},
		{"more is to be kept", "what is wanted of chain 9-speed has changed", func(t *testing.T, w *workshop, ring, chain inventory.Part, jobs []int64) {
			w.keepOnShelf(chain, 2, 7)
		}},
		{"a job was given up", "what is wanted of black ring 50T has changed", func(t *testing.T, w *workshop, ring, chain inventory.Part, jobs []int64) {
			require.NoError(t, CloseJob(t.Context(), w.tx, jobs[1], true, now))
		}},
		{"a job more wants one", "what is wanted of black ring 50T has changed", func(t *testing.T, w *workshop, ring, chain inventory.Part, jobs []int64) {
			w.approvedRing()
		}},
		{"a price", "what Harbour Lane Cycle Trade offers of chain 9-speed has changed", func(t *testing.T, w *workshop, ring, chain inventory.Part, jobs []int64) {
			w.offer(w.harbour, chain, 1, inventory.InStock, at("9.01"))
		}},
		{"what a supplier has", "what Harbour Lane Cycle Trade offers of black ring 50T has changed", func(t *testing.T, w *workshop, ring, chain inventory.Part, jobs []int64) {
			w.offer(w.harbour, ring, 1, inventory.ToOrder, at("22.00"))
		}},
		{"carriage", "what Northmoor Wheel Goods asks of an order has changed", func(t *testing.T, w *workshop, ring, chain inventory.Part, jobs []int64) {
			_, err := inventory.ChangeSupplier(t.Context(), w.tx, "northmoor", func(s *inventory.Supplier) { s.Carriage = pounds("0.50") })
			require.NoError(t, err)
		}},
		{"how much more may be bought", "how orders are planned has changed", func(t *testing.T, w *workshop, ring, chain inventory.Part, jobs []int64) {
			_, err := inventory.ChangeShop(t.Context(), w.tx, func(s *inventory.Shop) { s.Overbuy = pounds("3") })
			require.NoError(t, err)
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			ring, chain, jobs := ringsAndChains(w)
			list := w.plan(ordering.Policy{})
			c.change(t, w, ring, chain, jobs)
			again := w.plan(ordering.Policy{})
			require.Equal(t, c.problem == "", list.AsPlanned == again.AsPlanned, "a plan has another name where it rests on something else")
			before, err := inventory.Orders(t.Context(), w.tx, false)
			require.NoError(t, err)
			placed, err := ordering.Place(t.Context(), w.tx, list, nil, now)
			if c.problem == "" {
				require.NoError(t, err)
				require.Len(t, placed, 1)
				return
			}
			require.ErrorAs(t, err, new(*ordering.ChangedError))
			require.EqualError(t, err, c.problem+" since the orders were planned, and nothing was ordered: plan the order again")
			after, err := inventory.Orders(t.Context(), w.tx, false)
			require.NoError(t, err)
			require.Equal(t, before, after)
		})
	}
}

func offersOf(t *testing.T, db inventory.DB, p inventory.Part) []inventory.Offer {
	all, err := inventory.OffersOf(t.Context(), db, []int64{p.ID})
	require.NoError(t, err)
	return all[p.ID]
}

// One bike from booking in to handing back: a ring ordered with a refill of chains, a chain from the shelf.
func TestAWholeJob(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	silver, chain := w.part("silver ring 50T", "chainring", silverRing, ""), w.part("chain 9-speed", "chain", chain9, "17.99")
	w.offer(w.harbour, silver, 1, inventory.InStock, at("14.25"))
	w.offer(w.harbour, chain, 1, inventory.InStock, at("9.00"))
	w.shelve(chain, 2)
	w.keepOnShelf(chain, 1, 3)

	job := w.ringJob(Limits{})
	w.find(job, inspection.Replace, "chain")
	q := w.quote(job)
	// Ring 25.65 and carriage 7.14 as ever, chain 17.99 as recommended, labour 18.00 and 11.00 × 1.2 = 13.20.
	require.Equal(t, "81.98", named(t, q, "cheapest").Total.StringFixed(2))
	w.approve(job, "cheapest")
	require.Equal(t, inventory.Stock{OnHand: 2, Reserved: 1, Wanted: 0}, w.stock(chain))
	require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error { return CloseJob(ctx, tx, job, false, now) }),
		"1 of silver ring 50T still to come; 1 of chain 9-speed reserved and not used")

	// One chain is free, which is the level: two are ordered to make three. 14.25 + 2 × 9.00 + 5.95.
	list := w.plan(ordering.Policy{})
	require.Equal(t, "38.20", list.Total.StringFixed(2))
	placed := w.place(list)
	var arrivals []inventory.Arrival
	for _, l := range placed[0].Lines {
		arrivals = append(arrivals, inventory.Arrival{LineID: l.ID, Outcome: inventory.Good, Pieces: l.Packs * l.Pack})
	}
	receipt, err := inventory.ReceiveOrder(t.Context(), w.tx, w.request, placed[0].ID, "DN 7", inventory.Into{Bin: "A1"}, now.Add(72*time.Hour), arrivals, false)
	require.NoError(t, err)
	require.Equal(t, []inventory.Got{{JobID: job, Place: "crank.outer-ring", PartID: silver.ID, Pieces: 1, Substitute: true}}, receipt.Got)
	require.Len(t, receipt.Measure, 1, "a substitute is measured on arrival")
	require.Equal(t, inventory.ClaimArrived, w.claims(job)[0].State)
	require.Len(t, w.held(job), 2)

	used, err := UseHeld(t.Context(), w.tx, w.request, job)
	require.NoError(t, err)
	require.Len(t, used, 2)
	build := w.job(job).Bike.Build
	require.Equal(t, "silver ring 50T", build["crank.outer-ring"].Name)
	require.Equal(t, silver.Spec, build["crank.outer-ring"].Spec)
	require.Equal(t, "chain 9-speed", build["chain"].Name)
	again, err := UseHeld(t.Context(), w.tx, w.request, job)
	require.NoError(t, err)
	require.Empty(t, again)

	require.NoError(t, CloseJob(t.Context(), w.tx, job, false, now))
	require.Equal(t, Closed, w.job(job).State)
	require.Equal(t, inventory.Stock{OnHand: 3}, w.stock(chain))
	require.Zero(t, w.stock(silver))
	requireLedgerAddsUp(t, t.Context(), w.tx)
	require.Empty(t, w.plan(ordering.Policy{}).Orders)
}

// Balls come by the gross: of the 210 that bring twenty up to 230 one gross is ordered, which is above the level, and
// not two, which are beyond what is to be kept. Where a gross is not enough to be above the level two are ordered.
func TestPacksStayWithinTheLevels(t *testing.T) {
	for name, c := range map[string]struct{ level, to, packs int }{"a gross fits between": {85, 230, 1}, "a gross is more than lies between": {85, 180, 1}, "a gross is not enough": {170, 300, 2}, "two fit": {20, 320, 2}} {
		t.Run(name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			balls := w.part("balls 1/8 in", "loose-balls", "ball_mm=3.175 material=steel", "")
			w.offer(w.harbour, balls, 144, inventory.InStock, at("3.60"))
			w.shelve(balls, 20)
			w.keepOnShelf(balls, c.level, c.to)
			require.Equal(t, c.packs, w.plan(ordering.Policy{}).Orders[0].Lines[0].Packs)
		})
	}
}
