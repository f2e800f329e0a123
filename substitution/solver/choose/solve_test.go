package choose

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution/supply"
)

// figures are what is compared: the values of a front, not the choices, of which several may be equal.
func figures(f Front) [][3]int64 {
	out := [][3]int64{}
	for _, p := range f {
		out = append(out, [3]int64{p.Cost, int64(p.Day), p.Deviation})
	}
	return out
}

// verified solves a problem and verifies every point of its front.
func verified(t require.TestingT, p *Problem) Result {
	r, err := Solve(context.Background(), p)
	require.NoError(t, err)
	require.True(t, r.Proven)
	for _, pt := range r.Front {
		require.NoError(t, p.Verify(pt))
	}
	return r
}

// enumerate is the front by trying every combination.
func enumerate(p *Problem) Front {
	var front Front
	options := make([]int, len(p.Needs))
	extras := make([]int, len(p.Extras))
	order, _ := p.extraOrder()
	try := func() {
		pt := Point{Options: append([]int(nil), options...), Extras: append([]int(nil), extras...)}
		if measured, ok := measure(p, order, pt); ok {
			front = front.add(measured)
		}
	}
	var extra func(e int)
	extra = func(e int) {
		if e == len(extras) {
			try()
			return
		}
		for o := -1; o < len(p.Extras[e].Options); o++ {
			extras[e] = o
			extra(e + 1)
		}
	}
	var need func(i int)
	need = func(i int) {
		if i == len(options) {
			extra(0)
			return
		}
		for o := range p.Needs[i].Options {
			options[i] = o
			need(i + 1)
		}
	}
	need(0)
	front.sort()
	return front
}

// measure adds a choice up, or reports that it is not allowed.
func measure(p *Problem, order []int, pt Point) (Point, bool) {
	brought, pieces, first := make([]int, len(p.Extras)), map[int]int{}, true
	here := func(offer int) {
		if d := p.Offers[offer].Day; first || d > pt.Day {
			pt.Day, first = d, false
		}
	}
	take := func(o Option, n int) {
		pt.Deviation += o.Deviation
		here(o.Offer)
		if o.First != nil {
			here(o.First.Offer)
			pieces[o.First.Offer] += o.First.Pieces
			n -= o.First.Pieces
		}
		pieces[o.Offer] += n
		for _, b := range o.Brings {
			brought[b.Extra] += b.Pieces
		}
	}
	for i, o := range pt.Options {
		take(p.Needs[i].Options[o], p.Needs[i].Pieces)
	}
	for _, rule := range p.Rules {
		var marks []int
		for k, i := range rule.Needs {
			marks = append(marks, rule.Marks[k][pt.Options[i]])
		}
		ruling := rule.Judge(marks)
		if ruling.Stops {
			return pt, false
		}
		pt.Deviation += ruling.Deviation
		for _, b := range ruling.Brings {
			brought[b.Extra] += b.Pieces
		}
	}
	for _, e := range order {
		if (pt.Extras[e] >= 0) != (brought[e] > 0) {
			return pt, false
		}
		if pt.Extras[e] >= 0 {
			take(p.Extras[e].Options[pt.Extras[e]], brought[e])
		}
	}
	var ok bool
	if pt.Cost, ok = p.landed(pieces); !ok {
		return pt, false
	}
	return pt, (p.MostCost == nil || pt.Cost <= *p.MostCost) && (p.LatestDay == nil || pt.Day <= *p.LatestDay) && (p.MostDeviation == nil || pt.Deviation <= *p.MostDeviation)
}

// smallShape is a random small problem's shape, with every feature now and then.
func smallShape(r *rand.Rand) shape {
	return shape{
		needs: 1 + r.IntN(4), options: 1 + r.IntN(5), suppliers: 1 + r.IntN(4), values: []int{1 + r.IntN(3), 1 + r.IntN(3)},
		extraLinks: 0.3, paid: float64(r.IntN(3)) / 2, shared: float64(r.IntN(3)) / 4, minimum: float64(r.IntN(3)) / 4,
		packs: r.IntN(2) == 0, wide: r.IntN(2) == 0, extras: r.IntN(3), least: r.IntN(2) == 0,
	}
}

func limitAtRandom(r *rand.Rand, p *Problem) {
	if r.IntN(4) == 0 {
		cost := int64(1000 + r.IntN(30000))
		p.MostCost = &cost
	}
	if r.IntN(4) == 0 {
		day := r.IntN(20)
		p.LatestDay = &day
	}
	if r.IntN(4) == 0 {
		deviation := int64(r.IntN(6))
		p.MostDeviation = &deviation
	}
	if r.IntN(4) == 0 {
		p.MostSuppliers = 1 + r.IntN(2)
	}
}

func TestSolveAgainstEveryCombination(t *testing.T) {
	points := 0
	for seed := range uint64(1000) {
		r := rand.New(rand.NewPCG(seed, 5))
		p := generate(seed, smallShape(r))
		limitAtRandom(r, p)
		want := enumerate(p)
		got := verified(t, p)
		require.Equal(t, figures(want), figures(got.Front), "seed %d", seed)
		points += len(want)

		cheap, err := Cheapest(context.Background(), p)
		require.NoError(t, err)
		any, err := Any(context.Background(), p)
		require.NoError(t, err)
		require.Equal(t, len(want) > 0, len(any.Front) > 0, "seed %d", seed)
		if len(want) > 0 {
			require.Equal(t, want[0].Cost, cheap.Front[0].Cost, "seed %d", seed)
			require.NoError(t, p.Verify(cheap.Front[0]))
			require.NoError(t, p.Verify(any.Front[0]))
		}
	}
	require.Greater(t, points, 1500, "the instances are not all trivial")
	t.Logf("1000 small problems, %d points, equal to every combination", points)
}

// Carriage that may turn out free is what bounds get wrong most easily.
func TestSolveWithCarriagePaidLevels(t *testing.T) {
	for seed := range uint64(1500) {
		r := rand.New(rand.NewPCG(seed+5000, 5))
		sh := smallShape(r)
		sh.paid, sh.shared, sh.extras, sh.minimum = 1, 0, 0, float64(r.IntN(2))/3
		sh.needs, sh.options, sh.suppliers = 3+r.IntN(3), 2+r.IntN(4), 1+r.IntN(3)
		p := generate(seed+5000, sh)
		for s := range p.Suppliers {
			p.Suppliers[s].PaidAt = 1000 + r.Int64N(9000)
		}
		limitAtRandom(r, p)
		require.Equal(t, figures(enumerate(p)), figures(verified(t, p).Front), "seed %d", seed)
	}
}

// A search that is stopped says so, and what it says holds all the same.
func TestStoppedSearchIsHonest(t *testing.T) {
	p := generate(1, sizes[1].shape)
	full := verified(t, p)
	stopped, proven, partial := 0, 0, false
	patient := &expiring{Context: context.Background(), left: math.MaxInt64}
	_, err := Solve(patient, p)
	require.NoError(t, err)
	all := math.MaxInt64 - patient.left
	for part := range int64(21) {
		looks := all * part / 20
		ctx := &expiring{Context: context.Background(), left: looks}
		r, err := Solve(ctx, p)
		require.NoError(t, err)
		for _, pt := range r.Front {
			require.NoError(t, p.Verify(pt))
			require.GreaterOrEqual(t, pt.Cost, r.Bound)
		}
		require.LessOrEqual(t, r.Bound, full.Front[0].Cost)
		require.Equal(t, ctx.left >= 0, r.Proven)
		require.GreaterOrEqual(t, ctx.left, int64(-1), "an ended context is not asked again: there was nothing left to do")
		if r.Proven {
			proven++
			require.Equal(t, figures(full.Front), figures(r.Front))
		} else {
			stopped++
			partial = partial || len(r.Front) > 0
		}
	}
	require.Positive(t, stopped)
	require.Positive(t, proven)
	require.True(t, partial, "some searches stop with points in hand")
}

// A deadline that passes while the rules are asked, or the bounds prepared, ends the work there and then.
func TestDeadlineDuringPreparation(t *testing.T) {
	const needs, options = 4, 60
	asked := 0
	p := &Problem{}
	for i := range needs {
		n := Need{Name: string(rune('a' + i)), Pieces: 1}
		for o := range options {
			n.Options = append(n.Options, Option{Offer: len(p.Offers)})
			p.Offers = append(p.Offers, supply.Offer{Supplier: supply.Shelf, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: int64(100 + o)}}})
		}
		p.Needs = append(p.Needs, n)
	}
	var marks []int
	for o := range options {
		marks = append(marks, o)
	}
	for i := range needs {
		for j := range i {
			p.Rules = append(p.Rules, Rule{Needs: []int{j, i}, Marks: [][]int{marks, marks}, Judge: func(m []int) Ruling {
				asked++
				return Ruling{Stops: (m[0]+m[1])%7 == 3}
			}})
		}
	}
	patient := &expiring{Context: context.Background(), left: math.MaxInt64}
	r, err := Solve(patient, p)
	require.NoError(t, err)
	require.True(t, r.Proven)
	require.Equal(t, 6*options*options, asked)
	looks := math.MaxInt64 - patient.left

	ended, cancel := context.WithCancel(context.Background())
	cancel()
	asked = 0
	r, err = Solve(ended, p)
	require.NoError(t, err)
	require.Equal(t, Result{}, r)
	require.Zero(t, asked)

	for after := int64(0); after < looks; after += 1 + looks/60 {
		asked = 0
		ctx := &expiring{Context: context.Background(), left: after}
		r, err := Solve(ctx, p)
		require.NoError(t, err)
		require.False(t, r.Proven)
		require.Equal(t, int64(-1), ctx.left)
		require.LessOrEqual(t, asked, int(after)*options, "no more than a row of a table is asked about between two looks")
		require.LessOrEqual(t, r.Bound, int64(needs*100+10))
	}
}

// expiring is a context that ends after it was asked so many times: a deadline that no clock disturbs.
type expiring struct {
	context.Context
	left int64
}

func (e *expiring) Err() error {
	if e.left--; e.left < 0 {
		return context.DeadlineExceeded
	}
	return nil
}

func TestEqualPointsAreBrokenTheSameWay(t *testing.T) {
	p := generate(3, sizes[0].shape)
	for i := range p.Offers {
		p.Offers[i].Breaks[0].Price = p.Offers[i].Breaks[0].Price / 500 * 500
	}
	for s := range p.Suppliers {
		p.Suppliers[s].Carriage = 500
	}
	once := verified(t, p)
	for range 3 {
		require.Equal(t, once, verified(t, p))
	}
}
