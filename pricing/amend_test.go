package pricing

import (
	"context"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/substitution"
	"stead/substitution/inspection"
)

func (w *workshop) agreed(job int64) Agreement {
	w.t.Helper()
	g, err := AgreedOn(w.t.Context(), w.tx, job)
	require.NoError(w.t, err)
	return g
}

func (w *workshop) amend(job int64, anew ...substitution.Place) Quote {
	w.t.Helper()
	q, err := Amend(w.t.Context(), w.tx, job, anew, now)
	require.NoError(w.t, err)
	return q
}

// approvedRing is a job with a black ring from the shelf: £24.00 and £18.00 to fit it, tax included.
func approvedRing(w *workshop) (job int64, black inventory.Part) {
	black, _ = ringsOffered(w)
	w.shelve(black, 1)
	chain := w.part("chain 9-speed", "chain", chain9, "20.00")
	w.shelve(chain, 1)
	w.shelve(w.part("cassette 11-32", "cassette", "speeds=9 teeth_min=11 teeth_max=32 freehub=hg colour=silver material=steel", "30.00"), 1)
	job = w.ringJob(Limits{})
	w.quote(job)
	w.approve(job, "closest")
	return job, black
}

// The chain is found worn after the ring was approved: the amendment asks about the chain alone, and what was agreed stays.
func TestAmendAsksOnlyAboutWhatIsNew(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	job, black := approvedRing(w)
	before := w.agreed(job)
	held := w.held(job)

	w.find(job, inspection.Replace, "chain")
	require.Equal(t, JobApproved, w.job(job).State)
	q := w.amend(job)
	require.Equal(t, 2, q.Version)
	require.Equal(t, 1, q.Amends)
	require.Len(t, q.Labour, 1)
	require.EqualValues(t, "chain", q.Labour[0].Place)
	require.Empty(t, q.Instead)
	o := named(t, q, "closest")
	require.Len(t, o.Parts, 1)
	// The chain's 20.00 and £11 before tax to fit it, 13.20.
	require.Equal(t, []string{"33.20", before.Total.Add(pounds("33.20")).StringFixed(2)}, onPaper(o.Adds.Decimal, o.Total))
	require.Equal(t, before, w.agreed(job), "nothing is agreed by asking")

	w.approve(job, "closest")
	after := w.agreed(job)
	require.Equal(t, before.Total.Add(pounds("33.20")).StringFixed(2), after.Total.StringFixed(2))
	require.Len(t, after.Words, 2)
	require.Equal(t, held[0], w.held(job)[0], "what was held is held")
	require.Len(t, w.held(job), 2)
	require.True(t, sumOf(after.Standing()).Equal(after.Total))
	require.Equal(t, inventory.Stock{OnHand: 1, Reserved: 1}, w.stock(black))

	first, a, err := ApprovedQuote(t.Context(), w.tx, job)
	require.NoError(t, err)
	require.Equal(t, 1, first.Version)
	require.True(t, a.Total.Equal(before.Total), "the quote that was approved stays as it was")
	require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
		_, err := Amend(ctx, tx, job, nil, now)
		return err
	}), "nothing of job N has changed since it was approved")
}

func TestAmendmentDeclined(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	job, _ := approvedRing(w)
	before, held := w.agreed(job), w.held(job)
	w.find(job, inspection.Replace, "chain")
	q := w.amend(job)
	decline := func(version int) func(ctx context.Context, tx pgx.Tx) error {
		return func(ctx context.Context, tx pgx.Tx) error {
			_, err := DeclineQuote(ctx, tx, job, version, "Ines Falkner", WhyNot{}, now)
			return err
		}
	}
	require.Contains(t, w.refused(decline(1)), "quote version 1 of job N is out of date, the newest is version 2")
	require.NoError(t, decline(q.Version)(t.Context(), w.tx))
	require.Equal(t, before, w.agreed(job))
	require.Equal(t, held, w.held(job))
	advised, err := AdvisedOn(t.Context(), w.tx, w.job(job).Bike.ID)
	require.NoError(t, err)
	require.Len(t, advised, 1)
	require.EqualValues(t, "chain", advised[0].Place)
	require.Equal(t, "declined by Ines Falkner", advised[0].Why)
	require.Contains(t, w.refused(decline(q.Version)), "is declined already")
	require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
		_, err := Amend(ctx, tx, job, nil, now)
		return err
	}), "nothing of job N has changed")

	w.use(job)
	require.NoError(t, CloseJob(t.Context(), w.tx, job, false, now))
	require.True(t, w.job(job).Ending.Due.Equal(before.Total))
	advised, err = AdvisedOn(t.Context(), w.tx, w.job(job).Bike.ID)
	require.NoError(t, err)
	require.Len(t, advised, 1, "advised for next time")
}

func (w *workshop) use(job int64) {
	w.t.Helper()
	_, err := UseHeld(w.t.Context(), w.tx, w.request, job)
	require.NoError(w.t, err)
}

// An amendment may put another part in the place of the agreed one, which goes back to the shelf.
func TestAmendmentReplacesAnAgreedLine(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	job, black := approvedRing(w)
	before := w.agreed(job)
	q := w.amend(job, "crank.outer-ring")
	require.Len(t, q.Instead, 1)
	require.Equal(t, black.ID, q.Instead[0].PartID)
	require.Empty(t, q.Labour, "the ring is fitted once")
	o := named(t, q, "cheapest")
	require.NotEqual(t, black.ID, o.Parts[0].PartID)
	w.approve(job, "cheapest")
	after := w.agreed(job)
	require.True(t, sumOf(after.Standing()).Equal(after.Total))
	require.True(t, after.Total.Equal(before.Total.Sub(q.Instead[0].Amount).Add(o.Parts[0].Amount).Add(sumOfCarriage(o))))
	require.Equal(t, inventory.Stock{OnHand: 1}, w.stock(black), "the agreed ring is free again")
	require.Empty(t, w.held(job))
	require.Len(t, w.claims(job), 1)
	require.Equal(t, 2, after.Lines[1].GaveWay)

	t.Run("not one that is fitted, nor where none is agreed", func(t *testing.T) {
		anew := func(place substitution.Place) func(context.Context, pgx.Tx) error {
			return func(ctx context.Context, tx pgx.Tx) error {
				_, err := Amend(ctx, tx, job, []substitution.Place{place}, now)
				return err
			}
		}
		require.Contains(t, w.refused(anew("chain")), "no part is agreed for the chain of job N")
		fitted := w.bookIn(touringBike(t), Limits{})
		w.find(fitted, inspection.Replace, "chain")
		w.quote(fitted)
		w.approve(fitted, "cheapest")
		w.use(fitted)
		job = fitted
		require.Contains(t, w.refused(anew("chain")), "the part agreed for the chain of job N has been used already")
	})
}

func sumOfCarriage(o Option) decimal.Decimal {
	sum := decimal.Zero
	for _, c := range o.Carriage {
		sum = sum.Add(c.Amount)
	}
	return sum
}

// What was agreed beforehand, up to a price, is approved at once by the reading; what comes to more is asked.
func TestIfOpened(t *testing.T) {
	for _, c := range []struct {
		name string
		most string
		want QuoteState
	}{
		{"within the price", "33.20", Approved},
		{"a penny above it", "33.19", Open},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			ring, _ := ringsOffered(w)
			w.shelve(ring, 1)
			w.shelve(w.part("chain 9-speed", "chain", chain9, "20.00"), 1)
			job := w.ringJob(Limits{})
			require.NoError(t, SetIfOpened(t.Context(), w.tx, job, IfOpened{Place: "chain", Action: inspection.Replace, Most: pounds(c.most)}, now))
			q := w.quote(job)
			require.Len(t, q.IfOpened, 1)
			w.approve(job, "closest")
			w.find(job, inspection.Replace, "chain")
			require.Equal(t, c.want, w.amend(job).State)
			if c.want == Approved {
				require.Equal(t, "Ines Falkner, beforehand", w.agreed(job).Words[1].By)
				require.Empty(t, w.agreed(job).Opened, "it is used up")
			}
		})
	}
}

// A single line is left out of a quote; the next job on the bike that does it meets the advice.
func TestLeaveOut(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ring, _ := ringsOffered(w)
	w.shelve(ring, 1)
	w.shelve(w.part("chain 9-speed", "chain", chain9, "20.00"), 1)
	job := w.ringJob(Limits{})
	w.find(job, inspection.Replace, "chain")
	whole := named(t, w.quote(job), "closest").Total
	_, err := LeaveOut(t.Context(), w.tx, job, "chain", "next spring", now)
	require.NoError(t, err)
	q := w.quote(job)
	require.Len(t, q.Advised, 1)
	require.True(t, named(t, q, "closest").Total.Equal(whole.Sub(pounds("33.20"))))
	require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
		_, err := LeaveOut(ctx, tx, job, "chain", "", now)
		return err
	}), "is left out already")
	require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
		_, err := LeaveOut(ctx, tx, job, "saddle", "", now)
		return err
	}), "nothing is to be done at the saddle")
	w.approve(job, "closest")
	w.use(job)
	require.NoError(t, CloseJob(t.Context(), w.tx, job, false, now))

	bike := w.job(job).Bike.ID
	next, err := OpenJob(t.Context(), w.tx, bike, "", nil, Limits{}, now)
	require.NoError(t, err)
	advised, err := AdvisedOn(t.Context(), w.tx, bike)
	require.NoError(t, err)
	require.Equal(t, "replace the chain", advised[0].Words)
	w.find(next, inspection.Replace, "chain")
	w.quote(next)
	w.approve(next, "cheapest")
	w.use(next)
	require.NoError(t, CloseJob(t.Context(), w.tx, next, false, now))
	advised, err = AdvisedOn(t.Context(), w.tx, bike)
	require.NoError(t, err)
	require.Empty(t, advised)
}

// Prices by hand: £48 an hour is 80p a minute. A bleed of 35 minutes is 28.00, 33.60 with tax. A tube of 15 minutes and
// a tyre of 10 on one wheel, which comes off once: 5 minutes of the tyre are given back, £8 ÷ 10 × 5 = 4.00, 4.80 with
// tax.
func TestAddedWorkAndOneWheel(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	_, err := inventory.ChangeShop(t.Context(), w.tx, func(s *inventory.Shop) { s.Hourly, s.WheelMinutes = nullPounds("48.00"), 5 })
	require.NoError(t, err)
	require.NoError(t, SetLabour(t.Context(), w.tx, Labour{"tyre", inspection.Adjust, "seat tyre", 10, pounds("8.00")}))
	require.NoError(t, SetLabour(t.Context(), w.tx, Labour{"tube", inspection.Adjust, "patch tube", 15, pounds("10.00")}))
	job := w.bookIn(substitution.Build{}, Limits{})
	w.find(job, inspection.Adjust, "rear.tyre", "rear.tube")
	bleed, err := AddWork(t.Context(), w.tx, job, AddedWork{Place: "front.caliper", Words: "bleed"}, decimal.NullDecimal{}, now)
	require.NoError(t, err)
	require.Equal(t, "28", bleed.Price.String())
	seat, err := AddWork(t.Context(), w.tx, job, AddedWork{Words: "fit the child seat"}, nullPounds("12.50"), now)
	require.NoError(t, err)

	q := w.quote(job)
	var lines []string
	for _, l := range q.Labour {
		lines = append(lines, l.Words+" "+l.Amount.StringFixed(2))
	}
	require.ElementsMatch(t, []string{"seat tyre: rear tyre 9.60", "patch tube: rear tube 12.00", "bleed the brake: front brake caliper 33.60", "fit the child seat 15.00",
		"rear wheel off and on once -4.80"}, lines)
	require.Equal(t, "65.40", named(t, q, "no parts").Total.StringFixed(2))

	require.NoError(t, DropWork(t.Context(), w.tx, job, seat.ID, now))
	require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error { return DropWork(ctx, tx, job, seat.ID, now) }), "has no work")
	require.Equal(t, "50.40", named(t, w.quote(job), "no parts").Total.StringFixed(2))
	w.approve(job, "no parts")
	require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error { return DropWork(ctx, tx, job, bleed.ID, now) }), "is agreed on job N and stays")

	// Added after the approval it comes with an amendment, and the wheel is off already.
	_, err = AddWork(t.Context(), w.tx, job, AddedWork{Place: "rear.rim", Words: "true"}, decimal.NullDecimal{}, now)
	require.NoError(t, err)
	amendment := w.amend(job)
	// 20 minutes are 16.00, 19.20 with tax; 5 of them, 4.00 or 4.80, are given back.
	require.Equal(t, "14.40", amendment.Options[0].Adds.Decimal.StringFixed(2))
	_, err = AddWork(t.Context(), w.tx, job, AddedWork{Words: "wash"}, decimal.NullDecimal{}, now)
	require.NoError(t, err)
	var stuck *StuckError
	_, err = w.decide(Decision{JobID: job, Version: amendment.Version, Option: amendment.Options[0].Name(), By: "Ines Falkner"})
	require.ErrorAs(t, err, &stuck)
	require.Equal(t, AmendIt, stuck.Remedy, "an agreed job is not quoted again")
}

// A bike that only wants washing is quoted with nothing found on it: 30 minutes of £48.00 an hour, with tax.
func TestWorkAloneIsQuoted(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	_, err := inventory.ChangeShop(t.Context(), w.tx, func(s *inventory.Shop) { s.Hourly = nullPounds("48.00") })
	require.NoError(t, err)
	job := w.bookIn(substitution.Build{}, Limits{})
	require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
		_, err := MakeQuote(ctx, tx, job, now)
		return err
	}), "is not inspected yet")
	_, err = AddWork(t.Context(), w.tx, job, AddedWork{Words: "wash", Minutes: 30}, decimal.NullDecimal{}, now)
	require.NoError(t, err)
	require.Equal(t, "28.80", named(t, w.quote(job), "no parts").Total.StringFixed(2))
}

// 10 % off the whole: of £24.00 + £18.00 that is 4.20. £5 off the ring's lines first leaves 37.00, of which it is 3.70.
func TestDiscounts(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	black := w.part("black ring 50T", "chainring", blackRing, "24.00")
	w.shelve(black, 1)
	w.shelve(w.part("chain 9-speed", "chain", chain9, "20.00"), 1)
	job := w.ringJob(Limits{})
	give := func(d Discount) Discount {
		t.Helper()
		d, err := AddDiscount(t.Context(), w.tx, job, d, now)
		require.NoError(t, err)
		return d
	}
	whole := give(Discount{Percent: nullPounds("10"), Why: "club member"})
	require.Equal(t, "37.80", named(t, w.quote(job), "closest").Total.StringFixed(2))
	line := give(Discount{Place: "crank.outer-ring", Amount: nullPounds("5.00"), Why: "scratched"})
	require.Equal(t, "33.30", named(t, w.quote(job), "closest").Total.StringFixed(2))
	require.NoError(t, DropDiscount(t.Context(), w.tx, job, line.ID, now))
	give(Discount{Place: "crank.outer-ring", Percent: nullPounds("100"), Warranty: true, Why: "bent within a month"})
	free := named(t, w.quote(job), "closest")
	require.Equal(t, "0.00", free.Total.StringFixed(2))
	require.Equal(t, "under warranty: bent within a month (outer chainring)", free.Discounts[0].Words)
	require.Len(t, free.Discounts, 1, "nothing off nothing is not said")
	w.approve(job, "closest")

	// The chain found later is 33.20, of which the agreed 10 % are 3.32.
	w.find(job, inspection.Replace, "chain")
	require.Equal(t, "29.88", named(t, w.amend(job), "closest").Adds.Decimal.StringFixed(2))
	w.approve(job, "closest")
	require.NoError(t, CloseJob(t.Context(), w.tx, job, true, now))
	require.Equal(t, "0.00", w.job(job).Ending.Due.StringFixed(2), "all left out, and what was given off with it")
	require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
		_, err := AddDiscount(ctx, tx, job, Discount{Percent: whole.Percent, Why: "again"}, now)
		return err
	}), "is closed: nothing of it is changed any more")
}

func TestOwnParts(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ring, _ := ringsOffered(w)
	w.shelve(ring, 1)
	job := w.ringJob(Limits{})
	w.find(job, inspection.Replace, "chain")
	own := func(o OwnPart) func(ctx context.Context, tx pgx.Tx) error {
		return func(ctx context.Context, tx pgx.Tx) error { return SetOwnPart(ctx, tx, job, o, now) }
	}
	require.Contains(t, w.refused(own(OwnPart{Place: "chain"})), "say in the customer's words")
	require.Contains(t, w.refused(own(OwnPart{Place: "chain", Words: "spare", Part: parsed(t, "chain", "speeds=6,7,8 chain_width=3/32 links=116")})), "the customer's part does not go on as the chain")
	require.NoError(t, own(OwnPart{Place: "chain", Words: "from my spares box", Part: parsed(t, "chain", chain9)})(t.Context(), w.tx))
	q := w.quote(job)
	o := named(t, q, "closest")
	require.Len(t, o.Parts, 1, "the ring is ours")
	require.Len(t, q.Labour, 2, "both are fitted")
	require.Equal(t, "chain: the customer's own, “from my spares box”, brought", q.Own[0].Said())
	w.approve(job, "closest")
	w.use(job)
	require.NoError(t, CloseJob(t.Context(), w.tx, job, false, now))
	require.Equal(t, "from my spares box", w.job(job).Bike.Build["chain"].Name)
}

// A customer who allows £10 more has 7.20 of it used for two pads: what is left does not do for two more.
func TestExtras(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ring, _ := ringsOffered(w)
	w.shelve(ring, 1)
	bolts := w.part("ring bolt", "chainring-bolt", "bolts=5", "3.60")
	w.shelve(bolts, 6)
	job := w.ringJob(Limits{})
	w.quote(job)
	_, err := w.decide(Decision{JobID: job, Option: "closest", Accept: []string{"all"}, Allow: nullPounds("10.00")})
	require.NoError(t, err)
	use := func(pieces int, free bool) func(ctx context.Context, tx pgx.Tx) error {
		return func(ctx context.Context, tx pgx.Tx) error {
			_, err := useExtra(ctx, tx, w.request, job, bolts.ID, "crank.ring-bolts", pieces, free, now)
			return err
		}
	}
	require.NoError(t, use(2, false)(t.Context(), w.tx))
	require.Equal(t, "1 of ring bolt comes to £3.60, and the customer of job N allows £2.80 more: ask them first", w.refused(use(1, false)))
	require.NoError(t, use(1, true)(t.Context(), w.tx))
	require.Equal(t, 3, w.stock(bolts).OnHand)
	w.use(job)
	total := w.agreed(job).Total
	require.NoError(t, CloseJob(t.Context(), w.tx, job, false, now))
	require.Equal(t, total.Add(pounds("7.20")).StringFixed(2), w.job(job).Ending.Due.StringFixed(2))
	require.Contains(t, w.refused(use(1, true)), "is closed")
}

// A cassette on the longer freehub wants a spacer beside it. What gives way takes its spacer with it, and what takes
// its place brings its own; what the bench holds for anything else stays.
func TestAmendmentTakesWithItWhatAPartBrought(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	require.NoError(t, SetLabour(t.Context(), w.tx, Labour{"cassette", inspection.Replace, "fit cassette", 10, pounds("10.00")}))
	grey := w.part("cassette 9-speed 11-32, grey", "cassette", "speeds=9 teeth_min=11 teeth_max=32 freehub=hg", "30.00")
	w.shelve(grey, 1)
	other := w.part("cassette 9-speed 11-32, coated", "cassette", "speeds=9 teeth_min=11 teeth_max=32 freehub=hg", "40.00")
	w.shelve(other, 1)
	spacer := w.part("spacer 1.85 mm", "consumable", "purpose=freehub-spacer width_mm=1.85", "2.50")
	w.shelve(spacer, 3)
	bike := touringBike(t)
	bike["rear.hub"] = parsed(t, "hub", "freehub=hg-l oln_mm=135 axle=qr position=rear")
	bike["rear.cassette"] = parsed(t, "cassette", "speeds=9 teeth_min=11 teeth_max=32 freehub=hg-l")
	job := w.bookIn(bike, Limits{})
	w.find(job, inspection.Replace, "rear.cassette")
	o := named(t, w.quote(job), "cheapest")
	require.Equal(t, []substitution.Place{"rear.cassette"}, o.Parts[1].With)
	w.approve(job, "cheapest")
	require.NoError(t, inventory.Reserve(t.Context(), w.tx, job, spacer.ID, inventory.Bench, 1), "one for something else")

	q := w.amend(job, "rear.cassette")
	require.Len(t, q.Instead, 2, "the cassette and its spacer")
	w.approve(job, "cheapest")
	g := w.agreed(job)
	// The dearer cassette, one spacer, and the work that stays: 40.00 + 2.50 + 12.00.
	require.Equal(t, []string{"54.50", "54.50"}, onPaper(g.Total, sumOf(g.Standing())))
	require.Equal(t, inventory.Stock{OnHand: 1, Reserved: 1}, w.stock(other))
	require.Equal(t, inventory.Stock{OnHand: 3, Reserved: 2}, w.stock(spacer))

	w.find(job, inspection.Keep, "rear.cassette")
	require.Len(t, w.amend(job).Instead, 3, "cassette, spacer and work")
	w.approve(job, "no parts")
	require.True(t, w.agreed(job).Total.IsZero())
	require.Equal(t, inventory.Stock{OnHand: 3, Reserved: 1}, w.stock(spacer))
}
