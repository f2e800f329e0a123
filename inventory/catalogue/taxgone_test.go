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

// A list that goes over to prices with tax in them, and does not say so, is held: each of its prices would be quoted too high, with
// tax upon tax. The sums are by hand; 15 per cent is the least main rate of the Union (Council Directive 2006/112/EC, article 97).
func TestTaxThatHasCome(t *testing.T) {
	for name, c := range map[string]struct {
		lines, others int // how many lines, and how many of them moved otherwise: by half as much again
		times, title  string
		rate          string // that is asked about; none where the list is loaded
	}{
		"with tax now":                        {9, 0, "1.21", "", "21"},
		"with tax now, and two dearer":        {9, 2, "1.21", "", "21"},
		"at a half":                           {9, 0, "1.255", "", "25.5"},
		"at the shop's own rate":              {9, 0, "1.081", "", "8.1"},
		"most moved otherwise":                {9, 6, "1.21", "", ""},
		"all dearer by what is no main rate":  {9, 0, "1.07", "", ""},
		"the prices stayed":                   {9, 0, "1", "", ""},
		"too few lines to say it by them":     {4, 0, "1.21", "", ""},
		"the list says that none is in them":  {9, 0, "1.21", "All prices exclude VAT\n", ""},
		"all dearer, each by another rate":    {9, 9, "1.21", "", ""},
		"the list says which tax is in them":  {9, 0, "1.21", "All prices include 21 % VAT\n", ""},
		"cheaper, as if tax had gone from it": {9, 0, "0.8264", "", ""},
	} {
		t.Run(name, func(t *testing.T) {
			tx := testdb.Tx(t)
			supplier := addSupplier(t, tx)
			loaded := func(list string, day int, accept Accept, taxIn string) (Summary, error) {
				file := open(t, []byte(list))
				p, err := pricelist.ProposeFile(file)
				require.NoError(t, err)
				if taxIn != "" {
					p.Mapping = p.WithTax(decimal.RequireFromString(taxIn))
				}
				accept.Jumps = true
				return Load{SupplierID: supplier, File: file, Mapping: p.Mapping, AsOf: march.AddDate(0, 0, day), Accept: accept, Tax: decimal.RequireFromString("8.1")}.Run(t.Context(), tx)
			}
			_, err := loaded(pricesTimes(c.lines, "1"), 0, Accept{}, "")
			require.NoError(t, err)
			list := pricesTimes(c.lines, c.times)
			for i := range c.others {
				was := decimal.NewFromInt(int64(12 + 7*i))
				list = strings.Replace(list, ","+was.Mul(decimal.RequireFromString(c.times)).StringFixed(2)+"\n", ","+was.Mul(decimal.New(int64(130+i), -2)).StringFixed(2)+"\n", 1)
			}
			s, err := loaded(c.title+list, 1, Accept{}, "")
			if c.rate == "" {
				require.NoError(t, err)
				return
			}
			require.ErrorAs(t, err, new(*HeldError))
			require.Equal(t, pricelist.TaxCome, s.Paper)
			require.Contains(t, s.Doubt, fmt.Sprintf("as they would be if tax of %s %% were in them now", c.rate))
			_, err = loaded(list, 1, Accept{}, c.rate)
			require.NoError(t, err)
			_, err = loaded(list, 2, Accept{Prices: true}, "")
			require.NoError(t, err)
		})
	}
}
