package reorder

import "math"

// figure is one of those that a memory is taught. All but those that may be nought are sought by their logarithms.
type figure struct {
	of          func(*memory) *float64
	least, most float64 // so that none grows without end where nothing speaks against it
	believed    float64 // before there are books
	spread      float64 // how far off that may be: common practice, no source
	plain       bool    // sought as it is
}

var figures = []figure{
	{of: func(m *memory) *float64 { return &m.shape }, least: 0.05, most: 50, believed: untaught.shape, spread: 1},
	{of: func(m *memory) *float64 { return &m.weeks }, least: 0.02, most: 500, believed: untaught.weeks, spread: 1.5},
	{of: func(m *memory) *float64 { return &m.slow }, least: 4, most: 400, believed: untaught.slow, spread: 1.5},
	{of: func(m *memory) *float64 { return &m.fast }, least: 0.5, most: 400, believed: untaught.fast, spread: 1.5},
	{of: func(m *memory) *float64 { return &m.worth }, least: 0.1, most: 100, believed: untaught.worth, spread: 1.5},
	{of: func(m *memory) *float64 { return &m.evenness }, least: 0.05, most: 20, believed: untaught.evenness, spread: 1.5},
	{of: func(m *memory) *float64 { return &m.drift }, least: 0.001, most: 3, believed: untaught.drift, spread: 1.5},
	{of: func(m *memory) *float64 { return &m.dearness }, least: -1, most: 1, spread: 0.5, plain: true},
	{of: func(m *memory) *float64 { return &m.ends }, least: 1e-4, most: 0.2, believed: untaught.ends, spread: 1.5},
	{of: func(m *memory) *float64 { return &m.returns }, least: 1e-4, most: 0.2, believed: untaught.returns, spread: 1.5},
	{of: func(m *memory) *float64 { return &m.before }, least: 0, most: 1, believed: untaught.before, spread: 1, plain: true},
}

// away is how far a figure is from what was believed of it, in spreads.
func (f *figure) away(m *memory) float64 {
	if f.plain {
		return (*f.of(m) - f.believed) / f.spread
	}
	return math.Log(*f.of(m)/f.believed) / f.spread
}

// by is a figure so much further, within its bounds.
func (f *figure) by(m *memory, move float64) float64 {
	to := *f.of(m)
	if f.plain {
		to += move
	} else {
		to *= math.Exp(move)
	}
	return max(f.least, min(f.most, to))
}

// full reports whether a figure can't be moved so far.
func (f *figure) full(m *memory, move float64) bool {
	to := f.by(m, move)
	return to == f.least && move < 0 || to == f.most && move > 0
}

// moved is the memory with its figures moved so far.
func (m memory) moved(by []float64) memory {
	next := m
	for k := range figures {
		*figures[k].of(&next) = figures[k].by(&m, by[k])
	}
	next.fast = min(next.fast, next.slow)
	return next.ready()
}

// solved solves equations whose matrix is symmetric and positive definite, by Cholesky's method. It writes over both.
func solved(matrix [][]float64, right []float64) []float64 {
	for k := range right {
		for j := range k {
			matrix[k][k] -= matrix[k][j] * matrix[k][j]
			right[k] -= matrix[k][j] * right[j]
		}
		matrix[k][k] = math.Sqrt(max(matrix[k][k], 1e-12))
		right[k] /= matrix[k][k]
		for i := k + 1; i < len(right); i++ {
			for j := range k {
				matrix[i][k] -= matrix[i][j] * matrix[k][j]
			}
			matrix[i][k] /= matrix[k][k]
		}
	}
	for k := len(right) - 1; k >= 0; k-- {
		for i := k + 1; i < len(right); i++ {
			right[k] -= matrix[i][k] * right[i]
		}
		right[k] /= matrix[k][k]
	}
	return right
}
