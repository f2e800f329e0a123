package reorder

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// chanced are the sales of a part that sells with a chance a day, from one day to another.
func chanced(r *rand.Rand, perDay float64, from, to int) (sales []Sale) {
	for day := from; day < to; day++ {
		if r.Float64() < perDay {
			sales = append(sales, Sale{Day: day, Pieces: 1})
		}
	}
	return sales
}

// expected is what the shop is expected to sell a day.
func expected(s *Shelf) (perDay float64) {
	for i := range s.items {
		perDay += s.Insight(i).PerDay
	}
	return perDay
}

// Half of the parts are given up, one after the other; of those that have been silent for long hardly one sells again.
// A part alone does not tell whether it is one of them.
func TestSilentPartsAreMostlyGivenUp(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 3))
	const weeks = 80
	items := make([]Item, 300)
	truth := 0.0
	for i := range items {
		last := weeks * daysPerPeriod
		if i%2 == 0 {
			last = (15 + r.IntN(60)) * daysPerPeriod
		} else {
			truth += 0.06
		}
		items[i] = Item{Name: "ring", Price: 8, Lead: &LeadTime{OnDay: []float64{0, 0, 0, 1}}, Sales: chanced(r, 0.06, 0, last)}
	}
	s := Weigh(items, 0, weeks*daysPerPeriod, Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1})
	require.InEpsilon(t, truth, expected(s), 0.15)
	with := expected(s)
	s.learnt.memory.ends, s.learnt.paces = 0, nil
	require.Greater(t, expected(s)-truth, 2*math.Abs(with-truth), "without an end, or a pace, more is expected than comes")
}

// A pace is in a straight line between the silences, so that no day of silence makes a leap.
func TestPaceHasNoLeaps(t *testing.T) {
	p := pace{bySilence: [len(silences)]float64{1.2, 1.0, 0.9, 0.6, 0.3}, byOften: [mostOften]float64{1, 1, 1, 1}}
	require.Equal(t, 1.2, p.at(0, 9))
	require.Equal(t, 0.3, p.at(200, 9))
	was := p.at(0, 9)
	for day := 1; day < 200; day++ {
		is := p.at(float64(day)/daysPerPeriod, 9)
		require.InDelta(t, was, is, 0.03)
		was = is
	}
}

// Of new parts more is to come: those that have sold but once or twice sell thrice as often in their next weeks as the
// parts of the shop do in the long run.
func TestNewPartsSellOn(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 5))
	const weeks = 80
	items := make([]Item, 400)
	young := map[int]bool{}
	for i := range items {
		from := r.IntN(weeks * daysPerPeriod)
		items[i] = Item{Name: "ring", Price: 8, Lead: &LeadTime{OnDay: []float64{0, 0, 0, 1}}}
		items[i].Sales = append(chanced(r, 0.12, from, min(weeks*daysPerPeriod, from+40)), chanced(r, 0.02, min(weeks*daysPerPeriod, from+40), weeks*daysPerPeriod)...)
		young[i] = from > (weeks-5)*daysPerPeriod && len(items[i].Sales) > 0
	}
	s := Weigh(items, 0, weeks*daysPerPeriod, Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1})
	require.NotNil(t, s.learnt.paces)
	now := s.learnt.paces[len(s.learnt.paces)-1]
	require.Greater(t, now.at(2, 1), 1.15*now.at(2, 9))
}
