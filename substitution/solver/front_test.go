package solver

import (
	"context"
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution/supply"
)

// solved solves a problem and checks every option that the answer names.
func solved(t require.TestingT, p Problem) Answer {
	a, err := Solve(context.Background(), p)
	require.NoError(t, err)
	require.True(t, a.Proven)
	for _, o := range a.Front {
		require.NoError(t, Check(p, o))
		var paid, weights int64
		for _, b := range o.Purchases {
			paid += b.Cost
		}
		for _, c := range o.Carriage {
			paid += c.Cost
		}
		for _, d := range o.Deviations {
			weights += d.Weight
		}
		require.Equal(t, []int64{o.Cost, o.Deviation}, []int64{paid, weights})
	}
	if a.Refusal != nil {
		for _, g := range a.Refusal.GiveUps {
			without := p
			without.Wishes = nil
			for i, w := range p.Wishes {
				if !slices.Contains(g.Wishes, i) {
					without.Wishes = append(without.Wishes, w)
				}
			}
			for _, o := range g.Front {
				require.NoError(t, Check(without, o))
			}
		}
	}
	return a
}

func figures(front []Option) [][3]int64 {
	out := [][3]int64{}
	for _, o := range front {
		out = append(out, [3]int64{o.Cost, int64(o.Day), o.Deviation})
	}
	return out
}

func TestSolveAgainstTheEngineOnEveryCombination(t *testing.T) {
	points, refused, gaveUp, apart := 0, 0, 0, 0
	for seed := range uint64(300) {
		p := drivetrain(seed)
		if seed >= 120 {
			several(rand.New(rand.NewPCG(seed, 7)), &p)
		}
		if seed < 120 || seed%2 == 0 {
			wishAtRandom(rand.New(rand.NewPCG(seed, 4)), &p)
		}
		p.MostGiveUps = 100
		fits := everyFit(p)
		want := frontOf(fits, p, p.Wishes)
		a := solved(t, p)
		require.ElementsMatch(t, want, figures(a.Front), "seed %d", seed)
		points += len(want)
		for _, o := range a.Front {
			if slices.ContainsFunc(o.Chosen, func(c Chosen) bool { return c.Shelf.Pieces > 0 }) {
				apart++
			}
		}
		if len(p.Needs) > 0 && len(want) == 0 {
			refused++
			require.NotNil(t, a.Refusal)
			require.True(t, a.Refusal.All)
			sets := minimalSets(p, fits)
			var got [][]int
			for _, g := range a.Refusal.GiveUps {
				got = append(got, g.Wishes)
			}
			require.ElementsMatch(t, sets, got, "seed %d", seed)
			gaveUp += len(sets)
		}
	}
	require.Greater(t, points, 100)
	require.Greater(t, refused, 15)
	require.Greater(t, gaveUp, 15)
	require.Greater(t, apart, 40, "options that take some pieces off the shelf and order the rest")
}

// minimalSets finds, by trying all sets of wishes, the minimal ones without which something fits.
func minimalSets(p Problem, fitting []fitting) [][]int {
	soft := make([]int, len(p.Wishes))
	for i := range soft {
		soft[i] = i
	}
	fits := map[int]bool{}
	for set := range 1 << len(soft) {
		var kept []Wish
		for i, w := range p.Wishes {
			if k := slices.Index(soft, i); k < 0 || set>>k&1 == 0 {
				kept = append(kept, w)
			}
		}
		fits[set] = len(frontOf(fitting, p, kept)) > 0
	}
	var out [][]int
	for set := range 1 << len(soft) {
		minimal := fits[set]
		for sub := range set {
			minimal = minimal && !(sub&set == sub && fits[sub])
		}
		if minimal && bits.OnesCount(uint(set)) > 0 {
			var wishes []int
			for k, i := range soft {
				if set>>k&1 == 1 {
					wishes = append(wishes, i)
				}
			}
			out = append(out, wishes)
		}
	}
	return out
}

// covered reports whether every point of a is matched or beaten by one of b.
func covered(a, b [][3]int64) bool {
	return !slices.ContainsFunc(a, func(x [3]int64) bool {
		return !slices.ContainsFunc(b, func(y [3]int64) bool { return y[0] <= x[0] && y[1] <= x[1] && y[2] <= x[2] })
	})
}

func TestFrontsMoveTheRightWay(t *testing.T) {
	for seed := range uint64(60) {
		p := drivetrain(seed)
		if len(p.Needs) == 0 {
			continue
		}
		front := figures(solved(t, p).Front)
		r := rand.New(rand.NewPCG(seed, 6))

		// A front with fewer offers is no better anywhere.
		fewer := p
		fewer.Parts = slices.Clone(p.Parts)
		i := r.IntN(len(fewer.Parts))
		fewer.Parts[i].Offers = fewer.Parts[i].Offers[1:]
		if a, err := Solve(context.Background(), fewer); err == nil {
			require.True(t, covered(figures(a.Front), front), "seed %d: fewer offers made the front better", seed)
		}

		// One more wish makes it no better anywhere.
		stricter := p
		wishAtRandom(r, &stricter)
		require.True(t, covered(figures(solved(t, stricter).Front), front), "seed %d: wishes made the front better", seed)

		// Everything three times as dear costs three times as much.
		dearer := p
		dearer.Parts, dearer.Suppliers = slices.Clone(p.Parts), slices.Clone(p.Suppliers)
		for i := range dearer.Parts {
			dearer.Parts[i].Offers = slices.Clone(dearer.Parts[i].Offers)
			for k := range dearer.Parts[i].Offers {
				o := &dearer.Parts[i].Offers[k]
				o.Breaks = []supply.Break{{Packs: 1, Price: 3 * o.Breaks[0].Price}}
			}
		}
		for i := range dearer.Suppliers {
			dearer.Suppliers[i].Carriage *= 3
			dearer.Suppliers[i].PaidAt *= 3
		}
		scaled := figures(solved(t, dearer).Front)
		for i := range scaled {
			require.Zero(t, scaled[i][0]%3)
			scaled[i][0] /= 3
		}
		require.Equal(t, front, scaled, "seed %d", seed)

		// The order in which suppliers and parts are given changes no figure.
		turned := p
		turned.Parts, turned.Suppliers, turned.Needs = slices.Clone(p.Parts), slices.Clone(p.Suppliers), slices.Clone(p.Needs)
		slices.Reverse(turned.Parts)
		slices.Reverse(turned.Suppliers)
		for i := range turned.Parts {
			turned.Parts[i].Offers = slices.Clone(turned.Parts[i].Offers)
			for k, o := range turned.Parts[i].Offers {
				if o.Supplier != supply.Shelf {
					turned.Parts[i].Offers[k].Supplier = len(p.Suppliers) - 1 - o.Supplier
				}
			}
		}
		for i, n := range p.Needs {
			turned.Needs[i].Candidates = nil
			for _, c := range n.Candidates {
				turned.Needs[i].Candidates = append(turned.Needs[i].Candidates, len(p.Parts)-1-c)
			}
		}
		require.Equal(t, front, figures(solved(t, turned).Front), "seed %d", seed)
	}
}

func TestPicks(t *testing.T) {
	front := []Option{{Cost: 1000, Day: 9, Deviation: 4}, {Cost: 1400, Day: 5, Deviation: 2}, {Cost: 1500, Day: 1, Deviation: 4}, {Cost: 2000, Day: 9, Deviation: 0}}
	require.Equal(t, Picks{Soonest: 2, Cheapest: 0, Closest: 3, Balanced: 1}, pick(front))
	require.Equal(t, Picks{-1, -1, -1, -1}, pick(nil))
}

// Where fifty packs are the least that is sold, no fewer are bought, and the checker adds up the same.
func TestLeastQuantity(t *testing.T) {
	p := balls()
	for i := range p.Parts {
		for k := range p.Parts[i].Offers {
			o := &p.Parts[i].Offers[k]
			o.Breaks = []supply.Break{{Packs: 50, Price: 7}}
		}
	}
	for _, o := range solved(t, p).Front {
		require.NoError(t, Check(p, o))
		for _, buy := range o.Purchases {
			require.GreaterOrEqual(t, buy.Packs, 50)
		}
	}
}
