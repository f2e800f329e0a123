package pages

import (
	"math"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/cmd/stead/internal/desk"
	"stead/inventory/calendar"
	"stead/pricing"
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

// Wherever a point lies on a phone's picture, there is a side of it on which its words stand on neither axis nor edge.
func TestWordsOfAPlotHaveRoomOnAPhone(t *testing.T) {
	jan := func(day int) calendar.Day {
		return calendar.DayOf(time.Date(2027, time.January, day, 0, 0, 0, 0, time.UTC))
	}
	var v desk.Options
	for i, name := range []string{"soonest", "cheapest"} {
		o := pricing.Option{Names: []string{name}, Total: decimal.NewFromInt(int64(100 - i)), ReadyOn: jan(1 + 20*i)}
		v.Marked, v.Front.Options = append(v.Marked, desk.Marked{Option: o}), append(v.Front.Options, o)
	}
	all := plots(v)
	narrow := &all[1]
	require.Equal(t, "narrow", narrow.Class)
	for x := narrow.Left + 12; x <= narrow.Width-12; x++ {
		require.NotEmpty(t, narrow.around(point{X: x, Y: 100}), "%g from the left", x)
	}
}
