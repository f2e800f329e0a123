package pricelist

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPropose(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, list string
		header     int
		want       map[Field]int
		comma      bool
		doubts     []string
	}{
		{"plain headings", "Item code,Description,Brand,MPN,EAN,Trade ex VAT,RRP,Pack size,MOQ,Stock\n" +
			"A1,CHAIN 9SPD,Hullin,H9,6291041500213,8.50,16.99,1,1,12\nA2,CASS 9SPD,Hullin,H19,,12.50,24.99,1,1,0\n",
			1, map[Field]int{Code: 1, Name: 2, Brand: 3, MakerCode: 4, GTIN: 5, Price: 6, RRP: 7, Pack: 8, Minimum: 9, Stock: 10}, false, nil},
		{"headings on line 5", "North Quay Cycle Supply\nPrice list, spring\n\nAll prices before tax,,,\nArt. Nr.;x\nCode,Product name,Price,Retail price\nA1,CHAIN 9SPD 116L,8.50,16.99\nA2,CASS 9SPD 11-28,12.50,24.99\n",
			6, map[Field]int{Code: 1, Name: 2, Price: 3, RRP: 4}, false, nil},
		{"decimal commas", "Artikelnummer;Bezeichnung;EK netto;UVP\nA1;Kette 9-fach;8,50;1.016,99\nA2;Kassette;12,50;24,99\n",
			1, map[Field]int{Code: 1, Name: 2, Price: 3, RRP: 4}, true, nil},
		{"no headings", "A1,CHAIN 9SPD 116L SILVER,8.50,6291041500213\nA2,CASSETTE 9SPD 11-28,12.50,6291041500213\nA3,TYRE 700X28C,7.25,6291041500213\n",
			0, map[Field]int{Code: 1, Name: 2, Price: 3, GTIN: 4}, false, []string{"no line looks like headings", "looks like the price"}},
		{"prices the wrong way round", "Code,Description,Price,RRP\nA1,CHAIN 9SPD,16.99,8.50\nA2,CASS 9SPD,24.99,12.50\n",
			1, map[Field]int{Code: 1, Name: 2, Price: 3, RRP: 4}, false, []string{"are the two columns the other way round?"}},
		{"two prices", "Code,Description,Trade,Cost\nA1,CHAIN 9SPD,16.99,8.50\n",
			1, map[Field]int{Code: 1, Name: 2, Price: 3}, false, []string{"column C (Trade) and column D (Cost) both look like the price"}},
		{"no price", "Code,Description,Colour\nA1,CHAIN 9SPD,red\nA2,CHAIN 10SPD,blue\n",
			1, map[Field]int{Code: 1, Name: 2}, false, []string{"no column is given for the price"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			p, err := ProposeFile(open(t, []byte(c.list)))
			require.NoError(t, err)
			require.Equal(t, c.header, p.Header)
			require.Equal(t, c.want, p.Columns)
			require.Equal(t, c.comma, p.DecimalComma)
			for _, d := range c.doubts {
				require.Contains(t, strings.Join(p.Doubts, "\n"), d)
			}
			if c.doubts == nil {
				require.Empty(t, p.Doubts)
			}
		})
	}
}

// Whether prices are of one piece or of all that is sold together no figure tells: the heading does, or a person is asked.
func TestAsksWhatPricesAreOf(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		headings              string
		priceEach, retailEach bool
		asks                  []string
	}{
		{"Code,Description,Trade,RRP", false, false, []string{"column D (RRP) is taken as of all that is sold together"}},
		{"Code,Description,Price each,RRP per piece", true, true, []string{"column C (Price each) is taken as of one piece", "column D (RRP per piece) is taken as of one piece"}},
		{"Code,Description,EK je Stück,UVP Stk", true, true, []string{"column C (EK je Stück)", "column D (UVP Stk)"}},
		{"Code,Description,Trade price,RRP per pack", false, false, nil},
		{"Code,Description,Trade price,Peach", false, false, nil},
	} {
		t.Run(c.headings, func(t *testing.T) {
			t.Parallel()
			p, err := ProposeFile(open(t, []byte(c.headings+"\nA1,CHAIN 9SPD,8.50,16.99\nA2,CASS 9SPD,12.50,24.99\n")))
			require.NoError(t, err)
			require.Equal(t, c.priceEach, p.PriceEach)
			require.Equal(t, c.retailEach, p.RetailEach)
			require.Len(t, p.Asks, len(c.asks))
			for i, says := range c.asks {
				require.Contains(t, p.Asks[i].Words, says)
				require.Equal(t, c.priceEach, p.Asks[i].Each, "it is asked of what was taken")
			}
		})
	}
}

func TestProposeTheSheetWithTheList(t *testing.T) {
	t.Parallel()
	p, err := ProposeFile(open(t, book(t, map[string][][]any{
		"Sheet1": {{"Terms", "Carriage is paid from 75 pounds"}},
		"Prices": {{"Code", "Description", "Trade"}, {"A1", "CHAIN 9SPD", 8.5}},
	})))
	require.NoError(t, err)
	require.Equal(t, "Prices", p.Sheet)
	require.Contains(t, strings.Join(p.Doubts, "\n"), `the workbook has 2 sheets; "Prices" looks most like the list`)
}

// A later list may have its columns moved, but not be another supplier's.
func TestMappingCheck(t *testing.T) {
	t.Parallel()
	kept := Mapping{Header: 1, Headings: []string{"Code", "Description", "Trade"}, Columns: map[Field]int{Code: 1, Name: 2, Price: 3}}
	moved, err := kept.Check(open(t, []byte("Spring list,,,\nCODE,EAN,Trade,Description\nA,,1.00,Chain\n")))
	require.NoError(t, err)
	require.Equal(t, map[Field]int{Code: 1, Name: 4, Price: 3}, moved.Columns)
	require.Equal(t, 2, moved.Header)

	_, err = kept.Check(open(t, []byte("SKU,Item,Cost\nA,Chain,1.00\n")))
	var other *OtherListError
	require.ErrorAs(t, err, &other)
	require.ErrorContains(t, err, "is it another supplier's list?")

	_, err = Mapping{Columns: map[Field]int{Code: 1, Name: 1, Price: 2}}.Check(open(t, []byte(plainList)))
	require.ErrorContains(t, err, "column A is given for the supplier's code and for the description")
	_, err = Mapping{Columns: map[Field]int{Code: 1, Name: 2}}.Check(open(t, []byte(plainList)))
	require.ErrorContains(t, err, "no column is given for the price")
}

func TestLetters(t *testing.T) {
	t.Parallel()
	for column, want := range map[int]string{1: "A", 26: "Z", 27: "AA", 52: "AZ", 703: "AAA"} {
		require.Equal(t, want, letters(column))
	}
}

// BenchmarkRows reads a list of 100,000 lines; memory is what is held while reading, not what is written.
func BenchmarkRows(b *testing.B) {
	var list strings.Builder
	list.WriteString("Code,Description,Brand,EAN,Trade,RRP,Pack,Stock\n")
	const n = 100_000
	for i := range n {
		fmt.Fprintf(&list, "NQ%06d,\"C/RING %dT 110PCD 5-BOLT INNER SILVER\",Hullin,6291041500213,%d.%02d,%d.99,1,%d\n", i, 24+i%30, 3+i%40, i%100, 10+i%90, i%30)
	}
	data := []byte(list.String())
	mapping := Mapping{Header: 1, Headings: []string{"Code", "Description", "Brand", "EAN", "Trade", "RRP", "Pack", "Stock"},
		Columns: map[Field]int{Code: 1, Name: 2, Brand: 3, GTIN: 4, Price: 5, RRP: 6, Pack: 7, Stock: 8}}
	b.ReportAllocs()
	b.ResetTimer()
	for range b.N {
		f := open(b, data)
		rows := 0
		for r, err := range Rows(f, mapping) {
			if err != nil || !r.Price.Valid {
				b.Fatal(err, r)
			}
			rows++
		}
		if rows != n {
			b.Fatal(rows)
		}
	}
	b.ReportMetric(float64(b.N*n)/b.Elapsed().Seconds(), "rows/s")
}
