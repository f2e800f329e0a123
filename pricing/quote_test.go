package pricing

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/migrations/testdb"
	"stead/pricing/ordering"
	"stead/substitution/inspection"
	"stead/substitution/solver"
)

// ringsOffered has the black ring at Northmoor and a silver one, sooner and cheaper, at Harbour Lane.
func ringsOffered(w *workshop) (black, silver inventory.Part) {
	black, silver = w.part("black ring 50T", "chainring", blackRing, ""), w.part("silver ring 50T", "chainring", silverRing, "")
	w.offer(w.north, black, 1, inventory.InStock, at("20.00"))
	w.offer(w.harbour, silver, 1, inventory.InStock, at("14.25"))
	return black, silver
}

func TestQuoteNamesItsOptions(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	black, silver := ringsOffered(w)
	q := w.quote(w.ringJob(Limits{}))
	for _, o := range q.Options {
		t.Logf("%+v", o)
	}

	// Black: 20.00 × 1.5 × 1.2 = 36.00, carriage 4.50 × 1.2 = 5.40, labour 15.00 × 1.2 = 18.00; in all 59.40,
	// of which 59.40 − 59.40 ÷ 1.2 = 9.90 is tax. The workshop pays 20.00 + 4.50.
	closest := named(t, q, "closest")
	require.Equal(t, black.ID, closest.Parts[0].PartID)
	require.Empty(t, closest.Deviations)
	require.False(t, closest.Parts[0].Substitute)
	require.Equal(t, []string{"36.00", "5.40", "59.40", "9.90", "24.50"},
		onPaper(closest.Parts[0].Amount, closest.Carriage[0].Amount, closest.Total, closest.TaxInTotal, closest.Landed))

	// Silver: 14.25 × 1.5 × 1.2 = 25.65, carriage 5.95 × 1.2 = 7.14, labour 18.00; in all 50.79. Without tax that is
	// 50.79 ÷ 1.2 = 42.325, a half penny upwards 42.33, and the rest, 8.46, is tax.
	soonest := named(t, q, "soonest")
	require.Equal(t, silver.ID, soonest.Parts[0].PartID)
	require.True(t, soonest.Parts[0].Substitute)
	require.Equal(t, []string{"soonest", "cheapest"}, soonest.Names[:2])
	require.Equal(t, []string{"25.65", "7.14", "50.79", "8.46", "20.20"},
		onPaper(soonest.Parts[0].Amount, soonest.Carriage[0].Amount, soonest.Total, soonest.TaxInTotal, soonest.Landed))
	require.Len(t, soonest.Deviations, 1)
	require.Equal(t, "crank.outer-ring chainring.finish", soonest.Deviations[0].Name())
	require.Less(t, soonest.ReadyOn, closest.ReadyOn)
}

// What lies on the shelf costs what it would cost to buy again, and no carriage.
func TestQuoteFromTheShelf(t *testing.T) {
	for _, c := range []struct {
		name, retail string
		offered      bool
		amount       string
	}{
		// 20.00 × 1.5 × 1.2.
		{"a supplier's price and the mark-up", "", true, "36.00"},
		// As recommended, whatever the supplier asks.
		{"a retail price", "33.49", true, "33.49"},
		{"a retail price and no supplier", "33.49", false, "33.49"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			black := w.part("black ring 50T", "chainring", blackRing, c.retail)
			w.shelve(black, 1)
			if c.offered {
				w.offer(w.north, black, 1, inventory.InStock, at("20.00"))
			}
			q := w.quote(w.ringJob(Limits{}))
			require.Len(t, q.Options, 1, "taken from the shelf it is the best at everything")
			o := q.Options[0]
			require.Equal(t, []string{"soonest", "cheapest", "closest", "balanced"}, o.Names)
			require.True(t, o.Parts[0].Shelf)
			require.Zero(t, o.Parts[0].OfferID)
			require.Empty(t, o.Carriage)
			require.Equal(t, today, o.ReadyOn)
			require.Equal(t, "all on the shelf", o.Promise)
			require.Equal(t, c.amount, o.Parts[0].Amount.StringFixed(2))
			require.Equal(t, pounds(c.amount).Add(pounds("18.00")).StringFixed(2), o.Total.StringFixed(2))
		})
	}
	t.Run("no price at all", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		w.shelve(w.part("black ring 50T", "chainring", blackRing, ""), 1)
		q := w.quote(w.ringJob(Limits{}))
		require.Empty(t, q.Options)
		require.Equal(t, []string{"black ring 50T is on the shelf and has no price: give it a retail price, or record what a supplier asks"}, q.Refusal.Why)
	})
	t.Run("what is held for another job is not there", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		w.shelve(w.part("black ring 50T", "chainring", blackRing, "33.49"), 1)
		first, second := w.ringJob(Limits{}), w.ringJob(Limits{})
		w.quote(first)
		w.approve(first, "closest")
		require.Equal(t, []string{"neither the shelf nor any supplier has any chainrings for the outer chainring"}, w.quote(second).Refusal.Why)
	})
}

// A front hub is opened: 20 balls of 3/16 in, ten a side (common practice, no source), out of a bag of 144.
func TestQuoteOfBallsOutOfABag(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	bag := w.part("balls 3/16 in", "loose-balls", "ball_mm=4.7625 material=steel", "")
	w.offer(w.harbour, bag, 144, inventory.InStock, at("5.00"))
	job := w.bookIn(looseHub(t), Limits{})
	w.find(job, inspection.Clean, "front.hub")
	q := w.quote(job)
	require.NotEmpty(t, q.Bench, "grease is named and comes with the labour")
	o := named(t, q, "cheapest")
	require.Len(t, o.Parts, 2)
	require.Equal(t, []int{10, 10}, []int{o.Parts[0].Pieces, o.Parts[1].Pieces})
	// Ten balls: 5.00 × 10 ÷ 144 × 1.5 × 1.2 = 0.625, a half penny upwards 0.63, for each side. Twenty would be 1.25, but
	// the total is that of the lines as printed: 0.63 + 0.63 + 30.00 × 1.2 + 5.95 × 1.2 = 44.40. Without tax
	// 44.40 ÷ 1.2 = 37.00. The workshop pays one bag for both sides: 5.00 + 5.95.
	require.Equal(t, []string{"0.63", "0.63", "36.00", "7.14", "44.40", "7.40", "10.95"},
		onPaper(o.Parts[0].Amount, o.Parts[1].Amount, q.Labour[0].Amount, o.Carriage[0].Amount, o.Total, o.TaxInTotal, o.Landed))
}

func TestQuoteWithoutParts(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	job := w.bookIn(touringBike(t), Limits{})
	w.find(job, inspection.Adjust, "rear.derailleur")
	w.find(job, inspection.Keep, "chain")
	q := w.quote(job)
	require.Len(t, q.Options, 1)
	o := q.Options[0]
	require.Equal(t, []string{"no parts"}, o.Names)
	require.Empty(t, o.Parts)
	// 15.00 × 1.2 = 18.00, of which 3.00 is tax.
	require.Equal(t, []string{"18.00", "3.00", "0.00"}, onPaper(o.Total, o.TaxInTotal, o.Landed))
	w.approve(job, "no parts")
	require.Empty(t, w.claims(job))
	require.NoError(t, CloseJob(t.Context(), w.tx, job, false, now))
	require.Equal(t, Closed, w.job(job).State)
}

// A ring is 10.00 at Northmoor, which takes no order below 15.00, and 12.00 at Harbour Lane, or nowhere else. What
// others want at Northmoor makes up the rest.
func TestQuoteBelowAMinimumOrder(t *testing.T) {
	const short = "Northmoor Wheel Goods takes no order below £15.00, and this comes to £10.00"
	chains := func(w *workshop) {
		chain := w.part("chain 9-speed", "chain", chain9, "")
		w.offer(w.north, chain, 1, inventory.InStock, at("5.00"))
		w.keepOnShelf(chain, 0, 1)
	}
	anotherRing := func(w *workshop) {
		w.minimum(w.north, "0")
		job := w.ringJob(Limits{NotSuppliers: []string{"harbour"}})
		w.quote(job)
		w.approve(job, "cheapest")
		w.minimum(w.north, "15")
	}
	for _, c := range []struct {
		name      string
		elsewhere bool
		overbuy   string
		others    func(*workshop)
		supplier  string
		total     string // 10.00 × 1.5 × 1.2, carriage 5.40, labour 18.00; or 12.00 × 1.5 × 1.2, carriage 7.14
		promise   string
		minimums  []string
		leftOut   []string
	}{
		{"where another has it", true, "2", nil, "harbour", "46.74", "all here by Monday 9 March, 9 in 10", nil,
			[]string{short + "; else option cheapest would be £41.40, all here by Wednesday 11 March, 9 in 10"}},
		{"where nobody else has it, and two may be bought", false, "2", nil, "northmoor", "41.40", "all here by Wednesday 11 March, 9 in 10",
			[]string{short + ": more of it is bought for the shelf"}, nil},
		{"where nobody else has it, and one is bought", false, "1", nil, "northmoor", "41.40",
			"all here by Wednesday 11 March, 9 in 10, once enough is wanted of Northmoor Wheel Goods",
			[]string{short + ": it waits until more is wanted there, or the shop buys up to it"}, nil},
		{"with a chain that the shelf lacks", true, "1", chains, "northmoor", "41.40", "all here by Wednesday 11 March, 9 in 10", nil, nil},
		{"with a ring for another job", true, "1", anotherRing, "northmoor", "41.40", "all here by Wednesday 11 March, 9 in 10", nil, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			ring := w.part("black ring 50T", "chainring", blackRing, "")
			w.offer(w.north, ring, 1, inventory.InStock, at("10.00"))
			if c.elsewhere {
				w.offer(w.harbour, ring, 1, inventory.InStock, at("12.00"))
			}
			_, err := inventory.ChangeShop(t.Context(), w.tx, func(s *inventory.Shop) { s.Overbuy = pounds(c.overbuy) })
			require.NoError(t, err)
			if c.others != nil {
				c.others(w)
			}
			q := w.quote(w.ringJob(Limits{}))
			o := named(t, q, "cheapest")
			require.Equal(t, c.supplier, o.Parts[0].Supplier)
			require.Equal(t, c.total, o.Total.StringFixed(2))
			require.Equal(t, c.promise, o.Promise)
			require.Equal(t, c.minimums, o.Minimums)
			require.Equal(t, c.leftOut, q.LeftOut)
		})
	}
}

// A ring at 20.00 from Harbour Lane: carriage is 5.95 before tax, and paid from 75.00 on.
func TestQuoteChargesCarriageAsTheShopDoes(t *testing.T) {
	others := func(w *workshop) { // 20.00 + 40.00 of goods travel together
		chain := w.part("chain 9-speed", "chain", chain9, "")
		w.offer(w.harbour, chain, 1, inventory.InStock, at("10.00"))
		w.keepOnShelf(chain, 0, 4)
	}
	many := func(w *workshop) { // 20.00 + 55.00
		chain := w.part("chain 9-speed", "chain", chain9, "")
		w.offer(w.harbour, chain, 1, inventory.InStock, at("11.00"))
		w.keepOnShelf(chain, 0, 5)
	}
	// Two orders of 30.00 and 50.00, and one that was cancelled: 40.00 as a rule.
	before := func(w *workshop) {
		chain := w.part("chain 9-speed", "chain", chain9, "")
		o := w.offer(w.harbour, chain, 1, inventory.InStock, at("10.00"))
		for _, packs := range []int{3, 5, 60} {
			order, err := inventory.PlaceOrder(t.Context(), w.tx, inventory.Order{SupplierID: w.harbour.ID, PlacedAt: now.AddDate(0, 0, -30), Lines: []inventory.OrderLine{{
				OfferID: o.ID, PartID: chain.ID, Packs: packs, Pack: 1, Price: pounds("10.00"), Stock: inventory.InStock, ExpectedOn: today - 24}}})
			require.NoError(t, err)
			if packs == 60 {
				_, err = inventory.CancelOrder(t.Context(), w.tx, order.ID)
			} else {
				_, err = inventory.ReceiveAll(t.Context(), w.tx, w.request, order.ID, "", inventory.Into{Bin: "A1"}, now.AddDate(0, 0, -26), nil, false)
			}
			require.NoError(t, err)
		}
	}
	for _, c := range []struct {
		name   string
		charge inventory.Carriage
		fixed  string
		shop   func(*workshop)
		lines  []CarriageLine
		says   string
	}{
		{"in full", inventory.CarriageFull, "", others, []CarriageLine{{"harbour", "Harbour Lane Cycle Trade", Tax{}, pounds("7.14"), ""}}, "carriage is charged in full, for each supplier that parts come from"},
		{"not at all", inventory.CarriageNone, "", others, nil, "carriage is not charged"},
		{"fixed", inventory.CarriageFixed, "3.50", others, []CarriageLine{{"", "", Tax{}, pounds("4.20"), "fixed"}}, "carriage is charged at a fixed £4.20 where parts are ordered"},
		{"shared with nobody", inventory.CarriageShared, "", func(*workshop) {}, []CarriageLine{{"harbour", "Harbour Lane Cycle Trade", Tax{}, pounds("7.14"), "shared"}}, "carriage is shared: by the worth of its goods in an order as it is usually sent"},
		{"a third of what travels together", inventory.CarriageShared, "", others, []CarriageLine{{"harbour", "Harbour Lane Cycle Trade", Tax{}, pounds("2.38"), "shared"}}, "carriage is shared: by the worth of its goods in an order as it is usually sent"},
		{"of what travels free", inventory.CarriageShared, "", many, nil, "carriage is shared: by the worth of its goods in an order as it is usually sent"},
		{"half of an order as they have been", inventory.CarriageShared, "", before, []CarriageLine{{"harbour", "Harbour Lane Cycle Trade", Tax{}, pounds("3.57"), "shared"}}, "carriage is shared: by the worth of its goods in an order as it is usually sent"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			ring := w.part("black ring 50T", "chainring", blackRing, "")
			w.offer(w.harbour, ring, 1, inventory.InStock, at("20.00"))
			_, err := inventory.ChangeShop(t.Context(), w.tx, func(s *inventory.Shop) {
				s.CarriageCharge = c.charge
				if c.fixed != "" {
					s.CarriageFixed = nullPounds(c.fixed)
				}
			})
			require.NoError(t, err)
			c.shop(w)
			q := w.quote(w.ringJob(Limits{}))
			o := named(t, q, "cheapest")
			require.Equal(t, fmt.Sprint(c.lines), fmt.Sprint(o.Carriage))
			require.Equal(t, c.says, q.Carriage)
			requireQuoteAddsUp(t, q)
		})
	}
}

// Of two jobs whose parts come in one parcel neither pays for the other's: together they pay no more than is charged, once
// both are known to travel together.
func TestTwoJobsOfOneParcelShareItsCarriage(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ring, chain := w.part("black ring 50T", "chainring", blackRing, ""), w.part("chain 9-speed", "chain", chain9, "")
	w.offer(w.harbour, ring, 1, inventory.InStock, at("20.00"))
	o := w.offer(w.harbour, chain, 1, inventory.InStock, at("10.00"))
	_, err := inventory.ChangeShop(t.Context(), w.tx, func(s *inventory.Shop) { s.CarriageCharge = inventory.CarriageShared })
	require.NoError(t, err)
	_, err = inventory.PlaceOrder(t.Context(), w.tx, inventory.Order{SupplierID: w.harbour.ID, PlacedAt: now.AddDate(0, 0, -30), Lines: []inventory.OrderLine{{
		OfferID: o.ID, PartID: chain.ID, Packs: 4, Pack: 1, Price: pounds("10.00"), Stock: inventory.InStock, ExpectedOn: today - 24}}})
	require.NoError(t, err)
	paid := decimal.Zero
	for range 2 {
		job := w.ringJob(Limits{})
		paid = paid.Add(named(t, w.quote(job), "cheapest").Carriage[0].Amount)
		w.approve(job, "cheapest")
	}
	require.Equal(t, "7.14", paid.StringFixed(2), "5.95 × 1.2, of which each pays a half")
	require.Equal(t, "45.95", w.plan(ordering.Policy{}).Total.StringFixed(2))
}

func TestDaysAfterTheDayThatIsWanted(t *testing.T) {
	day := func(n int) *calendar.Day { d := today + calendar.Day(n); return &d }
	for _, c := range []struct {
		name   string
		wanted *calendar.Day
		days   int
	}{{"no day asked", nil, 0}, {"the day before", day(6), 1}, {"the very day", day(7), 0}, {"later", day(30), 0}, {"a week before", day(0), 7}} {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.days, Option{ReadyOn: today + 7}.DaysAfter(c.wanted))
		})
	}
}

func TestQuoteListsUnsurePartsApart(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ringsOffered(w)
	unsure := w.part("unmeasured ring 50T", "chainring", unsureRing, "9.99")
	w.shelve(unsure, 3) // the soonest and cheapest of all, if it fitted
	q := w.quote(w.ringJob(Limits{}))
	for _, o := range q.Options {
		require.NotEqual(t, unsure.ID, o.Parts[0].PartID)
	}
	require.Len(t, q.Unsure, 1)
	require.Equal(t, unsure.ID, q.Unsure[0].PartID)
	require.NotEmpty(t, q.Unsure[0].Measure)
	require.Contains(t, q.Unsure[0].Measure[0], "fits if the bolt circle of unmeasured ring 50T is 110 mm")
}

func TestQuoteRefusesWithWaysOut(t *testing.T) {
	onlySilver := func(w *workshop) {
		w.offer(w.harbour, w.part("silver ring 50T", "chainring", silverRing, ""), 1, inventory.InStock, at("14.25"))
	}
	latest := today + 2
	for _, c := range []struct {
		name    string
		shop    func(*workshop)
		limits  Limits
		why     string
		waysOut []string
	}{
		{"nobody has any", func(*workshop) {}, Limits{}, "neither the shelf nor any supplier has any chainrings for the outer chainring", nil},
		{"only one that does not bolt on", func(w *workshop) {
			p := w.part("ring for 130 mm", "chainring", strings.Replace(blackRing, "bcd_mm=110", "bcd_mm=130", 1), "")
			w.offer(w.harbour, p, 1, inventory.InStock, at("14.25"))
		}, Limits{}, "ring for 130 mm does not fit: ", nil},
		// 50.79 as worked out above.
		{"it must look as before", onlySilver, Limits{SameFinish: true}, "no set of parts keeps every wish at once",
			[]string{"give up “it looks as before”: £50.79, all here by Monday 9 March, 9 in 10; outer chainring: silver polished alloy in place of black anodised alloy"}},
		{"it must be here in two days", onlySilver, Limits{Latest: &latest}, "no set of parts keeps every wish at once",
			[]string{"give up “everything here by Thursday 5 March”: £50.79, all here by Monday 9 March, 9 in 10; outer chainring: silver polished alloy in place of black anodised alloy"}},
		{"a penny too little", onlySilver, Limits{MostToSpend: decimal.NewNullDecimal(pounds("50.78"))}, "every way to do the job costs more than £50.78",
			[]string{"spend more than £50.78: £50.79, all here by Monday 9 March, 9 in 10; outer chainring: silver polished alloy in place of black anodised alloy"}},
		{"too little, and it must look as before", onlySilver, Limits{SameFinish: true, MostToSpend: decimal.NewNullDecimal(pounds("50.00"))}, "no set of parts keeps every wish at once",
			[]string{"give up “it looks as before” and “at most £50.00”: £50.79, all here by Monday 9 March, 9 in 10; outer chainring: silver polished alloy in place of black anodised alloy"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			c.shop(w)
			job := w.ringJob(c.limits)
			q := w.quote(job)
			require.Equal(t, []Option{}, q.Options, "none, which JSON writes as an empty list")
			require.NotNil(t, q.Refusal)
			require.Contains(t, strings.Join(q.Refusal.Why, "\n"), c.why)
			require.Equal(t, c.waysOut, q.Refusal.WaysOut)
			require.Contains(t, w.refused(func(context.Context, pgx.Tx) error {
				_, err := w.decide(Decision{JobID: job, Option: "cheapest"})
				return err
			}), "has no option to choose: nothing does the job yet")
		})
	}
	t.Run("just enough", func(t *testing.T) {
		w := newWorkshop(t, testdb.Tx(t))
		ringsOffered(w)
		q := w.quote(w.ringJob(Limits{MostToSpend: decimal.NewNullDecimal(pounds("50.79"))}))
		require.Len(t, q.Options, 1, "the black one is above it")
		require.Subset(t, q.Options[0].Names, []string{"soonest", "cheapest", "closest"}, "of what the customer can have")
	})
}

func TestQuoteRefused(t *testing.T) {
	for _, c := range []struct {
		name string
		job  func(*workshop) int64
		says string
	}{
		{"no such job", func(*workshop) int64 { return 999 }, "there is no job N"},
		{"not inspected", func(w *workshop) int64 { return w.bookIn(touringBike(w.t), Limits{}) }, "is not inspected yet"},
		{"cancelled", func(w *workshop) int64 {
			job := w.ringJob(Limits{})
			require.NoError(w.t, CancelJob(w.t.Context(), w.tx, job, "sold the bike", now))
			return job
		}, "is cancelled: it is not quoted again"},
		{"no labour price", func(w *workshop) int64 {
			job := w.bookIn(touringBike(w.t), Limits{})
			w.find(job, inspection.Clean, "rear.cassette")
			return job
		}, "no labour price for clean cassette"},
		{"no tax", func(w *workshop) int64 {
			_, err := w.tx.Exec(w.t.Context(), `DELETE FROM tax_rate`)
			require.NoError(w.t, err)
			return w.ringJob(Limits{})
		}, "no rate of tax is recorded for 3 March 2026"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			job := c.job(w)
			require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
				_, err := MakeQuote(ctx, tx, job, now)
				return err
			}), c.says)
			_, found, err := LastQuote(t.Context(), w.tx, job)
			require.NoError(t, err)
			require.False(t, found)
		})
	}
}

// A rate that changes at midnight is taxed by the workshop's day.
func TestTaxOfTheDay(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	require.NoError(t, SetTax(t.Context(), w.tx, Tax{"VAT", pounds("25")}, Everything, time.Date(2026, time.July, 1, 0, 0, 0, 0, time.UTC)))
	job := w.bookIn(touringBike(t), Limits{})
	w.find(job, inspection.Adjust, "rear.derailleur")
	for _, c := range []struct {
		name    string
		at      time.Time
		percent string
	}{
		{"the evening before", time.Date(2026, time.June, 30, 22, 59, 0, 0, time.UTC), "20"},
		{"half past midnight in summer, still June in Greenwich", time.Date(2026, time.June, 30, 23, 30, 0, 0, time.UTC), "25"},
	} {
		t.Run(c.name, func(t *testing.T) {
			q, err := MakeQuote(t.Context(), w.tx, job, c.at)
			require.NoError(t, err)
			require.Equal(t, c.percent, q.Tax.Percent.String())
		})
	}
}

func TestQuoteOfAStoppedSearch(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ringsOffered(w)
	s, err := LoadSituation(t.Context(), w.tx, w.ringJob(Limits{}), now)
	require.NoError(t, err)
	problem, err := s.problem()
	require.NoError(t, err)
	r, err := s.refusal(t.Context(), problem, solver.Answer{})
	require.NoError(t, err)
	require.Equal(t, []string{"no set of parts was found in 20 seconds, and there may be one: ask for less at once, or name parts that it must have"}, r.Why)
}

// A hub takes twenty balls. In packs of three that are sold four at a time and more, seven packs do.
func TestQuoteOfAnOfferWithALeastQuantity(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	balls := w.part("balls 3/16 in", "loose-balls", "ball_mm=4.7625 material=steel", "")
	_, err := inventory.PutOffer(t.Context(), w.tx, inventory.Offer{SupplierID: w.harbour.ID, Code: "HL-1", PartID: balls.ID, Pack: 3, MinimumPacks: 4,
		Stock: inventory.InStock, AsOf: now, Breaks: []inventory.Break{at("1.00")}})
	require.NoError(t, err)
	job := w.bookIn(looseHub(t), Limits{})
	w.find(job, inspection.Clean, "front.hub")
	require.Equal(t, "12.95", named(t, w.quote(job), "cheapest").Landed.StringFixed(2), "7.00 and carriage 5.95")
}

// The options are those that no other betters for the workshop. Where one of two like rings has a retail price, the one that
// costs the workshop a little more and the customer far less is not among them; `stead job quote --help` says so.
func TestCheapestIsOfWhatTheWorkshopWouldBuy(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	retail := w.part("black ring 50T, boxed", "chainring", blackRing, "60.00")
	w.offer(w.harbour, retail, 1, inventory.InStock, at("10.00"))
	w.offer(w.harbour, w.part("black ring 50T, loose", "chainring", blackRing, ""), 1, inventory.InStock, at("12.00"))
	q := w.quote(w.ringJob(Limits{}))
	require.Len(t, q.Options, 1)
	require.Equal(t, retail.ID, named(t, q, "cheapest").Parts[0].PartID)
}
