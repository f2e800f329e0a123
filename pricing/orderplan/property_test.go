package orderplan

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	_ "stead/testdata/drawn" // the same values in every run
)

// draw makes a small problem that rapid can shrink.
func draw(t *rapid.T) Problem {
	intN := func(n int) int { return rapid.IntRange(0, n-1).Draw(t, "n") }
	return generateSmall(intN, 1+intN(5), 1+intN(4))
}

// total is the least cost, or ok = false where the problem has no plan.
func total(t require.TestingT, p Problem) (pence int64, ok bool) {
	plan, err := Solve(context.Background(), p)
	var in *InputError
	var no *InfeasibleError
	if errors.As(err, &in) || errors.As(err, &no) {
		return 0, false
	}
	require.NoError(t, err)
	require.True(t, plan.Proven)
	return plan.Total, true
}

func TestMoreOffersNeverCostMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := draw(t)
		if len(p.Offers) == 0 {
			return
		}
		more, ok := total(t, p)
		drop := rapid.IntRange(0, len(p.Offers)-1).Draw(t, "drop")
		fewer := p
		fewer.Offers = slices.Delete(slices.Clone(p.Offers), drop, drop+1)
		if less, can := total(t, fewer); can {
			require.True(t, ok)
			require.LessOrEqual(t, more, less)
		}
	})
}

func TestScaledPricesScaleTheTotal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := draw(t)
		k := rapid.Int64Range(2, 1000).Draw(t, "k")
		scaled := p
		scaled.Suppliers, scaled.Offers = slices.Clone(p.Suppliers), slices.Clone(p.Offers)
		for i := range scaled.Suppliers {
			s := &scaled.Suppliers[i]
			s.Carriage, s.MinimumOrder = s.Carriage*k, s.MinimumOrder*k
			s.PaidAt *= k
		}
		for i := range scaled.Offers {
			o := &scaled.Offers[i]
			o.Breaks, o.Tiers = slices.Clone(o.Breaks), slices.Clone(o.Tiers)
			for j := range o.Breaks {
				o.Breaks[j].Price *= k
			}
			for j := range o.Tiers {
				o.Tiers[j].Price *= k
			}
		}
		one, ok := total(t, p)
		many, can := total(t, scaled)
		require.Equal(t, ok, can)
		require.Equal(t, one*k, many)
	})
}

func TestOrderOfSuppliersAndLinesDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := draw(t)
		mixed := p
		mixed.Suppliers = rapid.Permutation(p.Suppliers).Draw(t, "suppliers")
		mixed.Lines = rapid.Permutation(p.Lines).Draw(t, "lines")
		mixed.Offers = rapid.Permutation(p.Offers).Draw(t, "offers")
		for i, o := range mixed.Offers {
			mixed.Offers[i].Line = slices.IndexFunc(mixed.Lines, func(l Line) bool { return l.ID == p.Lines[o.Line].ID })
			mixed.Offers[i].Supplier = slices.IndexFunc(mixed.Suppliers, func(s Supplier) bool { return s.ID == p.Suppliers[o.Supplier].ID })
		}
		one, ok := total(t, p)
		other, can := total(t, mixed)
		require.Equal(t, ok, can)
		require.Equal(t, one, other)
	})
}

func TestForbiddingSplitsNeverCostsLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := draw(t)
		p.NoSplit = false
		free, ok := total(t, p)
		p.NoSplit = true
		if whole, can := total(t, p); can {
			require.True(t, ok)
			require.LessOrEqual(t, free, whole)
		}
	})
}

func TestEqualProblemsGetEqualPlans(t *testing.T) {
	for seed := range uint64(5) {
		p := generate(full, 20, 6, seed)
		require.Equal(t, solve(t, p), solve(t, p))
	}
}

// endsWhenAsked ends after it was asked so many times whether it has: at the same step in every run, however fast.
type endsWhenAsked struct {
	context.Context
	left int
}

func (c *endsWhenAsked) Err() error {
	if c.left--; c.left < 0 {
		return context.DeadlineExceeded
	}
	return nil
}

// Stopped early, the plan still keeps every rule and its bound still holds.
func TestDeadline(t *testing.T) {
	stopped := 0
	for seed := range uint64(8) {
		p := generate(full, 60, 20, seed)
		best := solve(t, p)
		for _, asked := range []int{0, 10, 100, 500, 2000} {
			plan, err := Solve(&endsWhenAsked{context.Background(), asked}, p)
			var late *UnfinishedError
			if errors.As(err, &late) {
				require.LessOrEqual(t, late.LowerBound, best.Total)
				require.ErrorIs(t, late.Cause, context.DeadlineExceeded)
				continue
			}
			require.NoError(t, err)
			require.NoError(t, Check(p, plan))
			require.LessOrEqual(t, plan.LowerBound, best.Total)
			require.GreaterOrEqual(t, plan.Total, best.Total)
			if !plan.Proven {
				stopped++
				require.Positive(t, plan.Gap())
			}
		}
	}
	require.Positive(t, stopped)
}

// Lists of the largest size allowed, in single units, take long to bound even
// once. Were some part of the planner deaf to its deadline, this test would be
// slow.
func TestDeadlineOfTheLargest(t *testing.T) {
	p := suppliers("500 700 900", "", "2000 0 0")
	for l := range 8 {
		line := Line{ID: fmt.Sprint(l), Need: 15_000, Max: MaxUnits}
		p.Lines = append(p.Lines, line)
		for s := range p.Suppliers {
			o := listed(t, l, fmt.Sprintf("s%d/1:1@%d,7@%d,5000@%d", s, 30+l+s, 29+l-s, 20+l))
			p.Offers = append(p.Offers, o)
		}
	}
	for _, after := range []time.Duration{10 * time.Millisecond, 100 * time.Millisecond} {
		ctx, cancel := context.WithTimeout(context.Background(), after)
		plan, err := Solve(ctx, p)
		cancel()
		var late *UnfinishedError
		if !errors.As(err, &late) {
			require.NoError(t, err)
			require.NoError(t, Check(p, plan))
		}
	}
}

// Check must notice every kind of wrong plan and every overclaimed bound.
func TestCheckNotices(t *testing.T) {
	p := generate(full, 12, 5, 3)
	good := solve(t, p)
	for name, spoil := range map[string]func(plan *Plan){
		"total":          func(plan *Plan) { plan.Total-- },
		"bound":          func(plan *Plan) { plan.LowerBound++ },
		"claim of proof": func(plan *Plan) { plan.Proven = false },
		"cost":           func(plan *Plan) { plan.Lines[0].Cost-- },
		"units":          func(plan *Plan) { plan.Lines[0].Units++ },
		"supplier":       func(plan *Plan) { plan.Lines[0].Supplier = "s9" },
		"offer":          func(plan *Plan) { plan.Lines[0].Offer++ },
		"line missing":   func(plan *Plan) { plan.Lines = plan.Lines[1:] },
		"line twice":     func(plan *Plan) { plan.Lines = append(plan.Lines, plan.Lines[0]) },
		"carriage":       func(plan *Plan) { plan.Suppliers[0].Carriage++ },
		"goods":          func(plan *Plan) { plan.Suppliers[0].Goods-- },
		"order missing":  func(plan *Plan) { plan.Suppliers = plan.Suppliers[1:] },
		"no certificate": func(plan *Plan) { plan.Certificate.root = nil },
	} {
		t.Run(name, func(t *testing.T) {
			plan := good
			plan.Lines, plan.Suppliers = slices.Clone(good.Lines), slices.Clone(good.Suppliers)
			spoil(&plan)
			require.Error(t, Check(p, plan))
		})
	}
}

// A bound one penny above the least cost is false, so no certificate may be
// accepted for it: neither the planner's own nor one with altered multipliers.
func TestCertificateCannotProveTooMuch(t *testing.T) {
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 9))
		p := generateSmall(r.IntN, 1+r.IntN(6), 1+r.IntN(4))
		plan, err := Solve(context.Background(), p)
		if err != nil {
			continue
		}
		c := plan.Certificate
		c.Bound = plan.Total + 1
		require.Error(t, checkCertificate(p, c), fmt.Sprint(seed))
		if c.root == nil {
			continue
		}
		for range 20 {
			alter(r, c.root)
			require.Error(t, checkCertificate(p, c), fmt.Sprint(seed))
		}
	}
}

// alter changes some multipliers of a proof.
func alter(r *rand.Rand, n *proof) {
	for l := range n.price {
		n.price[l] = max(0, n.price[l]+int64(r.NormFloat64()*float64(n.price[l])/10))
	}
	for i := range n.shade {
		n.shade[i] = r.Int64N(1 << 30)
		n.theta[i] = [2]int64{r.Int64N(1 << 31), r.Int64N(1 << 31)}
	}
	for _, child := range n.child {
		if child != nil {
			alter(r, child)
		}
	}
	if n.thin != nil {
		alter(r, n.thin)
	}
}

// What is bought line by line keeps every rule but the minimum orders, and names
// those it breaks: where it breaks none, it costs no less than the plan.
func TestCheapestEach(t *testing.T) {
	checked := 0
	for seed := range uint64(3000) {
		r := rand.New(rand.NewPCG(seed, 5))
		p := generateSmall(r.IntN, 1+r.IntN(6), 1+r.IntN(4))
		plan, short, err := CheapestEach(context.Background(), p)
		if err != nil || len(short) > 0 {
			continue
		}
		checked++
		require.NoError(t, checkOrder(p, plan), "seed %d", seed)
		best, err := Solve(context.Background(), p)
		require.NoError(t, err, "seed %d", seed)
		require.GreaterOrEqual(t, plan.Total, best.Total, "seed %d", seed)
	}
	require.Greater(t, checked, 500)
}

func TestWhatIf(t *testing.T) {
	ctx := context.Background()
	p := generate(full, 15, 4, 2)
	best := solve(t, p)

	hand, _, err := CheapestEach(context.Background(), p)
	require.NoError(t, err)
	require.GreaterOrEqual(t, hand.Total, best.Total)

	for i := range p.Suppliers {
		fewer, err := Without(ctx, p, i)
		var in *InputError
		if !errors.As(err, &in) {
			require.NoError(t, err)
			require.GreaterOrEqual(t, fewer.Total, best.Total)
			require.False(t, slices.ContainsFunc(fewer.Suppliers, func(x SupplierTotal) bool { return x.Supplier == i }))
		}
	}
	dropped, fewer, err := OneSupplierFewer(ctx, p, best)
	require.NoError(t, err)
	require.NotEmpty(t, dropped)
	require.GreaterOrEqual(t, fewer.Total, best.Total)
}

// The ten pads at 7.00 that come tomorrow, or at 5.00 the day after.
func TestOneDayLater(t *testing.T) {
	p := suppliers("0 0", "", "")
	p.Lines = []Line{{ID: "pads", Need: 10, Max: 10, DueDay: days(1)}}
	p.Offers = []Offer{listed(t, 0, "s0/1:1@700"), listed(t, 0, "s1/1:1@500")}
	p.Offers[0].Day, p.Offers[1].Day = 1, 2
	require.EqualValues(t, 7000, solve(t, p).Total)
	later, err := OneDayLater(context.Background(), p)
	require.NoError(t, err)
	require.EqualValues(t, 5000, later.Total)
	require.Equal(t, 1, *p.Lines[0].DueDay)
}
