package pages

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"stead/cmd/stead/internal/desk"
	"stead/inventory/calendar"
	"stead/pricing"
)

// plot draws options by price and day: lower is cheaper, further left is sooner. A mark tells what differs; only those
// that are the best at something are named.
type plot struct {
	Class         string // wide or narrow
	Width, Height float64
	Left, Foot    float64 // where the axes stand
	letter        float64 // how large its letters are at most, as static/style.css sets them
	Label         string  // the same in words
	Prices        []tick
	Days          []tick
	Points        []point
}

type tick struct {
	At    float64
	Words string
}

type point struct {
	X, Y       float64
	TX, TY     float64 // where its words stand
	Anchor     string
	Name, Days string
	Shape      string // same, finish or function
}

// Shape is the mark of what an option differs in, as the pages draw it.
func shapeOf(d desk.Differs) string {
	if d == desk.Nothing {
		return "same"
	}
	return string(d)
}

// plots are the picture for a desk and that for a phone; none where there is nothing to compare.
func plots(v desk.Options) []plot {
	if len(v.Marked) < 2 {
		return nil
	}
	return []plot{draft(v, "wide", 900, 290, 70, 40, 26), draft(v, "narrow", 340, 360, 58, 12, 21)}
}

func draft(v desk.Options, class string, width, height, left, right, letter float64) plot {
	p := plot{Class: class, Width: width, Height: height, Left: left, Foot: height - 56, letter: letter}
	cheapest, dearest := v.Span()
	low, high, step := scale(cheapest.Total.InexactFloat64(), dearest.Total.InexactFloat64())
	first, last := v.Today(), v.Marked[len(v.Marked)-1].ReadyOn
	days := math.Max(1, float64(last-first))
	x := func(d calendar.Day) float64 { return round(left + 12 + (width-left-right-24)*float64(d-first)/days) }
	y := func(price float64) float64 { return round(p.Foot - (p.Foot-30)*(price-low)/(high-low)) }
	for price := low; price <= high+step/2; price += step {
		p.Prices = append(p.Prices, tick{y(price), fmt.Sprintf("%.0f", price)})
	}
	p.Days = []tick{{x(first), "today"}, {x(last), last.Time().Format("2 Jan")}}
	var words []string
	for _, o := range v.Marked {
		pt := point{X: x(o.ReadyOn), Y: y(o.Total.InexactFloat64()), Shape: shapeOf(o.Differs), Anchor: "start"}
		pt.TX, pt.TY = pt.X+24, pt.Y
		if pt.X > width/2 {
			pt.TX, pt.Anchor = pt.X-24, "end"
		}
		if len(o.Names) > 0 {
			pt.Name = strings.ToUpper(o.Names[0][:1]) + o.Names[0][1:] + " " + pricing.Amount(v.Currency, o.Total)
			pt.Days = o.ReadyOn.Short(v.Today())
			words = append(words, fmt.Sprintf("%s: %s, %s", o.Names[0], pricing.Amount(v.Currency, o.Total), v.Day(o.ReadyOn)))
		}
		p.Points = append(p.Points, pt)
	}
	p.spread()
	p.Label = "Price up, day across. " + strings.Join(words, ". ") + "."
	return p
}

// wordsHigh is how high the two lines of a point's words are, and wordsWide how wide at most.
func (p *plot) wordsHigh() float64 { return 2.3 * p.letter }
func (p *plot) wordsWide() float64 { return 9 * p.letter }

// spread moves the words of points that lie close together apart, from the foot upwards, and back below the top where they
// run out of it.
func (p *plot) spread() {
	var named []*point
	for i := range p.Points {
		if p.Points[i].Name != "" {
			named = append(named, &p.Points[i])
		}
	}
	slices.SortStableFunc(named, func(a, b *point) int { return cmp.Compare(b.Y, a.Y) })
	left := func(pt *point) float64 {
		if pt.Anchor == "end" {
			return pt.TX - p.wordsWide()
		}
		return pt.TX
	}
	for i, pt := range named {
		pt.TY = math.Min(pt.TY, p.Foot-1.3*p.letter)
		for _, below := range named[:i] {
			if math.Abs(left(pt)-left(below)) < p.wordsWide() {
				pt.TY = math.Min(pt.TY, below.TY-p.wordsHigh())
			}
		}
	}
	if len(named) > 0 {
		if over := 16 - named[len(named)-1].TY; over > 0 {
			for _, pt := range named {
				pt.TY += over
			}
		}
	}
	for _, pt := range named {
		pt.TY = round(pt.TY)
	}
}

// scale rounds a span of prices outwards to at most five even steps.
func scale(low, high float64) (from, to, step float64) {
	step = math.Pow(10, math.Floor(math.Log10(math.Max(high-low, 1))))
	for _, m := range []float64{1, 2, 5, 10} {
		if (high-low)/(step*m) <= 4 {
			step *= m
			break
		}
	}
	from, to = math.Floor(low/step)*step, math.Ceil(high/step)*step
	if to <= from {
		to = from + step
	}
	return from, to, step
}

func round(x float64) float64 { return math.Round(x*10) / 10 }
