package pages

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	_ "stead/testdata/drawn" // the same values in every run
)

// However close points lie, the words of two never stand on one another.
func TestWordsOfAPlotStandApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := plot{Width: 340, Height: 360, Foot: 304, letter: 21}
		for range rapid.IntRange(1, 5).Draw(t, "points") {
			x := rapid.Float64Range(60, 330).Draw(t, "x")
			pt := point{X: x, Y: rapid.Float64Range(30, 304).Draw(t, "y"), Anchor: "start", Name: "Soonest"}
			if pt.TX = x + 24; x > p.Width/2 {
				pt.TX, pt.Anchor = x-24, "end"
			}
			pt.TY = pt.Y
			p.Points = append(p.Points, pt)
		}
		p.spread()
		for i, a := range p.Points {
			require.GreaterOrEqual(t, a.TY, 15.9)
			for _, b := range p.Points[:i] {
				if a.Anchor == b.Anchor && math.Abs(a.TX-b.TX) < p.wordsWide() {
					require.GreaterOrEqual(t, math.Abs(a.TY-b.TY), p.wordsHigh()-0.2)
				}
			}
		}
	})
}

// Words stand beside the marks of other points, where there is room.
func TestWordsOfAPlotStandOnNoMark(t *testing.T) {
	p := plot{Width: 340, Height: 360, Left: 58, Foot: 304, letter: 21}
	for _, at := range []point{{X: 80, Y: 120, Name: "Soonest"}, {X: 105, Y: 125}, {X: 110, Y: 260, Name: "Cheapest"}, {X: 130, Y: 255}, {X: 310, Y: 125, Name: "Closest"}, {X: 310, Y: 200}} {
		at.TX, at.TY, at.Anchor = at.X+24, at.Y, "start"
		if at.X > p.Width/2 {
			at.TX, at.Anchor = at.X-24, "end"
		}
		p.Points = append(p.Points, at)
	}
	p.spread()
	for _, a := range p.Points {
		for _, b := range p.Points {
			require.False(t, a.Name != "" && p.words(a).overlaps(box{b.X - mark, b.Y - mark, b.X + mark, b.Y + mark}), "%s stands on a mark", a.Name)
		}
	}
}
