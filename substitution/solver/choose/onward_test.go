package choose

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// What is kept for a set of used suppliers must not be taken for another set's, nor one search's for the next; and
// with more suppliers than a word has bits, nothing can be kept by their set.
func TestSolveWithManySuppliers(t *testing.T) {
	for _, suppliers := range []int{14, 70} {
		t.Run(fmt.Sprint(suppliers, " suppliers"), func(t *testing.T) {
			for seed := range uint64(80) {
				r := rand.New(rand.NewPCG(seed, 9))
				p := generate(seed+300, shape{needs: 5, options: 7, suppliers: suppliers, values: []int{2}, extraLinks: 0.2, paid: float64(r.IntN(2)) / 2})
				got := verified(t, p)
				require.Equal(t, figures(enumerate(p)), figures(got.Front), "seed %d", seed)
			}
		})
	}
}
