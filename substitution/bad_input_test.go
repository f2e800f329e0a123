package substitution

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What no part of any family can have is refused in one sentence that names the dimension: negative figures, absurd ones, those that
// are no figures, and zero where nothing measures nothing. Nor does a family take the dimension of another.
func TestNoFamilyTakesAnAbsurdFigure(t *testing.T) {
	asked := 0
	for _, table := range tables {
		for _, d := range table.Dimensions {
			if d.Form != Number && d.Form != Int {
				continue
			}
			bad := []float64{d.Low - 1 - math.Abs(d.High), d.High*10 + 1, math.NaN(), math.Inf(1)}
			if d.Low > 0 {
				bad = append(bad, 0, -d.Low)
			}
			for _, x := range bad {
				_, err := d.Check(Num(x))
				require.Error(t, err, "%s takes %s=%v", table.Family, d.Name, x)
				require.Contains(t, err.Error(), d.Name, "%s", table.Family)
				require.NotContains(t, strings.TrimSpace(err.Error()), "\n")
				asked++
			}
		}
		_, err := Part{Family: table.Family, Spec: Spec{"horn_volume_db": {Value: Num(3), Origin: Measured}}}.Check()
		require.ErrorContains(t, err, "horn_volume_db", "%s", table.Family)
	}
	require.Greater(t, asked, 1000)
}
