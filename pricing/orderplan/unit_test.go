package orderplan

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution/supply"
)

// each is a problem of so many lines, one piece of each, that two suppliers sell at prices of their own.
func each(lines int, price func(line, supplier int) int64) (p Problem) {
	p.Suppliers = []Supplier{{ID: "a"}, {ID: "b"}}
	for l := range lines {
		p.Lines = append(p.Lines, Line{ID: fmt.Sprint(l), Need: 1, Max: 1})
		for s := range p.Suppliers {
			p.Offers = append(p.Offers, Offer{Line: l, Offer: supply.Offer{Supplier: s, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: price(l, s)}}}})
		}
	}
	return p
}

// Amounts so large that rounding them counts for more than one are added up in whole numbers, and the plan is proven.
func TestLargeSumsAreProven(t *testing.T) {
	p := each(30, func(line, supplier int) int64 { return 10_000_000_019 + int64(line*977+supplier*(line-15)*13) })
	plan, err := Solve(&endsWhenAsked{context.Background(), 5000}, p)
	require.NoError(t, err)
	require.True(t, plan.Proven, "gap %d", plan.Gap())
	require.EqualValues(t, plan.Total, plan.Certificate.Bound)
	require.NoError(t, Check(p, plan))
	plan.Certificate.Bound++
	require.Error(t, checkCertificate(p, plan.Certificate), "a penny more")
}

// An order that passes the largest sum in the unit that it is given in, and not in pence.
func TestAmountsAreCountedInTheirOwnUnit(t *testing.T) {
	const fine = 10_000 // parts of a penny
	price := func(line, supplier int) int64 { return fine * (9_000_000 + int64(line+supplier)) }
	p := each(200, price)
	require.Greater(t, 200*price(0, 0), int64(MaxPence))
	require.EqualValues(t, fine, p.unit())
	plan := solve(t, p)
	require.EqualValues(t, fine*(200*9_000_000+199*200/2), plan.Total)
	require.Equal(t, plan.Total, plan.Suppliers[0].Goods)

	p.Offers[0].Breaks[0].Price++
	_, err := Solve(context.Background(), p)
	require.ErrorIs(t, err, ErrTooLarge, "amounts that have no unit in common")
}

// What one supplier alone sells is never bought in parts, and neither is what may not be split: only quantities that cover
// it count.
func TestQuantitiesThatCover(t *testing.T) {
	for _, c := range []struct {
		name    string
		split   bool
		one     bool // both offers are one supplier's
		refuses string
	}{
		{"sold by one", true, true, ""},
		{"sold by two", true, false, "of this line 30000"},
		{"sold by two and not split", false, false, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := each(20, func(line, supplier int) int64 { return int64(5 + line) })
			p.NoSplit = !c.split
			for l := range p.Lines {
				p.Lines[l].Need, p.Lines[l].Max = 14_900, 15_000
			}
			for o := range p.Offers {
				p.Offers[o].Supplier %= map[bool]int{true: 1, false: 2}[c.one]
			}
			if c.refuses == "" {
				require.NoError(t, p.Validate())
				return
			}
			err := p.Validate()
			require.ErrorIs(t, err, ErrTooLarge)
			require.ErrorContains(t, err, c.refuses)
		})
	}
}

// Of lines that are more than one plan holds those that come first have room, and a line that alone is too much has none.
func TestRoom(t *testing.T) {
	p := each(5, func(line, supplier int) int64 { return int64(5 + line) })
	for l, most := range []int{20_000, MaxUnits + 1, 10_000, 20_000, 1} {
		p.Lines[l].Need, p.Lines[l].Max = most, most
	}
	// 23 times 20,000 quantities of the first line, and twice 10,000 of the third.
	for len(p.Offers) < 10+21 {
		p.Offers = append(p.Offers, p.Offers[0])
	}
	for _, c := range []struct {
		order         []int
		beside, alone []bool
	}{
		{[]int{0, 1, 2, 3, 4}, []bool{true, false, true, false, true}, []bool{true, false, true, true, true}},
		{[]int{3, 2, 0, 4}, []bool{false, false, true, true, true}, []bool{true, false, true, true, true}},
	} {
		beside, alone := p.Room(c.order)
		require.Equal(t, c.beside, beside, c.order)
		require.Equal(t, c.alone, alone, c.order)
	}
}
