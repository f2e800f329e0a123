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
	priced        bool    // its words say the price too: on a phone there is no room beside the axis and the cards that do
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
	Lead       string // a line from the mark to words that stand far from it
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
	return []plot{draft(v, plot{Class: "wide", Width: 900, Height: 290, Left: 70, letter: 26, priced: true}, 40), draft(v, plot{Class: "narrow", Width: 340, Height: 360, Left: 58, letter: 21}, 12)}
}

// draft draws options on an empty picture, with so much room to the right of the last.
func draft(v desk.Options, p plot, right float64) plot {
	p.Foot = p.Height - 56
	cheapest, dearest := v.Span()
	low, high, step := scale(cheapest.Total.InexactFloat64(), dearest.Total.InexactFloat64())
	first, last := v.Today(), v.Marked[len(v.Marked)-1].ReadyOn
	days := math.Max(1, float64(last-first))
	x := func(d calendar.Day) float64 {
		return round(p.Left + 12 + (p.Width-p.Left-right-24)*float64(d-first)/days)
	}
	y := func(price float64) float64 { return round(p.Foot - (p.Foot-30)*(price-low)/(high-low)) }
	for price := low; price <= high+step/2; price += step {
		p.Prices = append(p.Prices, tick{y(price), fmt.Sprintf("%.0f", price)})
	}
	p.Days = []tick{{x(first), "today"}, {x(last), last.Time().Format("2 Jan")}}
	var words []string
	for _, o := range v.Marked {
		pt := point{X: x(o.ReadyOn), Y: y(o.Total.InexactFloat64()), Shape: shapeOf(o.Differs), Anchor: "start"}
		pt.TX, pt.TY = pt.X+24, pt.Y
		if pt.X > p.Width/2 {
			pt.TX, pt.Anchor = pt.X-24, "end"
		}
		if len(o.Names) > 0 {
			pt.Name = sentence(o.Names[0])
			if p.priced {
				pt.Name += " " + pricing.Amount(v.Currency, o.Total)
			}
			pt.Days = o.ReadyOn.Short(v.Today())
			words = append(words, fmt.Sprintf("%s: %s, %s", o.Names[0], pricing.Amount(v.Currency, o.Total), v.Day(o.ReadyOn)))
		}
		p.Points = append(p.Points, pt)
	}
	p.spread()
	for i := range p.Points {
		if pt := &p.Points[i]; pt.Name != "" && math.Abs(pt.TY-pt.Y) > p.letter {
			pt.Lead = fmt.Sprintf("M%g %gL%g %g", pt.X, pt.Y, pt.TX+math.Copysign(4, pt.X-pt.TX), round(pt.TY-p.letter/3))
		}
	}
	p.Label = "Price up, day across. " + strings.Join(words, ". ") + "."
	return p
}

// wordsHigh is how high the two lines of a point's words are, and wordsWide how wide at most.
func (p *plot) wordsHigh() float64 { return 2.3 * p.letter }
func (p *plot) wordsWide() float64 {
	if p.priced {
		return 9 * p.letter
	}
	return 5.5 * p.letter
}

// box is a part of the picture that something covers.
type box struct{ left, top, right, foot float64 }

func (b box) overlaps(o box) bool {
	return b.left < o.right && o.left < b.right && b.top < o.foot && o.top < b.foot
}

// mark is half of how wide and high the mark of a point is.
const mark = 11

// spread puts the words of each point where they lie on no mark and on no other words, as near to it as there is room; where
// there is none, on as few marks as may be, and never on words.
func (p *plot) spread() {
	var named []*point
	var taken []box
	for i := range p.Points {
		pt := &p.Points[i]
		taken = append(taken, box{pt.X - mark, pt.Y - mark, pt.X + mark, pt.Y + mark})
		if pt.Name != "" {
			named = append(named, pt)
		}
	}
	slices.SortStableFunc(named, func(a, b *point) int { return cmp.Compare(b.Y, a.Y) })
	marks, was := len(taken), slices.Clone(p.Points)
	for _, pt := range named {
		best, least := *pt, math.Inf(1)
		for _, at := range p.around(*pt) {
			cost := math.Abs(at.TY - pt.Y)
			if at.Anchor != pt.Anchor {
				cost += p.letter // words stand on one side, where they can
			}
			for i, t := range taken {
				if p.words(at).overlaps(t) {
					cost += 10 * p.Height
					if i >= marks {
						cost += 1000 * p.Height
					}
				}
			}
			if cost < least {
				best, least = at, cost
			}
		}
		if slices.ContainsFunc(taken[marks:], p.words(best).overlaps) {
			copy(p.Points, was)
			p.stack(named)
			return
		}
		*pt = best
		taken = append(taken, p.words(best))
	}
}

// stack moves words apart that lie close together, from the foot upwards, and back below the top where they run out of it:
// marks are not asked.
func (p *plot) stack(named []*point) {
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

// words is what the words of a point cover.
func (p *plot) words(pt point) box {
	b := box{pt.TX, pt.TY - p.letter, pt.TX + p.wordsWide(), pt.TY - p.letter + p.wordsHigh()}
	if pt.Anchor == "end" {
		b.left, b.right = pt.TX-p.wordsWide(), pt.TX
	}
	return b
}

// around is a point with its words in each place of the picture beside it: to its right and its left, and higher and lower.
func (p *plot) around(pt point) []point {
	var out []point
	for _, side := range []struct {
		anchor string
		x      float64
	}{{"start", pt.X + 24}, {"end", pt.X - 24}} {
		at := pt
		at.Anchor, at.TX = side.anchor, side.x
		if b := p.words(at); b.left < p.Left || b.right > p.Width {
			continue
		}
		for y := 16.0; y <= p.Foot-1.3*p.letter; y += p.letter / 4 {
			at.TY = round(y)
			out = append(out, at)
		}
	}
	return out
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
