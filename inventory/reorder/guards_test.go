package reorder

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// guard is one of the things that a shelf takes into account, and the shelf without it.
type guard struct {
	name  string
	item  func(*Item)     // what is known of an item without it
	learn func(l *learnt) // what is learnt without it
}

var guards = []guard{
	{name: "nothing left out"},
	{name: "without the prior", learn: func(l *learnt) { l.memory.shape, l.memory.weeks = 1e-6, 1e-6 }},
	{name: "without fading", learn: func(l *learnt) {
		l.memory.slow, l.memory.fast = 1e6, 1e6
		l.memory = l.memory.ready()
		l.paces = nil
	}},
	{name: "without an end", learn: func(l *learnt) { l.memory.ends = 0 }},
	{name: "without the wait for a look", learn: func(l *learnt) { l.terms.LookEvery = 1 }},
	{name: "without the tail of the lead time", item: func(i *Item) { // the day on which it mostly comes
		usual := 0
		for day, chance := range i.Lead.OnDay {
			if chance > i.Lead.OnDay[usual] {
				usual = day
			}
		}
		i.Lead = usually(usual)
	}},
	{name: "without the rhythm", learn: func(l *learnt) { l.memory.rhythm = rhythm{} }},
	{name: "without shared stock", item: func(i *Item) { i.StandIns = nil }},
	{name: "without the promises kept", learn: func(*learnt) {}},
}

var usualDays = map[int]*LeadTime{}

// usually is the lead time that is always so many days, one for all.
func usually(day int) *LeadTime {
	if usualDays[day] == nil {
		usualDays[day] = &LeadTime{OnDay: make([]float64, day+1)}
		usualDays[day].OnDay[day] = 1
	}
	return usualDays[day]
}

// rule is the whole shelf with one thing left out, at a target. Nothing is corrected by what came of it, for that would
// hide what it is worth; only the first keeps that.
func (g guard) rule() func(target float64) Rule {
	shelves := map[int]*Shelf{}
	return func(target float64) Rule {
		return func(b Books) []Keep {
			if shelves[b.Now] == nil {
				items := make([]Item, len(b.Items))
				for i := range items {
					items[i] = b.Items[i]
					items[i].Sales = b.Known(i)
					if g.item != nil {
						g.item(&items[i])
					}
				}
				terms := Terms{LookEvery: b.LookEvery, AdviseEvery: b.AdviseEvery, LineCost: b.LineCost, Holding: b.Holding, MostYears: 1}
				of := stockBook(items)
				l := learn(of, 0, b.Now, terms)
				if g.learn != nil {
					g.learn(l)
				}
				s := l.weigh(of, b.Now)
				if g.name == guards[0].name {
					s.promise = l.keptPromises(of, b.Now)
				}
				shelves[b.Now] = s
			}
			return shelves[b.Now].For(target)
		}
	}
}

// What each guard is worth: holding and ordering a year at equal shares of sales met, and what is met where 90, 95 and
// 98 are asked for. The stand-ins are every second part's neighbour, for the series have none.
//
//	go test -run '^$' -bench Guards -benchtime 1x ./inventory/reorder
func BenchmarkGuards(b *testing.B) {
	for b.Loop() {
		w := setting(carParts(b), short, daysPerPeriod)
		paired(w)
		fmt.Printf("\ncar parts, short, looked at every week, every part and its neighbour stand in for one another\n%-36s  cost at 93    95    97   stock at 93    95    97   asked 90    95    98   new at 95\n", "")
		for _, g := range guards {
			fmt.Println(strings.Replace(row(g.name, curve(w, yardstickTargets, g.rule())), g.name, fmt.Sprintf("%-36s", g.name), 1))
		}
	}
}

// paired lets every part and its neighbour stand in for one another.
func paired(w *World) {
	for i := range w.Items {
		if other := i ^ 1; other < len(w.Items) {
			w.Items[i].StandIns = []StandIn{{other, 0.9}}
		}
	}
}

// guarded is a small world in which a guard matters.
func guarded(parts, weeks, lookEvery int, seed uint64, late bool) *World {
	lead := make([]float64, 31)
	lead[3] = 1
	if late {
		lead[3], lead[30] = 0.85, 0.15
	}
	w := &World{Start: weeks / 2 * daysPerPeriod, End: weeks * daysPerPeriod, LookEvery: lookEvery, AdviseEvery: 20,
		LineCost: 1.5, Holding: 0.25, Missed: 6, Seed: seed}
	known := LeadTimeOf(lead)
	w.Takes = func(r *rand.Rand, _ *Item) int { return known.Draw(r) }
	for _, item := range Make(parts, weeks, seed) {
		if len(item.Sales) > 0 {
			item.Lead = known
			w.Items = append(w.Items, item)
		}
	}
	return w
}

// Each guard is worth something: without it the shelf does worse in a world in which it matters. What a shelf says it
// meets is nearer to what it meets, or it costs less where as many sales are met.
func TestEachGuardIsWorthSomething(t *testing.T) {
	find := func(name string) guard {
		for _, g := range guards {
			if g.name == name {
				return g
			}
		}
		t.Fatal(name)
		return guard{}
	}
	promised := func(w *World, name string) float64 { return w.Play(find(name).rule()(0.95)).Share() }
	cost := func(w *World, name string, share float64) float64 {
		c, ok := at(curve(w, []float64{0.7, 0.85, 0.93, 0.97, 0.995}, find(name).rule()), share, costOf)
		if !ok {
			return math.Inf(1)
		}
		return c
	}
	bare := "without the promises kept" // what came of it would make up for what is left out

	t.Run("the prior", func(t *testing.T) {
		with, without := 0.0, 0.0
		for seed := range uint64(5) {
			w := guarded(150, 20, 1, seed, false) // few sales of its own has each
			with += cost(w, bare, 0.9)
			without += cost(w, "without the prior", 0.9)
		}
		require.Less(t, 1.02*with, without)
	})
	t.Run("fading", func(t *testing.T) {
		w := guarded(120, 120, 1, 2, false)
		for i := range w.Items { // half sold a fifth of what they sell now
			if i%2 == 0 {
				var kept []Sale
				for k, sale := range w.Items[i].Sales {
					if k%5 == 0 || sale.Day >= w.Start-15*daysPerPeriod {
						kept = append(kept, sale)
					}
				}
				w.Items[i].Sales = kept
			}
		}
		require.Less(t, 1.02*cost(w, bare, 0.9), cost(w, "without fading", 0.9))
	})
	t.Run("an end", func(t *testing.T) {
		w := guarded(120, 120, 1, 2, false)
		for i := range w.Items { // half are given up, the others sell on
			if i%2 == 0 {
				last := w.Start - (2+i%20)*daysPerPeriod
				w.Items[i].Sales = w.Items[i].Sales[:countBefore(w.Items[i].Sales, last)]
			}
		}
		w.Items = withSales(w.Items)
		require.Less(t, 1.02*cost(w, bare, 0.9), cost(w, "without an end", 0.9))
	})
	t.Run("the wait for a look", func(t *testing.T) {
		w := guarded(120, 80, 10, 3, false)
		require.Greater(t, promised(w, bare), promised(w, "without the wait for a look")+0.01)
		require.Greater(t, promised(w, bare), 0.93)
	})
	t.Run("the tail of the lead time", func(t *testing.T) {
		w := guarded(120, 80, 1, 4, true)
		require.Greater(t, promised(w, bare), promised(w, "without the tail of the lead time")+0.02)
	})
	t.Run("shared stock", func(t *testing.T) {
		w := guarded(120, 80, 1, 5, false)
		paired(w)
		require.Less(t, 1.02*cost(w, bare, 0.95), cost(w, "without shared stock", 0.95))
	})
	t.Run("the rhythm", func(t *testing.T) {
		w := guarded(60, 80, 1, 7, false)
		r, slow := rand.New(rand.NewPCG(7, 7)), usually(15)
		for i := range w.Items {
			w.Items[i].Sales, w.Items[i].Lead = onceAWeek(r, 0.9, 80), slow
		}
		w.Takes = func(*rand.Rand, *Item) int { return 15 }
		require.InDelta(t, 0.95, promised(w, bare), 0.015)
		require.Greater(t, promised(w, "without the rhythm"), 0.98, "more is met than was asked for, at its price")
	})
	t.Run("what came of it", func(t *testing.T) {
		w := guarded(120, 80, 1, 6, false)
		paired(w) // and the rule is not told
		for i := range w.Items {
			w.Items[i].Price = 5
		}
		told, untold := promised(w, guards[0].name), promised(w, bare)
		require.Less(t, math.Abs(told-0.95), math.Abs(untold-0.95)+0.01)
	})
}

func withSales(items []Item) (out []Item) {
	for _, item := range items {
		if len(item.Sales) > 0 {
			out = append(out, item)
		}
	}
	return out
}
