package reorder

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
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
// where that never gets so far, what as many cost as it meets at most. One beginning is one piece of luck, of what the
// whole shop sells after it, so the books are begun in other weeks of the series too, and beside ours stands what it
// would cost if it were told what the shop's parts sell together in the coming quarter, at each advice or at the first alone.
//
//	go test -run '^$' -bench ThreeWeeks -benchtime 1x ./inventory/reorder
func BenchmarkThreeWeeksOfBooks(b *testing.B) {
	for name, open := range map[string]func(testing.TB) *World{"car parts": carParts, "shop": shop} {
		for _, week := range []int{0, 4, 13, 23} {
			b.Run(fmt.Sprintf("%s_from_week_%d", strings.ReplaceAll(name, " ", "_"), week), func(b *testing.B) {
				for b.Loop() {
					w := setting(begun(open(b), week), short, 1)
					share, theirs := most(curve(w, yardstickTargets, averageNormal), 0.95)
					line := fmt.Sprintf("\n%s from three weeks of books begun in week %d, %.1f sales in 100: average + normal %.1f", name, week, 100*share, theirs/1000)
					targets := []float64{0.8, 0.9, 0.93, 0.95, 0.97}
					for _, rule := range []struct {
						name string
						of   func(target float64) Rule
					}{{"ours", ours()}, {"told the quarter", toldTheQuarter(false)}, {"told the first quarter", toldTheQuarter(true)}} {
						if cost, gets := at(curve(w, targets, rule.of), share, costOf); gets {
							line += fmt.Sprintf("; %s %.1f, ratio %.2f", rule.name, cost/1000, cost/theirs)
						} else {
							line += "; " + rule.name + " never"
						}
					}
					fmt.Println(line)
				}
			})
		}
	}
}

// begun is a world whose books begin in a week of the series, to be played once they are three weeks old.
func begun(w *World, week int) *World {
	from := week * daysPerPeriod
	for i := range w.Items {
		var sales []Sale
		for _, s := range w.Items[i].Sales {
			if s.Day -= from; s.Day >= 0 {
				sales = append(sales, s)
			}
		}
		w.Items[i].Sales = sales
	}
	w.Start, w.End = 3*daysPerPeriod, w.End-from
	return w
}

// Books that begin in a later week hold what was sold in the three weeks from then on, and nothing of before.
func TestBegunBooksKnowNothingOfBefore(t *testing.T) {
	series := &World{End: 100, Items: []Item{{Sales: []Sale{{Day: 19, Pieces: 1}, {Day: 20, Pieces: 2}, {Day: 34, Pieces: 3}, {Day: 35, Pieces: 4}}}, {Sales: []Sale{{Day: 3, Pieces: 5}}}}}
	w := begun(series, 4)
	b := Books{w, w.Start}
	require.Equal(t, []Sale{{Day: 0, Pieces: 2}, {Day: 14, Pieces: 3}}, b.Known(0))
	require.Empty(t, b.Known(1))
	require.Equal(t, 80, w.End)
	require.Equal(t, Sale{Day: 15, Pieces: 4}, w.Items[0].Sales[2])
}

// most is the cost of so many sales, or of as many as the rule meets at most.
func most(points []point, share float64) (gets, cost float64) {
	if cost, ok := at(points, share, costOf); ok {
		return share, cost
	}
	for _, p := range points {
		if p.Share() > gets {
			gets, cost = p.Share(), p.cost
		}
	}
	return gets, cost
}

// toldTheQuarter is ours, if somebody knew what the parts of the shop sell together in the quarter after an advice, and
// nothing of any one of them: after each, or after the first alone.
func toldTheQuarter(firstAlone bool) func(target float64) Rule {
	kept := map[int]*Shelf{}
	return func(target float64) Rule {
		return func(b Books) []Keep {
			if kept[b.Now] == nil {
				if firstAlone && b.Now > b.Start {
					kept[b.Now] = b.Weigh()
				} else {
					kept[b.Now] = b.toldTheQuarter()
				}
			}
			return kept[b.Now].For(target)
		}
	}
}

// toldTheQuarter is the shelf by the books, as many sales expected of all parts together as come in the next quarter.
func (b Books) toldTheQuarter() *Shelf {
	of, until := stockBook(b.known()), min(b.End, b.Now+13*daysPerPeriod)
	l := learn(of, b.Begin, b.Now, Terms{LookEvery: b.LookEvery, AdviseEvery: b.AdviseEvery, LineCost: b.LineCost, Holding: b.Holding, MostYears: 1})
	l.paces = nil
	came, said := 0.0, 0.0
	for i, perDay := range l.weigh(of, b.Now).perDay {
		if n := len(b.Known(i)); n > 0 {
			came += float64(countBefore(b.Items[i].Sales, until) - n)
			said += perDay * float64(until-b.Now)
		}
	}
	told := pace{byOften: [mostOften]float64{1, 1, 1, 1}}
	for k := range told.bySilence {
		told.bySilence[k] = came / said
	}
	l.paces = slices.Repeat([]pace{told}, len(l.weekly))
	return l.weigh(of, b.Now)
}

// A shelf that is told the quarter expects what then comes; told the first alone it is ours after that.
func TestToldTheQuarter(t *testing.T) {
	w := setting(begun(families[0].made(60, 60, 30, 4), 8), short, 1)
	came, said := 0.0, 0.0
	for i, perDay := range (Books{w, w.Start}).toldTheQuarter().perDay {
		if n := countBefore(w.Items[i].Sales, w.Start); n > 0 {
			came += float64(countBefore(w.Items[i].Sales, w.Start+13*daysPerPeriod) - n)
			said += perDay * 13 * daysPerPeriod
		}
	}
	require.Greater(t, came, 100.0)
	require.InEpsilon(t, came, said, 1e-9)
	all, first, our := toldTheQuarter(false)(0.95), toldTheQuarter(true)(0.95), ours()(0.95)
	begins, later := Books{w, w.Start}, Books{w, w.Start + w.AdviseEvery}
	require.Equal(t, all(begins), first(begins))
	require.Equal(t, our(later), first(later))
	require.NotEqual(t, our(begins), first(begins))
	require.NotEqual(t, all(later), first(later))
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
