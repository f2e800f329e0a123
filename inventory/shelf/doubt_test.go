package shelf

import (
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/reorder"
)

// What cannot be right in the books gives a sentence, and a list without the part.
func TestDoubts(t *testing.T) {
	b := newBooks(t)
	ctx := t.Context()
	addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 1)
	shelf := func(spend *decimal.Decimal) *Advice {
		t.Helper()
		s, err := Load(ctx, b.tx, usualShelf, spend, b.now)
		require.NoError(t, err)
		return s
	}
	b.move(100, 30, inventory.Opening, nil)
	for ago := 99; ago > 0; ago -= 7 {
		b.move(ago, -1, inventory.Sold, nil)
	}
	require.Empty(t, shelf(nil).Doubts)

	penny := decimal.RequireFromString("0.01")
	require.Contains(t, shelf(&penny).Doubts[0], "so little money keeps no part at all")

	b.move(-3, -1, inventory.Sold, nil)
	require.Contains(t, shelf(nil).Doubts[0], "1 movement is dated after today")
	b.move(180, 1, inventory.Opening, nil)
	require.Contains(t, shelf(nil).Doubts[1], "nothing was booked from Wednesday 1 October to Saturday 20 December")

	b.move(1, 40, inventory.Returned, nil)
	s := shelf(nil)
	require.Contains(t, s.Doubts[0], "more came back than was ever used or sold")
	k, ok := s.Keeping(b.part.ID)
	require.True(t, ok)
	require.Nil(t, k.AdvisedLevel)
	require.Contains(t, k.Words, "until that is put right")
	list, err := s.WeekList()
	require.NoError(t, err)
	require.Empty(t, list.Blocks)
}

// A clock that stood at its first day when something was booked spoils neither that part's advice nor the others'.
func TestAClockThatWasWrong(t *testing.T) {
	b := newBooks(t)
	addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 1)
	b.move(100, 30, inventory.Opening, nil)
	for ago := 99; ago > 0; ago -= 7 {
		b.move(ago, -1, inventory.Sold, nil)
	}
	before := b.keeping(b.now)
	b.move(20_000, -2, inventory.Sold, nil) // in 1971
	s, err := Load(t.Context(), b.tx, usualShelf, nil, b.now)
	require.NoError(t, err)
	require.Contains(t, s.Doubts[0], "1 movement is dated two years or more before all others")
	after, _ := s.Keeping(b.part.ID)
	require.Equal(t, before.Words, after.Words)
	require.Equal(t, before.AdvisedTo, after.AdvisedTo)
	require.Equal(t, 14, s.Weeks)
}

// A silence is doubted where the shop is usually busy, and not where it is winter, shut, or seldom sells anything.
func TestSilence(t *testing.T) {
	on := func(year int, month time.Month, day int) calendar.Day {
		return calendar.DayOf(time.Date(year, month, day, 0, 0, 0, 0, time.UTC))
	}
	year := func(every int, month time.Month) (days []calendar.Day) {
		for d := on(2025, time.January, 6); d < on(2026, time.January, 6); d += calendar.Day(every) {
			if d < on(2025, month, 3) || d > on(2025, month, 3)+35 {
				days = append(days, d)
			}
		}
		return days
	}
	today := on(2026, time.January, 7)
	for name, c := range map[string]struct {
		booked []calendar.Day
		shut   []calendar.Closure
		silent bool
	}{
		"every other day, and none in June":    {year(2, time.June), nil, true},
		"now and then, and none in June":       {year(9, time.June), nil, false},
		"now and then, and none in January":    {year(4, time.January), nil, false},
		"every other day, and shut in June":    {year(2, time.June), []calendar.Closure{{First: on(2025, time.June, 2), Last: on(2025, time.July, 9), Reason: "the roof"}}, false},
		"every other day, all through":         {year(2, time.December), nil, true},
		"nothing at all":                       {nil, nil, false},
		"once, long ago, and never since then": {[]calendar.Day{on(2025, time.May, 6)}, nil, false},
	} {
		t.Run(name, func(t *testing.T) {
			open, err := calendar.New(calendar.Rules{Country: "GB", Closures: c.shut})
			require.NoError(t, err)
			_, _, silent := silence(c.booked, today, open, reorder.Riding)
			require.Equal(t, c.silent, silent)
		})
	}
}

// What changed under the books, and what cannot be: a sentence, and a list that is still right.
func TestShelfOfChangedParts(t *testing.T) {
	sold := func(t *testing.T) (books, inventory.Offer) {
		b := newBooks(t)
		offer := addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 1)
		b.move(200, 60, inventory.Opening, nil)
		for ago := 199; ago > 1; ago -= 7 {
			b.move(ago, -1, inventory.Sold, nil)
		}
		b.move(1, -31, inventory.Scrapped, nil) // none is left
		return b, offer
	}
	advice := func(b books) (Keeping, WeekList) {
		s, err := Load(b.t.Context(), b.tx, usualShelf, nil, b.now)
		require.NoError(b.t, err)
		k, _ := s.Keeping(b.part.ID)
		list, err := s.WeekList()
		require.NoError(b.t, err)
		return k, list
	}
	exec := func(b books, sql string, args ...any) {
		_, err := b.tx.Exec(b.t.Context(), sql, args...)
		require.NoError(b.t, err)
	}

	t.Run("a target of all sales", func(t *testing.T) {
		b, _ := sold(t)
		for _, target := range []float64{1, 0, -1, 2} {
			_, err := Load(t.Context(), b.tx, asking(target), nil, b.now)
			require.ErrorContains(t, err, "is not above 0 and up to 99.9")
		}
	})
	t.Run("renamed", func(t *testing.T) {
		b, _ := sold(t)
		before, _ := advice(b)
		exec(b, `UPDATE part SET name = 'the same ring by another name' WHERE id = $1`, b.part.ID)
		after, _ := advice(b)
		require.Equal(t, before.AdvisedTo, after.AdvisedTo)
		require.Equal(t, "the same ring by another name", after.Name)
	})
	t.Run("one with another", func(t *testing.T) {
		b, _ := sold(t)
		before, _ := advice(b)
		twin := b
		twin.part = addPart(t, b.tx, ring(50, 110, "silver"))
		twin.move(200, 9, inventory.Opening, nil)
		for ago := 198; ago > 150; ago -= 7 {
			twin.move(ago, -1, inventory.Sold, nil)
		}
		exec(b, `UPDATE part SET merged_into = $1 WHERE id = $2`, b.part.ID, twin.part.ID)
		after, _ := advice(b)
		require.Equal(t, before.Sales+7, after.Sales, "what was sold as the other counts")
	})
	t.Run("sold in tens now", func(t *testing.T) {
		b, offer := sold(t)
		_, list := advice(b)
		require.Len(t, list.Blocks, 1)
		offer.Pack = 10
		_, err := inventory.PutOffer(t.Context(), b.tx, offer)
		require.NoError(t, err)
		_, list = advice(b)
		require.Zero(t, list.Blocks[0].Lines[0].Order%10, "whole packs, as they are now")
	})
	t.Run("no longer sold", func(t *testing.T) {
		b, offer := sold(t)
		exec(b, `UPDATE offer SET gone_at = as_of WHERE id = $1`, offer.ID)
		k, list := advice(b)
		require.Nil(t, k.AdvisedLevel)
		require.Contains(t, k.Words, "Nobody offers it at a price that can be compared")
		require.Empty(t, list.Blocks)
	})
	t.Run("a price of nought", func(t *testing.T) {
		b, offer := sold(t)
		offer.Breaks = []inventory.Break{{FromPacks: 1, Price: pounds("0.00")}}
		_, err := inventory.PutOffer(t.Context(), b.tx, offer)
		require.ErrorContains(t, err, "cannot be meant")
	})
	t.Run("its supplier gone for half a year", func(t *testing.T) {
		b, offer := sold(t)
		today := calendar.DayOf(b.now)
		shut := func(first, last calendar.Day) {
			require.NoError(t, inventory.Close(t.Context(), b.tx, &offer.SupplierID, calendar.Closure{First: first, Last: last, Reason: "sold up"}))
		}
		shut(today+3, today+10)
		k, list := advice(b)
		require.NotNil(t, k.AdvisedLevel, "a week is waited for")
		require.Len(t, list.Blocks, 1)
		shut(today+12, today+190)
		k, list = advice(b)
		require.Nil(t, k.AdvisedLevel)
		require.Contains(t, k.Words, "North Quay Cycle Supply is shut until Tuesday 6 October, and nobody else offers it")
		require.Empty(t, list.Blocks)
		another, err := inventory.AddSupplier(t.Context(), b.tx, inventory.Supplier{Code: "slow", Name: "Slow Barge Supply", LeadDays: 10, ToOrderDays: 20})
		require.NoError(t, err)
		dear := addOffer(t, b.tx, another.ID, b.part.ID, 1)
		dear.Breaks = []inventory.Break{{FromPacks: 1, Price: pounds("12.00")}}
		_, err = inventory.PutOffer(t.Context(), b.tx, dear)
		require.NoError(t, err)
		k, list = advice(b)
		require.Equal(t, "slow", k.Supplier, "from whoever is open, though it is dearer")
		require.Len(t, list.Blocks, 1)
	})
}
