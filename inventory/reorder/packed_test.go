package reorder

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	_ "stead/testdata/drawn"
)

// What was packed comes out as it went in, to the last bit of a share.
func TestPackedIsWhatWasPacked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sales := rapid.SliceOf(rapid.Custom(func(t *rapid.T) Sale {
			return Sale{
				Day:    rapid.IntRange(-mostDays, mostDays).Draw(t, "day"),
				Pieces: rapid.IntRange(1, math.MaxInt32).Draw(t, "pieces"),
				Share:  rapid.SampledFrom([]float64{0, 0, 0.75, 1.0 / 3, 1}).Draw(t, "share"),
			}
		})).Draw(t, "sales")
		SortSales(sales)
		packed := Pack(sales)
		require.Equal(t, slices.Concat([]Sale{{Day: 7}}, sales), packed.Sales([]Sale{{Day: 7}}))
		day := rapid.IntRange(-mostDays, mostDays).Draw(t, "a day")
		require.Equal(t, countBefore(sales, day) > 0, packed.before(day))
	})
}

// A sale every few weeks takes two bytes.
func TestPackedIsSmall(t *testing.T) {
	sales := regular(100, 12)
	require.Len(t, Pack(sales), 2*len(sales))
}

// regular are so many sales, each so many days after the one before.
func regular(n, apart int) (sales []Sale) {
	for k := range n {
		sales = append(sales, Sale{Day: k * apart, Pieces: 1 + k%3})
	}
	return sales
}
