package orderplan

import (
	"context"
	"errors"
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
	type state struct {
		goods [4]uint16
		used  [4]bool
	}
	var level [4]int64
	for i, s := range p.Suppliers {
		level[i] = s.MinimumOrder
		level[i] = max(level[i], s.PaidAt)
	}
	add := func(s state, i int, cost int64) state {
		s.goods[i] = uint16(min(level[i], int64(s.goods[i])+cost))
		s.used[i] = true
		return s
	}
	states := map[state]int64{{}: 0}
	for at, l := range p.Lines {
		type way struct {
			goods [4]int64
			used  [4]bool
			units int
		}
		ways := map[way]bool{{}: true}
		for _, o := range p.Offers {
			if o.Line != at || l.DueDay != nil && o.Day > *l.DueDay {
				continue
			}
			more := map[way]bool{}
			for w := range ways {
				for units := 1; w.units+units <= l.Max; units++ {
					if cost, sold := o.cost(units); sold {
						n := w
						n.units += units
						n.goods[o.Supplier] += cost
						n.used[o.Supplier] = true
						more[n] = true
					}
				}
			}
			for w := range more {
				ways[w] = true
			}
		}
		next := map[state]int64{}
		for w := range ways {
			places, paid := 0, int64(0)
			for i, u := range w.used {
				paid += w.goods[i]
				if u {
					places++
				}
			}
			if w.units < l.Need || (p.NoSplit && places > 1) {
				continue
			}
			for s, cost := range states {
				for i, u := range w.used {
					if u {
						s = add(s, i, w.goods[i])
					}
				}
				if known, ok := next[s]; !ok || cost+paid < known {
					next[s] = cost + paid
				}
			}
		}
		states = next
	}
	for s, cost := range states {
		keeps := true
		for i, u := range p.Suppliers {
			if !s.used[i] {
				continue
			}
			keeps = keeps && int64(s.goods[i]) >= u.MinimumOrder
			if u.PaidAt == 0 || int64(s.goods[i]) < u.PaidAt {
				cost += u.Carriage
			}
		}
		if keeps && (!ok || cost < total) {
			total, ok = cost, true
		}
	}
	return total, ok
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
