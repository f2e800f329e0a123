package inventory

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/inventory/calendar"
	"stead/migrations/testdb"
)

func TestUsedByWeek(t *testing.T) {
	today := calendar.DayOf(day(time.March, 30))
	at := func(daysAgo int, reason Reason, pieces int) Movement {
		return Movement{At: day(time.March, 30).AddDate(0, 0, -daysAgo), Reason: reason, Pieces: pieces}
	}
	for _, c := range []struct {
		name    string
		history []Movement
		want    []int
	}{
		{"never moved", nil, nil},
		{"six days in the books", []Movement{at(6, Opening, 9), at(2, Used, -1)}, []int{}},
		{"a week in the books", []Movement{at(7, Opening, 9), at(1, Used, -2)}, []int{2}},
		{"the week before last comes first", []Movement{at(15, Opening, 9), at(14, Used, -3), at(8, Used, -1), at(7, Used, -2)}, []int{4, 2}},
		{"today is not over", []Movement{at(7, Opening, 9), at(0, Used, -2)}, []int{0}},
		{"days before the first whole week", []Movement{at(9, Opening, 9), at(8, Used, -2)}, []int{0}},
		{"only what went into bikes is sold", []Movement{at(7, Opening, 9), at(5, Scrapped, -2), at(4, Moved, -1), at(3, Counted, -1), at(2, Used, -1)}, []int{1}},
	} {
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.want, usedByWeek(c.history, today)) })
	}
	t.Run("two years at most", func(t *testing.T) {
		counts := usedByWeek([]Movement{at(2000, Opening, 99), at(1500, Used, -9), at(mostWeeks*7, Used, -5)}, today)
		require.Len(t, counts, mostWeeks)
		require.Equal(t, 5, counts[0])
	})
}

func TestKeepingOf(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	part, request := addRing(t, tx), begun(t, tx)
	addBins(t, tx, "A1")
	job := addJob(t, tx)
	now := day(time.March, 30)
	keeping := func() Keeping {
		t.Helper()
		k, err := KeepingOf(ctx, tx, part, pounds("1.50"), now)
		require.NoError(t, err)
		return k
	}
	require.Contains(t, keeping().Words, "Not a week in the books yet")

	// A year in the books, and one used every other week.
	book := func(daysAgo, pieces int, reason Reason, job *int64) {
		_, err := tx.Exec(ctx, `
			INSERT INTO movement (at, part_id, bin_id, pieces, reason, job_id, request) SELECT $1, $2, id, $3, $4, $5, $6 FROM bin`,
			now.AddDate(0, 0, -daysAgo), part.ID, pieces, reason, job, request)
		require.NoError(t, err)
	}
	book(364, 40, Opening, nil)
	for week := 50; week > 0; week -= 2 {
		book(week*7-3, -1, Used, &job)
	}
	require.Contains(t, keeping().Words, "Nobody offers it")
	require.Nil(t, keeping().AdvisedLevel)

	supplier := addSupplier(t, tx)
	addOffer(t, tx, supplier.ID, part.ID, 1)
	k := keeping()
	require.Regexp(t, `^Sells 1 in (9|10|11) working days, takes \d`, k.Words)
	require.Positive(t, *k.AdvisedTo)
	require.Greater(t, *k.AdvisedTo, *k.AdvisedLevel)
	require.Nil(t, k.ReorderLevel, "nothing is set by asking")

	t.Run("a supplier that takes longer wants more on the shelf", func(t *testing.T) {
		slow, err := AddSupplier(ctx, tx, Supplier{Code: "slow", Name: "Slow Barge Supply", LeadDays: 60, ToOrderDays: 90})
		require.NoError(t, err)
		offer := addOffer(t, tx, slow.ID, part.ID, 1)
		require.Equal(t, *k.AdvisedLevel, *keeping().AdvisedLevel, "the first of two like prices stands")
		offer.Breaks = []Break{{1, pounds("8.00")}}
		_, err = PutOffer(ctx, tx, offer)
		require.NoError(t, err)
		require.Greater(t, *keeping().AdvisedLevel, *k.AdvisedLevel)
	})
}
