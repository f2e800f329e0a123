package catalogue

import (
	"fmt"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist"
	"stead/migrations/testdb"
)

// A list with tax in its prices that goes over to prices before tax, and does not say so, is held: taken as before, each of its
// prices would be too low. The sums are by hand.
func TestTaxThatIsGone(t *testing.T) {
	for name, c := range map[string]struct {
		lines int
		rate  int64
		times string // each price by what it was, as the lists have it
		held  bool
	}{
		"before tax now, 20 in 120 less":  {9, 20, "0.8333", true},
		"before tax now, and 4 % dearer":  {9, 20, "0.8667", true},
		"before tax now, at a low rate":   {9, 7, "0.9346", true},
		"the prices stayed":               {9, 20, "1", false},
		"cheaper by 5 in 100":             {9, 20, "0.95", false},
		"dearer by 8 in 100":              {9, 20, "1.08", false},
		"no tax was in it, and cheaper":   {9, 0, "0.8333", false},
		"too few lines to say it by them": {4, 20, "0.8333", false},
	} {
		t.Run(name, func(t *testing.T) {
			tx := testdb.Tx(t)
			supplier := addSupplier(t, tx)
			loaded := func(times string, day int, rate int64, accept Accept) (Summary, error) {
				file := open(t, []byte(pricesTimes(c.lines, times)))
				p, err := pricelist.ProposeFile(file)
				require.NoError(t, err)
				return Load{SupplierID: supplier, File: file, Mapping: p.Mapping.WithTax(decimal.NewFromInt(rate)), AsOf: march.AddDate(0, 0, day), Accept: accept}.Run(t.Context(), tx)
			}
			_, err := loaded("1", 0, c.rate, Accept{})
			require.NoError(t, err)
			s, err := loaded(c.times, 1, c.rate, Accept{})
			if !c.held {
				require.NoError(t, err)
				return
			}
			require.ErrorAs(t, err, new(*HeldError))
			require.Equal(t, pricelist.TaxGone, s.Paper)
			require.Contains(t, s.Doubt, fmt.Sprintf("the tax of %d %% that is taken out", c.rate))
			_, err = loaded(c.times, 1, 0, Accept{})
			require.NoError(t, err)
		})
	}
}

func pricesTimes(lines int, times string) string {
	var b strings.Builder
	b.WriteString("Code,Description,Price\n")
	for i := range lines {
		price := decimal.NewFromInt(int64(12 + 7*i)).Mul(decimal.RequireFromString(times))
		fmt.Fprintf(&b, "TG-%d,Chain 9 speed %d links,%s\n", i, 108+i, price.StringFixed(2))
	}
	return b.String()
}
