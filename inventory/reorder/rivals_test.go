package reorder

import (
	"math"
	"math/rand/v2"
	"slices"

	"github.com/shopspring/decimal"
)

// periodsOf counts the pieces of each whole period up to now, from the first sale's period on.
func periodsOf(sales []Sale, from, now int) []int {
	counts := make([]int, max(0, now/daysPerPeriod-from/daysPerPeriod))
	for _, s := range sales {
		if i := s.Day/daysPerPeriod - from/daysPerPeriod; i >= 0 && i < len(counts) {
			counts[i] += s.Pieces
		}
	}
	return counts
}

// eoq is how many pieces at a time cost least.
func eoq(perDay, price float64, w *World) int {
	return max(1, int(math.Round(math.Sqrt(2*w.LineCost*perDay*WorkingDaysPerYear/(w.Holding*price)))))
}

// moments of a supplier's receipts.
func moments(receipts []int) (mean, variance float64) {
	n := float64(len(receipts))
	for _, d := range receipts {
		mean += float64(d) / n
	}
	for _, d := range receipts {
		variance += (float64(d) - mean) * (float64(d) - mean) / (n - 1)
	}
	return mean, variance
}

// today is the rule of one part at a time: counts from the start of the books, or from the period of the first sale.
func today(target float64, firstSale bool) Rule {
	return func(b Books) []Keep {
		levels := make([]Keep, len(b.Items))
		policy := defaultPolicy(decimal.NewFromFloat(b.LineCost))
		policy.FillTarget = target
		for i, item := range b.Items {
			sales := b.Known(i)
			if len(sales) == 0 {
				continue
			}
			from := 0
			if firstSale {
				from = sales[0].Day
			}
			mean, variance := item.Lead.Moments()
			a, err := policy.Advise(part{Name: item.Name, Counts: periodsOf(sales, from, b.Now), PeriodDays: daysPerPeriod,
				Lead: lead{MeanDays: mean, VarianceDays: variance}, UnitPrice: decimal.NewFromFloat(item.Price), Pack: 1})
			if err == nil && a.Keep {
				levels[i] = Keep{At: a.ReorderAt, UpTo: a.UpTo}
			}
		}
		return levels
	}
}

// normalLevel is the level that a normal demand over a normal lead time exceeds by so many deviations' chance.
func normalLevel(perDay, variance, lead, leadVariance, z float64) float64 {
	return lead*perDay + z*math.Sqrt(lead*variance+perDay*perDay*leadVariance)
}

// averageNormal is the spreadsheet rule: 13 weeks' average, normal safety stock.
func averageNormal(target float64) Rule {
	z := math.Sqrt2 * math.Erfinv(2*target-1)
	return func(b Books) []Keep {
		levels := make([]Keep, len(b.Items))
		for i, item := range b.Items {
			sales := b.Known(i)
			if len(sales) == 0 {
				continue
			}
			counts := periodsOf(sales, b.Now-13*daysPerPeriod, b.Now)
			mean, variance := moments(counts)
			if mean == 0 {
				continue
			}
			lead, leadVariance := item.Lead.Moments()
			perDay := mean / daysPerPeriod
			at := max(0, int(math.Round(normalLevel(perDay, variance/daysPerPeriod, lead, leadVariance, z))))
			levels[i] = Keep{At: at, UpTo: at + eoq(perDay, item.Price, b.World)}
		}
		return levels
	}
}

// each asks a rule of one part at a time: what it keeps by the sales of whole periods since its first one, its price and
// the lead time that all rules know.
func each(keep func(counts []int, item *Item, w *World) (at int, kept bool)) Rule {
	return func(b Books) []Keep {
		levels := make([]Keep, len(b.Items))
		for i := range b.Items {
			item, sales := &b.Items[i], b.Known(i)
			if len(sales) == 0 {
				continue
			}
			counts := periodsOf(sales, sales[0].Day, b.Now)
			if len(counts) == 0 {
				continue
			}
			if at, kept := keep(counts, item, b.World); kept {
				perDay := forecastDemand(counts).PerPeriod / daysPerPeriod
				at = max(0, at)
				levels[i] = Keep{At: at, UpTo: at + eoq(perDay, item.Price, b.World)}
			}
		}
		return levels
	}
}

// syntetosBoylan is their forecast with a negative binomial over the lead time and the look, to a quantile, or to the share
// of pieces met.
func syntetosBoylan(target float64, toFill bool) Rule {
	return each(func(counts []int, item *Item, w *World) (int, bool) {
		f := forecastDemand(counts)
		if f.PerPeriod <= 0 {
			return 0, false
		}
		mean, variance := item.Lead.Moments()
		lead := lead{MeanDays: mean + float64(w.LookEvery-1)/2, VarianceDays: variance}
		demand := demandDuring(lead, f.PerPeriod/daysPerPeriod, describe(counts).Dispersion, NegativeBinomial)
		for most := 20; ; most *= 2 {
			short := demand.Mean // pieces short in a lead time from level 0
			quantity := float64(eoq(f.PerPeriod/daysPerPeriod, item.Price, w))
			for level, atMost := range demand.atMost(most) {
				if !toFill && atMost >= target || toFill && short <= (1-target)*quantity {
					return level, true
				}
				short -= 1 - atMost
			}
		}
	})
}

// bestStretch keeps what sufficed in a share of all past stretches as long as the lead time.
func bestStretch(target float64) Rule {
	return each(func(counts []int, item *Item, w *World) (int, bool) {
		mean, _ := item.Lead.Moments()
		periods := max(1, int(math.Ceil((mean+float64(w.LookEvery-1)/2)/daysPerPeriod)))
		var sums []int
		for from := 0; from == 0 || from+periods <= len(counts); from++ {
			sum := 0
			for _, n := range counts[from:min(len(counts), from+periods)] {
				sum += n
			}
			sums = append(sums, sum)
		}
		slices.Sort(sums)
		return sums[min(len(sums)-1, int(target*float64(len(sums))))], true
	})
}

// bootstrap draws the lead time's demand from the past, sale or none by a Markov chain of two states (Willemain, Smart,
// Schwarz, IJF 20, 2004).
func bootstrap(target float64) Rule {
	return each(func(counts []int, item *Item, w *World) (int, bool) {
		var sizes []int
		var from [2]float64 // periods without and with a sale, and how often a sale followed
		var sale [2]float64
		state := func(n int) int { return min(n, 1) }
		for i, n := range counts {
			if n > 0 {
				sizes = append(sizes, n)
			}
			if i > 0 {
				from[state(counts[i-1])]++
				sale[state(counts[i-1])] += float64(state(n))
			}
		}
		if len(sizes) == 0 {
			sizes = []int{1}
		}
		mean, _ := item.Lead.Moments()
		periods := (mean + float64(w.LookEvery-1)/2) / daysPerPeriod
		r := rand.New(rand.NewPCG(w.Seed, uint64(len(counts))))
		sums := make([]int, 200)
		for k := range sums {
			now := state(counts[len(counts)-1])
			for p := 0.0; p < periods; p++ {
				next := r.Float64() < (sale[now]+0.5*float64(len(sizes))/float64(len(counts)))/(from[now]+0.5)
				now = 0
				if next && r.Float64() < periods-p { // the last period may be a part of one
					now = 1
					x := float64(sizes[r.IntN(len(sizes))])
					if jittered := 1 + int(x+r.NormFloat64()*math.Sqrt(x)); jittered > 0 {
						x = float64(jittered)
					}
					sums[k] += int(x)
				}
			}
		}
		slices.Sort(sums)
		return sums[min(len(sums)-1, int(target*float64(len(sums))))], true
	})
}

// hindsight keeps, of every part, the constant level that turns out best where a sale not met costs so much. Nobody can.
func hindsight(w *World, missed float64) Rule {
	best := make([]Keep, len(w.Items))
	for i, item := range w.Items {
		one := *w
		one.Items = []Item{item}
		sold := 0
		for _, s := range item.Sales {
			if s.Day >= w.Start {
				sold += s.Pieces
			}
		}
		perDay := float64(sold) / float64(w.End-w.Start)
		gap := eoq(perDay, item.Price, w)
		least, worse := math.Inf(1), 0
		for at := -1; worse < 4 && at <= sold; at++ {
			keep := []Keep{{At: at, UpTo: at + gap}}
			if at < 0 {
				keep = []Keep{{}}
			}
			o := one.Play(func(Books) []Keep { return keep })
			if cost := o.CostPerYear(w) + missed*float64(o.Sales-o.Met)/o.years(); cost < least {
				least, best[i], worse = cost, keep[0], 0
			} else {
				worse++
			}
		}
	}
	return func(Books) []Keep { return best }
}

// ours weighs the whole shelf.
func ours() func(target float64) Rule {
	kept := map[[2]any]*Shelf{}
	return func(target float64) Rule {
		return func(b Books) []Keep {
			key := [2]any{b.World, b.Now}
			if kept[key] == nil {
				kept[key] = b.Weigh()
			}
			return kept[key].For(target)
		}
	}
}
