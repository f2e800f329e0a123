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
			_, v := told.value(m)
			best := told.climbed(m, 40)
			_, most := told.value(best)
			require.Less(t, most-v, 4.0, "of the log chance")
		})
	}
}

// A chance that parts come to their end is learnt where they do, and hardly any where they do not.
func TestTheEndIsLearnt(t *testing.T) {
	m := taughtBy60Weeks("old and new", 800).teach(untaught)
	require.Greater(t, m.ends, 0.5/70, "they live 70 weeks on average")
	require.Less(t, m.ends, 2.0/70)
	require.Less(t, m.returns, m.ends, "none comes back")
	still := taughtBy60Weeks("single", 800).teach(untaught)
	require.Less(t, still.ends, 0.2/70)

	var s, often state
	for range 10 {
		m.add(&s, 1, 0, 1)
		m.add(&often, 1, 3, 1)
	}
	few, many := s.ended, often.ended
	require.Greater(t, few, 10*m.ends, "each week without a sale speaks for it")
	require.InDelta(t, m.ends/(1-m.ends), many, 1e-12, "and one with a sale against it")
	for range 3 {
		m.add(&often, 1, 0, 1)
	}
	for range 3 {
		m.add(&s, 1, 0, 1)
	}
	require.Greater(t, often.ended/many, s.ended/few, "the more, the more often it sold")
}

// Of parts that nobody has asked for in 15 weeks as many sales are expected as come.
func TestSilentPartsSellAsExpected(t *testing.T) {
	k := slices.IndexFunc(families, func(f family) bool { return f.name == "old and new" })
	w := setting(families[k].made(1500, 60, 72, 6), short, 5)
	until := w.Start + 12*daysPerPeriod
	s := Books{w, w.Start}.Weigh()
	expected, came := 0.0, 0.0
	for i, item := range w.Items {
		n := countBefore(item.Sales, w.Start)
		if n > 0 && standing(item.Sales[:n], w.Start) == "silent" {
			expected += s.perDay[i] * float64(until-w.Start)
			came += float64(countBefore(item.Sales, until) - n)
		}
	}
	require.InEpsilon(t, came, expected, 0.35)
	s.learnt.memory.ends = 0
	blind := s.learnt.weigh(s.books.StockBook, w.Start)
	without := 0.0
	for i, item := range w.Items {
		n := countBefore(item.Sales, w.Start)
		if n > 0 && standing(item.Sales[:n], w.Start) == "silent" {
			without += blind.perDay[i] * float64(until-w.Start)
		}
	}
	require.Greater(t, without, 2*came, "without an end")
}

// Two ways to a gamma that is only with a chance: its mean and its variance are those of the mixture.
func TestOrNotAtAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := gamma{rapid.Float64Range(0.1, 20).Draw(t, "shape"), rapid.Float64Range(0.1, 20).Draw(t, "rate")}
		odds := rapid.Float64Range(0, 50).Draw(t, "odds")
		chance, is := 1/(1+odds), g.or(odds)
		mean, square := g.shape/g.rate, g.shape*(1+g.shape)/(g.rate*g.rate)
		require.InEpsilon(t, chance*mean, is.shape/is.rate, 1e-9)
		require.InEpsilon(t, chance*square, is.shape*(1+is.shape)/(is.rate*is.rate), 1e-9)
	})
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

// What is supposed of a part that has long been silent is said, and nothing of one that may well sell again.
func TestEndIsTold(t *testing.T) {
	in := Insight{Sales: 6, Asked: 1, Weeks: 60, Silent: 25, PerDay: 0.004, Least: 0.001, Most: 0.02}
	for _, c := range []struct {
		ended float64
		words string
	}{
		{0.1, ", none in the last 25 (9 in 10"},
		{0.3, ", none in the last 25: 1 chance in 4 that nobody asks for it now (9 in 10"},
		{0.5, ": 1 chance in 2 that nobody asks for it now"},
		{0.7, ": 3 chances in 4 that nobody asks for it now"},
		{0.95, ": 9 chances in 10 that nobody asks for it now"},
	} {
		in.Ended = c.ended
		require.Contains(t, in.Words(), c.words)
	}
	in.Silent = 3
	require.NotContains(t, in.Words(), "nobody asks")
}
