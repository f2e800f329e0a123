package choose

import "slices"

// Front is a set of points of which none is as good as another in cost, day and deviation together, cheapest first.
type Front []Point

// beats reports whether a is nowhere worse than b. Of equal points each beats the other.
func beats(a, b Point) bool {
	return a.Cost <= b.Cost && a.Day <= b.Day && a.Deviation <= b.Deviation
}

// add puts a point into the front unless one there is as good, and takes out those that it beats.
func (f Front) add(p Point) Front {
	for _, q := range f {
		if beats(q, p) {
			return f
		}
	}
	return append(slices.DeleteFunc(f, func(q Point) bool { return beats(p, q) }), p)
}

func (f Front) sort() {
	slices.SortFunc(f, func(a, b Point) int {
		switch {
		case a.Cost != b.Cost:
			return sign(a.Cost - b.Cost)
		case a.Day != b.Day:
			return a.Day - b.Day
		}
		return sign(a.Deviation - b.Deviation)
	})
}

func sign(x int64) int {
	switch {
	case x < 0:
		return -1
	case x > 0:
		return 1
	}
	return 0
}
