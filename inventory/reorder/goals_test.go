package reorder

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
)

// What came of 95 sales in 100 over the classes of demand, by how parts had sold when the playing began, and of parts
// that were new since; beside it what the best constant level of each part in hindsight meets of the new ones. By how
// they sold while it was played less is met of the lumpy ones: a part that happens to sell in a lump is then called
// one.
//
//	go test -run '^$' -bench Classes -benchtime 1x ./inventory/reorder
func BenchmarkClasses(b *testing.B) {
	for b.Loop() {
		for _, name := range []string{"car parts", "shop"} {
			open := map[string]func(testing.TB) *World{"car parts": carParts, "shop": shop}[name]
			for _, s := range []terms{short, long} {
				w := setting(open(b), s, 1)
				o := w.Play(ours()(0.95))
				p := w.played(WholeShelf, 0.95, o)
				line := fmt.Sprintf("%s, %s: asked 95, met %.1f", name, s.name, 100*p.Share)
				before := map[Class]Met{}
				for i, item := range w.Items {
					if o.ItemSales[i] > 0 && countBefore(item.Sales, w.Start) > 0 {
						class := describe(wholeWeeks(item.Sales, item.Sales[0].Day, w.Start)).Class
						before[class] = Met{before[class].Sales + o.ItemSales[i], before[class].Met + o.ItemMet[i]}
					}
				}
				for _, class := range slices.Sorted(maps.Keys(before)) {
					line += fmt.Sprintf("; %s %.1f of %d (while played %.1f of %d)", class, 100*share(before[class].Met, before[class].Sales), before[class].Sales,
						100*p.Classes[class].Share, p.Classes[class].Sales)
				}
				fmt.Printf("%s; new %.1f of %d, hindsight %.1f\n", line, 100*p.NewShare, p.NewSales, 100*w.Play(hindsight(w, 2*0.95/0.05)).NewShare())
			}
		}
	}
}

// A shop with three weeks of books, played from there on: what 95 sales in 100 cost, against the spreadsheet's rule;
// where that never gets so far, what as many cost as it meets at most.
//
//	go test -run '^$' -bench ThreeWeeks -benchtime 1x ./inventory/reorder
func BenchmarkThreeWeeksOfBooks(b *testing.B) {
	for name, open := range map[string]func(testing.TB) *World{"car parts": carParts, "shop": shop} {
		b.Run(strings.ReplaceAll(name, " ", "_"), func(b *testing.B) {
			for b.Loop() {
				w := setting(open(b), short, 1)
				w.Start = 3 * daysPerPeriod
				share, spreadsheet := 0.95, curve(w, yardstickTargets, averageNormal)
				theirs, gets := at(spreadsheet, share, costOf)
				if !gets {
					for share = 0; len(spreadsheet) > 0; spreadsheet = spreadsheet[1:] {
						if o := spreadsheet[0]; o.Share() > share {
							share, theirs = o.Share(), o.cost
						}
					}
				}
				mine, _ := at(curve(w, yardstickTargets, ours()), share, costOf)
				fmt.Printf("\n%s from three weeks of books, %.1f sales in 100: ours %.1f, average + normal %.1f, ratio %.2f\n", name, 100*share, mine/1000, theirs/1000, mine/theirs)
			}
		})
	}
}

// bands is, of the parts whose band for the lead time says about nine in ten, the share that kept within it; and of all
// parts what was said and what came.
func bands(w *World) (parts int, kept, said float64) {
	for now := w.Start; now+60 < w.End; now += w.AdviseEvery {
		s := Books{w, now}.Weigh()
		for i := range w.Items {
			if !s.books.sold(i) {
				continue
			}
			a := s.Ahead(i, 0)
			if a.Within > 0.925 {
				continue // whole pieces: of one that seldom sells the band says more
			}
			asked := 0
			until := now + max(1, w.takes(&w.Items[i], now*len(w.Items)+i))
			for _, sale := range w.Items[i].Sales {
				if sale.Day >= now && sale.Day < until {
					asked += sale.Pieces
				}
			}
			parts++
			said += a.Within
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
