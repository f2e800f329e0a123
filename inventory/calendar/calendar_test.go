package calendar_test

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/inventory/calendar"
	_ "stead/testdata/drawn" // the same values in every run
)

var weekend = []time.Weekday{time.Saturday, time.Sunday}

func mustNew(t require.TestingT, rules calendar.Rules) *calendar.Calendar {
	c, err := calendar.New(rules)
	require.NoError(t, err)
	return c
}

func TestDay(t *testing.T) {
	day := calendar.Date(2026, time.December, 10)
	require.Equal(t, "2026-12-10", day.String())
	require.Equal(t, time.Thursday, day.Weekday())
	require.Equal(t, "Thursday 10 December", day.Words(calendar.Date(2026, time.November, 25)))
	require.Equal(t, "Thursday 10 December 2026", day.Words(calendar.Date(2026, time.January, 5)))
	require.Equal(t, time.Wednesday, calendar.Date(1969, time.December, 31).Weekday())
	require.Equal(t, time.Saturday, calendar.Date(1815, time.June, 17).Weekday())
	require.Equal(t, calendar.Day(-1), calendar.Date(1969, time.December, 31))
	require.Equal(t, calendar.Day(-1), calendar.DayOf(time.Date(1969, 12, 31, 23, 59, 0, 0, time.UTC)))

	text, err := json.Marshal(map[calendar.Day]calendar.Day{day: day + 1})
	require.NoError(t, err)
	require.JSONEq(t, `{"2026-12-10":"2026-12-11"}`, string(text))
	var back map[calendar.Day]calendar.Day
	require.NoError(t, json.Unmarshal(text, &back))
	require.Equal(t, map[calendar.Day]calendar.Day{day: day + 1}, back)

	_, err = calendar.ParseDay("10/12/2026")
	require.ErrorContains(t, err, `date "10/12/2026" is not written as year-month-day`)
}

func TestClosedSaysWhy(t *testing.T) {
	c := mustNew(t, calendar.Rules{
		Country:        "GB",
		ClosedWeekdays: weekend,
		Closures: []calendar.Closure{
			{First: calendar.Date(2026, 11, 30), Last: calendar.Date(2026, 12, 1), Reason: "stock-taking"},
			{First: calendar.Date(2026, 12, 3), Last: calendar.Date(2026, 12, 3)},
		},
		OpenDays: []calendar.Day{calendar.Date(2026, 12, 19)},
	})
	for _, test := range []struct {
		day  calendar.Day
		want string // empty: open
	}{
		{calendar.Date(2026, 11, 27), ""},
		{calendar.Date(2026, 11, 28), "Saturday"},
		{calendar.Date(2026, 11, 30), "stock-taking"},
		{calendar.Date(2026, 12, 1), "stock-taking"},
		{calendar.Date(2026, 12, 2), ""},
		{calendar.Date(2026, 12, 3), "closed"},
		{calendar.Date(2026, 12, 19), ""}, // a Saturday kept open
		{calendar.Date(2026, 12, 25), "Christmas Day"},
		{calendar.Date(2026, 12, 28), "Boxing Day (substitute day)"},
	} {
		t.Run(test.day.String(), func(t *testing.T) {
			why, closed := c.Closed(test.day)
			require.Equal(t, test.want, why)
			require.Equal(t, test.want != "", closed)
		})
	}
}

func TestAddWorkingDaysOverChristmas(t *testing.T) {
	c := mustNew(t, calendar.Rules{Country: "GB", ClosedWeekdays: weekend})
	// Wednesday 23 December 2026: Thursday is open, Friday is Christmas, Monday the substitute
	// for Boxing Day, so the second working day is Tuesday 29 December.
	from := calendar.Date(2026, 12, 23)
	for n, want := range []string{"2026-12-23", "2026-12-24", "2026-12-29", "2026-12-30", "2026-12-31", "2027-01-04"} {
		require.Equal(t, want, c.AddWorkingDays(from, n).String())
		require.Equal(t, n, c.WorkingDaysBetween(from, c.AddWorkingDays(from, n)))
	}
	require.Equal(t, -5, c.WorkingDaysBetween(calendar.Date(2027, 1, 4), from))
	require.Equal(t, "2026-12-24", c.LastOpen(calendar.Date(2026, 12, 28)).String())
}

func TestRefusedRules(t *testing.T) {
	week := []time.Weekday{0, 1, 2, 3, 4, 5, 6}
	day := calendar.Date(2026, 12, 1)
	for _, test := range []struct {
		name  string
		rules calendar.Rules
		want  string
	}{
		{"unknown country", calendar.Rules{Country: "XX"}, `country "XX"`},
		{"never open", calendar.Rules{ClosedWeekdays: week}, "all seven weekdays are closed"},
		{"no such weekday", calendar.Rules{ClosedWeekdays: []time.Weekday{7}}, "weekday 7 does not exist"},
		{"closure backwards", calendar.Rules{Closures: []calendar.Closure{{First: day, Last: day - 1}}}, "ends before it begins"},
		{"closure too long", calendar.Rules{Closures: []calendar.Closure{{First: day, Last: day + 400}}}, "longer than a year"},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, err := calendar.New(test.rules)
			require.ErrorContains(t, err, test.want)
		})
	}
}

// rules draws the rules of a business that is open on two weekdays at least.
func rules(t *rapid.T) calendar.Rules {
	closed := rapid.SliceOfNDistinct(rapid.IntRange(0, 6), 0, 5, rapid.ID[int]).Draw(t, "closed weekdays")
	r := calendar.Rules{Country: rapid.SampledFrom([]string{"", "GB", "GB-SCT", "DE-BY", "US"}).Draw(t, "country")}
	for _, weekday := range closed {
		r.ClosedWeekdays = append(r.ClosedWeekdays, time.Weekday(weekday))
	}
	first := someDay(t, "closure")
	r.Closures = []calendar.Closure{{First: first, Last: first + calendar.Day(rapid.IntRange(0, 20).Draw(t, "length"))}}
	return r
}

func someDay(t *rapid.T, label string) calendar.Day {
	return calendar.Date(2026, 1, 1) + calendar.Day(rapid.IntRange(0, 700).Draw(t, label))
}

func TestCountingIsInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := mustNew(t, rules(t))
		day := c.NextOpen(someDay(t, "day"))
		n := rapid.IntRange(0, 40).Draw(t, "n")
		later := c.AddWorkingDays(day, n)
		require.True(t, c.Open(later))
		require.Equal(t, n, c.WorkingDaysBetween(day, later))
		require.Equal(t, -n, c.WorkingDaysBetween(later, day))
	})
}

func TestDaysReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		day := calendar.Date(2000, 1, 1) + calendar.Day(rapid.IntRange(-40_000, 40_000).Draw(t, "days"))
		back, err := calendar.ParseDay(day.String())
		require.NoError(t, err)
		require.Equal(t, day, back)
		require.Equal(t, day.Time().Weekday(), day.Weekday())
	})
}

func TestDayInADatabase(t *testing.T) {
	for _, d := range []calendar.Day{-1, 0, calendar.Date(2026, time.December, 10)} {
		column, err := d.Value()
		require.NoError(t, err)
		var back calendar.Day
		require.NoError(t, back.Scan(column))
		require.Equal(t, d, back)
	}
	require.EqualError(t, new(calendar.Day).Scan("soon"), "a string in the database is no day")
}
