package reorder

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// onceAWeek are the sales of a part of which a week's come at once, with a chance, on any of its days.
func onceAWeek(r *rand.Rand, chance float64, weeks int) (sales []Sale) {
	for week := range weeks {
		if day := week*daysPerPeriod + r.IntN(daysPerPeriod); r.Float64() < chance {
			sales = append(sales, Sale{Day: day, Pieces: 1})
		}
	}
	return sales
}

// Beta-binomial chances: where the chance is anything alike, each number is as likely as the others; where it is known,
// they are binomial; they add up to one (Johnson, Kemp and Kotz, "Univariate Discrete Distributions", 3rd ed., section
// 6.2.2).
func TestBetaBinomial(t *testing.T) {
	for n := range 8 {
		require.InDelta(t, 1.0/8, math.Exp(logBetaBinomial(float64(n), 7, 1, 1)), 1e-12)
	}
	require.InDelta(t, 10*0.3*0.3*0.7*0.7*0.7, math.Exp(logBetaBinomial(2, 5, 3e8, 7e8)), 1e-6)
	for _, y := range []rhythm{{weekly: 1}, {weekly: 3}} {
		sum, mean := 0.0, 0.0
		for n := range 4*y.weekly + 1 {
			chance := math.Exp(y.logChance(float64(n), gamma{2, 5}, 4, 4))
			sum, mean = sum+chance, mean+float64(n)*chance
		}
		require.InDelta(t, 1, sum, 1e-12)
		require.InDelta(t, 2.0/5*4, mean, 1e-12)
	}
	require.Less(t, rhythm{weekly: 1}.logChance(3, gamma{2, 5}, 2, 2), -10.0, "more than there can be")
	require.Equal(t, logNegativeBinomial(3, gamma{2, 5}, 2), rhythm{}.logChance(3, gamma{2, 5}, 2, 2))
}

// Of a week that may have one sale, and has had it, no more comes; over many weeks the mean is that of the rate.
func TestSalesInRhythm(t *testing.T) {
	once := rhythm{weekly: 1}
	week := once.salesDuring(nil, []span{{daysPerPeriod, 1}}, 0.1, new(evenWeeks))
	require.Len(t, week, 3, "of two weeks begun")
	require.InDelta(t, 0.5, meanOf(week), 1e-9)
	require.Less(t, week[2], salesDuring(nil, []span{{daysPerPeriod, 1}}, 0.1)[2])

	after := rhythm{weekly: 1, sinceSale: true}
	require.InDelta(t, 0, meanOf(evenly(after, 0.9).during(3, 3.5)), 1e-12, "the week has had its sale")
	require.InDelta(t, 0.9*0.5/daysPerPeriod, meanOf(evenly(after, 0.9).during(4, 3.5)), 1e-12)
	require.Less(t, meanOf(after.salesDuring(nil, []span{{40, 1}}, 0.1, new(evenWeeks))), 4.0)
	require.Greater(t, meanOf(after.salesDuring(nil, []span{{40, 1}}, 0.1, new(evenWeeks))), 3.6)

	weeks := evenly(after, 0.6)
	for range 2 { // what was reckoned before is used again, and not changed
		want := sold(sold(sold(sold([]float64{1}, 0, 0), 1, 0.6), 1, 0.6), 1, 0.6*2.5/daysPerPeriod)
		require.InDeltaSlice(t, want, weeks.during(1.5+10+2.5, 1.5), 1e-12, "the rest of a week that has had its sale, two whole ones and the half of one")
		require.InDeltaSlice(t, []float64{1}, weeks.during(1, 1.5), 1e-12)
	}

	require.InDelta(t, mostHeld/daysPerPeriod, once.held(1), 1e-12, "no part sells more often than there are sales")
	require.Equal(t, 1.0, rhythm{}.held(1))
}

// A rhythm is learnt where sales keep to one, and not where they come by chance.
func TestARhythmIsLearnt(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	lead := &LeadTime{OnDay: []float64{0, 0, 0, 1}}
	terms := Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1}
	const weeks = 60
	even, chance := make([]Item, 60), make([]Item, 60)
	for i := range even {
		often := 0.1 + 0.8*r.Float64()
		even[i] = Item{Name: "chain", Price: 8, Lead: lead, Sales: onceAWeek(r, often, weeks)}
		chance[i] = Item{Name: "chain", Price: 8, Lead: lead, Sales: poisson(r, weeks, flat(often), one)}
	}
	require.Equal(t, 1, learn(stockBook(even), 0, weeks*daysPerPeriod, terms).memory.rhythm.weekly)
	require.Zero(t, learn(stockBook(chance), 0, weeks*daysPerPeriod, terms).memory.rhythm.weekly)
}

// The levels foretell what a shelf comes to whose parts go out once a week at most, and less is needed of them.
func TestFillInRhythmIsWhatThePlayMeets(t *testing.T) {
	lead := LeadTimeOf([]float64{0, 0, 0, 0.8, 0, 0.15, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0.05})
	for _, c := range []struct {
		name      string
		often     float64
		at, upTo  int
		lookEvery int
	}{
		{"one at a time", 0.6, 0, 1, 1},
		{"two at a time", 0.9, 0, 2, 1},
		{"several out", 0.9, 2, 3, 1},
		{"looked at once a week", 0.6, 1, 2, daysPerPeriod},
	} {
		t.Run(c.name, func(t *testing.T) {
			const weeks = 40_000
			sales := append([]Sale{{Day: 0, Pieces: 1}}, onceAWeek(rand.New(rand.NewPCG(4, 4)), c.often, weeks)...)
			w := &World{Items: []Item{{Name: "ring", Price: 1, Lead: lead, Sales: sales}},
				Start: 5, End: weeks * daysPerPeriod, LookEvery: c.lookEvery, AdviseEvery: weeks * daysPerPeriod, Seed: 4,
				Takes: func(r *rand.Rand, _ *Item) int { return lead.Draw(r) }}
			met := w.Play(func(Books) []Keep { return []Keep{{At: c.at, UpTo: c.upTo}} }).Share()
			say := func(y rhythm) float64 {
				o := look(known(c.often/daysPerPeriod), []float64{0, 1}, protection(lead, c.lookEvery), c.lookEvery, y)
				return o.keep(c.upTo, c.upTo-c.at, o.lots(c.upTo-c.at)).fill
			}
			said, unaware := say(rhythm{weekly: 1, sinceSale: true}), say(rhythm{})
			t.Logf("said %.4f, without the rhythm %.4f, met %.4f", said, unaware, met)
			require.InDelta(t, said, met, 0.025)
			require.Less(t, math.Abs(said-met), math.Abs(unaware-met))
		})
	}
}

func evenly(y rhythm, each float64) *evenWeeks {
	w := new(evenWeeks)
	w.evenly(y, each)
	return w
}
