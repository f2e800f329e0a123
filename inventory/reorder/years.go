package reorder

import "math"

// years is what was sold in each stretch of each whole year back from now, months or weeks, and what was to be expected of
// it by what is known already.
type years struct{ sold, expected [][]float64 }

func newYears(n, stretches int) *years {
	y := &years{make([][]float64, n), make([][]float64, n)}
	for year := range n {
		y.sold[year], y.expected[year] = make([]float64, stretches), make([]float64, stretches)
	}
	return y
}

// add takes in a week that is so many weeks ago.
func (y *years) add(ago, stretch int, sold, expected float64) {
	if year := ago / 52; year < len(y.sold) {
		y.sold[year][stretch] += sold
		y.expected[year][stretch] += expected
	}
}

// level puts what was expected of each year to what was sold in it.
func (y *years) level() {
	for year, expected := range y.expected {
		if e := sum(expected); e > 0 {
			for stretch := range expected {
				expected[stretch] *= sum(y.sold[year]) / e
			}
		}
	}
}

// repeated is how far the stretches of some years go other ways than was expected: the variance of what is sold over what
// is expected, as far as one year's differences are another's, less the error that chance makes in it, where what is sold
// in a stretch has so many times the variance of a Poisson's. It is 0 where they are not.
func repeated(all []*years, unevenness float64) float64 {
	both, square := 0.0, 0.0
	for _, y := range all {
		for a := range y.sold {
			for b := range a {
				for stretch := range y.sold[a] {
					ea, eb := y.expected[a][stretch], y.expected[b][stretch]
					both += (y.sold[a][stretch] - ea) * (y.sold[b][stretch] - eb)
					square += ea * eb
				}
			}
		}
	}
	if square == 0 {
		return 0
	}
	return max(0, (both-unevenness*math.Sqrt(square))/square)
}

// bend is how much more was sold in each stretch than expected, where as much as the doubt is worth went as expected.
func (y *years) bend(doubt float64) []float64 {
	out := make([]float64, len(y.sold[0]))
	for stretch := range out {
		sold, expected := doubt, doubt
		for year := range y.sold {
			sold += y.sold[year][stretch]
			expected += y.expected[year][stretch]
		}
		out[stretch] = sold / expected
	}
	return out
}

func sum(figures []float64) (s float64) {
	for _, f := range figures {
		s += f
	}
	return s
}
