package billing

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/pricing"
	"stead/substitution"
	"stead/substitution/inspection"
	_ "stead/testdata/drawn" // the same values in every run
)

func TestMain(m *testing.M) { testdb.Main(m) }

var now = time.Date(2026, time.March, 3, 10, 0, 0, 0, time.UTC)

// at is a moment of which nothing is said.
func at(now time.Time) Moment { return Moment{Now: now} }

func pounds(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func nullPounds(s string) decimal.NullDecimal { return decimal.NewNullDecimal(pounds(s)) }

// billOf is a bill of lines at rates, as "rate amount".
func billOf(lines ...[2]string) Bill {
	b := Bill{Series: Bills, Number: 1}
	for _, l := range lines {
		b.Lines = append(b.Lines, Line{Kind: pricing.PartsLine, Words: "line", Tax: pricing.Tax{Name: "VAT", Percent: pounds(l[0])}, Amount: pounds(l[1])})
	}
	b.sumUp()
	return b
}

// The examples are those that the authors of EN 16931 publish with their validation rules (eInvoicing-EN16931, ubl/examples,
// ubl-tc434-example1 and -example2): for each rate what the lines come to before tax and the tax (BR-CO-17), and the sums
// (BR-CO-14 and 15). Here prices include tax, so the lines put in are net and tax of a rate together, split over two lines.
func TestTaxByRateAsEN16931(t *testing.T) {
	for _, c := range []struct {
		name           string
		rates          [][3]string // percent, net, tax
		net, tax, gros string
	}{
		{"example 1: 6 and 21 %", [][3]string{{"21", "46.37", "9.74"}, {"6", "183.23", "10.99"}}, "229.60", "20.73", "250.33"},
		{"Peppol BIS Billing 3.0, Allowance-example: an allowance and a charge at 25 %, and 0 %", [][3]string{{"25", "4900.00", "1225.00"}, {"0", "1000.00", "0.00"}}, "5900.00", "1225.00", "7125.00"},
		{"example 2: 25, 15 and 0 %, the last less than nothing", [][3]string{{"25", "1460.50", "365.13"}, {"15", "1.00", "0.15"}, {"0", "-25.00", "0.00"}}, "1436.50", "365.28", "1801.78"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var lines [][2]string
			for _, r := range c.rates {
				gross := pounds(r[1]).Add(pounds(r[2]))
				lines = append(lines, [2]string{r[0], "0.37"}, [2]string{r[0], gross.Sub(pounds("0.37")).String()})
			}
			b := billOf(lines...)
			require.Len(t, b.Rates, len(c.rates))
			for i, r := range c.rates {
				require.Equal(t, r, [3]string{b.Rates[i].Percent.String(), b.Rates[i].Net.StringFixed(2), b.Rates[i].Tax.StringFixed(2)})
			}
			require.Equal(t, []string{c.net, c.tax, c.gros}, []string{b.Net.StringFixed(2), b.Tax.StringFixed(2), b.Total.StringFixed(2)})
		})
	}
}

// The example is that of Peppol BIS Billing 3.0, base-creditnote-correction: 2 800, less 1 500, and a charge of 25
// before 25 % of tax, given back whole and in steps. Each credit note names its bill (Directive 2006/112/EC, article
// 219).
func TestCreditNoteAsPeppol(t *testing.T) {
	b := billOf([2]string{"25", "3500.00"}, [2]string{"25", "-1875.00"}, [2]string{"25", "31.25"})
	require.Equal(t, []string{"1325.00", "331.25", "1656.25"}, []string{b.Net.StringFixed(2), b.Tax.StringFixed(2), b.Total.StringFixed(2)})
	for name, steps := range map[string][]Back{"whole": {nil}, "in steps": {{3: {}}, {1: nullPounds("1900.00"), 2: {}}, nil}} {
		t.Run(name, func(t *testing.T) {
			var given []Bill
			net, tax, total := decimal.Zero, decimal.Zero, decimal.Zero
			for _, back := range steps {
				left := b.left(given)
				lines, err := b.giveBack(left, back)
				require.NoError(t, err)
				c := Bill{Series: Credits, Credits: b.Number, Lines: lines, Rates: b.ratesOf(lines, given)}
				c.sumRates()
				given, net, tax, total = append(given, c), net.Add(c.Net), tax.Add(c.Tax), total.Add(c.Total)
			}
			require.Equal(t, []string{"1325.00", "331.25", "1656.25"}, []string{net.StringFixed(2), tax.StringFixed(2), total.StringFixed(2)})
		})
	}
}

// VAT is rounded to the nearest penny once for each rate of a bill: HMRC, VAT Notice 700, 17.5, as VATREC12010 explains it,
// allows the nearer penny and forbids rounding down to whole pennies what a price includes.
func TestTaxIsRoundedToTheNearerPenny(t *testing.T) {
	for gross, tax := range map[string]string{"0.01": "0.00", "0.03": "0.00", "0.04": "0.01", "0.09": "0.01", "0.10": "0.02", "5.21": "0.87", "5.23": "0.87", "48.80": "8.13"} {
		require.Equal(t, tax, billOf([2]string{"20", gross}).Tax.StringFixed(2), gross)
	}
}

// Net and tax add up to the lines, the tax is what the rate says of the net to within a penny (BR-CO-17; the price includes
// tax, so that net and tax cannot both be rounded freely), and of a bill that is given back in any steps nothing is left.
func TestWhatIsGivenBackAddsUp(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var lines [][2]string
		for range rapid.IntRange(1, 6).Draw(r, "lines") {
			rate := rapid.SampledFrom([]string{"20", "5", "0", "21", "8.1"}).Draw(r, "rate")
			lines = append(lines, [2]string{rate, decimal.New(rapid.Int64Range(1, 20000).Draw(r, "pence"), -2).String()})
		}
		b := billOf(lines...)
		require.True(r, b.Net.Add(b.Tax).Equal(b.Total))
		for _, rate := range b.Rates {
			exact := rate.Net.Mul(rate.Percent).Shift(-2)
			require.True(r, exact.Sub(rate.Tax).Abs().LessThan(pounds("0.01")), "%s of %s at %s %%", rate.Tax, rate.Net, rate.Percent)
		}
		var given []Bill
		tax, total := decimal.Zero, decimal.Zero
		for {
			left := b.left(given)
			var open []int
			for i, x := range left {
				if !x.IsZero() {
					open = append(open, i+1)
				}
			}
			if len(open) == 0 {
				break
			}
			n := rapid.SampledFrom(open).Draw(r, "line")
			back := Back{n: {}}
			if rapid.Bool().Draw(r, "some of it") {
				back[n] = decimal.NewNullDecimal(decimal.New(rapid.Int64Range(1, left[n-1].Shift(2).IntPart()).Draw(r, "pence"), -2))
			}
			credited, err := b.giveBack(left, back)
			require.NoError(r, err)
			c := Bill{Series: Credits, Credits: b.Number, Lines: credited, Rates: b.ratesOf(credited, given)}
			c.sumRates()
			require.False(r, c.Tax.IsNegative() || c.Net.IsNegative())
			given, tax, total = append(given, c), tax.Add(c.Tax), total.Add(c.Total)
		}
		require.True(r, tax.Equal(b.Tax) && total.Equal(b.Total))
		_, err := b.giveBack(b.left(given), nil)
		require.ErrorContains(r, err, "nothing is left of bill 1")
	})
}

// A credit note is a paper of its own: its tax is its rate's, rounded as on any (EN 16931, BR-CO-17), whatever the pennies of
// the bill; the one that closes the bill has what is left. £10.00 at 20 in 100 hold £1.67. Worked by hand.
func TestACreditsTaxIsItsOwn(t *testing.T) {
	for _, c := range []struct {
		name, bill string
		back, tax  []string
	}{
		{"of a bill whose own tax was rounded up", "48.80", []string{"10.00", "38.80"}, []string{"1.67", "6.46"}},
		{"the same again and again", "40.00", []string{"10.00", "10.00", "10.00", "10.00"}, []string{"1.67", "1.67", "1.67", "1.66"}},
		{"no more tax than there is", "0.09", []string{"0.04", "0.04", "0.01"}, []string{"0.01", "0.00", "0.00"}},
		{"no tax is left without its price", "0.12", []string{"0.03", "0.03", "0.03", "0.02", "0.01"}, []string{"0.00", "0.00", "0.00", "0.01", "0.01"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			b, given := billOf([2]string{"20", c.bill}), []Bill(nil)
			for i, back := range c.back {
				lines, err := b.giveBack(b.left(given), Back{1: nullPounds(back)})
				require.NoError(t, err)
				note := Bill{Series: Credits, Credits: b.Number, Lines: lines, Rates: b.ratesOf(lines, given)}
				note.sumRates()
				require.Equal(t, []string{back, c.tax[i]}, []string{note.Total.StringFixed(2), note.Tax.StringFixed(2)}, "note %d", i+1)
				given = append(given, note)
			}
		})
	}
}

// shop has one chain at £20.00 on the shelf and charges £12.00 before tax to fit one.
func shop(t testing.TB, tx pgx.Tx) (request string, chain inventory.Part) {
	t.Helper()
	ctx := t.Context()
	_, err := inventory.ChangeShop(ctx, tx, func(s *inventory.Shop) {
		s.Name, s.Address, s.TaxNumber = "Tannery Yard", "3 Tannery Yard\nHarrowby", "GB 000 0000 00"
	})
	require.NoError(t, err)
	require.NoError(t, pricing.SetTax(ctx, tx, pricing.Tax{Name: "VAT", Percent: pounds("20")}, pricing.Everything, time.Date(2011, 1, 4, 0, 0, 0, 0, time.UTC)))
	require.NoError(t, pricing.SetLabour(ctx, tx, pricing.Labour{Family: "chain", Action: inspection.Replace, Words: "fit chain", Minutes: 15, Price: pounds("12.00")}))
	require.NoError(t, pricing.SetLabour(ctx, tx, pricing.Labour{Family: "headset", Action: inspection.Adjust, Words: "adjust headset", Minutes: 15, Price: pounds("12.00")}))
	require.NoError(t, inventory.AddBin(ctx, tx, "A1"))
	p := *part(t, "chain", "speeds=9 chain_width=11/128 links=116")
	p.Name = "chain 9"
	chain, err = inventory.AddPart(ctx, tx, inventory.Part{Part: p, Retail: nullPounds("20.00")})
	require.NoError(t, err)
	request = inventory.NewKey()
	_, err = tx.Exec(ctx, `INSERT INTO request (key, what) VALUES ($1, 'test')`, request)
	require.NoError(t, err)
	require.NoError(t, inventory.PutIn(ctx, tx, request, chain.ID, "A1", 5, inventory.Opening, ""))
	return request, chain
}

func part(t testing.TB, family substitution.Family, text string) *substitution.Part {
	t.Helper()
	p, err := substitution.ParsePart(family, text)
	require.NoError(t, err)
	return &p
}

// approved is a job to fit a chain and adjust the headset: £20.00 + £14.40 + £14.40.
func approved(t testing.TB, tx pgx.Tx) int64 {
	t.Helper()
	ctx := t.Context()
	bike, err := pricing.AddBike(ctx, tx, pricing.Bike{Customer: pricing.Customer{Name: "Ines Falkner", Phone: "01632 960012"}, Words: "blue touring bike",
		Build: substitution.Build{"chain": part(t, "chain", "speeds=9 chain_width=11/128"), "rear.cassette": part(t, "cassette", "speeds=9 teeth_min=11 teeth_max=32")}})
	require.NoError(t, err)
	job, err := pricing.OpenJob(ctx, tx, bike.ID, "", nil, pricing.Limits{}, now)
	require.NoError(t, err)
	for place, action := range map[substitution.Place]inspection.Action{"chain": inspection.Replace, "headset": inspection.Adjust} {
		_, err = pricing.Inspect(ctx, tx, job, inspection.Taken{Place: place, Action: action}, now)
		require.NoError(t, err)
	}
	q, err := pricing.MakeQuote(ctx, tx, job, now)
	require.NoError(t, err)
	require.NotEmpty(t, q.Options, "%+v", q.Refusal)
	_, err = pricing.Approve(ctx, tx, pricing.Decision{JobID: job, Version: q.Version, Option: q.Options[0].Name(), By: "Ines Falkner", Accept: []string{"all"}}, nil, now)
	require.NoError(t, err)
	return job
}

// refused is an attempt that must fail, and leaves nothing behind.
func refused(t testing.TB, tx pgx.Tx, do func(tx pgx.Tx) error) string {
	t.Helper()
	inner, err := tx.Begin(t.Context())
	require.NoError(t, err)
	err = do(inner)
	require.Error(t, err)
	require.NotContains(t, err.Error(), "SQLSTATE")
	require.NoError(t, inner.Rollback(t.Context()))
	return err.Error()
}

func TestBillOfAJob(t *testing.T) {
	tx := testdb.Tx(t)
	ctx := t.Context()
	request, _ := shop(t, tx)
	job := approved(t, tx)
	bill := func(tx pgx.Tx) error { _, err := Make(ctx, tx, job, at(now)); return err }
	require.Contains(t, refused(t, tx, bill), "is approved: it is billed when the work is done")

	deposit, err := Pay(ctx, tx, job, nullPounds("10.00"), "cash", now)
	require.NoError(t, err)
	require.Contains(t, refused(t, tx, func(tx pgx.Tx) error { _, err := Pay(ctx, tx, job, decimal.NullDecimal{}, "cash", now); return err }), "has no bill yet")
	_, err = pricing.UseHeld(ctx, tx, request, job)
	require.NoError(t, err)
	require.NoError(t, pricing.CloseJob(ctx, tx, job, false, now))
	b, err := Make(ctx, tx, job, at(now))
	require.NoError(t, err)
	// 20.00 + 14.40 + 14.40 = 48.80; ÷ 1.2 = 40.666…, so 40.67 before tax and 8.13 of tax.
	require.Equal(t, []string{"40.67", "8.13", "48.80"}, []string{b.Net.StringFixed(2), b.Tax.StringFixed(2), b.Total.StringFixed(2)})
	require.Equal(t, Seller{Name: "Tannery Yard", Address: []string{"3 Tannery Yard", "Harrowby"}, TaxNumber: "GB 000 0000 00"}, b.Seller)
	require.Len(t, b.Lines, 3)
	require.Equal(t, "01632 960012", b.Contact)
	kept, err := Numbered(ctx, tx, Bills, b.Number)
	require.NoError(t, err)
	require.Equal(t, b.Lines[0].Words, kept.Lines[0].Words)
	require.Contains(t, refused(t, tx, bill), fmt.Sprintf("has bill %d already", b.Number))

	a, err := AccountOfJob(ctx, tx, job)
	require.NoError(t, err)
	require.Equal(t, "38.80", a.Due.StringFixed(2))
	pay := func(amount decimal.NullDecimal) func(tx pgx.Tx) error {
		return func(tx pgx.Tx) error { _, err := Pay(ctx, tx, job, amount, "card", now); return err }
	}
	require.Contains(t, refused(t, tx, pay(nullPounds("38.81"))), "£38.80 is due, not £38.81")
	require.Contains(t, refused(t, tx, pay(nullPounds("-10.01"))), "£10.00 was paid, so £10.01 cannot be paid back")
	require.Contains(t, refused(t, tx, pay(nullPounds("0.001"))), "whole pence")
	require.NoError(t, pay(decimal.NullDecimal{})(tx))
	require.Contains(t, refused(t, tx, pay(decimal.NullDecimal{})), "nothing is due: all is paid")

	t.Run("corrected by credit notes only", func(t *testing.T) {
		for _, sql := range []string{`UPDATE bill SET total = 1`, `DELETE FROM bill`, `TRUNCATE bill CASCADE`, `UPDATE payment SET amount = 1`} {
			inner, err := tx.Begin(ctx)
			require.NoError(t, err)
			_, err = inner.Exec(ctx, sql)
			require.ErrorContains(t, err, "is never changed", sql)
			require.NoError(t, inner.Rollback(ctx))
		}
		credit := func(back Back, why string) func(tx pgx.Tx) error {
			return func(tx pgx.Tx) error { _, err := Credit(ctx, tx, b.Number, back, why, at(now)); return err }
		}
		require.Contains(t, refused(t, tx, credit(nil, " ")), "say why")
		require.Contains(t, refused(t, tx, credit(Back{4: {}}, "x")), "has no line 4: it has 3")
		require.Contains(t, refused(t, tx, credit(Back{1: nullPounds("14.41")}, "x")), "14.40 is left of line 1")
		n := slices.IndexFunc(b.Lines, func(l Line) bool { return l.Words == "adjust headset" }) + 1
		c, err := Credit(ctx, tx, b.Number, Back{n: nullPounds("4.40")}, "came loose again", at(now))
		require.NoError(t, err)
		// 44.40 is left: 37.00 and 7.40 of tax, so 8.13 − 7.40 = 0.73 of the 4.40 are tax.
		require.Equal(t, []string{"3.67", "0.73", "4.40"}, []string{c.Net.StringFixed(2), c.Tax.StringFixed(2), c.Total.StringFixed(2)})
		a, err := AccountOfJob(ctx, tx, job)
		require.NoError(t, err)
		require.Equal(t, "-4.40", a.Due.StringFixed(2), "she has it to get back")
		require.NoError(t, pay(decimal.NullDecimal{})(tx))
		reopen := func() error {
			inner, err := tx.Begin(ctx)
			require.NoError(t, err)
			_, reopened := inner.Exec(ctx, `UPDATE job SET state = 'approved', closed_at = NULL WHERE id = $1`, job)
			require.NoError(t, inner.Rollback(ctx))
			return reopened
		}
		require.ErrorContains(t, reopen(), "is billed")
		require.NoError(t, credit(nil, "to the wrong name")(tx))
		require.NoError(t, reopen())
		require.Contains(t, refused(t, tx, credit(nil, "again")), "nothing is left")
		again, err := Make(ctx, tx, job, at(now))
		require.NoError(t, err)
		require.Equal(t, b.Number+1, again.Number)
	})
	require.NotZero(t, deposit.ID)
}

// What is left out is not billed, and its discount not given.
func TestBillWithoutWhatWasLeftOut(t *testing.T) {
	tx := testdb.Tx(t)
	ctx := t.Context()
	shop(t, tx)
	job := approved(t, tx)
	require.NoError(t, pricing.CloseJob(ctx, tx, job, true, now))
	b, err := Make(ctx, tx, job, at(now))
	require.NoError(t, err)
	require.Len(t, b.Lines, 1)
	require.Equal(t, "14.40", b.Total.StringFixed(2))
}

func TestCounterSale(t *testing.T) {
	tx := testdb.Tx(t)
	ctx := t.Context()
	request, chain := shop(t, tx)
	b, err := Sell(ctx, tx, request, []Sold{{chain, 2}}, "cash", at(now))
	require.NoError(t, err)
	// 2 × 20.00 = 40.00; ÷ 1.2 = 33.333…
	require.Equal(t, []string{"33.33", "6.67", "40.00"}, []string{b.Net.StringFixed(2), b.Tax.StringFixed(2), b.Total.StringFixed(2)})
	a, err := AccountOf(ctx, tx, b)
	require.NoError(t, err)
	require.Equal(t, "0.00", a.Due.StringFixed(2))
	stock, err := inventory.StockOf(ctx, tx, []int64{chain.ID})
	require.NoError(t, err)
	require.Equal(t, 3, stock[chain.ID].OnHand)
	inner, err := tx.Begin(ctx)
	require.NoError(t, err)
	require.NoError(t, pricing.SetTax(ctx, inner, pricing.Tax{Name: "VAT", Percent: pounds("9")}, pricing.Repairs, now))
	s, err := Sell(ctx, inner, request, []Sold{{chain, 1}}, "cash", at(now))
	require.NoError(t, err)
	require.Equal(t, "3.33", s.Tax.StringFixed(2), "what is sold is no repair")
	require.NoError(t, pricing.SetTax(ctx, inner, pricing.Tax{Name: "VAT", Percent: pounds("5")}, "chain", now))
	s, err = Sell(ctx, inner, request, []Sold{{chain, 1}}, "cash", at(now))
	require.NoError(t, err)
	require.Equal(t, "0.95", s.Tax.StringFixed(2), "20.00 ÷ 1.05 = 19.047…")
	require.NoError(t, inner.Rollback(ctx))
	sell := func(pieces int, how string) func(pgx.Tx) error {
		return func(tx pgx.Tx) error {
			_, err := Sell(ctx, tx, request, []Sold{{chain, pieces}}, how, at(now))
			return err
		}
	}
	require.Contains(t, refused(t, tx, sell(4, "cash")), "there are 3 of chain 9 free, not 4")
	require.Contains(t, refused(t, tx, sell(1, "")), "say how it was paid")
	_, err = Credit(ctx, tx, b.Number, Back{1: nullPounds("20.00")}, "brought one back", at(now))
	require.NoError(t, err)
	p, err := PayBill(ctx, tx, b.Number, decimal.NullDecimal{}, "cash", now)
	require.NoError(t, err)
	require.Equal(t, "-20.00", p.Amount.StringFixed(2))
}

// Twelve sales at once, a third of which are rolled back, leave numbers without a gap: a bill has a sequential number that
// names it alone (Directive 2006/112/EC, article 226, 2).
func TestNumbersHaveNoGap(t *testing.T) {
	db, chain := shelfOfChains(t)
	ctx := t.Context()
	var wait sync.WaitGroup
	for i := range 12 {
		wait.Go(func() { sellOne(ctx, db, chain, now, i%3 == 2) })
	}
	wait.Wait()
	var numbers []int64
	list, err := List(ctx, db, time.Time{})
	require.NoError(t, err)
	for _, b := range list {
		numbers = append(numbers, b.Number)
	}
	slices.Sort(numbers)
	require.Equal(t, []int64{1, 2, 3, 4, 5, 6, 7, 8}, numbers)
}

// shelfOfChains is a shop of its own with chains to sell.
func shelfOfChains(t testing.TB) (db *pgxpool.Pool, chain inventory.Part) {
	db = testdb.New(t)
	_, _, err := inventory.Once(t.Context(), db, inventory.NewKey(), "shop", func(ctx context.Context, tx pgx.Tx) (bool, error) {
		var request string
		request, chain = shop(t, tx)
		return true, inventory.PutIn(ctx, tx, request, chain.ID, "A1", 20, inventory.Returned, "")
	})
	require.NoError(t, err)
	return db, chain
}

func sellOne(ctx context.Context, db *pgxpool.Pool, chain inventory.Part, now time.Time, fail bool) {
	key := inventory.NewKey()
	_, _, _ = inventory.Once(ctx, db, key, "sell", func(ctx context.Context, tx pgx.Tx) (bool, error) {
		if _, err := Sell(ctx, tx, key, []Sold{{chain, 1}}, "cash", at(now)); err != nil || fail {
			return false, fmt.Errorf("given up: %w", err)
		}
		return true, nil
	})
}
