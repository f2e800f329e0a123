package reorder

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	_ "stead/testdata/drawn" // the same values in every run
)

// taughtBy60Weeks is what the first 60 weeks of a family's made shop are taught by, without a season.
func taughtBy60Weeks(name string, parts int) *teaching {
	k := slices.IndexFunc(families, func(f family) bool { return f.name == name })
	w := families[k].made(parts, 60, 60, 5)
	season := make([]float64, 61)
	for week := range season {
		season[week] = 1
	}
	return taughtBy(booksOf(stockBook(w.Items), 0, w.Start).sample(mostTaught), season, horizon{weeks: 1, wait: 3})
}

// What is taught is nearly the best that there is: to go on for long foretells hardly better, though some figures do one
// another's work.
func TestTaughtWell(t *testing.T) {
	for _, f := range families {
		t.Run(f.name, func(t *testing.T) {
			told := taughtBy60Weeks(f.name, 400)
			m := told.teach(untaught)
			_, v := told.value(&m)
			best := told.climbed(m, 40)
			_, most := told.value(&best)
			require.Less(t, most-v, 4.0, "of the log chance")
		})
	}
}

// Equations are solved: put in, the answer gives the right side again.
func TestSolved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "n")
		figure := rapid.Float64Range(-3, 3)
		rows := make([][]float64, n)
		for i := range rows {
			rows[i] = rapid.SliceOfN(figure, n, n).Draw(t, "row")
		}
		matrix, right := make([][]float64, n), rapid.SliceOfN(figure, n, n).Draw(t, "right")
		for i := range matrix {
			matrix[i] = make([]float64, n)
			for j := range matrix {
				for k := range n {
					matrix[i][j] += rows[i][k] * rows[j][k] // symmetric, and with the next line positive definite
				}
			}
			matrix[i][i]++
		}
		x := solved(damped(matrix, 0), slices.Clone(right))
		for i := range matrix {
			sum := 0.0
			for j := range x {
				sum += matrix[i][j] * x[j]
			}
			require.InDelta(t, right[i], sum, 1e-9)
		}
	})
}
