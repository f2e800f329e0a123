package orderplan

import (
	"fmt"
	"math/rand/v2"

	"stead/substitution/supply"
)

// kind is a family of random instances after the literature on internet
// shopping: fixed carriage only, carriage-paid levels, or everything.
type kind string

const (
	fix  kind = "fix"
	thr  kind = "thr"
	full kind = "full"
)

// generate makes the instance of a seed. Each line is offered by each supplier
// with probability 0.6 and by two at least; price = base (3.00 to 90.00) times
// the supplier's level (0.9 to 1.1) times noise (0.85 to 1.15); carriage 4.00 to
// 15.00; the carriage-paid level is the average spend a supplier times 0.5 to
// 2.5. The full family adds needs up to 20, packs of 1, 2, 5 and 10, up to two
// tiers and minimum orders of 0, 20 and 50 pounds.
func generate(k kind, lines, suppliers int, seed uint64) Problem {
	r := rand.New(rand.NewPCG(seed, uint64(lines*1000+suppliers)))
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	var p Problem
	level := make([]float64, suppliers)
	for s := range suppliers {
		level[s] = between(0.9, 1.1)
		p.Suppliers = append(p.Suppliers, Supplier{fmt.Sprintf("s%d", s), supply.Supplier{Carriage: int64(between(400, 1500))}})
	}
	spend := 0.0
	for l := range lines {
		need := 1
		if k == full {
			need = []int{1, 1, 1, 2, 3, 8, 12, 20}[r.IntN(8)]
		}
		most := need
		base := between(300, 9000)
		chosen := map[int]bool{}
		for s := range suppliers {
			chosen[s] = r.Float64() < 0.6
		}
		for len(trueKeys(chosen)) < min(2, suppliers) {
			chosen[r.IntN(suppliers)] = true
		}
		for s := range suppliers {
			if !chosen[s] {
				continue
			}
			price := base * level[s] * between(0.85, 1.15)
			o := Offer{l, supply.Offer{Supplier: s, Pack: 1, Day: Undated}}
			if k == full {
				packs := []int{1, 1, 1, 2, 5, 10}
				for o.Pack = packs[r.IntN(6)]; o.Pack > 2*need; {
					o.Pack = packs[r.IntN(6)]
				}
			}
			tiers := []supply.Tier{{From: o.Pack, Price: int64(price)}}
			if k == full && r.Float64() < 0.4 {
				tier := o.Pack * (2 + r.IntN(4))
				tiers = append(tiers, supply.Tier{From: tier, Price: int64(price * between(0.86, 0.97))})
				if tier <= 2*need {
					most = max(most, tier)
				}
			}
			o.Breaks = breaks(tiers, o.Pack)
			most = max(most, (need+o.Pack-1)/o.Pack*o.Pack)
			p.Offers = append(p.Offers, o)
		}
		spend += base * float64(need)
		p.Lines = append(p.Lines, Line{ID: fmt.Sprintf("L%d", l), Need: need, Max: most})
	}
	for s := range suppliers {
		minimum := int64(0)
		if k == full {
			minimum = []int64{0, 0, 2000, 5000}[r.IntN(4)]
		}
		p.Suppliers[s].MinimumOrder = minimum
		if k != fix {
			at := max(minimum, int64(spend/float64(suppliers)*between(0.5, 2.5))/500*500)
			p.Suppliers[s].PaidAt = at
		}
	}
	return p
}

func trueKeys(m map[int]bool) (keys []int) {
	for k, v := range m {
		if v {
			keys = append(keys, k)
		}
	}
	return keys
}

// generateSmall makes a tiny instance with every feature, in small numbers so
// that ties, tight levels and infeasible minimum orders are common. intN draws
// a number from 0 to n-1.
func generateSmall(intN func(n int) int, lines, suppliers int) Problem {
	var p Problem
	p.NoSplit = intN(5) == 0
	for s := range suppliers {
		u := Supplier{fmt.Sprintf("s%d", s), supply.Supplier{Carriage: int64(intN(12))}}
		if intN(3) == 0 {
			u.MinimumOrder = int64(intN(40))
		}
		if intN(3) > 0 {
			at := u.MinimumOrder + int64(intN(60))
			if u.PaidAt = at; at == 0 {
				u.Carriage = 0 // every order reaches that level
			}
		}
		p.Suppliers = append(p.Suppliers, u)
	}
	for l := range lines {
		line := Line{ID: fmt.Sprintf("L%d", l), Need: intN(5)}
		line.Max = line.Need + intN(4)
		if intN(4) == 0 {
			due := 3 + intN(3)
			line.DueDay = &due
		}
		p.Lines = append(p.Lines, line)
		base := 1 + intN(12)
		for s := range suppliers {
			for range []int{1, 1, 1, 0, 2}[intN(5)] {
				o := Offer{l, supply.Offer{Supplier: s, Pack: 1 + intN(3), Day: Undated}}
				eachItsOwn := intN(2) == 0
				if intN(2) == 0 {
					o.Day = intN(5)
				}
				from, price := intN(3), int64(base+intN(6))
				for range 1 + intN(3) {
					o.Tiers = append(o.Tiers, supply.Tier{From: from, Price: price})
					from += 1 + intN(3)
					price = max(0, price-int64(intN(4)))
				}
				if !eachItsOwn {
					o.Breaks, o.Tiers = breaks(o.Tiers, o.Pack), nil
				}
				p.Offers = append(p.Offers, o)
			}
		}
	}
	return p
}
