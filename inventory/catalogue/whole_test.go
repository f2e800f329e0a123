package catalogue

import (
	"bufio"
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"stead/inventory"
	"stead/inventory/pricelist"
	"stead/migrations/testdb"
)

// wholeLists are where invented suppliers' papers stand as they came, each with what its lines truly cost a pack before
// tax; a workbook stands as text, a line "-- NAME --" before each sheet and tabs between its cells.
const wholeLists = "../../testdata/pricelist/lists"

// score is how the prices of a list were read.
type score struct{ right, wrong, missed int }

// TestWholeLists loads each paper as it came, without a person's word: no price is wrong, and what is missed is known.
// Prices and rates of tax in the papers are invented; the truths were worked out by hand before the papers were read.
func TestWholeLists(t *testing.T) {
	missed := map[string]int{
		"uk-pdf-single":     5, // one blank between its cells, as within them
		"de-charge":         4, // held: whether the tax at its foot is that of the charge before it cannot be told
		"eu-two-currencies": 4, // held: the first of its prices is in the other currency
	}
	var sum score
	truths, err := filepath.Glob(filepath.Join(wholeLists, "*.truth"))
	require.NoError(t, err)
	require.NotEmpty(t, truths)
	for _, truth := range truths {
		name := strings.TrimSuffix(filepath.Base(truth), ".truth")
		t.Run(name, func(t *testing.T) {
			currency, prices := truthOf(t, truth)
			got := scoreOf(t, name, currency, prices)
			t.Logf("%d right, %d wrong, %d missed", got.right, got.wrong, got.missed)
			sum.right, sum.wrong, sum.missed = sum.right+got.right, sum.wrong+got.wrong, sum.missed+got.missed
			require.Zero(t, got.wrong)
			require.Equal(t, missed[name], got.missed)
		})
	}
	t.Logf("all lists: %d right, %d wrong, %d missed", sum.right, sum.wrong, sum.missed)
}

func truthOf(t testing.TB, path string) (currency string, prices map[string]decimal.Decimal) {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	prices = map[string]decimal.Decimal{}
	for line := range strings.Lines(string(data)) {
		code, price, ok := strings.Cut(strings.TrimSpace(line), " ")
		require.True(t, ok, line)
		if code == "currency" {
			currency = price
			continue
		}
		prices[code] = decimal.RequireFromString(price)
	}
	return currency, prices
}

// scoreOf loads a paper, its good lines only, and counts what became of its prices.
func scoreOf(t testing.TB, name, currency string, truth map[string]decimal.Decimal) score {
	t.Helper()
	tx, ctx := testdb.Tx(t), t.Context()
	s, err := inventory.AddSupplier(ctx, tx, inventory.Supplier{Code: name, Name: name, LeadDays: 2, ToOrderDays: 10, Currency: currency})
	require.NoError(t, err)
	got := score{missed: len(truth)}
	data := wholeList(t, name)
	file, err := pricelist.Open(name, bytes.NewReader(data), int64(len(data)))
	if err != nil {
		require.ErrorAs(t, err, new(*pricelist.RefusedError))
		return got
	}
	p, err := pricelist.ProposeFile(file)
	require.NoError(t, err)
	_, err = Load{SupplierID: s.ID, File: file, Mapping: p.Mapping, AsOf: march, Accept: Accept{GoodRows: true}}.Run(ctx, tx)
	if err != nil {
		t.Log(err)
		return got
	}
	read := pricesOf(t, tx, s.ID)
	for code, price := range read {
		want, ok := truth[code]
		if ok {
			got.missed--
		}
		if ok && want.Equal(price) {
			got.right++
			continue
		}
		t.Logf("%s: read %s, and it is %s", code, price, want)
		got.wrong++
	}
	return got
}

func wholeList(t testing.TB, name string) []byte {
	t.Helper()
	for _, ending := range []string{".csv", ".txt"} {
		data, err := os.ReadFile(filepath.Join(wholeLists, name+ending))
		if err == nil {
			return data
		}
	}
	return workbookOf(t, filepath.Join(wholeLists, name+".sheets"))
}

// workbookOf makes a workbook of a text; cells that are figures are numbers, as a supplier's are.
func workbookOf(t testing.TB, path string) []byte {
	t.Helper()
	text, err := os.Open(path)
	require.NoError(t, err)
	defer text.Close()
	f := excelize.NewFile()
	defer f.Close()
	sheet, row := "", 0
	for lines := bufio.NewScanner(text); lines.Scan(); {
		line := lines.Text()
		if name, ok := strings.CutPrefix(line, "-- "); ok {
			sheet, row = strings.TrimSuffix(name, " --"), 0
			_, err := f.NewSheet(sheet)
			require.NoError(t, err)
			continue
		}
		row++
		for i, cell := range strings.Split(line, "\t") {
			at, err := excelize.CoordinatesToCellName(i+1, row)
			require.NoError(t, err)
			var value any = cell
			if d, err := decimal.NewFromString(cell); err == nil {
				value = d.InexactFloat64()
			}
			require.NoError(t, f.SetCellValue(sheet, at, value))
		}
	}
	require.NoError(t, f.DeleteSheet("Sheet1"))
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	return b.Bytes()
}

// pricesOf are the prices of a pack that a supplier's list gave, of offers and of lines that wait.
func pricesOf(t testing.TB, tx pgx.Tx, supplier int64) map[string]decimal.Decimal {
	t.Helper()
	rows, err := tx.Query(t.Context(), `
		SELECT offer.code, b.price FROM offer JOIN price_break b ON b.offer_id = offer.id AND b.from_packs = 1 WHERE supplier_id = $1 AND gone_at IS NULL
		UNION ALL SELECT code, price FROM list_waiting WHERE supplier_id = $1`, supplier)
	require.NoError(t, err)
	out := map[string]decimal.Decimal{}
	var code string
	var price decimal.Decimal
	_, err = pgx.ForEachRow(rows, []any{&code, &price}, func() error { out[code] = price; return nil })
	require.NoError(t, err)
	return out
}

// The same code on two sheets at two prices is told with both places, and taken from neither; said alike it is taken once.
func TestOneCodeOnTwoSheets(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	file := open(t, wholeList(t, "uk-sheets"))
	p, err := pricelist.ProposeFile(file)
	require.NoError(t, err)
	list := Load{SupplierID: supplier, File: file, Mapping: p.Mapping, AsOf: march}
	_, err = list.Run(ctx, tx)
	require.ErrorContains(t, err, "sheet Brakes, line 5: the code FH3001 stood on line 2 of sheet Drivetrain already: which of the two is right must be asked")
	list.Accept.GoodRows = true
	s, err := list.Run(ctx, tx)
	require.NoError(t, err)
	require.Equal(t, 2, s.Refused)
	require.Len(t, s.Bad, 1)
	prices := pricesOf(t, tx, supplier)
	require.NotContains(t, prices, "FH3001")
	require.Contains(t, prices, "FH2003")
	require.NotContains(t, prices, "FH9001", "no longer to be had")
}
