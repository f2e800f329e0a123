package calendar

import (
	"maps"
	"slices"
	"time"

	"github.com/rickar/cal/v2"
	"github.com/rickar/cal/v2/at"
	"github.com/rickar/cal/v2/be"
	"github.com/rickar/cal/v2/ch"
	"github.com/rickar/cal/v2/cz"
	"github.com/rickar/cal/v2/de"
	"github.com/rickar/cal/v2/dk"
	"github.com/rickar/cal/v2/es"
	"github.com/rickar/cal/v2/fr"
	"github.com/rickar/cal/v2/gb"
	"github.com/rickar/cal/v2/ie"
	"github.com/rickar/cal/v2/it"
	"github.com/rickar/cal/v2/nl"
	"github.com/rickar/cal/v2/pl"
	"github.com/rickar/cal/v2/us"
)

// country is the list of rules that give a country's bank holidays.
type country []*cal.Holiday

// countries is keyed by the ISO 3166 code of a country or of a part of it
// (ISO 3166-2). A plain code means the holidays that the whole country keeps,
// except GB, which is England and Wales.
var countries = map[string]country{
	"GB":     englandAndWales,
	"GB-ENG": englandAndWales,
	"GB-WLS": englandAndWales,
	"GB-SCT": scotland,
	"GB-NIR": northernIreland,
	"AT":     at.Holidays,
	"BE":     be.Holidays,
	"CH":     ch.Holidays,
	"CZ":     cz.Holidays,
	"DE":     de.Holidays,
	"DE-BB":  de.HolidaysBB,
	"DE-BE":  de.HolidaysBE,
	"DE-BW":  de.HolidaysBW,
	"DE-BY":  de.HolidaysBY,
	"DE-HB":  de.HolidaysHB,
	"DE-HE":  de.HolidaysHE,
	"DE-HH":  de.HolidaysHH,
	"DE-MV":  de.HolidaysMV,
	"DE-NI":  de.HolidaysNI,
	"DE-NW":  de.HolidaysNW,
	"DE-RP":  de.HolidaysRP,
	"DE-SH":  de.HolidaysSH,
	"DE-SL":  de.HolidaysSL,
	"DE-SN":  de.HolidaysSN,
	"DE-ST":  de.HolidaysST,
	"DE-TH":  de.HolidaysTH,
	"DK":     dk.Holidays,
	"ES":     es.Holidays,
	"FR":     fr.Holidays,
	"IE":     ie.Holidays,
	"IT":     it.Holidays,
	"NL":     nl.Holidays,
	"PL":     pl.Holidays,
	"US":     us.Holidays,
}

// Countries lists the codes that Rules.Country may take, in order.
func Countries() []string { return slices.Sorted(maps.Keys(countries)) }

// The parts of the United Kingdom. The library knows England and Wales; the
// other two follow the list that gov.uk publishes (gov.uk/bank-holidays), by
// which the tests check every day of 2019 to 2027.
var (
	substituteMonday = []cal.AltDay{{Day: time.Saturday, Offset: 2}, {Day: time.Sunday, Offset: 1}}

	stateFuneral2022 = proclaimed("State Funeral of Queen Elizabeth II", 2022, time.September, 19)

	// The second of January gives way to a substitute for New Year's Day: on a
	// Sunday or a Monday it moves to the Tuesday.
	secondJanuary = &cal.Holiday{
		Name: "2nd January", Month: time.January, Day: 2, Func: cal.CalcDayOfMonth,
		Observed: []cal.AltDay{
			{Day: time.Saturday, Offset: 2}, {Day: time.Sunday, Offset: 2}, {Day: time.Monday, Offset: 1}},
	}
	saintAndrew = &cal.Holiday{
		Name: "St Andrew's Day", Month: time.November, Day: 30, Func: cal.CalcDayOfMonth, Observed: substituteMonday,
	}
	saintPatrick = &cal.Holiday{
		Name: "St Patrick's Day", Month: time.March, Day: 17, Func: cal.CalcDayOfMonth, Observed: substituteMonday,
	}
	battleOfTheBoyne = &cal.Holiday{
		Name: "Battle of the Boyne", Month: time.July, Day: 12, Func: cal.CalcDayOfMonth, Observed: substituteMonday,
	}
	// Royal proclamation of 4 February 2026, for Scotland only.
	worldCup2026 = proclaimed("World Cup bank holiday", 2026, time.June, 15)

	englandAndWales = append(slices.Clone(gb.Holidays), stateFuneral2022)

	northernIreland = append(slices.Clone(englandAndWales), saintPatrick, battleOfTheBoyne)

	scotland = append(
		slices.DeleteFunc(slices.Clone(englandAndWales), func(h *cal.Holiday) bool {
			return h == gb.EasterMonday || h == gb.SummerHoliday
		}),
		secondJanuary, gb.SummerHolidayScotland, worldCup2026, saintAndrew)
)

// proclaimed is a bank holiday kept once.
func proclaimed(name string, year int, month time.Month, day int) *cal.Holiday {
	return &cal.Holiday{Name: name, Month: month, Day: day, Func: cal.CalcDayOfMonth, StartYear: year, EndYear: year}
}

// holidaysIn lists the bank holidays kept in the year, by day. A substitute day
// may fall in the year before or after that of the holiday itself.
func (c country) holidaysIn(year int) map[Day]string {
	kept := map[Day]string{}
	for _, h := range c {
		for y := year - 1; y <= year+1; y++ {
			actual, observed := h.Calc(y)
			if observed.IsZero() || observed.Year() != year {
				continue
			}
			name := h.Name
			if DayOf(actual) != DayOf(observed) {
				name += " (substitute day)"
			}
			kept[DayOf(observed)] = name
		}
	}
	return kept
}
