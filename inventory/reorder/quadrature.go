package reorder

import "math"

// node is a rate that stands for a part of its distribution.
type node struct{ rate, chance float64 }

// nodes are a few rates that stand for a gamma distribution: Gauss-Laguerre
// quadrature, which has its first nine moments right (Golub and Welsch, "Calculation
// of Gauss quadrature rules", Mathematics of Computation 23, 1969).
func (g gamma) nodes() []node {
	const n = 5
	var diagonal, beside, first [n]float64
	first[0] = 1
	for i := range n {
		diagonal[i] = 2*float64(i) + g.shape
		if i > 0 {
			beside[i-1] = math.Sqrt(float64(i) * (float64(i) + g.shape - 1))
		}
	}
	tridiagonal(diagonal[:], beside[:], first[:])
	out := make([]node, 0, n)
	for i := range n {
		out = append(out, node{max(diagonal[i], 0) / g.rate, first[i] * first[i]})
	}
	return out
}

// tridiagonal turns a symmetric tridiagonal matrix into its eigenvalues and the first
// components of its eigenvectors (QL with implicit shifts).
func tridiagonal(d, e, z []float64) {
	n := len(d)
	for l := range n {
		for range 60 {
			m := l
			for ; m < n-1; m++ {
				if math.Abs(e[m]) <= 1e-15*(math.Abs(d[m])+math.Abs(d[m+1])) {
					break
				}
			}
			if m == l {
				break
			}
			g := (d[l+1] - d[l]) / (2 * e[l])
			r := math.Hypot(g, 1)
			g = d[m] - d[l] + e[l]/(g+math.Copysign(r, g))
			s, c, p := 1.0, 1.0, 0.0
			for i := m - 1; i >= l; i-- {
				f, b := s*e[i], c*e[i]
				r = math.Hypot(f, g)
				e[i+1] = r
				if r == 0 {
					d[i+1] -= p
					e[m] = 0
					break
				}
				s, c = f/r, g/r
				g = d[i+1] - p
				r = (d[i]-g)*s + 2*c*b
				p = s * r
				d[i+1] = g + p
				g = c*r - b
				z[i], z[i+1] = c*z[i]-s*z[i+1], s*z[i]+c*z[i+1]
			}
			d[l] -= p
			e[l] = g
			e[m] = 0
		}
	}
}
