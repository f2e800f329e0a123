package pricing

import (
	"context"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/migrations/testdb"
	"stead/substitution/inspection"
)

func (w *workshop) tax(percent string, on Taxed) {
	w.t.Helper()
	require.NoError(w.t, SetTax(w.t.Context(), w.tx, Tax{"VAT", pounds(percent)}, on, time.Date(2011, time.January, 4, 0, 0, 0, 0, time.UTC)))
}

// What carries another rate says so, and each rate is summed up by itself.
func TestTaxByKind(t *testing.T) {
	for _, c := range []struct {
		name  string
		on    map[Taxed]string // beside 20 % on everything
		rates []string         // of a chain at £20.00 and 15 minutes of work at £11.00 before tax: percent, net, tax, gross
	}{
		// 13.20 and 20.00 contain a sixth: 33.20 ÷ 1.2 = 27.666…, so 27.67 and 5.53.
		{"one rate", nil, []string{"20 27.67 5.53 33.20"}},
		// 11.00 × 1.06 = 11.66. The chain: 20.00 ÷ 1.2 = 16.666…, so 16.67 and 3.33.
		{"work at 6", map[Taxed]string{Work: "6"}, []string{"20 16.67 3.33 20.00", "6 11.00 0.66 11.66"}},
		// 11.00 × 1.09 = 11.99 and the chain's 20.00: 31.99 ÷ 1.09 = 29.3486…, so 29.35 and 2.64.
		{"repairs at 9", map[Taxed]string{Repairs: "9"}, []string{"9 29.35 2.64 31.99"}},
		// 20.00 ÷ 1.05 = 19.0476…, so 19.05 and 0.95; work as in the second.
		{"chains at 5, work at 6, repairs at 9", map[Taxed]string{"chain": "5", Work: "6", Repairs: "9"}, []string{"6 11.00 0.66 11.66", "5 19.05 0.95 20.00"}},
		{"nothing on work", map[Taxed]string{Work: "0"}, []string{"20 16.67 3.33 20.00", "0 11.00 0.00 11.00"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			for on, percent := range c.on {
				w.tax(percent, on)
			}
			w.shelve(w.part("chain 9-speed", "chain", chain9, "20.00"), 1)
			job := w.bookIn(touringBike(t), Limits{})
			w.find(job, inspection.Replace, "chain")
			q := w.quote(job)
			o := named(t, q, "cheapest")
			w.approve(job, "cheapest")
			rates := ByRate(w.agreed(job).Standing())
			require.Equal(t, c.rates, ratesOnPaper(rates))
			if len(rates) > 1 {
				require.Equal(t, ratesOnPaper(rates), ratesOnPaper(o.Rates))
			}
			sum := decimal.Zero
			for _, r := range rates {
				sum = sum.Add(r.Tax)
			}
			require.True(t, sum.Equal(o.TaxInTotal))
		})
	}
}

func ratesOnPaper(rates []Rate) (out []string) {
	for _, r := range rates {
		out = append(out, r.Percent.String()+" "+r.Net.StringFixed(2)+" "+r.Tax.StringFixed(2)+" "+r.Gross.StringFixed(2))
	}
	return out
}

// A discount is at the rates of its lines, and what is left out takes its share of it back.
func TestDiscountByRate(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	w.tax("6", Work)
	w.shelve(w.part("chain 9-speed", "chain", chain9, "20.00"), 1)
	job := w.bookIn(touringBike(t), Limits{})
	w.find(job, inspection.Replace, "chain")
	// £10.00 before tax at nothing at all; 10 % off everything, and then £3.00.
	_, err := AddWork(t.Context(), w.tx, job, AddedWork{Words: "fit the bell", Tax: Tax{"VAT", decimal.Zero}}, nullPounds("10.00"), now)
	require.NoError(t, err)
	for _, d := range []Discount{{Percent: nullPounds("10"), Why: "club"}, {Amount: nullPounds("3.00"), Why: "late"}} {
		_, err := AddDiscount(t.Context(), w.tx, job, d, now)
		require.NoError(t, err)
	}
	q := w.quote(job)
	require.Equal(t, "VAT at 6 %, VAT at 0 % and VAT at 20 %", q.TaxWords())
	o := named(t, q, "cheapest")
	// Work 11.66 at 6 % less 1.17 is 10.49; the bell 10.00 at 0 % less 1.00 is 9.00; the chain 20.00 at 20 % less 2.00 is
	// 18.00: 37.49. Of 3.00 by that: 10.49/37.49 is 0.839…, so 0.84; 19.49/37.49 is 1.559…, so 1.56 and 0.72; the rest 1.44.
	require.Equal(t, "34.49", o.Total.StringFixed(2))
	require.Equal(t, []string{"20 13.80 2.76 16.56", "6 9.10 0.55 9.65", "0 8.28 0.00 8.28"}, ratesOnPaper(o.Rates))

	w.approve(job, "cheapest")
	require.NoError(t, CloseJob(t.Context(), w.tx, job, true, now))
	// Without chain and its work, 16.56 and 9.65, the bell is left: 8.28.
	require.Equal(t, "8.28", w.job(job).Ending.Due.StringFixed(2))
	require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
		return SetTax(ctx, tx, Tax{"VAT", pounds("5")}, "helmets", now)
	}), "a rate of tax is for work, repairs or the parts of a family")
}

// What is shared out comes to just the amount, and each share is within a penny of its due.
func TestShareOut(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		pence := func(label string) decimal.Decimal { return decimal.New(rapid.Int64Range(1, 50_000).Draw(r, label), -2) }
		parts := make([]decimal.Decimal, rapid.IntRange(1, 5).Draw(r, "parts"))
		all := decimal.Zero
		for i := range parts {
			parts[i] = pence("part")
			all = all.Add(parts[i])
		}
		amount := decimal.Min(pence("amount"), all)
		sum := decimal.Zero
		for i, s := range shareOut(amount, parts) {
			sum = sum.Add(s)
			due := amount.Mul(parts[i]).Div(all)
			require.True(r, due.Sub(s).Abs().LessThanOrEqual(pounds("0.01")), "%s where %s is due", s, due)
		}
		require.True(r, sum.Equal(amount))
	})
}
