package shelf

import (
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/reorder"
	"stead/migrations/testdb"
)

// books writes movements of any day into the ledger.
type books struct {
	t    *testing.T
	tx   pgx.Tx
	now  time.Time
	part inventory.Part
}

func (b books) move(daysAgo, pieces int, reason inventory.Reason, job *int64) {
	b.t.Helper()
	_, err := b.tx.Exec(b.t.Context(), `
		INSERT INTO movement (at, part_id, bin_id, pieces, reason, job_id, request) SELECT $1, $2, min(id), $3, $4, $5, $6 FROM bin`,
		b.now.AddDate(0, 0, -daysAgo), b.part.ID, pieces, reason, job, begun(b.t, b.tx))
	require.NoError(b.t, err)
}

var usualShelf = asking(0.95)

// asking is a policy as a new shop has it, but for its target.
func asking(target float64) Policy {
	return Policy{Target: target, LineCost: decimal.RequireFromString("1.50"), Holding: 0.25, Months: 12, Excess: ExcessPolicy{Months: 24, Reduced: 0.5}}
}

func (b books) keeping(now time.Time) Keeping {
	b.t.Helper()
	k, err := KeepingOf(b.t.Context(), b.tx, b.part, usualShelf, now)
	require.NoError(b.t, err)
	return k
}

func newBooks(t *testing.T) books {
	tx := testdb.Tx(t)
	b := books{t: t, tx: tx, now: day(time.March, 30), part: addPart(t, tx, ring(50, 110, "black"))}
	require.NoError(t, inventory.AddBin(t.Context(), tx, "A1"))
	return b
}

// Demand is what was asked for and kept: used and sold, less what came back; by job and by customer, on the day of asking.
func TestDemand(t *testing.T) {
	b := newBooks(t)
	job, other := addJob(t, b.tx), addJob(t, b.tx)
	sales := func() []reorder.Sale {
		t.Helper()
		d, err := LoadDemand(t.Context(), b.tx, b.now)
		require.NoError(t, err)
		out := d.Sales(b.part.ID)
		for i := range out {
			out[i].Day -= d.Today
		}
		return out
	}
	require.Empty(t, sales())
	b.move(100, 60, inventory.Opening, nil)
	b.move(21, -2, inventory.Used, &job) // 30 March 2026 is a Monday
	b.move(20, -1, inventory.Sold, nil)
	b.move(20, -3, inventory.Sold, nil)
	b.move(14, -2, inventory.Used, &other)
	b.move(13, -1, inventory.Used, &job) // for the same job: still one customer
	require.Equal(t, []reorder.Sale{{Day: -15, Pieces: 3}, {Day: -14, Pieces: 1}, {Day: -14, Pieces: 3}, {Day: -10, Pieces: 2}}, sales())

	b.move(7, -5, inventory.Scrapped, nil)
	b.move(7, -4, inventory.Counted, nil)
	require.Len(t, sales(), 4, "what is broken or lost was asked for by nobody")

	b.move(6, 2, inventory.Returned, &job)
	require.Equal(t, 1, sales()[0].Pieces, "what a job gave back it did not need")
	b.move(5, 2, inventory.Returned, nil)
	require.Len(t, sales(), 3, "what came back over the counter is taken off the last sale")
	b.move(5, 90, inventory.Returned, nil)
	require.Empty(t, sales(), "more cannot come back than was sold")
}

// What is sold over the counter is booked without a job, and never what is kept for one.
func TestSell(t *testing.T) {
	b := newBooks(t)
	ctx, request := t.Context(), begun(t, b.tx)
	b.move(10, 5, inventory.Opening, nil)
	require.NoError(t, inventory.Reserve(ctx, b.tx, addJob(t, b.tx), b.part.ID, "bench", 3))
	require.NoError(t, inventory.Sell(ctx, b.tx, request, b.part.ID, 2, ""))
	require.ErrorAs(t, inventory.Sell(ctx, b.tx, request, b.part.ID, 1, ""), new(*inventory.NotEnoughError))
	require.Equal(t, 3, stockOf(t, b.tx, b.part.ID).OnHand)
	require.Error(t, inventory.Sell(ctx, b.tx, request, b.part.ID, 0, ""))
}

// A ring that was bought for one job and fitted in its first week, and never asked for again. It used to be taken, on most
// days, for one that sells every week: "keep 6".
func TestOneSaleLongAgo(t *testing.T) {
	b := newBooks(t)
	addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 1)
	job := addJob(t, b.tx)
	b.move(730, 1, inventory.Opening, nil)
	b.move(728, -1, inventory.Used, &job)
	was := b.keeping(b.now)
	require.Zero(t, was.ReorderLevel)
	for daysOn := range 15 {
		k := b.keeping(b.now.AddDate(0, 0, daysOn))
		require.Less(t, k.PerDay*5, 0.05, "it does not sell every week: %s", k.Words)
		require.InEpsilon(t, was.PerDay, k.PerDay, 0.12, "a day on which nothing happens changes next to nothing")
		was = k
		require.Contains(t, k.Words, "by 1 sale in 10")
		if k.AdvisedTo != nil {
			require.LessOrEqual(t, *k.AdvisedTo, 2)
		}
	}
}

// One week in the books and one sale used to give "keep 8, meets 96 in 100" in the words used after two years.
func TestThinGround(t *testing.T) {
	b := newBooks(t)
	addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 1)
	require.Contains(t, b.keeping(b.now).Words, "never asked for")
	b.move(9, 9, inventory.Opening, nil)
	b.move(3, -1, inventory.Sold, nil)
	k := b.keeping(b.now)
	require.Contains(t, k.Ground, "first guess")
	require.Equal(t, "The books are 1 week old: this is a first guess, and the season is that of riding until a year is in them", k.Ground)
	require.Contains(t, k.Words, "by 1 sale in 1 week")
	require.NotContains(t, k.Words, "keep 8")
	require.Less(t, upTo(k), 8)
	require.Greater(t, k.PerDayMost, 3*k.PerDayLeast, "how little is known shows in the band")
}

// upTo is up to how many of a part are advised; nought for none.
func upTo(k Keeping) int {
	if k.AdvisedTo == nil {
		return 0
	}
	return *k.AdvisedTo
}

// Nine pieces at once in three weeks used to give "keep 32".
func TestOneLargeSale(t *testing.T) {
	b := newBooks(t)
	addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 1)
	b.move(22, 20, inventory.Opening, nil)
	b.move(10, -9, inventory.Sold, nil)
	k := b.keeping(b.now)
	require.Equal(t, "The books are 3 weeks old: this is a first guess, and the season is that of riding until a year is in them", k.Ground)
	require.Contains(t, k.Words, "by 1 sale in 2 weeks, 9 pieces at a time")
	require.NotContains(t, k.Words, "keep 32")
	require.Less(t, upTo(k), 32)
	require.Greater(t, k.PerDayMost, 3*k.PerDayLeast, "how little is known shows in the band")
}

func TestKeepingOf(t *testing.T) {
	b := newBooks(t)
	ctx := t.Context()
	b.move(364, 60, inventory.Opening, nil)
	for week := 50; week > 0; week -= 2 {
		b.move(week*7-3, -1, inventory.Sold, nil)
	}
	require.Contains(t, b.keeping(b.now).Words, "Nobody offers it")
	require.Nil(t, b.keeping(b.now).AdvisedLevel)

	supplier := addSupplier(t, b.tx)
	addOffer(t, b.tx, supplier.ID, b.part.ID, 1)
	k := b.keeping(b.now)
	require.Regexp(t, `^Asked for once in (8|9|10|11|12) working days, by 25 sales in 50 weeks`, k.Words)
	require.Positive(t, *k.AdvisedTo)
	require.Greater(t, *k.AdvisedTo, *k.AdvisedLevel)
	require.Nil(t, k.ReorderLevel, "nothing is set by asking")
	require.Greater(t, k.OwnShare, 0.5)
	require.NotEmpty(t, k.Levels)
	for i := 1; i < len(k.Levels); i++ {
		require.Greater(t, k.Levels[i].Meets, k.Levels[i-1].Meets)
	}

	t.Run("a supplier that takes longer wants more on the shelf", func(t *testing.T) {
		slow, err := inventory.AddSupplier(ctx, b.tx, inventory.Supplier{Code: "slow", Name: "Slow Barge Supply", LeadDays: 60, ToOrderDays: 90})
		require.NoError(t, err)
		offer := addOffer(t, b.tx, slow.ID, b.part.ID, 1)
		require.Equal(t, *k.AdvisedLevel, *b.keeping(b.now).AdvisedLevel, "the first of two like prices stands")
		offer.Breaks = []inventory.Break{{FromPacks: 1, Price: pounds("8.00")}}
		_, err = inventory.PutOffer(ctx, b.tx, offer)
		require.NoError(t, err)
		require.Greater(t, *b.keeping(b.now).AdvisedLevel, *k.AdvisedLevel)
	})

	t.Run("the week's list", func(t *testing.T) {
		s, err := Load(ctx, b.tx, usualShelf, nil, b.now)
		require.NoError(t, err)
		list, err := s.WeekList()
		require.NoError(t, err)
		require.Empty(t, list.Blocks, "35 are on the shelf")

		b.move(1, -35, inventory.Scrapped, nil)
		s, err = Load(ctx, b.tx, usualShelf, nil, b.now)
		require.NoError(t, err)
		list, err = s.WeekList()
		require.NoError(t, err)
		line := list.Blocks[0].Lines[0]
		require.Equal(t, *s.Parts[0].AdvisedTo, line.Order)
		require.LessOrEqual(t, float64(line.UseLeast), line.Use)
		require.GreaterOrEqual(t, float64(line.UseMost), line.Use)
		require.Greater(t, line.Risk, 0.05)
		require.True(t, list.Money.IsPositive())
	})

	t.Run("money", func(t *testing.T) {
		none := decimal.Zero
		s, err := Load(ctx, b.tx, usualShelf, &none, b.now)
		require.NoError(t, err)
		require.Zero(t, s.Advised.Kept, "for no money nothing is kept")
		require.Positive(t, s.Next.Kept, "and the next step says what a little would do")
		for _, target := range []float64{0, 1, 1.2} {
			_, err := Load(ctx, b.tx, asking(target), nil, b.now)
			require.Error(t, err)
		}
	})
}

// No more is ordered at a time than sells while stock may lie.
func TestStockLife(t *testing.T) {
	b := newBooks(t)
	offer := addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 1)
	offer.Breaks = []inventory.Break{{FromPacks: 1, Price: pounds("0.20")}}
	_, err := inventory.PutOffer(t.Context(), b.tx, offer)
	require.NoError(t, err)
	b.move(360, 90, inventory.Opening, nil)
	for ago := 358; ago > 1; ago -= 7 {
		b.move(ago, -1, inventory.Sold, nil)
	}
	lot := func(months int) int {
		policy := usualShelf
		policy.Months = months
		k, err := KeepingOf(t.Context(), b.tx, b.part, policy, b.now)
		require.NoError(t, err)
		return *k.AdvisedTo - *k.AdvisedLevel
	}
	require.Greater(t, lot(12), 25, "so cheap a part is ordered for months")
	require.LessOrEqual(t, lot(3), 20, "what perishes is not")
}

// A part that is fitted again under warranty was asked for once: where the whole job is, or every place that it was
// held for.
func TestRefitsAreNoDemand(t *testing.T) {
	b := newBooks(t)
	job := addJob(t, b.tx)
	b.move(100, 60, inventory.Opening, nil)
	b.move(20, -1, inventory.Used, &job)
	exec := func(sql string, args ...any) {
		t.Helper()
		_, err := b.tx.Exec(t.Context(), sql, args...)
		require.NoError(t, err)
	}
	asked := func() int {
		t.Helper()
		d, err := LoadDemand(t.Context(), b.tx, b.now)
		require.NoError(t, err)
		require.InDelta(t, float64(len(d.Sales(b.part.ID)))*261/float64(d.Today-d.Start), d.usedInAYear()[b.part.ID], 1e-9, "it is no reason to ride along either")
		return len(d.Sales(b.part.ID))
	}
	warranty := func(place string) {
		t.Helper()
		exec(`UPDATE job_discount SET gone_at = now()`)
		exec(`INSERT INTO job_discount (job_id, place, percent, warranty, why, at) VALUES ($1, $2, 100, true, 'fitted in June', now())`, job, place)
	}
	for _, place := range []string{"crank.outer-ring", "crank.inner-ring"} {
		exec(`INSERT INTO reservation (job_id, part_id, place, pieces, state, ended_at) VALUES ($1, $2, $3, 1, 'used', now())`, job, b.part.ID, place)
	}
	require.Equal(t, 1, asked())
	warranty("crank.outer-ring")
	require.Equal(t, 1, asked(), "at the other place it is paid for")
	warranty("")
	require.Zero(t, asked())
	exec(`UPDATE job_discount SET gone_at = now()`)
	require.Equal(t, 1, asked(), "taken back")
	exec(`INSERT INTO job_discount (job_id, place, percent, warranty, why, at) VALUES ($1, 'crank.inner-ring', 100, true, 'fitted in June', now())`, job)
	require.Equal(t, 1, asked())
	exec(`INSERT INTO job_discount (job_id, place, percent, warranty, why, at) VALUES ($1, 'crank.outer-ring', 100, true, 'fitted in June', now())`, job)
	require.Zero(t, asked(), "all of its places are")
}
