package shelf

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/calendar"
)

// Who asks why sees each week since the books began, from the first Monday of the month a year ago, with its season.
func TestFiguresByWeek(t *testing.T) {
	b := newBooks(t)
	b.move(100, 60, inventory.Opening, nil)
	b.move(21, -2, inventory.Sold, nil) // Monday, 9 March 2026
	b.move(17, -1, inventory.Sold, nil) // and its Friday
	b.move(16, -3, inventory.Sold, nil) // Saturday counts for the Friday before it
	b.move(7, -1, inventory.Sold, nil)
	weeks := b.keeping(b.now).Figures.Weeks
	require.Equal(t, calendar.DayOf(b.now.AddDate(0, 0, -105)), weeks[0].Monday, "the books began on a Saturday")
	require.Len(t, weeks, 16, "up to this Monday's")
	require.Equal(t, calendar.DayOf(b.now), weeks[15].Monday)
	for i, sold := range map[int][2]int{11: {0, 0}, 12: {3, 6}, 13: {0, 0}, 14: {1, 1}} {
		require.Equal(t, sold, [2]int{weeks[i].Sales, weeks[i].Pieces}, weeks[i].Monday)
	}
	require.InDelta(t, 0.46, weeks[4].Season, 0.06, "January, by the season of riding")
	require.Greater(t, weeks[15].Season, 0.8)

	b.move(900, 1, inventory.Opening, nil)
	b.move(500, -1, inventory.Sold, nil)
	long := b.keeping(b.now).Figures.Weeks
	require.Equal(t, day(3, 3).AddDate(-1, 0, 0), long[0].Monday.Time(), "the first Monday of March 2025")
	require.Len(t, long, 57)
}
