package reorder

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// Two parts that stand in for one another and sell alike: what the advice says of them is what a play of them meets, a
// sale of either counting as met if it is met by the other.
func TestSharedStockMeetsWhatIsSaid(t *testing.T) {
	lead := &LeadTime{OnDay: []float64{0, 0, 0, 0, 0, 0, 0, 0, 0, 1}}
	r := rand.New(rand.NewPCG(3, 1))
	const known, days = 60 * 52 * daysPerPeriod / 12, 40_000
	var items []Item
	for k := range 2 {
		items = append(items, Item{Name: "ring", Price: 20, Lead: lead, StandIns: []StandIn{{1 - k, 1}}, Sales: chanced(r, 0.05, 0, days)})
	}
	past := make([]Item, len(items))
	for i := range items {
		past[i] = items[i]
		past[i].Sales = items[i].Sales[:countBefore(items[i].Sales, known)]
	}
	s := Weigh(past, 0, known, Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1})
	alone := make([]Item, 2)
	for i := range past {
		alone[i] = past[i]
		alone[i].StandIns = nil
	}
	single := Weigh(alone, 0, known, Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1})
	for _, target := range []float64{0.9, 0.97} {
		keeps, apart := s.For(target), single.For(target)
		w := &World{Items: items, Start: known, End: days, LookEvery: 1, AdviseEvery: days, LineCost: 1.5, Holding: 0.25, Seed: 1,
			Takes: func(r *rand.Rand, _ *Item) int { return lead.Draw(r) }}
		met := w.Play(func(Books) []Keep { return keeps })
		said := (keeps[0].Fill*keeps[0].PerDay + keeps[1].Fill*keeps[1].PerDay) / (keeps[0].PerDay + keeps[1].PerDay)
		t.Logf("asked %.2f: %d and %d together, %d and %d apart; said %.3f, met %.3f", target, keeps[0].UpTo, keeps[1].UpTo, apart[0].UpTo, apart[1].UpTo, said, met.Share())
		require.InDelta(t, said, met.Share(), 0.035)
		require.LessOrEqual(t, keeps[0].UpTo+keeps[1].UpTo, apart[0].UpTo+apart[1].UpTo)
		chance, by := s.Cover(0, keeps)
		if keeps[1].UpTo > 0 {
			require.Positive(t, chance)
			require.Equal(t, []int{1}, by)
		}
	}
}

// A stand-in that is not kept covers nothing, and a customer who takes none is not met by one.
func TestNobodyIsCoveredByWhatIsNotThere(t *testing.T) {
	lead := &LeadTime{OnDay: []float64{0, 0, 0, 1}}
	w := &World{Items: []Item{
		{Name: "silver", Price: 1, Lead: lead, StandIns: []StandIn{{1, 0.5}}},
		{Name: "black", Price: 1, Lead: lead},
	}, Start: 1, End: 4001, LookEvery: 1, AdviseEvery: 4000, Takes: func(*rand.Rand, *Item) int { return 1 }}
	for day := range 4000 {
		w.Items[0].Sales = append(w.Items[0].Sales, Sale{Day: day, Pieces: 1})
		w.Items[1].Sales = append(w.Items[1].Sales, Sale{Day: 0, Pieces: 1}) // only to be known
	}
	w.Items[1].Sales = w.Items[1].Sales[:1]
	half := w.Play(func(Books) []Keep { return []Keep{{}, {At: 2, UpTo: 4}} })
	require.InDelta(t, 0.5, half.Share(), 0.03, "half of the customers take the black one")
	none := w.Play(func(Books) []Keep { return []Keep{{}, {}} })
	require.Zero(t, none.Share())
}
