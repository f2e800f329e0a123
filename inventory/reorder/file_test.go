package reorder

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestReadSales(t *testing.T) {
	items, err := ReadSales(strings.NewReader("\ufeffDay, item ,pieces,price\n7,chain,1,9.50\n3,chain,2,8\n3,tube,1,\n8,chain,1,9\n"))
	require.NoError(t, err)
	require.Equal(t, []Item{
		{Name: "chain", Sales: []Sale{{Day: 3, Pieces: 2}, {Day: 7, Pieces: 1}, {Day: 8, Pieces: 1}}, Price: 9},
		{Name: "tube", Sales: []Sale{{Day: 3, Pieces: 1}}},
	}, items)

	// Thursday 1 and Sunday 4 January 2026, and the Monday after.
	items, err = ReadSales(strings.NewReader("part,day,pieces\nring,2026-01-05,1\nring,2026-01-01,2\nring,2026-01-04,3\n"))
	require.NoError(t, err)
	require.Equal(t, []Sale{{Day: 3, Pieces: 2}, {Day: 4, Pieces: 3}, {Day: 5, Pieces: 1}}, items[0].Sales)

	// As a spreadsheet writes it where the comma is for decimals, and as one that has no whole numbers.
	items, err = ReadSales(strings.NewReader("Day;Part;Pieces;Price\n3;tube;2;4,50\n4;tube;1.0;4,50\n"))
	require.NoError(t, err)
	require.Equal(t, []Item{{Name: "tube", Sales: []Sale{{Day: 3, Pieces: 2}, {Day: 4, Pieces: 1}}, Price: 4.5}}, items)

	for _, c := range []struct{ name, file, want string }{
		{"nothing", "", "row 1 of the sales: the file is empty: it begins with the heads day,part,pieces and, if known, price"},
		{"heads alone", "day,part,pieces\n", "row 2 of the sales: there is no sale in the file"},
		{"no day", "part,pieces\nx,1\n", `row 1 of the sales: there is no column "day": the heads are day,part,pieces and, if known, price`},
		{"two days", "day,date,part,pieces\n", "row 1 of the sales: there are two columns for the day: keep one"},
		{"a day before the first", "day,part,pieces\n1,x,1\n-1,x,1\n", `row 3 of the sales, day: "-1" is neither the number of a working day, from 0 on, nor a date like 2026-03-31`},
		{"numbers and dates", "day,part,pieces\n1,x,1\n2026-01-01,x,1\n", `row 3 of the sales, day: "2026-01-01" is a date where the rows before have numbers, or the other way: use one of the two`},
		{"half a piece", "day,part,pieces\n1,x,0.5\n", `row 2 of the sales, pieces: "0.5" is not a number of pieces from 1 on: leave out what came back`},
		{"a return", "day,part,pieces\n1,x,-1\n", `row 2 of the sales, pieces: "-1" is not a number of pieces from 1 on: leave out what came back`},
		{"no part", "day,part,pieces\n1,,1\n", `row 2 of the sales, part: "" names no part`},
		{"a short row", "day,part,pieces\n1,x\n", `row 2 of the sales, pieces: "" is not a number of pieces from 1 on: leave out what came back`},
		{"a price of nought", "day,part,pieces,price\n1,x,1,0\n", `row 2 of the sales, price: "0" is not a price above nought in pounds`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ReadSales(strings.NewReader(c.file))
			require.EqualError(t, err, c.want)
		})
	}
}

func FuzzReadSales(f *testing.F) {
	f.Add("day,part,pieces,price\n0,x,1,2.5\n")
	f.Add("day,part,pieces\n2026-01-05T10:00:00,x,3\n")
	f.Fuzz(func(t *testing.T, text string) {
		items, err := ReadSales(strings.NewReader(text))
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		for _, item := range items {
			require.NotEmpty(t, item.Sales)
			for i, s := range item.Sales {
				require.Positive(t, s.Pieces)
				require.GreaterOrEqual(t, s.Day, 0)
				require.True(t, i == 0 || item.Sales[i-1].Day <= s.Day)
			}
		}
	})
}

func TestWorkingDay(t *testing.T) {
	day := func(d int) int { return WorkingDay(time.Date(2026, time.March, d, 12, 0, 0, 0, time.UTC)) }
	require.Equal(t, 0, day(2)%5, "2 March 2026 is a Monday")
	for d := 2; d <= 6; d++ {
		require.Equal(t, day(2)+d-2, day(d))
	}
	require.Equal(t, day(6), day(7))
	require.Equal(t, day(6), day(8))
	require.Equal(t, day(2)+5, day(9))
	require.Equal(t, WorkingDay(time.Unix(0, 0).UTC())%5, 3, "1 January 1970 was a Thursday")
}
