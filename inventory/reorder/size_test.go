package reorder

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// sized are the sales of parts that have sold so many times, each of a size.
func sized(r *rand.Rand, parts, sales int, size func(sale int) int) (all [][]Sale) {
	for range parts {
		var of []Sale
		from := r.IntN(2000)
		for k := range sales {
			of = append(of, Sale{Day: from + 20*k + r.IntN(20), Pieces: size(k)})
		}
		all = append(all, of)
	}
	return all
}

// Where parts are bought in sixes when they are new and singly once they are known, a new part is expected to go in
// sixes and an old one singly.
func TestSizesByHowOftenAPartHasSold(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	parts := sized(r, 100, 20, func(sale int) int {
		if sale < 2 {
			return 6
		}
		return 1
	})
	z := teachSizes(parts)
	young, old := z.of(parts[0][:1]), z.of(parts[0])
	require.Greater(t, young[6], 0.5)
	require.Greater(t, old[1], 0.8)
	sum := 0.0
	for _, chance := range old {
		sum += chance
	}
	require.InDelta(t, 1, sum, 1e-12)
}

// What has never sold is expected to go as the shop's parts do; where nothing has, singly or in twos.
func TestSizesWithoutSales(t *testing.T) {
	require.InDelta(t, 1.2, meanOf(none().of(nil)), 0.05)
	dozens := teachSizes(sized(rand.New(rand.NewPCG(9, 9)), 50, 6, func(int) int { return 12 }))
	require.Greater(t, dozens.of(nil)[12], 0.7)
}

func none() *sizes {
	z := teachSizes(nil)
	return &z
}
