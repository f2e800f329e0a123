package reorder

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// family is a way in which made parts sell. No figure of any is taken from the series: they are there so that nothing is
// believed that helps the series alone. Rates are sales a week over the parts; log-normal figures are given by median and
// the spread of the logarithm.
type family struct {
	name string
	make func(r *rand.Rand, weeks int) []Sale
	// shocks, if any, are drawn once for the whole shop: how much more is asked for in each week.
	shocks func(r *rand.Rand, weeks int) []float64
	price  func(r *rand.Rand, perWeek float64) float64 // nil: log-normal, £8 and 1
}

// families are the made shops.
//
//   - single: Poisson, one piece a sale; gamma rates, shape 0.7 and mean 0.35.
//   - clumps: the same rates; one piece and a negative binomial of shape 0.5 more, whose mean is log-normal over the parts (0.8,
//     1); one sale in eight is in dozens.
//   - drifting: each part's rate walks at random, by 0.12 of its logarithm a week.
//   - season: the season of riding, from January on.
//   - growing: 1 % a week, and the whole shop has good and bad weeks that last (log-normal, 0.25, correlated 0.6 from week to week).
//   - old and new: a part comes at any time and lives 70 weeks on average; no sale before or after.
//   - spares: one sale in 30 weeks (log-normal, 1), sizes geometric with mean 3 and now and then tenfold; price goes with rate to
//     the power -0.5, with a spread of 1.5.
//   - brisk: a week's sales are taken at once, a negative binomial of mean 6 (log-normal, 1) and shape 1.5.
var families = []family{
	{name: "single", make: func(r *rand.Rand, weeks int) []Sale { return poisson(r, weeks, flat(gammaDrawn(r, 0.7)/0.7*0.35), one) }},
	{name: "clumps", make: func(r *rand.Rand, weeks int) []Sale {
		mean := 0.8 * math.Exp(r.NormFloat64())
		return poisson(r, weeks, flat(gammaDrawn(r, 0.7)/0.7*0.35), func(r *rand.Rand) int {
			if r.IntN(8) == 0 {
				return 12
			}
			return 1 + poissonDrawn(r, mean*gammaDrawn(r, 0.5)/0.5)
		})
	}},
	{name: "drifting", make: func(r *rand.Rand, weeks int) []Sale {
		log := math.Log(0.3) + r.NormFloat64()
		return poisson(r, weeks, func(int) float64 { log += 0.12 * r.NormFloat64(); return math.Exp(log) }, few)
	}},
	{name: "season", make: func(r *rand.Rand, weeks int) []Sale {
		rate := 0.3 * math.Exp(r.NormFloat64())
		return poisson(r, weeks, func(week int) float64 { return rate * Riding[week*12/52%12] }, few)
	}},
	{name: "growing", make: func(r *rand.Rand, weeks int) []Sale {
		return poisson(r, weeks, flat(0.2*math.Exp(r.NormFloat64())), few)
	}, shocks: func(r *rand.Rand, weeks int) []float64 {
		out, log := make([]float64, weeks), 0.0
		for week := range out {
			log = 0.6*log + 0.25*0.8*r.NormFloat64()
			out[week] = math.Exp(log + 0.01*float64(week))
		}
		return out
	}},
	{name: "old and new", make: func(r *rand.Rand, weeks int) []Sale {
		rate, from := 0.3*math.Exp(r.NormFloat64()), r.IntN(weeks+70)-70
		to := from + int(70*r.ExpFloat64())
		return poisson(r, weeks, func(week int) float64 {
			if week < from || week >= to {
				return 0
			}
			return rate
		}, few)
	}},
	{name: "spares", make: func(r *rand.Rand, weeks int) []Sale {
		return poisson(r, weeks, flat(math.Exp(r.NormFloat64())/30), func(r *rand.Rand) int {
			n := 1 + int(3*r.ExpFloat64()*2/3)
			if r.IntN(15) == 0 {
				n *= 10
			}
			return n
		})
	}, price: func(r *rand.Rand, perWeek float64) float64 {
		return 20 * math.Pow(30*perWeek+0.2, -0.5) * math.Exp(1.5*r.NormFloat64())
	}},
	{name: "brisk", make: func(r *rand.Rand, weeks int) []Sale {
		mean := 6 * math.Exp(r.NormFloat64())
		var sales []Sale
		for week := range weeks {
			if n := poissonDrawn(r, mean*gammaDrawn(r, 1.5)/1.5); n > 0 {
				sales = append(sales, Sale{Day: week*daysPerPeriod + r.IntN(daysPerPeriod), Pieces: n})
			}
		}
		return sales
	}},
}

func flat(rate float64) func(int) float64 { return func(int) float64 { return rate } }

func one(*rand.Rand) int { return 1 }

// few are one piece, or in one sale of four a few more.
func few(r *rand.Rand) int {
	if r.IntN(4) > 0 {
		return 1
	}
	return 2 + poissonDrawn(r, 1)
}

// poisson sells by chance at a rate a week, so many pieces at a time.
func poisson(r *rand.Rand, weeks int, rate func(week int) float64, size func(*rand.Rand) int) []Sale {
	var sales []Sale
	for week := range weeks {
		var days []int
		for range poissonDrawn(r, rate(week)) {
			days = append(days, week*daysPerPeriod+r.IntN(daysPerPeriod))
		}
		slices.Sort(days)
		for _, day := range days {
			sales = append(sales, Sale{Day: day, Pieces: size(r)})
		}
	}
	return sales
}

func poissonDrawn(r *rand.Rand, mean float64) (n int) {
	for at := r.ExpFloat64(); at < mean; at += r.ExpFloat64() {
		n++
	}
	return n
}

// gammaDrawn draws from the gamma distribution of a shape and a scale of 1 (Marsaglia and Tsang, "A simple method for
// generating gamma variables", ACM Transactions on Mathematical Software 26, 2000).
func gammaDrawn(r *rand.Rand, shape float64) float64 {
	if shape < 1 {
		return gammaDrawn(r, shape+1) * math.Pow(r.Float64(), 1/shape)
	}
	d := shape - 1.0/3
	for {
		x := r.NormFloat64()
		v := 1 + x/math.Sqrt(9*d)
		if v = v * v * v; v > 0 && math.Log(1-r.Float64()) < x*x/2+d-d*v+d*math.Log(v) {
			return d * v
		}
	}
}

// shocked keeps of each sale as many as the shop's week lets: sales are drawn for the best week, and thinned.
func shocked(r *rand.Rand, sales []Sale, shocks []float64) (out []Sale) {
	best := slices.Max(shocks)
	for _, s := range sales {
		if r.Float64() < shocks[s.Day/daysPerPeriod]/best {
			out = append(out, s)
		}
	}
	return out
}

// made is a shop of a family: so many parts over so many weeks, of which the first are history.
func (f family) made(parts, history, weeks int, seed uint64) *World {
	r := rand.New(rand.NewPCG(seed, 23))
	w := &World{Start: history * daysPerPeriod, End: weeks * daysPerPeriod}
	var shocks []float64
	if f.shocks != nil {
		shocks = f.shocks(r, weeks)
	}
	for i := range parts {
		sales := f.make(r, weeks)
		if shocks != nil {
			sales = shocked(r, sales, shocks)
		}
		price := 8 * math.Exp(r.NormFloat64())
		if f.price != nil {
			price = f.price(r, float64(len(sales))/float64(weeks))
		}
		w.Items = append(w.Items, Item{Name: fmt.Sprint(i), Sales: sales, Price: max(0.05, price), Supplier: r.IntN(4)})
	}
	return w
}

// The neutral bench: made shops of eight families. A line a shop: holding and ordering a year of ours over the best
// rule beside it, at 93, 95 and 97 sales in 100, and what came of it where 90, 95 and 98 were asked for.
//
//	go test -run '^$' -bench Neutral -benchtime 1x ./inventory/reorder
func BenchmarkNeutral(b *testing.B) {
	for b.Loop() {
		fmt.Printf("\n%-34s  ours, £000 at 93   95   97    best rival at 93   95   97   asked 90    95    98\n", "")
		for _, f := range families {
			for _, s := range []terms{short, long} {
				for _, look := range []int{1, 5} {
					w := setting(f.made(400, 60, 104, 31), s, look)
					name := fmt.Sprintf("%s, %s, every %d days", f.name, s.name, look)
					fmt.Println(neutral(name, w))
				}
			}
		}
	}
}

// neutral is a line of the bench.
func neutral(name string, w *World) string {
	mine := curve(w, yardstickTargets, ours())
	line := fmt.Sprintf("%-34s      ", name)
	best := [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}
	shares := []float64{0.93, 0.95, 0.97}
	for rule, targets := range rivals(w) {
		if strings.Contains(rule, "ours") || strings.Contains(rule, "hindsight") {
			continue
		}
		points := curve(w, yardstickTargets, targets)
		for k, share := range shares {
			if v, ok := at(points, share, costOf); ok {
				best[k] = min(best[k], v)
			}
		}
	}
	for _, share := range shares {
		if v, ok := at(mine, share, costOf); ok {
			line += fmt.Sprintf(" %6.2f", v/1000)
		} else {
			line += "  never"
		}
	}
	line += "      "
	for _, v := range best {
		line += fmt.Sprintf(" %6.2f", v/1000)
	}
	line += "   "
	for _, p := range mine {
		if p.target == 0.9 || p.target == 0.95 || p.target == 0.98 {
			line += fmt.Sprintf(" %6.3f", p.Share())
		}
	}
	return line
}
