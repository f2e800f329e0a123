package reorder

import (
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestSeasonIndex(t *testing.T) {
	riding := Riding
	season := riding.byWeek()
	sum := 0.0
	first := WorkingDay(time.Date(2025, time.January, 1, 0, 0, 0, 0, time.UTC))
	for day := first; day < first+261; day++ {
		sum += season.at(day) / 261
	}
	require.InDelta(t, 1, sum, 0.01, "a year is a year")
	july := WorkingDay(time.Date(2025, time.July, 16, 0, 0, 0, 0, time.UTC))
	require.InDelta(t, 1.255, season.at(july), 0.01)
	turned := riding.Turned()
	require.InDelta(t, 0.46, turned.byWeek().at(july), 0.04, "a week is no point")
}

// A part that sold all summer and is asked about in May must not be forecast from January.
func TestMayIsNotForecastFromJanuary(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	lead := &LeadTime{OnDay: []float64{0, 0, 0, 1}}
	start := WorkingDay(time.Date(2024, time.June, 3, 0, 0, 0, 0, time.UTC))
	may := WorkingDay(time.Date(2025, time.May, 5, 0, 0, 0, 0, time.UTC))
	var items []Item
	season := Riding
	for k := range 30 {
		item := Item{Name: "part", Price: 8, Lead: lead}
		usual := 0.04 + 0.01*float64(k%10)
		for day := start; day < may; day++ {
			if r.Float64() < usual*season.byWeek().at(day) {
				item.Sales = append(item.Sales, Sale{Day: day, Pieces: 1})
			}
		}
		items = append(items, item)
	}
	summer := Item{Name: "sold all summer", Price: 8, Lead: lead} // once in five days, and in winter by the season hardly ever
	for day := start; day < start+85; day += 4 {
		summer.Sales = append(summer.Sales, Sale{Day: day, Pieces: 1})
	}
	for day := start + 90; day < may-20; day += 12 {
		summer.Sales = append(summer.Sales, Sale{Day: day, Pieces: 1})
	}
	items = append(items, summer)
	terms := Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1}
	without := Weigh(items, start, may, terms)
	terms.Season = &season
	with := Weigh(items, start, may, terms)
	truth, said, blind := 0.0, 0.0, 0.0
	for k := range 30 {
		truth += (0.04 + 0.01*float64(k%10)) * season.byWeek().at(may+10)
		said += with.Insight(k).PerDay
		blind += without.Insight(k).PerDay
	}
	require.InEpsilon(t, truth, said, 0.15, "the whole shop is foretold for May; without the season it is %.2f of it", blind/truth)
	require.Less(t, blind, said)
	require.Greater(t, with.Insight(30).PerDay, 1.15*without.Insight(30).PerDay)
	require.Equal(t, SeasonBefore, with.Insight(0).Season)
	require.Contains(t, with.Insight(0).Ground(), "the season is that of riding")
	require.Contains(t, without.Insight(0).Ground(), "no season is known yet")
}

// After a year the shop's own season takes over: one that sells in winter is foretold in winter.
func TestOwnSeasonTakesOver(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	lead := &LeadTime{OnDay: []float64{0, 0, 0, 1}}
	start := WorkingDay(time.Date(2023, time.January, 2, 0, 0, 0, 0, time.UTC))
	now := WorkingDay(time.Date(2025, time.October, 27, 0, 0, 0, 0, time.UTC))
	season := Riding
	winter := season.Turned()
	var items []Item
	for range 120 {
		item := Item{Name: "lamp", Price: 8, Lead: lead}
		for day := start; day < now; day++ {
			if r.Float64() < 0.08*winter.byWeek().at(day) {
				item.Sales = append(item.Sales, Sale{Day: day, Pieces: 1})
			}
		}
		items = append(items, item)
	}
	s := Weigh(items, start, now, Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1, Season: &season})
	require.Equal(t, SeasonOwn, s.Insight(0).Season)
	require.Greater(t, s.learnt.season[2], 1.1, "January")
	require.Less(t, s.learnt.season[28], 0.7, "July")
	truth, said := 0.0, 0.0
	for k := range items {
		truth += 0.08 * winter.byWeek().at(now+10)
		said += s.Insight(k).PerDay
	}
	require.InEpsilon(t, truth, said, 0.2)
}

// What takes long to come is foretold over all that time: what sells well in September is not ordered so for November.
func TestSeasonReachesAsFarAsTheLead(t *testing.T) {
	riding, terms := Riding, Terms{LookEvery: 1, AdviseEvery: 20}
	september := WorkingDay(time.Date(2025, time.September, 1, 0, 0, 0, 0, time.UTC))
	l := &learnt{terms: terms, season: riding.byWeek()}
	quick, slow := &LeadTime{OnDay: []float64{0, 0, 1}}, &LeadTime{OnDay: append(make([]float64, 60), 1)}
	b := booksOf(stockBook([]Item{
		{Lead: quick, Sales: []Sale{{Day: september - 30, Pieces: 1}}}, {Lead: slow, Sales: []Sale{{Day: september - 30, Pieces: 1}}},
	}), september-50, september)
	ahead := map[int]float64{}
	for i, r := range b.records() {
		ahead[i] = l.seasonAhead(r, september)
	}
	require.InDelta(t, 1.24, ahead[0], 0.03)
	require.InDelta(t, (1.275+1.16+0.955)/3, ahead[1], 0.03, "September to November")
}

// In the second May the shop's own season says it: what sells once in five days in summer and hardly in winter is foretold
// for May after a winter in which it did not sell.
func TestSecondMayIsNotForecastFromJanuary(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 6))
	lead := &LeadTime{OnDay: []float64{0, 0, 0, 1}}
	start := WorkingDay(time.Date(2023, time.June, 5, 0, 0, 0, 0, time.UTC))
	may := WorkingDay(time.Date(2025, time.May, 5, 0, 0, 0, 0, time.UTC))
	steep := SeasonOf([12]float64{0.1, 0.1, 0.4, 1, 1.6, 1.9, 1.9, 1.9, 1.6, 0.9, 0.4, 0.1}) // steeper than riding
	var items []Item
	for range 30 {
		item := Item{Name: "part", Price: 8, Lead: lead}
		for day := start; day < may; day++ {
			if r.Float64() < 0.12*steep.byWeek().at(day) {
				item.Sales = append(item.Sales, Sale{Day: day, Pieces: 1})
			}
		}
		items = append(items, item)
	}
	riding := Riding
	terms := Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1, Season: &riding}
	s := Weigh(items, start, may, terms)
	require.Equal(t, SeasonOwn, s.Insight(0).Season)
	truth, said, winter := 0.12*steep.byWeek().at(may+10), 0.0, 0.0
	for k, item := range items {
		said += s.Insight(k).PerDay / 30
		winter += float64(countBefore(item.Sales, may-22)-countBefore(item.Sales, may-130)) / 108 / 30
	}
	require.InEpsilon(t, truth, said, 0.2)
	require.Less(t, winter, 0.4*said, "of what sold from November to March May is not told")
}
