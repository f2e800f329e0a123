package terminal

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
)

// Point is a mark on a plot.
type Point struct {
	X, Y float64
	Mark rune
}

// Axis names the ends of an axis.
type Axis struct{ Least, Most string }

// Bars draws how often each whole number occurs, from the least to the greatest.
func Bars(w io.Writer, values []int) {
	if len(values) == 0 {
		return
	}
	count := map[int]int{}
	for _, v := range values {
		count[v]++
	}
	most := slices.Max(slices.Collect(maps.Values(count)))
	for v := slices.Min(values); v <= slices.Max(values); v++ {
		length := count[v]
		if most > plotWidth {
			length = count[v] * plotWidth / most
		}
		fmt.Fprintln(w, strings.TrimRight(fmt.Sprintf("%10d │%s %d", v, strings.Repeat("█", length), count[v]), " "))
	}
}

// The size of the field inside the axes.
const (
	plotWidth  = 56
	plotHeight = 10
)

// Plot draws points in a field, the larger the further right and up. Where two points fall on one spot the first is drawn.
func Plot(w io.Writer, points []Point, x, y Axis) {
	field := make([][]rune, plotHeight)
	for i := range field {
		field[i] = []rune(strings.Repeat(" ", plotWidth))
	}
	at := func(of func(Point) float64, cells int) func(Point) int {
		low, high := of(points[0]), of(points[0])
		for _, p := range points {
			low, high = min(low, of(p)), max(high, of(p))
		}
		return func(p Point) int {
			if high == low {
				return cells / 2
			}
			return int((of(p) - low) / (high - low) * float64(cells-1))
		}
	}
	if len(points) > 0 {
		column := at(func(p Point) float64 { return p.X }, plotWidth)
		row := at(func(p Point) float64 { return p.Y }, plotHeight)
		for _, p := range points {
			if cell := &field[plotHeight-1-row(p)][column(p)]; *cell == ' ' {
				*cell = p.Mark
			}
		}
	}
	for i, line := range field {
		label := ""
		switch i {
		case 0:
			label = y.Most
		case plotHeight - 1:
			label = y.Least
		}
		fmt.Fprintf(w, "%10s │%s\n", label, strings.TrimRight(string(line), " "))
	}
	fmt.Fprintf(w, "%10s └%s\n", "", strings.Repeat("─", plotWidth))
	fmt.Fprintf(w, "%10s  %s%*s\n", "", x.Least, plotWidth-len(x.Least), x.Most)
}
