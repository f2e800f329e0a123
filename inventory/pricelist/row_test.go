package pricelist

import (
	"fmt"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/inventory"
)

func TestParseMoney(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text  string
		comma bool
		want  string
	}{
		{"12.50", false, "12.5"}, {"£1,234.50", false, "1234.5"}, {"1.234,50 €", true, "1234.5"}, {"EUR 12,5", true, "12.5"}, {"12,50", false, "12.5"},
		{"1,234", false, "1234"}, {"1,234", true, "1.234"}, {"1.234", false, "1.234"}, {"1.234", true, "1234"}, {"1 234,50", true, "1234.5"},
		{"1\u00a0234.50", false, "1234.5"}, {"1'234.50 CHF", false, "1234.5"}, {"12.50 each", false, "12.5"}, {"-3.20", false, "-3.2"}, {"(3.20)", false, "-3.2"},
		{"3.20-", false, "-3.2"}, {"5-", false, "-5"}, {"5 -", false, "-5"}, {"£5.00–", false, "-5"}, {"12,-", true, "12"}, {"12.--", false, "12"}, {"5 - each", false, "5"},
		{"12p", false, "0.12"}, {"85 p", false, "0.85"}, {"99P each", false, "0.99"}, {"7.5p", false, "0.075"}, {"£0.12p", false, "0.12"}, {"40 pence", false, "0.4"}, {"85 ct", false, "0.85"}, {"12 pr", false, "12"},
		{"7.4999999999999991", false, "7.5"}, {"5.0000000000000003E-2", false, "0.05"}, {"0", false, "0"}, {"12.-", false, "12"}, {"7.9950", false, "7.995"}, {"1,234,567.89", false, "1234567.89"}, {"12.345.678,90", true, "12345678.9"},
		{"$5*", false, "5"},
	} {
		t.Run(c.text, func(t *testing.T) {
			t.Parallel()
			got, err := parseMoney(c.text, c.comma)
			require.NoError(t, err)
			require.Equal(t, c.want, got.Amount.String())
		})
	}
	for _, text := range []string{"", "POA", "call", "12.50/15.00", "1,23,45.6", "12.34.56,7", "5.0123E+12", strings.Repeat("9", 40), "12,5,0 2", "12.50p", "5E3", "5E-300"} {
		_, err := parseMoney(text, false)
		require.Error(t, err, text)
	}
}

// Whatever separates the thousands, an amount is read as it was written.
func TestMoneyRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		pence := rapid.Int64Range(0, 99_999_999).Draw(t, "pence")
		comma := rapid.Bool().Draw(t, "decimal comma")
		group := rapid.SampledFrom([]string{"", ",", " ", "'", "\u00a0"}).Draw(t, "thousands")
		point := "."
		if comma {
			point = ","
			if group == "," {
				group = "."
			}
		}
		whole := fmt.Sprint(pence / 100)
		for at := len(whole) - 3; at > 0; at -= 3 {
			whole = whole[:at] + group + whole[at:]
		}
		text := rapid.SampledFrom([]string{"", "£", "EUR ", "€ "}).Draw(t, "currency") + whole + point + fmt.Sprintf("%02d", pence%100)
		got, err := parseMoney(text, comma)
		require.NoError(t, err, text)
		require.True(t, decimal.New(pence, -2).Equal(got.Amount), "%s gave %s", text, got.Amount)
	})
}

// A cell may name its currency, and say that its price is of one piece.
func TestMoneySaysMore(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]Money{
		"12.50": {}, "£12.50": {Currency: "GBP"}, "12,50 €": {Currency: "EUR"}, "EUR12.50": {Currency: "EUR"}, "GBP 12.50 each": {Currency: "GBP", Each: true},
		"$12.50": {Dollars: true}, "US$12.50": {Currency: "USD"}, "12.50/ea": {Each: true}, "12.50 per pair": {Of: 2}, "12.50 per 100": {Of: 100}, "12,50 la paire": {Of: 2}, "12.50/each": {Each: true}, "12.50 pack": {}, "kr 12.50": {}, "1250p": {Currency: "GBP"}, "1250 cents": {},
	} {
		got, err := parseMoney(text, false)
		require.NoError(t, err, text)
		require.Equal(t, "12.5", got.Amount.String(), text)
		want.Amount = got.Amount
		require.Equal(t, want, got, text)
	}
}

// The check digits are those of the GS1 General Specifications' own example, 6291041500213 (section 7.9.1).
func TestReadGTIN(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ cell, code, says string }{
		{"6291041500213", "6291041500213", ""},
		{"6291041 500213", "6291041500213", ""},
		{"06291041500213", "6291041500213", ""},
		{"036000291452", "0036000291452", ""}, // the UPC of the GS1 US example
		{"", "", ""}, {"0", "", ""}, {"0000000000000", "", ""},
		{"6291041500214", "", "wrong check digit"},
		{"5.0123E+12", "", "shortened"}, {"5,0123E+12", "", "shortened"}, {"6.2910415e12", "", "shortened"},
		{"12345", "", "not 13 digits"}, {"96385074", "0000096385074", ""}, {"96385070", "", "after 000009638507 comes 4"}, {"ABC", "", "not 13 digits"},
	} {
		t.Run(c.cell, func(t *testing.T) {
			t.Parallel()
			code, says := readGTIN(c.cell)
			require.Equal(t, c.code, code)
			if c.says == "" {
				require.Empty(t, says)
			} else {
				require.Contains(t, says, c.says)
			}
		})
	}
}

func TestStockSignal(t *testing.T) {
	t.Parallel()
	for cell, want := range map[string]inventory.Signal{
		"In stock": inventory.InStock, "Y": inventory.InStock, "24": inventory.InStock, "10+": inventory.InStock, ">5": inventory.InStock, "4": inventory.Low,
		"LOW": inventory.Low, "0": inventory.ToOrder, "0.00": inventory.ToOrder, "-3": inventory.ToOrder, "Out of stock": inventory.ToOrder, "Due 12/05": inventory.ToOrder, "auf Lager": inventory.InStock,
	} {
		got, ok := stockSignal(cell)
		require.True(t, ok, cell)
		require.Equal(t, want, got, cell)
	}
	_, ok := stockSignal("ask Dave")
	require.False(t, ok)
}

var columns = Mapping{Header: 1, Headings: []string{"Code", "Description", "EAN", "Trade", "RRP", "Pack", "Stock"},
	Columns: map[Field]int{Code: 1, Name: 2, GTIN: 3, Price: 4, RRP: 5, Pack: 6, Stock: 7}}

func TestRows(t *testing.T) {
	t.Parallel()
	list := "Code,Description,EAN,Trade,RRP,Pack,Stock\n" +
		"BOTTOM BRACKETS,,,,,,\n" +
		"BB1,BB CART 68X110,6291041500213,8.50,16.99,1,12\n" +
		"Code,Description,EAN,Trade,RRP,Pack,Stock\n" +
		"BAL,BALLS 1/4,,3.60,,gross,low\n" +
		"NEG,CHAIN,,-4.00,9.99,,\n" +
		"NIL,CHAIN,,0,9.99,,\n" +
		",NO CODE,,4.00,9.99,,\n" +
		"POA,CHAIN,,POA,9.99,,\n" +
		"GTN,CHAIN,5.0123E+12,4.00,9.99,,\n" +
		"SHF,CHAIN,4.00,6291041500213,9.99,,\n" +
		"LNG,CHAIN,,4.00,9.99,,,surplus\n" +
		"SHT,CHAIN\n" +
		"UPS,CHAIN,,40.00,9.99,,ask Dave\n" +
		"5.01E+05,CHAIN,,4.00,9.99,,\n" +
		"Prices valid until further notice\n"
	f := open(t, []byte(list))
	var got []Row
	for r, err := range Rows(f, columns) {
		require.NoError(t, err)
		got = append(got, r)
	}
	byCode := map[string]Row{}
	for _, r := range got {
		byCode[r.Code] = r
	}
	require.Len(t, got, 12, "titles, headings said again and remarks are no rows")

	bb := byCode["BB1"]
	require.True(t, bb.Good())
	require.Empty(t, bb.Problems)
	require.Equal(t, 3, bb.Line)
	require.Equal(t, "6291041500213", bb.GTIN)
	require.Equal(t, "8.5", bb.Price.Decimal.String())
	require.Equal(t, "16.99", bb.RRP.Decimal.String())
	require.Equal(t, 1, bb.Pack)
	require.Equal(t, inventory.InStock, bb.Stock)

	require.Equal(t, 144, byCode["BAL"].Pack)
	require.Equal(t, inventory.Low, byCode["BAL"].Stock)
	require.False(t, byCode["BAL"].RRP.Valid)

	for code, says := range map[string]string{
		"NEG": "line 6, column D (Trade): the price -4 is below nothing",
		"NIL": "line 7, column D (Trade): the price is nought",
		"POA": `line 9, column D (Trade): "POA" is no price`,
		"SHF": "line 11, column D (Trade): the price 6291041500213 cannot be meant: perhaps a bar code or a quantity stands in this column",
		"LNG": "line 12: it has 8 cells under 7 headings: a separator too many, perhaps in a description that should stand in quotation marks",
		"SHT": "line 13, column D (Trade): the price is missing",
		"UPS": "line 14, column D (Trade): the price 40 is more than twice the recommended price 9.99: is one of them in the wrong column, or the recommended one of a single piece?",
	} {
		require.False(t, byCode[code].Good(), code)
		require.Contains(t, sentences(byCode[code]), says)
	}
	require.Contains(t, sentences(byCode["GTN"]), "line 10, column C (EAN): 5.0123E+12 is a bar code that a spreadsheet has shortened")
	require.True(t, byCode["GTN"].Good(), "the row is good without its bar code")
	require.Contains(t, sentences(byCode["UPS"]), `"ask Dave" is no word for a stock`)
	require.Contains(t, sentences(got[11]), "5.01E+05 is a number that a spreadsheet has shortened")
	require.Contains(t, sentences(got[4]), "line 8, column A (Code): the supplier's code is missing")
}

// What wholesalers' lists have in them beside articles, and in the cells of articles.
func TestCellsOfRealLists(t *testing.T) {
	t.Parallel()
	m := Mapping{Header: 1, Headings: []string{"Code", "Description", "Make", "MPN", "EAN", "Trade each", "RRP", "Unit", "Stock"}, PriceEach: true, Currency: "GBP",
		Columns: map[Field]int{Code: 1, Name: 2, Brand: 3, MakerCode: 4, GTIN: 5, Price: 6, RRP: 7, Pack: 8, Stock: 9}}
	list := "Code,Description,Make,MPN,EAN,Trade each,RRP,Unit,Stock\r\n" +
		"A1,CHAIN 9SPD,N/A,-,n/a,9.00,19.99,2 pairs,12/05/2026\r" + // a line end of its own
		"A2,CHAIN 9SPD,unbranded,Nov-32,0,85p,£1.99 each,10 x 5,KW 23\n" +
		"A3,CHAIN 9SPD,Hullin,TBA,,€9.00,19.99,,\n" +
		"A4,CHAIN 9SPD,Hullin,H9,,$9.00,19.99,,\n" +
		"A5,CHAIN 9SPD,Hullin,H9,,9.00-,19.99,,\n" +
		"Nov-32,CHAIN 9SPD,Hullin,H9,,9.00,19.99,,\n" +
		"N/A,CHAIN 9SPD,Hullin,H9,,9.00,19.99,,\n" +
		"code,DESCRIPTION,Make,MPN,EAN,Trade Each,RRP,Unit,Stock\n" +
		",Sub-total chains,,,,54.00,,,\n" +
		"TOTAL,,,,,540.00,1080.00,,\n" +
		",,,Page 2 of 9,,,,,\n" +
		"*** END OF LIST ***,,,,,,,,\n"
	byLine := map[int]Row{}
	for r, err := range Rows(open(t, []byte(list)), m) {
		require.NoError(t, err)
		byLine[r.Line] = r
	}
	require.Len(t, byLine, 7, "headings said again, sums and what ends a page are no articles")
	one, two := byLine[2], byLine[3]
	require.Empty(t, one.Problems)
	require.Empty(t, one.Brand+one.MakerCode+one.GTIN, "N/A, a dash and n/a are no codes")
	require.Equal(t, 4, one.Pack)
	require.True(t, one.PriceEach)
	require.False(t, one.RRPEach)
	require.Equal(t, inventory.ToOrder, one.Stock, "it is due on a day")
	require.Equal(t, "0.85", two.Price.Decimal.String())
	require.True(t, two.RRPEach, "the cell says so")
	require.Equal(t, 50, two.Pack)
	require.Equal(t, inventory.ToOrder, two.Stock)
	require.Contains(t, sentences(two), "Nov-32 is a maker's code that a spreadsheet has changed")
	require.Empty(t, byLine[4].MakerCode)
	for line, says := range map[int]string{
		4: `the price "€9.00" is not in GBP, the supplier's currency`, 5: `the price "$9.00" is not in GBP`, 6: "the price -9 is below nothing",
		7: "Nov-32 is a date that a spreadsheet has made of a code", 8: `"N/A" is no code`,
	} {
		require.False(t, byLine[line].Good(), line)
		require.Contains(t, sentences(byLine[line]), says)
	}
	require.Equal(t, "column F (Price EUR) is headed as EUR, and the supplier's currency is GBP",
		Mapping{Headings: []string{"Code", "Name", "", "", "", "Price EUR"}, Columns: m.Columns, Currency: "GBP"}.otherCurrency())
	require.Empty(t, m.otherCurrency())
}

func sentences(r Row) string {
	var b strings.Builder
	for _, p := range r.Problems {
		fmt.Fprintln(&b, p)
	}
	return b.String()
}

func TestPricesInTheWrongColumn(t *testing.T) {
	t.Parallel()
	row := func(price, rrp float64) Row {
		return Row{Price: decimal.NewNullDecimal(decimal.NewFromFloat(price)), RRP: decimal.NewNullDecimal(decimal.NewFromFloat(rrp))}
	}
	var right, swapped Prices
	for i := range 100 {
		right.Add(row(float64(i+1), float64(i+1)*1.9))
		swapped.Add(row(float64(i+1)*1.9, float64(i+1)))
	}
	require.InDelta(t, 50, right.Median(), 1.5)
	require.Empty(t, right.Doubt(columns, 48))
	require.Contains(t, right.Doubt(columns, 5), "the middle price is")
	require.Contains(t, swapped.Doubt(columns, 0), "100 of 100 prices in column D (Trade) are above the recommended prices in column E (RRP)")
}
