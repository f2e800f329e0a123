package calendar_test

import (
	"bufio"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/inventory/calendar"
)

// Every line of the published lists is checked in full: a day too many fails
// just as a day too few.
func TestPublishedBankHolidays(t *testing.T) {
	for _, name := range []string{"bank-holidays-uk.txt", "bank-holidays-other.txt"} {
		file, err := os.Open(filepath.Join("..", "..", "testdata", "leadtime", name))
		require.NoError(t, err)
		defer file.Close()
		lines := bufio.NewScanner(file)
		for lines.Scan() {
			if lines.Text() == "" || strings.HasPrefix(lines.Text(), "#") {
				continue
			}
			fields := strings.Fields(lines.Text())
			code, year := fields[0], fields[1]
			t.Run(code+" "+year, func(t *testing.T) {
				want := []string{}
				for _, monthDay := range fields[2:] {
					want = append(want, year+"-"+monthDay)
				}
				require.Equal(t, want, holidays(t, code, year))
			})
		}
		require.NoError(t, lines.Err())
	}
}

// holidays lists the closed days of a business open all week but for bank holidays.
func holidays(t *testing.T, code, year string) []string {
	t.Helper()
	c, err := calendar.New(calendar.Rules{Country: code})
	require.NoError(t, err)
	day, err := calendar.ParseDay(year + "-01-01")
	require.NoError(t, err)
	closed := []string{}
	for ; strings.HasPrefix(day.String(), year); day++ {
		if !c.Open(day) {
			closed = append(closed, day.String())
		}
	}
	return closed
}

func TestUnitedStatesObservesSaturdayOnFriday(t *testing.T) {
	// 5 U.S.C. 6103: a holiday on a Saturday is kept on the Friday before. Independence Day 2026
	// is a Saturday; New Year's Day 2028 is one too and is kept in the year before.
	c, err := calendar.New(calendar.Rules{Country: "US"})
	require.NoError(t, err)
	why, closed := c.Closed(calendar.Date(2026, time.July, 3))
	require.True(t, closed)
	require.Equal(t, "Independence Day (substitute day)", why)
	require.True(t, c.Open(calendar.Date(2026, time.July, 4)))
	require.False(t, c.Open(calendar.Date(2027, time.December, 31)))
}

func TestIrishFebruaryHoliday(t *testing.T) {
	// Regulations of 2022: first Monday of February from 2023, except where the 1st is a Friday.
	c, err := calendar.New(calendar.Rules{Country: "IE"})
	require.NoError(t, err)
	require.False(t, c.Open(calendar.Date(2023, time.February, 6)))
	require.True(t, c.Open(calendar.Date(2022, time.February, 7)))
	require.False(t, c.Open(calendar.Date(2030, time.February, 1))) // a Friday
	require.True(t, c.Open(calendar.Date(2030, time.February, 4)))
}

func TestEveryCountryHasHolidays(t *testing.T) {
	for _, code := range calendar.Countries() {
		require.NotEmpty(t, holidays(t, code, "2027"), code)
	}
}
