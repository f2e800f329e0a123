package reorder

import (
	"fmt"
	"strings"
	"testing"
)

// A shop with three weeks of books, played from there on: what 95 sales in 100 cost, against the spreadsheet's rule.
//
//	go test -run '^$' -bench ThreeWeeks -benchtime 1x ./inventory/reorder
func BenchmarkThreeWeeksOfBooks(b *testing.B) {
	for name, open := range map[string]func(testing.TB) *World{"car parts": carParts, "shop": shop} {
		b.Run(strings.ReplaceAll(name, " ", "_"), func(b *testing.B) {
			for b.Loop() {
				w := setting(open(b), short, 1)
				w.Start = 3 * daysPerPeriod
				mine, _ := at(curve(w, yardstickTargets, ours()), 0.95, costOf)
				theirs, gets := at(curve(w, yardstickTargets, averageNormal), 0.95, costOf)
				fmt.Printf("\n%s from three weeks of books, 95 sales in 100: ours %.1f, average + normal %.1f (%v), ratio %.2f\n", name, mine/1000, theirs/1000, gets, mine/theirs)
			}
		})
	}
}

// bands is, of the parts whose band for the lead time says about nine in ten, the share that kept within it; and of all parts what
// was said and what came.
func bands(w *World) (parts int, kept, said float64) {
	for now := w.Start; now+60 < w.End; now += w.AdviseEvery {
		s := Books{w, now}.Weigh()
		for i := range w.Items {
			if s.records[i] == nil {
				continue
			}
			a := s.Ahead(i, 0)
			chance := a.atMost(a.Most)
			if a.Least > 0 {
				chance -= a.atMost(a.Least - 1)
			}
			if chance < 0.88 || chance > 0.93 {
				continue // whole pieces: of one that seldom sells the band says more
			}
			asked := 0
			until := now + max(1, w.takes(w.Items[i].Supplier, now*len(w.Items)+i))
			for _, sale := range w.Items[i].Sales {
				if sale.Day >= now && sale.Day < until {
					asked += sale.Pieces
				}
			}
			parts++
			said += chance
			if asked >= a.Least && asked <= a.Most {
				kept++
			}
		}
	}
	return parts, kept / float64(parts), said / float64(parts)
}

// Of parts whose band says 9 in 10, how many keep within it.
//
//	go test -run '^$' -bench Bands -benchtime 1x ./inventory/reorder
func BenchmarkBands(b *testing.B) {
	for name, open := range map[string]func(testing.TB) *World{"car parts": carParts, "shop": shop} {
		for _, s := range []terms{short, long} {
			b.Run(strings.ReplaceAll(name+" "+s.name, " ", "_"), func(b *testing.B) {
				for b.Loop() {
					parts, kept, said := bands(setting(open(b), s, 1))
					fmt.Printf("\n%s, %s: of %d bands that say %.1f in 100, %.1f keep within\n", name, s.name, parts, 100*said, 100*kept)
				}
			})
		}
	}
}
