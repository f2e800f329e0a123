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
