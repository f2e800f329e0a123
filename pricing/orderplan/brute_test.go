package orderplan

import (
	"context"
	"errors"
	"maps"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// bruteForce finds the least landed cost by trying everything: line after line
// it keeps every combination of goods totals that can be reached and the least
// cost of each. Goods are counted up to the supplier's highest level only: more
// makes no difference. It shares no code with the planner but supply.Offer.Cost. ok is
// false where no plan exists.
func bruteForce(p Problem) (total int64, ok bool) {
	states := map[reached]int64{{}: 0}
	for at, l := range p.Lines {
		next := map[reached]int64{}
		for w := range waysOf(p, at) {
			if w.units < l.Need || p.NoSplit && w.places() > 1 {
				continue
			}
			for s, cost := range states {
				s, cost = s.with(p, w), cost+w.paid()
				if known, ok := next[s]; !ok || cost < known {
					next[s] = cost
				}
			}
		}
		states = next
	}
	for s, cost := range states {
		carriage, keeps := s.carriage(p)
		if cost += carriage; keeps && (!ok || cost < total) {
			total, ok = cost, true
		}
	}
	return total, ok
}

// reached is what is bought of each supplier, counted up to its highest level.
type reached struct {
	goods [4]uint16
	used  [4]bool
}

// with is what is reached when a line is bought in a way.
func (s reached) with(p Problem, w way) reached {
	for i, u := range p.Suppliers {
		if w.used[i] {
			s.goods[i] = uint16(min(max(u.MinimumOrder, u.PaidAt), int64(s.goods[i])+w.goods[i]))
			s.used[i] = true
		}
	}
	return s
}

// carriage is what all suppliers charge; keeps is false below a minimum order.
func (s reached) carriage(p Problem) (carriage int64, keeps bool) {
	for i, u := range p.Suppliers {
		if !s.used[i] {
			continue
		}
		if int64(s.goods[i]) < u.MinimumOrder {
			return 0, false
		}
		if u.PaidAt == 0 || int64(s.goods[i]) < u.PaidAt {
			carriage += u.Carriage
		}
	}
	return carriage, true
}

// way is a way of buying a line.
type way struct {
	goods [4]int64
	used  [4]bool
	units int
}

func (w way) places() int {
	n := 0
	for _, u := range w.used {
		if u {
			n++
		}
	}
	return n
}

func (w way) paid() int64 { return w.goods[0] + w.goods[1] + w.goods[2] + w.goods[3] }

// waysOf are all ways of buying a line from the offers that come in time, up to
// its most.
func waysOf(p Problem, at int) map[way]bool {
	l := p.Lines[at]
	ways := map[way]bool{{}: true}
	for _, o := range p.Offers {
		if o.Line != at || l.DueDay != nil && o.Day > *l.DueDay {
			continue
		}
		for w := range maps.Clone(ways) {
			for units := 1; w.units+units <= l.Max; units++ {
				if cost, sold := o.cost(units); sold {
					n := w
					n.units += units
					n.goods[o.Supplier] += cost
					n.used[o.Supplier] = true
					ways[n] = true
				}
			}
		}
	}
	return ways
}

// A thousand instances of up to 8 lines and 4 suppliers with every feature.
func TestAgainstBruteForce(t *testing.T) {
	planned, refused := 0, 0
	for seed := uint64(0); planned < 1000; seed++ {
		r := rand.New(rand.NewPCG(seed, 1))
		p := generateSmall(r.IntN, 1+r.IntN(8), 1+r.IntN(4))
		plan, err := Solve(context.Background(), p)
		var in *InputError
		if errors.As(err, &in) {
			continue // a line without an offer in time
		}
		want, ok := bruteForce(p)
		if !ok {
			var no *InfeasibleError
			require.ErrorAs(t, err, &no, "seed %d", seed)
			require.NotEmpty(t, no.Line+no.Supplier, "seed %d", seed)
			refused++
			continue
		}
		planned++
		require.NoError(t, err, "seed %d", seed)
		require.Equal(t, want, plan.Total, "seed %d", seed)
		require.True(t, plan.Proven, "seed %d", seed)
		require.NoError(t, Check(p, plan), "seed %d", seed)
		require.Equal(t, plan.Total, plan.Certificate.Bound, "seed %d", seed)
	}
	require.Greater(t, refused, 50)
}
