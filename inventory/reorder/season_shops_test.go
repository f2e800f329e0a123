package reorder

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// seasonShop is a made shop whose season is known. No figure of any is taken from a series.
type seasonShop struct {
	name  string
	index func(yearDay float64) float64 // what is asked for on a day of the year over a usual one
	grows float64                       // a year, in its logarithm
	luck  float64                       // good and bad weeks of the whole shop: the spread of the logarithm
}

// bump is one in the middle of a stretch of the year, so many days wide on either side, and 0 elsewhere.
func bump(yearDay, middle, wide float64) float64 {
	return max(0, 1-math.Abs(math.Mod(yearDay-middle+548, 365)-183)/wide)
}

func ridingOn(yearDay float64) float64 { return onTheYear(Riding[:], (yearDay-0.5)/daysOfYear) }

// seasonShops are the made shops: none; riding; riding with a rush of three weeks in spring, a race of two, three weeks
// before Christmas, and all of them; two that grow by a third a year; one with good and bad weeks; a winter sport's.
var seasonShops = []seasonShop{
	{name: "no season", index: func(float64) float64 { return 1 }},
	{name: "riding", index: ridingOn},
	{name: "spring rush", index: func(d float64) float64 { return ridingOn(d) * (1 + 2*bump(d, 95, 10)) }},
	{name: "race", index: func(d float64) float64 { return ridingOn(d) * (1 + 3*bump(d, 166, 6)) }},
	{name: "christmas", index: func(d float64) float64 { return ridingOn(d) * (1 + 2*bump(d, 350, 14)) }},
	{name: "all three", index: func(d float64) float64 {
		return ridingOn(d) * (1 + 2*bump(d, 95, 10) + 3*bump(d, 166, 6) + 2*bump(d, 350, 14))
	}},
	{name: "riding, grows", index: ridingOn, grows: 0.3},
	{name: "no season, grows", index: func(float64) float64 { return 1 }, grows: 0.3},
	{name: "riding, weather", index: ridingOn, luck: 0.3},
	{name: "winter", index: func(d float64) float64 { return ridingOn(d + 182) }},
}

// yearDay of a working day.
func yearDay(workingDay int) float64 { return float64(dateOf(workingDay).YearDay()) }

// made are its parts over so many years, from a January on.
func (s seasonShop) made(r *rand.Rand, parts, years int) (items []Item, start, now int) {
	start = WorkingDay(time.Date(2022, time.January, 3, 0, 0, 0, 0, time.UTC))
	now = WorkingDay(time.Date(2022+years, time.January, 3, 0, 0, 0, 0, time.UTC))
	index, luck := make([]float64, now-start), 0.0
	for d := range index {
		if d%daysPerPeriod == 0 {
			luck = 0.4*luck + s.luck*r.NormFloat64()
		}
		index[d] = s.index(yearDay(start+d)) * math.Exp(luck+s.grows*float64(d)/261)
	}
	for range parts {
		item := Item{Name: "part", Price: 8, Lead: &LeadTime{OnDay: []float64{0, 0, 0, 1}}}
		usual := 0.06 * gammaDrawn(r, 1)
		for d, by := range index {
			for range poissonDrawn(r, usual*by) {
				item.Sales = append(item.Sales, Sale{Day: start + d, Pieces: 1})
			}
		}
		items = append(items, item)
	}
	return items, start, now
}

// lost is how much less than the true season another one foretells of when in a year things are asked for, in thousandths
// of a log chance a sale: that of Poisson sales by day, given the year's sum.
func (s seasonShop) lost(season *Weekly, start int) (thousandths float64) {
	const year = 261
	truths, all, said := make([]float64, year), 0.0, 0.0
	for d := range truths {
		truths[d] = s.index(yearDay(start + d))
		all, said = all+truths[d], said+season.at(start+d)
	}
	for d, truth := range truths {
		thousandths += 1000 * truth / all * math.Log(truth/all/(season.at(start+d)/said))
	}
	return thousandths
}

// shopOf is what the shop sold in each week of its books, riding being believed before.
func shopOf(items []Item, start, now int) shopWeeks {
	riding, m := Riding, untaught.ready()
	l := learnt{start: start, weekly: make([]float64, weekOf(now-1)-weekOf(start)+2)}
	return m.shopWeeks(booksOf(stockBook(items), start, now), l.base(riding.byWeek()))
}

// byBooks is the season that so many years of books teach, and what the months alone would, the average of some draws: how
// much each loses.
func (s seasonShop) byBooks(parts, years int) (weekly, monthly float64) {
	const draws = 6
	for seed := range uint64(draws) {
		items, start, now := s.made(rand.New(rand.NewPCG(seed, 77)), parts, years)
		riding := Riding
		b := shopOf(items, start, now)
		weekly += s.lost(b.season(&riding), now) / draws
		months, _ := indices(b.sold, b.expected, monthsOf(b.first, len(b.sold)), riding[:], seasonDoubt, false)
		monthly += s.lost((*Season)(months).byWeek(), now) / draws
	}
	return weekly, monthly
}

// BenchmarkSeasons prints how much made shops lose by their own seasons of the year that follows the books, and by months
// alone.
func BenchmarkSeasons(b *testing.B) {
	for range b.N {
		var out strings.Builder
		fmt.Fprintf(&out, "%-9s %-5s %-18s %10s %10s\n", "parts", "years", "shop", "by month", "by week")
		for _, parts := range []int{20, 100, 400} {
			for _, years := range []int{1, 2, 4} {
				for _, s := range seasonShops {
					weekly, monthly := s.byBooks(parts, years)
					fmt.Fprintf(&out, "%-9d %-5d %-18s %10.1f %10.1f\n", parts, years, s.name, monthly, weekly)
				}
			}
		}
		fmt.Print(out.String())
	}
}

// What comes every year in the same weeks is foretold by the week, from the second year on; where there is no such thing
// next to nothing is lost by looking for it.
func TestSeasonByTheWeek(t *testing.T) {
	sharp := map[string]bool{"spring rush": true, "race": true, "all three": true}
	for _, s := range seasonShops {
		weekly, monthly := s.byBooks(100, 2)
		if sharp[s.name] {
			require.Less(t, weekly, 0.45*monthly, s.name)
		}
		require.Less(t, weekly, monthly+1, s.name)
	}
	once, _ := seasonShops[3].byBooks(100, 1)
	months := seasonShops[1]
	year, _ := months.byBooks(100, 1)
	require.Greater(t, once, year+10, "one year does not tell whether it comes again")
}

// A shop that grows has no more of a season for it, and one with good and bad weeks none that follows them.
func TestGrowthAndWeatherAreNoSeason(t *testing.T) {
	for _, s := range seasonShops {
		weekly, monthly := s.byBooks(100, 4)
		if s.grows > 0 {
			require.Less(t, weekly, 0.4*monthly, s.name)
		}
		if s.luck > 0 {
			once, without := s.byBooks(400, 1)
			require.Less(t, once, 0.75*without, s.name)
		}
	}
}

// A rush in one of three years is none that comes again.
func TestARushOfOneYearIsNoSeason(t *testing.T) {
	items, start, now := seasonShops[1].made(rand.New(rand.NewPCG(4, 4)), 60, 3)
	rush := WorkingDay(time.Date(2023, time.October, 9, 0, 0, 0, 0, time.UTC))
	for i := range items {
		for day := range 10 {
			if i%10 == 0 {
				items[i].Sales = append(items[i].Sales, Sale{Day: rush + day, Pieces: 1})
			}
		}
		SortSales(items[i].Sales)
	}
	riding := Riding
	season := shopOf(items, start, now).season(&riding)
	october := WorkingDay(time.Date(2025, time.October, 11, 0, 0, 0, 0, time.UTC))
	require.InDelta(t, riding.byWeek().at(october), season.at(october), 0.35, "it sold more than twice as much then")
}
