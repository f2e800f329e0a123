package reorder

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// madeKinds are parts of two kinds over so many years; the first kind sells by the shop's season times the bend, the
// second so that the shop as a whole has the season. With alike they all sell by the shop's.
func madeKinds(r *rand.Rand, parts, years int, alike bool) (items []Item, start, now int, wanted func(kind string, day int) float64) {
	start = WorkingDay(time.Date(2022, time.January, 3, 0, 0, 0, 0, time.UTC))
	now = WorkingDay(time.Date(2022+years, time.January, 3, 0, 0, 0, 0, time.UTC))
	months := SeasonOf([12]float64{1, 1, 1, 1, 0.6, 0.6, 0.6, 0.6, 1.2, 1.7, 1.7, 1})
	autumn, riding := months.byWeek(), Riding
	shop := riding.byWeek()
	wanted = func(kind string, day int) float64 {
		bend := 1.0
		if !alike {
			if bend = autumn.at(day); kind == "tube" {
				bend = 2 - bend
			}
		}
		return shop.at(day) * max(0, bend)
	}
	for k := range parts {
		item := Item{Name: "part", Kind: []string{"mudguard", "tube"}[k%2], Price: 8, Lead: &LeadTime{OnDay: []float64{0, 0, 0, 1}}}
		usual := 0.03 + 0.02*float64(k%6)
		for day := start; day < now; day++ {
			if r.Float64() < usual*wanted(item.Kind, day) {
				item.Sales = append(item.Sales, Sale{Day: day, Pieces: 1})
			}
		}
		items = append(items, item)
	}
	return items, start, now, wanted
}

// What one kind sells in autumn is foretold of it and not of the other, from the second year on.
func TestKindsHaveTheirSeasons(t *testing.T) {
	items, start, now, wanted := madeKinds(rand.New(rand.NewPCG(11, 12)), 40, 3, false)
	season := Riding
	terms := Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1, Season: &season}
	l := learn(stockBook(items), start, now, terms)
	require.Len(t, l.kinds, 2)
	october, june := l.kinds["mudguard"][41], l.kinds["mudguard"][24]
	require.Greater(t, october, 1.4)
	require.Less(t, june, 0.8)
	require.Less(t, l.kinds["tube"][41], 0.75)

	// The next October is foretold by kind: the error of each kind's forecast, with the seasons of kinds and without.
	without := make([]Item, len(items))
	copy(without, items)
	for i := range without {
		without[i].Kind = ""
	}
	offBy := func(items []Item, kinds []Item) (err float64) {
		day := WorkingDay(time.Date(2024, time.October, 1, 0, 0, 0, 0, time.UTC))
		s := Weigh(items, start, day, terms)
		said, truth := map[string]float64{}, map[string]float64{}
		for i := range items {
			said[kinds[i].Kind] += s.Insight(i).PerDay
			truth[kinds[i].Kind] += (0.03 + 0.02*float64(i%6)) * wanted(kinds[i].Kind, day+10)
		}
		for kind := range said {
			err += math.Abs(math.Log(said[kind] / truth[kind]))
		}
		return err
	}
	require.Less(t, offBy(items, items), 0.5*offBy(without, items))
}

// Where kinds sell alike, or the books are short, no kind gets a season of its own that is worth anything.
func TestKindsAlike(t *testing.T) {
	season := Riding
	terms := Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1, Season: &season}
	for seed := range uint64(6) {
		items, start, now, _ := madeKinds(rand.New(rand.NewPCG(seed, 1)), 40, 3, true)
		for kind, bend := range learn(stockBook(items), start, now, terms).kinds {
			for week, index := range bend {
				require.InDelta(t, 1, index, 0.12, "%s in week %d", kind, week+1)
			}
		}
	}
	items, start, now, _ := madeKinds(rand.New(rand.NewPCG(3, 4)), 40, 1, false)
	require.Nil(t, learn(stockBook(items), start, now, terms).kinds, "one year may be a kind's beginning or its end")
}

// A kind that grew all the time is no kind with a season.
func TestAGrowingKindIsNoSeason(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	start := WorkingDay(time.Date(2022, time.January, 3, 0, 0, 0, 0, time.UTC))
	now := WorkingDay(time.Date(2025, time.January, 3, 0, 0, 0, 0, time.UTC))
	season := Riding
	var items []Item
	for k := range 40 {
		item := Item{Name: "part", Kind: []string{"grows", "stays"}[k%2], Price: 8, Lead: &LeadTime{OnDay: []float64{0, 0, 0, 1}}}
		for day := start; day < now; day++ {
			rate := 0.08
			if item.Kind == "grows" {
				rate *= 0.4 + 1.2*float64(day-start)/float64(now-start)
			}
			if r.Float64() < rate*season.byWeek().at(day) {
				item.Sales = append(item.Sales, Sale{Day: day, Pieces: 1})
			}
		}
		items = append(items, item)
	}
	terms := Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1, Season: &season}
	for kind, bend := range learn(stockBook(items), start, now, terms).kinds {
		for week, index := range bend {
			require.InDelta(t, 1, index, 0.25, "%s in week %d", kind, week+1)
		}
	}
}

// What a year sells is not what this month does.
func TestPerYearHasAllOfTheYear(t *testing.T) {
	items, start, _, _ := madeKinds(rand.New(rand.NewPCG(8, 9)), 30, 3, true)
	season := Riding
	terms := Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1, Season: &season}
	var years []float64
	for _, month := range []time.Month{time.January, time.July} {
		day := WorkingDay(time.Date(2024, month, 8, 0, 0, 0, 0, time.UTC))
		s, all := Weigh(items, start, day, terms), 0.0
		for i := range items {
			all += s.PerYear(i, 0).Mean()
		}
		years = append(years, all)
	}
	require.InEpsilon(t, years[0], years[1], 0.2)
}
