package reorder

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"
)

// point is what a rule came to at one target.
type point struct {
	target float64
	Outcome
	cost float64 // holding and ordering, pounds a year
}

// curve plays a rule at every target, from the least share of sales met to the most.
func curve(w *World, targets []float64, rule func(float64) Rule) []point {
	var points []point
	for _, target := range targets {
		o := w.Play(rule(target))
		points = append(points, point{target, o, o.CostPerYear(w)})
	}
	return points
}

// at is what a figure is where so many sales are met, by a straight line between the rule's own points; not ok where the
// rule never gets there. Below its first point a rule costs no more than there.
func at(points []point, share float64, figure func(point) float64) (value float64, ok bool) {
	points = slices.SortedFunc(slices.Values(points), func(a, b point) int { return cmp.Compare(a.Share(), b.Share()) })
	if len(points) == 0 || share > points[len(points)-1].Share() {
		return 0, false
	}
	if share <= points[0].Share() {
		return figure(points[0]), true
	}
	for i := 1; ; i++ {
		if a, b := points[i-1], points[i]; share <= b.Share() {
			part := (share - a.Share()) / (b.Share() - a.Share())
			return figure(a) + part*(figure(b)-figure(a)), true
		}
	}
}

func costOf(p point) float64  { return p.cost }
func stockOf(p point) float64 { return p.Stock }

// rivals are the rules beside ours. Only hindsight knows what will be sold.
func rivals(w *World) map[string]func(float64) Rule {
	return map[string]func(float64) Rule{
		"1 today":             func(x float64) Rule { return today(min(x, highestTarget), false) },
		"2 today, first sale": func(x float64) Rule { return today(min(x, highestTarget), true) },
		"3 average + normal":  averageNormal,
		"4 best stretch":      bestStretch,
		"5 bootstrap":         bootstrap,
		"6 SB + NB, quantile": func(x float64) Rule { return syntetosBoylan(x, false) },
		"7 SB + NB, fill":     func(x float64) Rule { return syntetosBoylan(x, true) },
		"8 ours":              ours(),
		"9 hindsight":         func(x float64) Rule { return hindsight(w, 2*x/(1-x)) },
	}
}

var yardstickTargets = []float64{0.5, 0.8, 0.9, 0.93, 0.95, 0.97, 0.98, 0.99, 0.995}

// The yardstick's table, which DEVELOPERS.md quotes. One line a rule: holding and ordering a year, and the stock, in
// thousands of pounds, at equal shares of sales met whole; what came of it where 90, 95 and 98 were asked for; and of
// parts new since the start at 95.
//
//	go test -run '^$' -bench Yardstick -benchtime 1x ./inventory/reorder
func BenchmarkYardstick(b *testing.B) {
	for _, series := range []struct {
		name string
		open func(testing.TB) *World
	}{{"car parts", carParts}, {"shop", shop}} {
		for _, s := range []terms{short, long} {
			for _, look := range []int{1, 5} {
				name := fmt.Sprintf("%s, %s, looked at every %d days", series.name, s.name, look)
				b.Run(strings.ReplaceAll(name, " ", "_"), func(b *testing.B) {
					for b.Loop() {
						w := setting(series.open(b), s, look)
						fmt.Printf("\n%s\n%-20s  cost at 93    95    97   stock at 93    95    97   asked 90    95    98   new at 95\n", name, "")
						all := rivals(w)
						for _, rule := range slices.Sorted(maps.Keys(all)) {
							fmt.Println(row(rule[2:], curve(w, yardstickTargets, all[rule])))
						}
					}
				})
			}
		}
	}
}

func row(name string, points []point) string {
	line := fmt.Sprintf("%-20s", name)
	for _, figure := range []func(point) float64{costOf, stockOf} {
		line += "     "
		for _, share := range []float64{0.93, 0.95, 0.97} {
			if v, ok := at(points, share, figure); ok {
				line += fmt.Sprintf(" %6.1f", v/1000)
			} else {
				line += "  never"
			}
		}
	}
	line += "    "
	fresh := math.NaN()
	for _, p := range points {
		switch p.target {
		case 0.95:
			fresh = p.NewShare()
			fallthrough
		case 0.9, 0.98:
			line += fmt.Sprintf(" %6.3f", p.Share())
		}
	}
	return line + fmt.Sprintf("   %6.3f", fresh)
}
