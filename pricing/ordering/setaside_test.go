package ordering

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/inventory"
	"stead/pricing/orderplan"
	"stead/substitution/supply"

	_ "stead/testdata/drawn" // the same values in every run
)

// wants are lines of a problem by name; those with a day are jobs'.
func wants(days map[string]*int, names ...string) (p posed) {
	for i, name := range names {
		d := &Demand{Part: inventory.Part{ID: int64(i + 1)}, ForShelf: 1}
		d.Part.Name = name
		day, job := days[name]
		if job {
			d.ForJobs, d.ForShelf, d.Claims = 1, 0, []inventory.Claim{{JobID: int64(100 + i)}}
		}
		p.demands = append(p.demands, d)
		p.Lines = append(p.Lines, orderplan.Line{ID: name, Need: 1, Max: 1, DueDay: day})
	}
	return p
}

// sells adds an offer of a line at a price.
func (p *posed) sells(supplier, line int, price int64) {
	p.Offers = append(p.Offers, orderplan.Offer{Line: line, Offer: supply.Offer{Supplier: supplier, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: price}}}})
	p.offers = append(p.offers, dated{})
}

func TestLeastUrgent(t *testing.T) {
	day := func(n int) *int { return &n }
	p := wants(map[string]*int{"friday": day(4), "monday": day(7), "any day": nil}, "friday", "monday", "any day", "shelf")
	p.Suppliers = []orderplan.Supplier{{ID: "a"}, {ID: "b"}, {ID: "c"}}
	p.sells(0, 0, 1)
	p.sells(0, 1, 1)
	p.sells(0, 3, 1)
	p.sells(1, 2, 1)
	for _, c := range []struct {
		name     string
		supplier int
		line     string
	}{
		{"what no day is promised for", -1, "any day"},
		{"else what is due last", 0, "monday"},
		{"a supplier that offers nothing of it", 2, "any day"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.line, p.Lines[p.leastUrgent(c.supplier)].ID)
		})
	}
}

// A job's part and one for the shelf that two suppliers sell, each alone, ask for a third to reach either's minimum order.
func TestTheShelfGivesWayToAJob(t *testing.T) {
	for _, job := range []string{"ring", "chain"} {
		t.Run(job, func(t *testing.T) {
			p := wants(map[string]*int{job: nil}, "ring", "chain", "pads")
			p.Suppliers = []orderplan.Supplier{{ID: "a", Supplier: supply.Supplier{MinimumOrder: 15}}, {ID: "b", Supplier: supply.Supplier{MinimumOrder: 15}}}
			p.sells(0, 0, 8)
			p.sells(1, 1, 8)
			p.sells(0, 2, 8)
			p.sells(1, 2, 8)
			list := List{}
			plan, err := bench{deliveries: &inventory.Deliveries{}}.setAside(t.Context(), &p, &list)
			require.NoError(t, err)
			require.True(t, plan.Proven)
			require.Len(t, list.Waiting, 1)
			require.Empty(t, list.Waiting[0].Jobs)
			require.Len(t, plan.Lines, 2)
		})
	}
}

// What jobs can have with no regard to the shelf they have beside it, and nothing is set aside that need not be.
func TestNoJobWaitsForTheShelf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := func(from, to int, what string) int { return rapid.IntRange(from, to).Draw(t, what) }
		jobs, names := map[string]*int{}, []string{}
		for i := range n(3, 7, "lines") {
			names = append(names, fmt.Sprint("part ", i))
			if n(0, 2, "job") == 0 {
				jobs[names[i]] = nil
			}
		}
		p := wants(jobs, names...)
		suppliers := n(2, 3, "suppliers")
		for s := range suppliers {
			p.Suppliers = append(p.Suppliers, orderplan.Supplier{ID: string(rune('a' + s)), Supplier: supply.Supplier{Carriage: 3, MinimumOrder: int64(8 * n(0, 3, "minimum"))}})
		}
		for line := range p.Lines {
			one := n(0, suppliers-1, "sold by")
			for s := range suppliers {
				if s == one || n(0, 2, "by two") == 0 {
					p.sells(s, line, int64(n(4, 10, "price")))
				}
			}
		}
		_, err := orderplan.Solve(t.Context(), p.jobsFirst())
		canHave := !errors.As(err, new(*orderplan.InfeasibleError))
		_, whole := orderplan.Solve(t.Context(), p.Problem)

		rest, list := p, List{}
		plan, err := bench{deliveries: &inventory.Deliveries{}}.setAside(t.Context(), &rest, &list)
		require.NoError(t, err)
		require.NoError(t, orderplan.Check(rest.Problem, plan))
		require.Len(t, rest.Lines, len(p.Lines)-len(list.Waiting)-len(list.Missing))
		if whole == nil {
			require.Len(t, rest.Lines, len(p.Lines), "all of it can be had")
		}
		left := map[string]bool{}
		for _, d := range rest.demands {
			left[d.Part.Name] = true
		}
		for name := range jobs {
			require.True(t, left[name] || !canHave, "%s is a job's", name)
		}
	})
}

func TestOrderListThatWasNotFoundInTime(t *testing.T) {
	err := bench{}.explain(posed{}, &orderplan.UnfinishedError{LowerBound: 123456, Cause: context.DeadlineExceeded})
	require.EqualError(t, err, "planning the orders: no list was found in 20 seconds: order what jobs wait for by hand and plan the rest")
	require.ErrorIs(t, bench{}.explain(posed{}, &orderplan.UnfinishedError{Cause: context.Canceled}), context.Canceled)
}
