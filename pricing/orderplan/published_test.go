package orderplan

import (
	"context"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution/supply"
)

func solve(t testing.TB, p Problem) Plan {
	t.Helper()
	plan, err := Solve(context.Background(), p)
	require.NoError(t, err)
	require.True(t, plan.Proven)
	require.NoError(t, Check(p, plan))
	return plan
}

// The 10 × 10 example of the problem page "Optimal Internet shopping" of
// solve.club: ten books, ten shops, delivery 4 a shop; published answer 149. It
// is an instance of the internet shopping optimization problem of Blazewicz,
// Kovalyov, Musial, Urbanski, Wojciechowski, Int. J. Appl. Math. Comput. Sci.
// 20(2), 2010, 385-390. Two sets of shops reach it: only the cost is compared.
func TestInternetShopping10x10(t *testing.T) {
	prices := strings.Fields(`
		13 19 16 19 19 18 17 16 15 14
		18 13 17 14 15 16 15 17 18 17
		17 14 13 17 16 18 16 17 18 17
		19 18 17 13 16 15 15 16 17 14
		16 14 17 18 13 16 15 16 17 16
		17 17 16 14 15 13 16 17 18 16
		17 14 16 17 15 16 13 18 19 17
		17 16 15 14 17 16 15 13 15 15
		15 15 16 18 17 15 16 15 13 14
		16 14 16 18 17 17 15 16 18 13`)
	var p Problem
	for i := range 10 {
		id := fmt.Sprint(i + 1)
		p.Suppliers = append(p.Suppliers, Supplier{id, supply.Supplier{Carriage: 4}})
		p.Lines = append(p.Lines, Line{ID: id, Need: 1, Max: 1})
	}
	for i, text := range prices {
		price, err := strconv.ParseInt(text, 10, 64)
		require.NoError(t, err)
		p.Offers = append(p.Offers, Offer{i / 10, supply.Offer{Supplier: i % 10, Pack: 1, Day: Undated,
			Breaks: []supply.Break{{Packs: 1, Price: price}}}})
	}
	require.EqualValues(t, 149, solve(t, p).Total)
}

// Made for this project: 12 lines, 5 suppliers, carriage-paid levels. The
// optimum was agreed by brute force over 1,658,880 assignments, HiGHS, glpsol,
// cbc and lp_solve.
func TestCarriagePaid12x5(t *testing.T) {
	p := suppliers("653 857 526 1212 501", "20500 5000 18500 9000 6500", "")
	for i, text := range strings.Split(`s0:5761 s1:4926 s3:5599 s4:5188 | s0:2804 s1:2497 s3:2565 s4:3212 | s1:6611 s2:5818 s3:7626 |
		s0:927 s1:1047 s3:1159 s4:1187 | s1:1340 s3:1612 s4:1794 | s0:2086 s2:1854 | s0:5589 s1:5089 s3:5376 s4:7241 |
		s0:1214 s1:1159 s2:1279 s4:1459 | s1:8953 s2:7079 s3:7658 | s0:3206 s1:3403 s2:3367 s3:3834 s4:4619 | s1:935 s4:1055 | s2:1631 s3:1461 s4:1583`, "|") {
		p.Lines = append(p.Lines, Line{ID: fmt.Sprintf("L%d", i), Need: 1, Max: 1})
		for _, offer := range strings.Fields(text) {
			s, price, _ := strings.Cut(offer, ":")
			p.Offers = append(p.Offers, listed(t, i, s+"/1:1@"+price))
		}
	}
	plan := solve(t, p)
	require.EqualValues(t, 36742, plan.Total)
	require.Equal(t, []SupplierTotal{{1, "s1", 16993, 0}, {2, "s2", 19749, 0}}, plan.Suppliers)
}

// Made for this project: 12 lines, 5 suppliers, packs, price breaks on all
// units, minimum order, carriage-paid levels; HiGHS, glpsol, cbc and lp_solve
// agree on the optimum. There, each offer has its own cap on units (whole packs
// of the need, or the last tier's minimum); here a line has one, the largest of
// its offers' caps.
func TestFull12x5(t *testing.T) {
	p := suppliers("993 1258 695 641 1031", "101000 116500 44000 102500 54500", "0 0 0 0 5000")
	need := []int{1, 3, 20, 1, 20, 20, 8, 1, 3, 1, 12, 2}
	for i, text := range strings.Split(`s1/1:1@4815 s2/1:1@4751 s3/2:2@6141,4@5469 s4/1:1@5824,6@5346 | s1/1:1@2411 s2/2:2@2605,4@2513 | s0/2:2@7666,6@7358 s2/2:2@5928,10@5279 |
		s0/1:1@1196,6@1111 s2/2:2@1116 s3/2:2@1003 s4/2:2@1226 | s0/1:1@1505,5@1381 s1/5:5@1304,10@1228 s2/5:5@1370 s3/2:2@1568 s4/10:10@1716 |
		s0/1:1@1581,5@1439 s1/1:1@1457 s2/1:1@1709 s4/1:1@1709 | s0/2:2@6857,6@6087 s1/1:1@5063 s2/10:10@5738,20@5155 s3/1:1@7036,10@6770 s4/1:1@7221 |
		s2/1:1@1241 s3/1:1@1272 s4/1:1@1458,6@1329 | s0/2:2@9662 s1/1:1@8398 s2/1:1@7586,6@6809 s3/5:5@7730 | s1/1:1@3838 s3/1:1@4077,5@3746 |
		s1/1:1@896 s4/1:1@877,10@843 | s1/5:5@1399,10@1331 s2/1:1@1674`, "|") {
		line := Line{ID: fmt.Sprintf("L%d", i), Need: need[i]}
		for _, text := range strings.Fields(text) {
			o := listed(t, i, text)
			line.Max = max(line.Max, (line.Need+o.Pack-1)/o.Pack*o.Pack, o.Breaks[len(o.Breaks)-1].Packs*o.Pack)
			p.Offers = append(p.Offers, o)
		}
		p.Lines = append(p.Lines, line)
	}
	require.EqualValues(t, 255958, solve(t, p).Total)
}

// Made for this project, brute force over eight assignments: all from Y reaches
// the carriage-paid level.
func TestThreeLines(t *testing.T) {
	p := suppliers("600 600", "5000 5000", "")
	for i, text := range []string{"s0/1:1@1000 s1/1:1@900", "s0/1:1@2000 s1/1:1@2100", "s0/1:1@3000 s1/1:1@2900"} {
		p.Lines = append(p.Lines, Line{ID: fmt.Sprintf("L%d", i), Need: 1, Max: 1})
		for _, offer := range strings.Fields(text) {
			p.Offers = append(p.Offers, listed(t, i, offer))
		}
	}
	plan := solve(t, p)
	require.EqualValues(t, 5900, plan.Total)
	require.Equal(t, []SupplierTotal{{1, "s1", 5900, 0}}, plan.Suppliers)
	for supplier, want := range map[int]int64{0: 6000, 1: 5900} {
		pinned, err := PinnedOnly(context.Background(), p, supplier)
		require.NoError(t, err)
		require.Equal(t, want, pinned.Total)
	}
}

// Wagner and Whitin's lots ("Dynamic version of the economic lot size model", Management Science 5, 1958), in example
// 3.9 of Snyder and Shen, "Fundamentals of Supply Chain Theory", 2nd ed., Wiley 2019: demands of 90, 120, 80 and 70 in
// four periods, 500 an order and 2 to hold a piece for a period. It is the question that this package answers: an order
// of a period is a supplier that asks 500 for the parcel, and a piece for a later period costs from it what holding it
// until then does. Ordering from each period on costs 1380, 940, 640 and 500.
func TestWagnerWhitinLots(t *testing.T) {
	demand := []int{90, 120, 80, 70}
	for from, want := range []int64{1380, 940, 640, 500} {
		p := Problem{}
		for period := from; period < len(demand); period++ {
			p.Suppliers = append(p.Suppliers, Supplier{fmt.Sprint(period + 1), supply.Supplier{Carriage: 500}})
			p.Lines = append(p.Lines, Line{ID: fmt.Sprint(period + 1), Need: demand[period], Max: demand[period]})
			for ordered := from; ordered <= period; ordered++ {
				p.Offers = append(p.Offers, Offer{period - from, supply.Offer{Supplier: ordered - from, Pack: 1, Day: Undated,
					Breaks: []supply.Break{{Packs: 1, Price: int64(2 * (period - ordered))}}}})
			}
		}
		plan := solve(t, p)
		require.Equal(t, want, plan.Total)
		if from == 0 {
			ordered := map[string]int{}
			for _, l := range plan.Lines {
				ordered[l.Supplier] += l.Units
			}
			require.Equal(t, map[string]int{"1": 210, "3": 150}, ordered)
		}
	}
}

// The two vendors of model QdiscSupL in the LINDO Systems model library: vendor A
// discounts all units, vendor B incrementally; 6000 units are needed. Buying
// 7500 from A costs less than 6000.
func TestQuantityDiscountVendors(t *testing.T) {
	p := suppliers("0 0", "", "")
	p.Lines = []Line{{ID: "part", Need: 6000, Max: 7500}}
	p.Offers = []Offer{listed(t, 0, "s0/1:0@9,1000@8,2500@7,7500@5,15000@3"), tiered(t, 0, "s1/1:0@8,1200@7,3000@6,7500@4,14000@2")}
	plan := solve(t, p)
	require.EqualValues(t, 37500, plan.Total)
	require.Equal(t, []Purchase{{0, 0, "part", "s0", 7500, 37500}}, plan.Lines)

	p.Lines[0].Max = 6000
	plan = solve(t, p)
	require.EqualValues(t, 40200, plan.Total)
	require.Equal(t, []Purchase{{0, 1, "part", "s1", 6000, 40200}}, plan.Lines)
}

// suppliers makes suppliers s0, s1, … with carriages, levels and minimum orders.
func suppliers(carriage, paidAt, minimum string) (p Problem) {
	for i, text := range strings.Fields(carriage) {
		s := Supplier{fmt.Sprintf("s%d", i), supply.Supplier{Carriage: number(text)}}
		if levels := strings.Fields(paidAt); len(levels) > 0 {
			s.PaidAt = number(levels[i])
		}
		if minimums := strings.Fields(minimum); len(minimums) > 0 {
			s.MinimumOrder = number(minimums[i])
		}
		p.Suppliers = append(p.Suppliers, s)
	}
	return p
}

var listedForm = regexp.MustCompile(`^s(\d+)/(\d+):(.+)$`)

// listed reads an offer written supplier/pack:quantity@price,quantity@price.
func listed(t testing.TB, line int, text string) Offer {
	o := tiered(t, line, text)
	o.Breaks, o.Tiers = breaks(o.Tiers, o.Pack), nil
	return o
}

// tiered reads the same as an offer of which each unit costs the price of its tier.
func tiered(t testing.TB, line int, text string) Offer {
	m := listedForm.FindStringSubmatch(text)
	require.NotNil(t, m, text)
	o := Offer{line, supply.Offer{Supplier: int(number(m[1])), Pack: int(number(m[2])), Day: Undated}}
	for _, b := range strings.Split(m[3], ",") {
		from, price, _ := strings.Cut(b, "@")
		o.Tiers = append(o.Tiers, supply.Tier{From: int(number(from)), Price: number(price)})
	}
	return o
}

func number(text string) int64 {
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		panic(err)
	}
	return n
}

// With nothing to buy, or nothing that must be bought, the cheapest order is none.
func TestNothingNeeded(t *testing.T) {
	for name, p := range map[string]Problem{
		"no lines":      {},
		"no need":       {Lines: []Line{{ID: "cable", Max: 10}}, Suppliers: suppliers("500", "", "").Suppliers, Offers: []Offer{listed(t, 0, "s0/1:1@20")}},
		"nobody sells":  {Lines: []Line{{ID: "cable", Max: 10}}},
		"free of price": {Lines: []Line{{ID: "cable", Max: 10}}, Suppliers: suppliers("0", "", "").Suppliers, Offers: []Offer{listed(t, 0, "s0/1:1@0")}},
	} {
		t.Run(name, func(t *testing.T) {
			plan := solve(t, p)
			require.Zero(t, plan.Total)
			require.Empty(t, plan.Lines)
			require.Empty(t, plan.Suppliers)
		})
	}
}
