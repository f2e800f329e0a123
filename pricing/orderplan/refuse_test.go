package orderplan

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution/supply"
)

// twoByTwo is a sound problem for cases to spoil.
func twoByTwo(t testing.TB) Problem {
	p := suppliers("500 600", "5000 6000", "1000 2000")
	p.Lines = []Line{{ID: "ring", Need: 2, Max: 6}, {ID: "pads", Need: 1, Max: 4}}
	p.Offers = []Offer{
		listed(t, 0, "s0/1:1@1500,4@1400"), listed(t, 0, "s1/2:2@1450"),
		listed(t, 1, "s0/1:1@700"), listed(t, 1, "s1/1:1@650"),
	}
	return p
}

func days(n int) *int { return &n }

func TestFaultyProblems(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(p *Problem)
		kind  error
		names []string
	}{
		"no supplier for a line": {func(p *Problem) { p.Lines = append(p.Lines, Line{ID: "bell", Need: 1, Max: 1}) }, ErrNoOffer, []string{"bell"}},
		"no offer in time": {func(p *Problem) {
			p.Lines[1].DueDay = days(1)
			p.Offers[2].Day, p.Offers[3].Day = 2, 3
		}, ErrNoOfferDue, []string{"pads", "due day 1"}},
		"due day passed":             {func(p *Problem) { p.Lines[0].DueDay = days(-1) }, ErrDuePassed, []string{"ring"}},
		"pack of zero":               {func(p *Problem) { p.Offers[1].Pack = 0 }, ErrPack, []string{"offer 2", "ring", "s1"}},
		"pack below zero":            {func(p *Problem) { p.Offers[1].Pack = -3 }, ErrPack, []string{"offer 2"}},
		"breaks out of order":        {func(p *Problem) { p.Offers[0].Breaks[1].Packs = 1 }, ErrBreakOrder, []string{"offer 1", "ring", "s0", "break 2"}},
		"no breaks":                  {func(p *Problem) { p.Offers[2].Breaks = nil }, ErrNoBreaks, []string{"offer 3", "pads", "s0"}},
		"negative price":             {func(p *Problem) { p.Offers[2].Breaks[0].Price = -1 }, ErrNegative, []string{"offer 3"}},
		"level below minimum order":  {func(p *Problem) { p.Suppliers[1].PaidAt = 1999 }, ErrPaidBelowMin, []string{"s1", "1999", "2000"}},
		"negative carriage":          {func(p *Problem) { p.Suppliers[0].Carriage = -1 }, ErrNegative, []string{"s0"}},
		"line twice":                 {func(p *Problem) { p.Lines[1].ID = "ring" }, ErrDuplicateID, []string{"ring"}},
		"supplier twice":             {func(p *Problem) { p.Suppliers[1].ID = "s0" }, ErrDuplicateID, []string{"s0"}},
		"line without id":            {func(p *Problem) { p.Lines[1].ID = "" }, ErrNoID, []string{"line 2"}},
		"supplier without id":        {func(p *Problem) { p.Suppliers[1].ID = "" }, ErrNoID, []string{"supplier 2"}},
		"offer of no line":           {func(p *Problem) { p.Offers[3].Line = 9 }, ErrUnknownID, []string{"offer 4", "line 9"}},
		"offer of no supplier":       {func(p *Problem) { p.Offers[3].Supplier = supply.Shelf }, ErrUnknownID, []string{"offer 4", "supplier -1"}},
		"negative need":              {func(p *Problem) { p.Lines[0].Need = -1 }, ErrNegative, []string{"ring"}},
		"need above max":             {func(p *Problem) { p.Lines[0].Max = 1 }, ErrNeedAboveMax, []string{"ring", "need 2", "max 1"}},
		"too many units":             {func(p *Problem) { p.Lines[0].Max = MaxUnits + 1 }, ErrTooLarge, []string{"ring"}},
		"price at the integer limit": {func(p *Problem) { p.Offers[0].Breaks[0].Price = math.MaxInt64 }, ErrTooLarge, []string{"offer 1", "ring"}},
		"order past the limit":       {func(p *Problem) { p.Offers[0].Breaks[0].Price = MaxPence/2 + 1 }, ErrTooLarge, []string{"ring"}},
		"carriage at the limit":      {func(p *Problem) { p.Suppliers[0].Carriage = math.MaxInt64 }, ErrTooLarge, []string{"s0"}},
	} {
		t.Run(name, func(t *testing.T) {
			p := twoByTwo(t)
			c.spoil(&p)
			_, err := Solve(context.Background(), p)
			var in *InputError
			require.ErrorAs(t, err, &in)
			require.ErrorIs(t, err, c.kind)
			for _, n := range c.names {
				require.ErrorContains(t, err, n)
			}
		})
	}
}

func TestInfeasibleProblems(t *testing.T) {
	for name, c := range map[string]struct {
		spoil          func(p *Problem)
		line, supplier string
	}{
		"packs miss the window": {func(p *Problem) {
			p.Lines[0].Need, p.Lines[0].Max = 3, 4
			p.Offers = []Offer{p.Offers[1], p.Offers[2], p.Offers[3]}
			p.Offers[0].Pack = 5
		}, "ring", ""},
		"minimum order out of reach of every line": {func(p *Problem) {
			p.Suppliers[1].MinimumOrder, p.Suppliers[1].PaidAt = 100_000, 0
			p.Offers = []Offer{p.Offers[0], p.Offers[3]}
		}, "pads", "s1"},
		"two minimum orders, enough for one": {func(p *Problem) {
			// Bells come from s0 only, pads from s1 only; the six rings that may be
			// bought bring one of them up to its minimum order, not both.
			p.Suppliers[0].MinimumOrder, p.Suppliers[0].PaidAt = 8000, 0
			p.Suppliers[1].MinimumOrder, p.Suppliers[1].PaidAt = 8000, 0
			p.Lines = append(p.Lines, Line{ID: "bell", Need: 1, Max: 2})
			p.Offers = []Offer{p.Offers[0], p.Offers[1], p.Offers[3], listed(t, 2, "s0/1:1@1000")}
		}, "bell", "s0"},
		"splitting forbidden": {func(p *Problem) {
			p.NoSplit = true
			p.Lines[0].Need = 4
			p.Offers[0].Breaks = p.Offers[0].Breaks[:1]
			p.Offers[0].Pack, p.Offers[1].Pack = 3, 3
			p.Lines[0].Max = 5
		}, "ring", ""},
	} {
		t.Run(name, func(t *testing.T) {
			p := twoByTwo(t)
			c.spoil(&p)
			_, err := Solve(context.Background(), p)
			var no *InfeasibleError
			require.ErrorAs(t, err, &no)
			require.Equal(t, c.line, no.Line, "%v", err)
			require.Equal(t, c.supplier, no.Supplier, "%v", err)
		})
	}
}

func TestCost(t *testing.T) {
	for name, c := range map[string]struct {
		offer Offer
		units int
		want  int64 // -1: not sold
	}{
		"all units, below the break":           {listed(t, 0, "s0/1:1@10,5@8"), 4, 40},
		"all units, at the break":              {listed(t, 0, "s0/1:1@10,5@8"), 5, 40},
		"half a pack":                          {listed(t, 0, "s0/2:2@10"), 3, -1},
		"below the least sold":                 {listed(t, 0, "s0/1:3@10"), 2, -1},
		"none":                                 {listed(t, 0, "s0/1:0@10"), 0, -1},
		"incremental counted from 1, below":    {tiered(t, 0, "s0/1:1@10,5@8"), 4, 40},
		"incremental counted from 1, at":       {tiered(t, 0, "s0/1:1@10,5@8"), 5, 48},
		"incremental counted from 1, third":    {tiered(t, 0, "s0/1:1@10,5@8,8@5"), 9, 40 + 24 + 10},
		"incremental counted from 0, at":       {tiered(t, 0, "s0/1:0@10,5@8"), 5, 50},
		"incremental counted from 0, above":    {tiered(t, 0, "s0/1:0@10,5@8"), 6, 58},
		"incremental with a least quantity":    {tiered(t, 0, "s0/1:3@10,5@8"), 6, 40 + 16},
		"incremental, packs across the border": {tiered(t, 0, "s0/4:4@10,6@8"), 8, 50 + 24},
	} {
		t.Run(name, func(t *testing.T) {
			got, ok := c.offer.cost(c.units)
			require.Equal(t, c.want >= 0, ok)
			if ok {
				require.Equal(t, c.want, got)
			}
		})
	}
}
