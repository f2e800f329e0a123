package pricelist

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"stead/inventory"
	"stead/inventory/calendar"
)

// months are how lists write the months, by their beginnings and without accents: "janv.", "Mai", "maart", "gennaio", "ene".
// Longer beginnings go before shorter ones.
var months = []struct {
	begins string
	month  time.Month
}{
	{"juin", 6}, {"juil", 7}, {"jan", 1}, {"gen", 1}, {"ene", 1}, {"fe", 2}, {"mar", 3}, {"mrt", 3}, {"maa", 3}, {"ma", 5}, {"mei", 5}, {"apr", 4}, {"avr", 4}, {"abr", 4},
	{"jun", 6}, {"giu", 6}, {"jul", 7}, {"lug", 7}, {"aug", 8}, {"aou", 8}, {"ago", 8}, {"se", 9}, {"oct", 10}, {"okt", 10}, {"ott", 10}, {"nov", 11}, {"de", 12}, {"di", 12},
}

// The forms of a day, in plain letters: 12 05 2026, 2026 05 12, 12 may 2026, may 2026, kw 23 2026.
var (
	isoDay   = regexp.MustCompile(`\b(20\d\d) (\d\d?) (\d\d?)\b`)
	plainDay = regexp.MustCompile(`\b(\d\d?) (\d\d?) ((?:20)?\d\d)\b`)
	wordDay  = regexp.MustCompile(`(?:^| )(?:(\d\d?) )?((?:jan|feb|febr|mar|apr|may|mai|jun|jul|aug|sep|sept|oct|okt|nov|dec|dez|janv|fev|fevr|mars|avr|juin|juil|aout|mrt|maart|mei|gen|mag|giu|lug|ago|set|ott|dic|ene|abr)[a-z]*)(?: ((?:20)?\d\d))?(?: |$)`)
	weekOf   = regexp.MustCompile(`\b(?:wk|week|kw|sem|semaine|sett|settimana|semana) ?(\d\d?)(?: ((?:20)?\d\d))?\b`)
)

// isDay reports whether a text in plain letters is a day, or says by one when goods are due.
func isDay(text string) bool {
	for _, before := range []string{"due ", "expected ", "ab ", "from ", "vanaf ", "des ", "dal ", "naz ", "desde "} {
		text = strings.TrimPrefix(text, before)
	}
	for _, form := range []*regexp.Regexp{isoDay, plainDay, wordDay, weekOf} {
		if found := form.FindString(text); found != "" && strings.TrimSpace(strings.TrimSuffix(text, "00 00 00")) == strings.TrimSpace(found) {
			return true
		}
	}
	if f := plainDay.FindStringSubmatch(text + " 2028"); f != nil && len(text) <= 5 { // "12 05"
		_, dayFirst := dated(2028, number(f[2]), number(f[1]))
		_, monthFirst := dated(2028, number(f[1]), number(f[2]))
		return dayFirst || monthFirst
	}
	return false
}

// serials are the numbers by which workbooks keep days: those of 2010 to 2060.
const (
	firstSerial = 40_179
	lastSerial  = 58_800
)

// dayOf reads the day that a cell names. A week is its Monday, a month its first day, and without a year it is the
// next such day after the list's own; without that it is no day.
func dayOf(cell string, monthFirst bool, list calendar.Day) (calendar.Day, bool) {
	text := plain(cell)
	if serial, err := strconv.ParseFloat(cell, 64); err == nil && serial >= firstSerial && serial < lastSerial {
		return calendar.DayOf(time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC).AddDate(0, 0, int(serial))), true
	}
	if f := isoDay.FindStringSubmatch(text); f != nil {
		return dated(number(f[1]), number(f[2]), number(f[3]))
	}
	if f := plainDay.FindStringSubmatch(text); f != nil {
		day, month := number(f[1]), number(f[2])
		if monthFirst {
			day, month = month, day
		}
		return dated(year(f[3]), month, day)
	}
	if f := weekOf.FindStringSubmatch(text); f != nil {
		return next(f[2], list, func(year int) (calendar.Day, bool) { return weekIn(year, number(f[1])) })
	}
	if f := wordDay.FindStringSubmatch(text); f != nil {
		return next(f[3], list, func(year int) (calendar.Day, bool) { return dated(year, monthNamed(f[2]), max(number(f[1]), 1)) })
	}
	return 0, false
}

func number(digits string) int {
	n, _ := strconv.Atoi(digits) // four at most, or none
	return n
}

func year(digits string) int {
	if n := number(digits); n >= 100 {
		return n
	}
	return 2000 + number(digits)
}

// next is a day in the year that is said, or in the list's own or the one after it.
func next(said string, list calendar.Day, in func(year int) (calendar.Day, bool)) (calendar.Day, bool) {
	switch {
	case said != "":
		return in(year(said))
	case list == 0:
		return 0, false
	}
	const week = 7 // of which the list may be some days old already
	if day, ok := in(list.Time().Year()); ok && day > list-week {
		return day, true
	}
	return in(list.Time().Year() + 1)
}

func dated(year, month, day int) (calendar.Day, bool) {
	d := calendar.Date(year, time.Month(month), day)
	y, m, n := d.Time().Date()
	return d, y == year && int(m) == month && n == day
}

// weekIn is the Monday of a week by ISO 8601: the first week has the 4th of January.
func weekIn(year, week int) (calendar.Day, bool) {
	fourth := calendar.Date(year, time.January, 4)
	monday := fourth - calendar.Day((int(fourth.Weekday())+6)%7) + calendar.Day(7*(week-1))
	y, w := monday.Time().ISOWeek()
	return monday, y == year && w == week
}

func monthNamed(word string) int {
	for _, m := range months {
		if strings.HasPrefix(word, m.begins) {
			return int(m.month)
		}
	}
	return 0
}

// due reads the day on which a part that is out is expected again: from its own column, or from what the stock's says.
// Of what is there no day matters.
func (r *rowReader) due() *calendar.Day {
	if r.row.Stock == inventory.InStock || r.row.Stock == inventory.Low || r.row.Gone {
		return nil
	}
	cell := r.m.cell(r.line, Due)
	if day, ok := dayOf(cell, r.m.MonthFirst, r.m.Day); ok {
		return &day
	}
	if strings.ContainsAny(cell, "0123456789") && !spans.MatchString(plain(cell)) {
		r.problem(Due, false, fmt.Sprintf("%q is no day that can be read", shorten(cell)))
		return nil
	}
	if cell := r.m.cell(r.line, Stock); !isCount(cell) {
		if day, ok := dayOf(cell, r.m.MonthFirst, r.m.Day); ok {
			return &day
		}
	}
	return nil
}

// spans are how long goods take, in plain letters: a supplier's usual days, and no day.
var spans = regexp.MustCompile(`^(?:ca |approx |ungefahr |env )?\d{1,3}(?: (?:a |to |bis )?\d{1,3})?(?: working)? ?(?:h|u|std|hours?|heures?|uur|stunden|d|days?|tage?|werktage?|jours?|dagen|werkdagen|gg|giorni|dias|wk|wks|w|weeks?|wochen?|wo|semaines?|sem|weken|settimane|sett|semanas|months?|monate?|mois|maanden|mesi|meses)(?: .)?$`)

func isCount(cell string) bool { _, ok := countOf(cell); return ok }
