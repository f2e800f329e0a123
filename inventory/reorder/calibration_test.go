package reorder

import (
	"fmt"
	"testing"
)

// standing is how a part stood on a day, as far as its doubt may be told wrongly: silent, young, slow or brisk.
func standing(sales []Sale, now int) string {
	weeks := float64(now-sales[0].Day) / daysPerPeriod
	silent := float64(now-sales[len(sales)-1].Day) / daysPerPeriod
	switch {
	case silent >= 15:
		return "silent"
	case weeks < 13:
		return "young"
	case float64(len(sales)-1) < weeks/4:
		return "slow"
	}
	return "brisk"
}

// tally is what was said of some parts, and what came of it.
type tally struct{ expected, said, sales, met, stockSaid, stock float64 }

// calibrated plays a target and tells, by how parts stood at each advice, what was said then and what came until the next.
func calibrated(w *World, rule Rule) map[string]*tally {
	all := map[string]*tally{}
	var before Outcome
	for from := w.Start; from < w.End; from += w.AdviseEvery {
		to := *w
		to.End = min(w.End, from+w.AdviseEvery)
		keeps, o := rule(Books{w, from}), to.Play(func(b Books) []Keep { return rule(Books{w, b.Now}) })
		days := float64(to.End - from)
		for i, item := range w.Items {
			n := countBefore(item.Sales, from)
			if n == 0 {
				continue
			}
			k, sold, met, stock := keeps[i], o.ItemSales[i], o.ItemMet[i], o.ItemStock[i]*float64(o.Days)
			if from > w.Start {
				sold, met, stock = sold-before.ItemSales[i], met-before.ItemMet[i], stock-before.ItemStock[i]*float64(before.Days)
			}
			for _, name := range []string{"all", standing(item.Sales[:n], from)} {
				if all[name] == nil {
					all[name] = &tally{}
				}
				t := all[name]
				t.expected, t.said = t.expected+k.PerDay*days, t.said+k.PerDay*days*k.Fill
				t.sales, t.met = t.sales+float64(sold), t.met+float64(met)
				t.stockSaid, t.stock = t.stockSaid+k.Stock*item.Price*days, t.stock+stock
			}
		}
		before = o
	}
	return all
}

// What is said and what comes, by how parts stood when it was said: sales expected over those that came, the share of them said
// to be met and met, and stock said over what lay there.
//
//	go test -run '^$' -bench Calibration -benchtime 1x ./inventory/reorder
func BenchmarkCalibration(b *testing.B) {
	for b.Loop() {
		worlds := map[string]*World{"car parts": carParts(b), "shop": shop(b)}
		for _, f := range families {
			worlds[f.name] = f.made(400, 60, 104, 31)
		}
		for _, name := range []string{"car parts", "shop", "drifting", "old and new"} {
			for _, s := range []terms{short, long} {
				w, rule := setting(worlds[name], s, 1), ours()
				for _, target := range []float64{0.9, 0.95, 0.98} {
					all := calibrated(w, rule(target))
					fmt.Printf("%s, %s, asked %.0f:", name, s.name, 100*target)
					for _, stood := range []string{"all", "silent", "young", "slow", "brisk"} {
						if t := all[stood]; t != nil && t.sales > 0 {
							fmt.Printf("  %s %.0f sales, expected %.2f, said %.1f met %.1f, stock %.2f", stood, t.sales, t.expected/t.sales, 100*t.said/t.expected, 100*t.met/t.sales, t.stockSaid/t.stock)
						}
					}
					fmt.Println()
				}
			}
		}
	}
}
