package billing

import (
	"context"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/migrations/testdb"
	"stead/pricing"
)

// Numbers and dates do not run against one another: a bill bears a date and a number in a sequence (Directive 2006/112/EC,
// article 226, 1 and 2). After a bill of the evening of 3 March by the shop's clock a credit note for it is written.
func TestDating(t *testing.T) {
	zone := time.FixedZone("shop", 10*3600)
	evening := time.Date(2026, time.March, 3, 22, 0, 0, 0, zone)
	for _, c := range []struct {
		name  string
		clock time.Time
		said  Dated
		dated time.Time // zero: refused
	}{
		{"later", evening.Add(time.Hour), NotSaid, evening.Add(time.Hour)},
		{"earlier on the same day of the shop, which is the day before elsewhere", evening.Add(-20 * time.Hour), NotSaid, evening.Add(-20 * time.Hour)},
		{"a day before", evening.Add(-24 * time.Hour), NotSaid, time.Time{}},
		{"a day before, by the last", evening.Add(-24 * time.Hour), AsLast, evening},
		{"a day before, by the clock", evening.Add(-24 * time.Hour), ByClock, evening.Add(-24 * time.Hour)},
		{"by the last where the clock is right", evening.Add(24 * time.Hour), AsLast, evening.Add(24 * time.Hour)},
	} {
		t.Run(c.name, func(t *testing.T) {
			tx := testdb.Tx(t)
			ctx := t.Context()
			request, chain := shop(t, tx)
			b, err := Sell(ctx, tx, request, []Sold{{chain, 1}}, "cash", at(evening))
			require.NoError(t, err)
			credit, err := Credit(ctx, tx, b.Number, nil, "brought back", Moment{c.clock, c.said})
			behind, asked := Behind(ctx, tx, c.clock)
			require.NoError(t, asked)
			if c.dated.IsZero() {
				require.EqualError(t, err, "the clock says Monday 2 March, and bill 1 is dated Tuesday 3 March: a paper is not dated before the one before it")
				require.Equal(t, &BehindError{Bills, 1, calendar.DayOf(evening), calendar.DayOf(c.clock)}, behind)
				_, err = Sell(ctx, tx, request, []Sold{{chain, 1}}, "cash", at(c.clock))
				require.ErrorAs(t, err, &behind)
				return
			}
			require.NoError(t, err)
			require.True(t, credit.MadeAt.Equal(c.dated), "%s", credit.MadeAt)
			kept, err := Numbered(ctx, tx, Credits, credit.Number)
			require.NoError(t, err)
			require.True(t, kept.MadeAt.Equal(c.dated))

			// The next one goes by this one.
			next, err := Sell(ctx, tx, request, []Sold{{chain, 1}}, "cash", at(c.dated))
			require.NoError(t, err)
			require.True(t, next.MadeAt.Equal(c.dated))
			a, err := AccountOf(ctx, tx, next)
			require.NoError(t, err)
			require.True(t, a.Payments[0].At.Equal(c.dated), "paid there and then")
		})
	}
}

// A job's bill goes by the last paper too, and its payment by the bill.
func TestBillIsDatedByTheLast(t *testing.T) {
	tx := testdb.Tx(t)
	ctx := t.Context()
	request, chain := shop(t, tx)
	job := approved(t, tx)
	require.NoError(t, pricing.CloseJob(ctx, tx, job, true, now))
	_, err := Sell(ctx, tx, request, []Sold{{chain, 1}}, "cash", at(now.AddDate(0, 0, 2)))
	require.NoError(t, err)
	_, err = MakePaid(ctx, tx, job, "card", at(now))
	require.ErrorAs(t, err, new(*BehindError))
	b, err := MakePaid(ctx, tx, job, "card", Moment{now, AsLast})
	require.NoError(t, err)
	require.True(t, b.MadeAt.Equal(now.AddDate(0, 0, 2)))
	a, err := AccountOfJob(ctx, tx, job)
	require.NoError(t, err)
	require.True(t, a.Payments[0].At.Equal(b.MadeAt))
}

// Twelve who correct a bill each, at once, by clocks that are up to four minutes apart, some before midnight and some after
// it: nobody is refused, and by their numbers the days never fall.
func TestDatesAtMidnight(t *testing.T) {
	db, chain := shelfOfChains(t)
	ctx := t.Context()
	midnight := time.Date(2026, time.March, 4, 0, 0, 0, 0, time.UTC)
	for range 12 {
		sellOne(ctx, db, chain, now, false)
	}
	var wait sync.WaitGroup
	for i := range 12 {
		wait.Go(func() {
			_, _, err := inventory.Once(ctx, db, inventory.NewKey(), "credit", func(ctx context.Context, tx pgx.Tx) (Bill, error) {
				return Credit(ctx, tx, int64(i+1), nil, "brought back", at(midnight.Add(time.Duration(i%5-2)*time.Minute)))
			})
			assert.NoError(t, err)
		})
	}
	wait.Wait()
	list, err := List(ctx, db, now.Add(time.Hour))
	require.NoError(t, err)
	require.Len(t, list, 12)
	for i, c := range list[1:] {
		require.Equal(t, list[i].Number+1, c.Number)
		require.GreaterOrEqual(t, calendar.DayOf(c.MadeAt.UTC()), calendar.DayOf(list[i].MadeAt.UTC()), "credit note %d", c.Number)
	}
}
