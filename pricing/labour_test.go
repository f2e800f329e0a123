package pricing

import (
	"context"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
	"stead/substitution/inspection"
)

func TestLabourPriceRefused(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	good := Labour{"cassette", inspection.Replace, "fit cassette", 10, pounds("9.00")}
	for _, c := range []struct {
		name   string
		change func(*Labour)
		says   string
	}{
		{"unknown family", func(l *Labour) { l.Family = "rope" }, "rope"},
		{"unknown work", func(l *Labour) { l.Action = "polish" }, "polish"},
		{"no work", func(l *Labour) { l.Action = inspection.Keep }, "what is kept is no work"},
		{"no words", func(l *Labour) { l.Words = " " }, "say in a few words what is done"},
		{"no minutes", func(l *Labour) { l.Minutes = 0 }, "0 minutes"},
		{"below zero", func(l *Labour) { l.Price = pounds("-1") }, "-1"},
		{"a fraction of a penny", func(l *Labour) { l.Price = pounds("9.005") }, "at most two decimals"},
		{"a slip of the pen", func(l *Labour) { l.Price = pounds("90000000") }, "90000000"},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := good
			c.change(&l)
			require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error { return SetLabour(ctx, tx, l) }), c.says)
		})
	}
	require.NoError(t, SetLabour(t.Context(), w.tx, good))
	good.Price = pounds("10.00")
	require.NoError(t, SetLabour(t.Context(), w.tx, good), "a price is changed by setting it again")
	prices, err := labourPrices(t.Context(), w.tx, decimal.NullDecimal{})
	require.NoError(t, err)
	require.Equal(t, "10.00", prices[work{"cassette", inspection.Replace}].Price.StringFixed(2))
}

func TestTaxRefused(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	for _, c := range []struct {
		name string
		tax  Tax
		says string
	}{
		{"no name", Tax{"", pounds("20")}, "needs its name"},
		{"below zero", Tax{"VAT", pounds("-5")}, "-5 % cannot be meant"},
		{"all of it", Tax{"VAT", pounds("100")}, "100 % cannot be meant"},
		{"too fine", Tax{"VAT", pounds("17.50001")}, "three decimals"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
				return SetTax(ctx, tx, c.tax, Everything, time.Date(2026, time.January, 1, 0, 0, 0, 0, time.UTC))
			}), c.says)
		})
	}
}
