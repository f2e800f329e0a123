package reorder

import (
	"math"
	"math/rand/v2"
)

// promise is how what was aimed at turned out in the shop's own past: the log odds of a sale being met are those aimed at,
// times a slope, and a shift. A rule that keeps what it says has slope 1 and shift 0.
type promise struct {
	slope, shift float64
	Sales        int // on which it rests
}

// middle is the log odds about which the slope turns: of 19 sales in 20.
var middle = logit(0.95)

// steadiness is how many sales, at even odds, speak for a slope of 1: one that is drawn from a few weeks' luck would make
// the levels of one month dearer than those of the next for nothing.
const steadiness = 400

// aims are the shares that are tried.
var aims = []float64{0.8, 0.9, 0.95, 0.98, 0.99, 0.995}

const (
	playedWeeks  = 16  // how far back the rule is played over the shop's own sales
	playedParts  = 700 // of how many parts
	fewestPlayed = 300 // sales from which what came of it counts half
)

// keptPromises plays the rule over the last weeks of the books, knowing at each advice
// only what was sold before.
func (l *learnt) keptPromises(items []Item, now int) promise {
	advise := max(daysPerPeriod, l.terms.AdviseEvery)
	blocks := min(playedWeeks*daysPerPeriod, (now-l.start)/2) / advise
	if blocks < 1 {
		return promise{slope: 1}
	}
	step := (len(items) + playedParts - 1) / playedParts
	var some []Item
	for i := 0; i < len(items); i += step {
		some = append(some, items[i])
	}
	w := &World{
		Items: some, Start: now - blocks*advise, End: now, LookEvery: l.terms.LookEvery, AdviseEvery: advise, Seed: 1,
		Takes: func(r *rand.Rand, item int) int { return some[item].Lead.draw(r) },
	}
	for i := range some {
		some[i].Supplier = i // each order on its own: what is wanted is the chance, not a day's luck
	}
	shelves := map[int]*Shelf{}
	var came, aimed, weights []float64
	sales := 0
	for _, aim := range aims {
		o := w.Play(func(b Books) []Keep {
			if shelves[b.Now] == nil {
				shelves[b.Now] = l.weigh(some, b.Now)
			}
			return shelves[b.Now].For(aim)
		})
		if sales = o.Sales; sales == 0 {
			return promise{slope: 1}
		}
		got := (float64(o.Met) + 1) / (float64(o.Sales) + 2)
		aimed = append(aimed, logit(aim)-middle)
		came = append(came, logit(got)-middle)
		weights = append(weights, float64(sales)*got*(1-got)/float64(len(aims)))
	}
	return line(aimed, came, weights, sales)
}

// line is the straight line through what came of each aim, held towards keeping what was said.
func line(aimed, came, weights []float64, sales int) promise {
	var sum, a, c float64
	for i, w := range weights {
		sum += w
		a += w * aimed[i]
		c += w * came[i]
	}
	a, c = a/sum, c/sum
	across, square := float64(steadiness)/4, float64(steadiness)/4
	for i, w := range weights {
		across += w * (aimed[i] - a) * (came[i] - c)
		square += w * (aimed[i] - a) * (aimed[i] - a)
	}
	p := promise{slope: min(1.5, max(0.5, across/square)), Sales: sales}
	p.shift = (c - p.slope*a) * float64(sales) / float64(sales+fewestPlayed)
	return p
}

// ask is what to aim at, so that the target comes of it.
func (p promise) ask(target float64) float64 {
	if p.slope == 0 || target <= 0 || target >= 1 {
		return target
	}
	return expit((logit(target)-middle-p.shift)/p.slope + middle)
}

func logit(p float64) float64 { return math.Log(p / (1 - p)) }
func expit(x float64) float64 { return 1 / (1 + math.Exp(-x)) }

// draw is a lead time by its chances.
func (l *LeadTime) draw(r *rand.Rand) int {
	u := r.Float64()
	for day, chance := range l.OnDay {
		if u -= chance; u < 0 {
			return day
		}
	}
	return len(l.OnDay) - 1
}
