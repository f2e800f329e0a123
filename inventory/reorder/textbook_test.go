package reorder

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// onHandAndShort are the pieces left and short on average where so many are there and the demand is as given.
func onHandAndShort(pieces int, demand leadDemand) (left, short float64) {
	short = demand.Mean
	for n, atMost := range demand.atMost(max(0, pieces)) {
		if n < pieces {
			left += atMost
			short -= 1 - atMost
		}
	}
	return left, short
}

// What a Poisson demand leaves and lacks, held against the newsvendor's least cost (FoSCT example 4.3 with Poisson
// demand, and mean 6).
func TestNewsvendorCosts(t *testing.T) {
	for _, c := range []struct {
		mean, holding, penalty float64
		best                   int
		cost                   float64
	}{{50, 0.18, 0.70, 56, 1.797235211809}, {6, 1, 4, 8, 3.5701069457709}} {
		demand := leadDemand{Model: Poisson, Mean: c.mean, Variance: c.mean}
		cost := func(s int) float64 {
			left, short := onHandAndShort(s, demand)
			return c.holding*left + c.penalty*short
		}
		require.InDelta(t, c.cost, cost(c.best), 1e-9)
		require.Greater(t, cost(c.best-1), c.cost)
		require.Greater(t, cost(c.best+1), c.cost)
	}
}

// Orders of Q at a level r, demand Poisson at 1.5 a year and two years to come: holding 20, a piece short 150 a year,
// an order 100 (FoSCT example 5.8). The position is any of r+1 to r+Q, as for our levels; the best of all r and Q is r
// = 3, Q = 5.
func TestReorderLevelAndQuantityExact(t *testing.T) {
	demand := demandDuring(lead{MeanDays: 2}, 1.5, 1, Poisson)
	cost := func(r, q int) float64 {
		sum := 100 * 1.5
		for position := r + 1; position <= r+q; position++ {
			left, short := onHandAndShort(position, demand)
			sum += 20*left + 150*short
		}
		return sum / float64(q)
	}
	require.InDelta(t, 107.92358063314978, cost(3, 5), 1e-8)
	for r := range 10 {
		for q := 1; q < 15; q++ {
			require.GreaterOrEqual(t, cost(r, q), cost(3, 5)-1e-12)
		}
	}
}

// Where the position stands between two orders, by the renewal sums with which our lots are weighed: demand Poisson of
// 6 a period, orders at 5 each from 4 pieces or fewer up to 10, holding 1 and a piece short 4 (FoSCT example 4.7; Zheng
// and Federgruen, "Finding optimal (s, S) policies is about as simple as evaluating a single policy", Operations
// Research 39, 1991).
func TestLotsAreTheExactOnes(t *testing.T) {
	demand := leadDemand{Model: Poisson, Mean: 6, Variance: 6}
	falls, none := make([]float64, 60), math.Exp(-6)
	was := 0.0
	for n, atMost := range demand.atMost(len(falls) - 1) {
		if n > 0 {
			falls[n] = (atMost - was) / (1 - none) // of a period in which anything is asked for
		}
		was = atMost
	}
	cost := func(s, upTo int) float64 {
		l := (&outlook{falls: falls}).lots(upTo - s)
		first := 0.0
		for b := range l.below {
			first += l.below[b] / l.below[0]
		}
		sum := 5 * (1 - none) / first // orders a period
		for below, share := range l.below {
			left, short := onHandAndShort(upTo-below, demand)
			sum += share * (left + 4*short)
		}
		return sum
	}
	require.InDelta(t, 8.034111561471642, cost(4, 10), 1e-9)
	for s := 0; s < 10; s++ {
		for upTo := s + 1; upTo < 20; upTo++ {
			require.GreaterOrEqual(t, cost(s, upTo), cost(4, 10)-1e-12)
		}
	}
}

// Planned backorders (FoSCT example 3.8: 1300 a year, 8 an order, 0.225 to hold and 5 to owe a piece for a year). A
// piece is held for p/(h+p) of the time and owed for the rest, and either costs hp/(h+p): the economic quantity at that
// holding cost. We plan none.
func TestPlannedBackorders(t *testing.T) {
	held := 0.225 * 5 / (0.225 + 5)
	quantity := economicQuantity(1300, 8, held)
	require.InDelta(t, 310.81255515896464, quantity, 1e-10)
	require.InDelta(t, 66.92136355097325, yearlyCost(quantity, 1300, 8, held), 1e-11)
}

// The economic production quantity (FoSCT, made at 1700 a year while 1300 are used): stock rises by what is made over
// what is used, so that a piece made is held at 1 - 1300/1700 of the cost.
func TestProductionQuantity(t *testing.T) {
	held := 0.225 * (1 - 1300.0/1700)
	quantity := economicQuantity(1300, 8, held)
	require.InDelta(t, 626.8084945889684, quantity, 1e-10)
	require.InDelta(t, 33.183979125298336, yearlyCost(quantity, 1300, 8, held), 1e-11)
}

// Incremental discounts (FoSCT: 2400 a year, 150 an order, 25 % a year; 100 each, 90 for those beyond 300, 80 for those
// beyond 600). Within a tier the pieces cost its price and the order so much more as the first pieces were dearer: a
// question of one price for each tier, and the cheapest whose quantity lies in its tier is the answer. What was paid
// more is held as well, half of it on average.
func TestIncrementalDiscounts(t *testing.T) {
	froms, prices := []float64{0, 300, 600, math.Inf(1)}, []float64{100, 90, 80}
	dearer, best, quantity := 0.0, math.Inf(1), 0.0
	for tier, price := range prices {
		if tier > 0 {
			dearer += (prices[tier-1] - price) * froms[tier]
		}
		q, cost := discountQuantity(2400, 150+dearer, 0.25, []Break{{0, price}})
		cost += 0.25 * dearer / 2
		if q >= froms[tier] && q < froms[tier+1] && cost < best {
			best, quantity = cost, q
		}
	}
	require.InDelta(t, 1481.8906842274164, quantity, 1e-9)
	require.InDelta(t, 222762.8136845483, best, 1e-7)
}

// Joint replenishment (FoSCT, Silver's heuristic: a parcel costs 600 and the three parts 120, 840 and 300 more each,
// they are held at 160, 20 and 50, and one of each is used a year). With each part in every so manyth parcel the time
// between parcels is an economic quantity of time, and of all such numbers up to eight the published ones are the
// cheapest.
func TestJointReplenishment(t *testing.T) {
	own, held := []float64{120, 840, 300}, []float64{160, 20, 50}
	parcels := func(every [3]int) (years, cost float64) {
		order, hold := 600.0, 0.0
		for i, m := range every {
			order += own[i] / float64(m)
			hold += held[i] * float64(m)
		}
		years = economicQuantity(1, order, hold)
		return years, yearlyCost(years, 1, order, hold)
	}
	years, cost := parcels([3]int{1, 3, 1})
	require.InDelta(t, 3.103164454170876, years, 1e-12)
	require.InDelta(t, 837.8544026261366, cost, 1e-10)
	for a := range 8 {
		for b := range 8 {
			for c := range 8 {
				_, other := parcels([3]int{a + 1, b + 1, c + 1})
				require.GreaterOrEqual(t, other, cost-1e-9)
			}
		}
	}
}

// The Poisson loss function, by the sums with which the shelf is weighed: the pieces that so many do not suffice for
// until an order is here, of a part that sells once in ten days and takes 14 to come (Silver, Pyke and Thomas,
// "Inventory and Production Management in Supply Chains": expected units short).
func TestPoissonLoss(t *testing.T) {
	o := &outlook{form: []float64{0, 1}, unit: 1, pieces: 1, perDay: 0.1, nodes: []node{{rate: 0.1, chance: 1}}, most: 40}
	o.sums([]span{{14, 1}}, 1, rhythm{})
	for pieces, want := range []float64{1.4, 0.646597, 0.238430, 0.071927, 0.018202, 0.003949, 0.000748} {
		require.InDelta(t, want, o.short[0][pieces], 5e-7)
	}
}

// The spreadsheet's rule, which the yardstick plays beside ours: 20 a day with deviation 4, 5 days with deviation 2, 19
// times in 20 (Silver, Pyke and Thomas): mean 100, deviation 40.9878, level 167.4189.
func TestNormalLevel(t *testing.T) {
	z := math.Sqrt2 * math.Erfinv(2*0.95-1)
	require.InDelta(t, 167.4189, normalLevel(20, 16, 5, 4, z), 5e-5)
	require.InDelta(t, 40.9878, normalLevel(20, 16, 5, 4, 1)-normalLevel(20, 16, 5, 4, 0), 5e-5)
}
