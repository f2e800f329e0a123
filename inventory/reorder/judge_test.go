package reorder

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// trial is a shop that a change is judged by, so many times, each with other luck of the suppliers and other parts.
type trial struct {
	name    string
	open    func(t testing.TB, seed uint64) *World
	samples int
}

// trials are the shops: half of the parts of each series, and what each family makes.
func trials() []trial {
	all := []trial{{"car parts", drawn(carParts), 3}, {"shop", drawn(shop), 3}}
	for _, f := range families {
		all = append(all, trial{f.name, func(_ testing.TB, seed uint64) *World { return f.made(250, 60, 104, 100+seed) }, 2})
	}
	return all
}

// drawn are half of a series' parts, each from another supplier.
func drawn(open func(testing.TB) *World) func(testing.TB, uint64) *World {
	return func(t testing.TB, seed uint64) *World {
		w, draw := open(t), rand.New(rand.NewPCG(seed, 29))
		var some []Item
		for _, item := range w.Items {
			if item.Supplier = draw.IntN(4); draw.Float64() < 0.5 {
				some = append(some, item)
			}
		}
		w.Items = some
		return w
	}
}

// verdict is what the whole shelf came to in a trial: at each aim the share of sales met whole, what holding and ordering
// cost and the stock; and of parts that had been silent for 15 weeks the sales expected and those that came.
type verdict struct {
	Aims, Shares, Costs, Stocks []float64
	Expected, Came              float64
}

// try plays the whole shelf over a world.
func try(w *World) (v verdict) {
	rule := ours()
	for _, aim := range []float64{0.9, 0.93, 0.95, 0.97, 0.98, 0.99, 0.995} {
		o := w.Play(rule(aim))
		v.Aims, v.Shares = append(v.Aims, aim), append(v.Shares, o.Share())
		v.Costs, v.Stocks = append(v.Costs, o.CostPerYear(w)), append(v.Stocks, o.Stock)
	}
	for now := w.Start; now < w.End; now += w.AdviseEvery {
		until := min(w.End, now+w.AdviseEvery)
		for i, keep := range rule(0.95)(Books{w, now}) {
			sales := w.Items[i].Sales
			n := countBefore(sales, now)
			if n > 0 && standing(sales[:n], now) == "silent" {
				v.Expected += keep.PerDay * float64(until-now)
				v.Came += float64(countBefore(sales, until) - n)
			}
		}
	}
	return v
}

// points are the verdict's as a curve.
func (v verdict) points(figure []float64) []point {
	var all []point
	for i := range v.Aims {
		met := int(math.Round(v.Shares[i] * 1e9))
		all = append(all, point{target: v.Aims[i], cost: figure[i], Outcome: Outcome{Sales: 1e9, Met: met}})
	}
	return all
}

// over is the ratio of a figure to that of another verdict where as many sales are met; not ok where either never gets
// there.
func (v verdict) over(than verdict, share float64, figure func(verdict) []float64) (float64, bool) {
	mine, ok := at(v.points(figure(v)), share, costOf)
	theirs, okToo := at(than.points(figure(than)), share, costOf)
	return mine / theirs, ok && okToo && theirs > 0
}

// met is what came of an aim.
func (v verdict) met(aim float64) float64 {
	for i := range v.Aims {
		if v.Aims[i] == aim {
			return v.Shares[i]
		}
	}
	return math.NaN()
}

// The judge of a change to what the shelf learns and reckons: what it costs after it over what it cost before, where as many
// sales are met, on average over the samples and how far these are apart. One figure of one bench swings by a tenth with
// the parts that happen to teach, so none judges anything small. The first line leaves what was before the change in a
// folder, and the second holds against it what is after it.
//
//	STEAD_JUDGED=/tmp/before go test -run '^$' -bench Judge -benchtime 1x ./inventory/reorder
//	STEAD_JUDGED=/tmp/after STEAD_JUDGED_BEFORE=/tmp/before go test -run '^$' -bench Judge -benchtime 1x ./inventory/reorder
func BenchmarkJudge(b *testing.B) {
	fmt.Printf("%-36s%-45s%-17s%-36s%s\n", "", "cost over before at 93, 95, 97", "stock at 97", "asked 90, 95, 98 met, and before", "silent: expected over came, and before")
	for _, t := range trials() {
		for _, s := range []terms{short, long} {
			for _, look := range []int{1, daysPerPeriod} {
				cell := fmt.Sprintf("%s, %s, every %d days", t.name, s.name, look)
				b.Run(strings.ReplaceAll(cell, " ", "_"), func(b *testing.B) {
					for b.Loop() {
						now := make([]verdict, t.samples)
						for seed := range now {
							now[seed] = try(settingOf(t.open(b, uint64(seed)), s, look, 17+uint64(seed)))
						}
						fmt.Println(judgment(cell, now, before(b, cell, now)))
					}
				})
			}
		}
	}
}

// before are the verdicts that were left before the change, and leaves those of now; where there are none it is these.
func before(b *testing.B, cell string, now []verdict) []verdict {
	file := func(variable string) string {
		if folder := os.Getenv(variable); folder != "" {
			return filepath.Join(folder, cell+".json")
		}
		return ""
	}
	if to := file("STEAD_JUDGED"); to != "" {
		text, err := json.Marshal(now)
		require.NoError(b, err)
		require.NoError(b, os.MkdirAll(filepath.Dir(to), 0o755))
		require.NoError(b, os.WriteFile(to, text, 0o644))
	}
	from := file("STEAD_JUDGED_BEFORE")
	if from == "" {
		return now
	}
	text, err := os.ReadFile(from)
	require.NoError(b, err)
	var was []verdict
	require.NoError(b, json.Unmarshal(text, &was))
	require.GreaterOrEqual(b, len(was), len(now))
	return was[:len(now)]
}

// judgment is a line of the judge's table.
func judgment(cell string, now, before []verdict) string {
	line := fmt.Sprintf("%-34s", cell)
	ratio := func(share float64, figure func(verdict) []float64) {
		var all spread
		for seed := range now {
			if r, ok := now[seed].over(before[seed], share, figure); ok {
				all.add(r)
			}
		}
		if all.n < 2 {
			line += "  never        "
			return
		}
		mean := all.sum / all.n
		line += fmt.Sprintf("  %.3f ± %.3f", mean, math.Sqrt(max(0, all.squares-all.sum*mean)/(all.n-1)))
	}
	for _, share := range []float64{0.93, 0.95, 0.97} {
		ratio(share, func(v verdict) []float64 { return v.Costs })
	}
	ratio(0.97, func(v verdict) []float64 { return v.Stocks })
	for _, of := range [][]verdict{now, before} {
		line += "  "
		for _, aim := range []float64{0.9, 0.95, 0.98} {
			sum := 0.0
			for _, v := range of {
				sum += v.met(aim) / float64(len(of))
			}
			line += fmt.Sprintf(" %.1f", 100*sum)
		}
	}
	for _, of := range [][]verdict{now, before} {
		expected, came := 0.0, 0.0
		for _, v := range of {
			expected, came = expected+v.Expected, came+v.Came
		}
		line += fmt.Sprintf("  %.2f", expected/came)
	}
	return line
}
