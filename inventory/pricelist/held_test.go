package pricelist

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/inventory/calendar"
)

// read is what a list gives for each code on a day: the price, "gone", or what is wrong; under "paper" why it is no list.
func read(t testing.TB, list string) map[string]string {
	t.Helper()
	f := open(t, []byte(list))
	p, err := ProposeFile(f)
	require.NoError(t, err)
	m := p.In("EUR")
	m.Day = calendar.Date(2026, time.November, 29)
	out := map[string]string{}
	if err := m.CheckComplete(); err != nil {
		return map[string]string{"paper": strings.Join(p.Doubts, "; ")}
	}
	l := NewList(f, m)
	for r, err := range l.Rows() {
		require.NoError(t, err)
		code := r.Code
		for out[code] != "" {
			code += "'"
		}
		switch {
		case r.Gone:
			out[code] = "gone"
		case r.Good():
			out[code] = r.Price.Decimal.String()
		default:
			out[code] = sentences(r)
		}
	}
	if _, says := l.OtherPaper(); says != "" {
		out["paper"] = says
	}
	return out
}

// What stands beside prices, over them and in their stead. Common practice of suppliers, no source; each list is invented.
func TestWhatIsNotThePrice(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		list string
		want map[string]string // by code: the price, or a part of what is said
	}{
		"headings go on below":                      {"Artikelnr;Omschrijving;Prijs;;Lever-\n;;advies incl. btw;netto;tijd\nA1;Ketting 9-v;15,95;7,20;week 50\n", map[string]string{"A1": "7.2"}},
		"a part without a price under the headings": {"Code;Description;Net\nAB;Chain for a tool;\nA2;Chain 9 speed;8.50\n", map[string]string{"AB": "the price is missing", "A2": "8.5"}},
		"list prices, and groups":                   {"Code,Description,Group,List\nA1,Chain 10 speed,A,24.00\nA2,Chain 9 speed,B,20.00\n,\"Group A -30 %, group B -25 %\",,\n", map[string]string{"paper": "has list prices, by its heading"}},
		"discounts upon discounts":                  {"Codice;Descrizione;Prezzo;Sconto\nA1;Catena 9v;20,00;40+10\nA2;Catena 8v;18,00;netto\nA3;Catena 7v;17,00;30\n", map[string]string{"paper": "may have to be taken off the prices"}},
		"an invoice":                                {"Aantal;Artikel;Omschrijving;Prijs;Bedrag\n4,000;A1;Binnenband;4,125;16,50\n10,000;A2;Velglint;0,855;8,55\n", map[string]string{"A1": "4.125", "paper": "each line has a quantity and what that comes to"}},
		"an order form, to be filled in":            {"Code,Description,Price,Qty,Total\nA1,Chain,9.50,,\nA2,Tyre,12.00,,0.00\n", map[string]string{"A1": "9.5", "A2": "12"}},
		"decimals of three figures":                 {"Code;Bezeichnung;Preis\nA1;Kugel;0,035\nA2;Speiche;1,125\n", map[string]string{"A1": "0.035", "A2": "1.125"}},
		"both marks in one list":                    {"Code,Description,Net\nA1,Mini pump,\"12,50\"\nA2,Track pump,\"1,250\"\nA3,Chain,7.20\n", map[string]string{"A1": "12.5", "A2": "may be thousands or decimals", "A3": "7.2"}},
		"one mark in a list":                        {"Code,Description,Net\nA1,Stand,\"1,250\"\nA3,Chain,7.20\n", map[string]string{"A1": "1250", "A3": "7.2"}},
		"a code in the price's place":               {"Code,Description,Net\nA1,Freewheel,see FW0607\nA2,Seatpost,12-Mar\nA3,Chain,EUR9.50\n", map[string]string{"A1": "is no price", "A2": "a date that a spreadsheet has made of a price", "A3": "9.5"}},
		"a code that a spreadsheet took for true":   {"Code,Description,Net\nTRUE,Bell,1.95\n", map[string]string{"": `"TRUE" is no code`}},
		"prices of other days":                      {"Code,Description,Net,From,Until\nA1,Chain,9.90,01/06/2026,31/10/2026\nA1,Chain,10.40,01/11/2026,\nA2,Tyre,4.10,01/02/2027,\nA3,Tube,2.10,,\n", map[string]string{"A1": "it was the price until 2026-10-31", "A1'": "10.4", "A2": "it is the price from 2027-02-01 on", "A3": "2.1"}},
		"what there is in its stead":                {"Code,Description,Net,Status\nA1,Freewheel,16.00,deleted - use A2\nA2,Freewheel,16.80,ok\nA3,Rim,15.00,\"sold out, replaced by A4\"\nA4,Rim,9.00,6-8 weeks\nA5,Hub,9.00,see A4\n", map[string]string{"A1": "gone", "A2": "16.8", "A3": "gone", "A4": "9", "A5": "gone"}},
		"gone, by the days":                         {"Réf;Désignation;Prix HT;Délai\nA1;Jante;15,00;fin de série\nA2;Jante;16,00;10 jours\n", map[string]string{"A1": "gone", "A2": "16"}},
		"with tax and without":                      {"Artikel;Omschrijving;Prijs excl. btw;Prijs incl. 21 % btw\nA1;Band;8,00;9,68\nA2;Band;12,00;12,00\nA3;Band;14,52;12,00\n", map[string]string{"A1": "8", "A2": "before tax is not below 12 with it", "A3": "before tax is not below 12 with it"}},
		"with tax, where that is filled in":         {"Code,Description,Price ex VAT,Price inc VAT\nA1,Tyre,8.00,9.60\nA2,Tube,2.00,0.00\nA3,Tape,5.00,\n", map[string]string{"A1": "8", "A2": "2", "A3": "5"}},
		"packs of which nothing is said":            {"Code,Description,Pack,Net\nA1,Tyre,1,8.00\nA2,Tube,N/A,2.00\nA3,Tape,bulk,5.00\n", map[string]string{"A1": "8", "A2": "2", "A3": "is no number of pieces"}},
		"packs beside their totals":                 {"Code,Description,Quantity per pack,Net,Total\nA1,Tyre,10,8.00,80.00\nA2,Tube,10,2.00,20.00\n", map[string]string{"A1": "8", "A2": "2"}},
		"currencies by the line":                    {"SKU,Description,Cur,Unit price\nA1,Hub,EUR,9.80\nA2,Crank,USD,31.50\nA3,Post,,12.20\nA4,Bar,$,9.90\n", map[string]string{"A1": "9.8", "A2": "the price is in USD", "A3": "no currency that is said", "A4": "the price is in $"}},
		"no taxes included":                         {"No taxes or duties included.,,\nCode,Description,Net\nA1,Hub,9.80\n", map[string]string{"A1": "9.8"}},
		"the line, and not its number":              {"Ref,Line,Net\nA1,Gear cable outer black,0.58\nA2,Chain lube dry,11.80\n", map[string]string{"A1": "0.58", "A2": "11.8"}},
		"a letter":                                  {"Hi both,\n\nhere is what I can do, plus tax:\n\n- chain, 116 links (TO-9116): 11.40 each, or 10.80 for ten\n- cassette (TO-9C32), 19.75\n\nRegards, Dee\n", map[string]string{"paper": "it reads like a letter or a printed page and not like a table"}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			got := read(t, c.list)
			for code, want := range c.want {
				if _, err := decimal.NewFromString(want); err == nil { // and not a sentence with the figure in it
					require.Equal(t, want, got[code], fmt.Sprintf("%s of %v", code, got))
				}
				require.Contains(t, got[code], want, fmt.Sprintf("%s of %v", code, got))
			}
			require.Equal(t, c.want["paper"] != "", got["paper"] != "", got["paper"])
		})
	}
}

// What a supplier has hidden in its workbook is not meant for the shop: its own cost, perhaps.
func TestHiddenSheets(t *testing.T) {
	t.Parallel()
	f := open(t, book(t, map[string][][]any{
		"List":   {{"Code", "Description", "Net"}, {"A1", "Chain 9 speed", 7.2}},
		"intern": {{"Code", "Description", "Net"}, {"A1", "Chain 9 speed", 4.1}},
	}))
	require.NoError(t, f.book.file.SetSheetVisible("intern", false))
	p, err := ProposeFile(f)
	require.NoError(t, err)
	require.Equal(t, "List", p.Sheet)
	require.Empty(t, p.Others)
	require.Contains(t, p.Left, LeftSheet{"intern", hiddenSheet})
	again, err := p.Check(f)
	require.NoError(t, err)
	require.Contains(t, again.Left, LeftSheet{"intern", hiddenSheet})
}

// A discount, both marks and an invoice are seen in a later list too, whose columns somebody has confirmed.
func TestALaterListIsWatchedAsTheFirst(t *testing.T) {
	t.Parallel()
	for name, list := range map[string]string{
		"a discount":      "Code;Bezeichnung;Preis;Rabatt %\nA1;Kette 9-fach;20,00;45\nA2;Kassette;30,00;40\n",
		"a filled order":  "Menge;Code;Bezeichnung;Preis;Summe\n2;A1;Kette 9-fach;20,00;40,00\n3;A2;Kassette;30,00;90,00\n",
		"both the marks":  "Code,Description,Net\nA1,Mini pump,\"12,50\"\nA2,Track pump,\"1,250\"\nA3,Chain,7.20\n",
		"one mark, still": "Code,Description,Net\nA1,Mini pump,12.50\nA2,Track pump,\"1,250\"\nA3,Chain,7.20\n",
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			f := open(t, []byte(list))
			p, err := ProposeFile(f)
			require.NoError(t, err)
			stored := Mapping{Header: p.Header, Headings: p.Headings, Columns: p.Columns, DecimalComma: p.DecimalComma}
			later, err := stored.Check(f)
			require.NoError(t, err)
			paper, says := p.OtherPaper()
			laterPaper, laterSays := later.OtherPaper()
			require.Equal(t, paper, laterPaper)
			require.Equal(t, says, laterSays)
			require.Equal(t, p.marksUnsure, later.marksUnsure)
		})
	}
}

// A word for a quantity says what is ordered where it stands alone. Beside others they say of what it is: a pack that is not seen
// would be sold at a piece's price.
func TestQuantitiesInHeadings(t *testing.T) {
	t.Parallel()
	for heading, want := range map[string]Field{
		"Qty": ordered, "Menge": ordered, "Quantité": ordered, "Qty ordered": ordered,
		"Minimum quantity": Minimum, "Min. Menge": Minimum, "Q.tà min.": Minimum, "Quantité minimum": Minimum,
		"Menge pro VE": Pack, "Quantity per pack": Pack, "Aantal per VE": Pack, "Quantity/Pack": Pack,
		"Stock quantity": Stock, "Quantity in stock": Stock, "Aantal voorraad": Stock,
	} {
		got, _ := headingOf(heading)
		require.Equal(t, want, got, heading)
	}
}

// "$" is the currency of whoever is paid in one of the dollars.
func TestDollarsByTheLine(t *testing.T) {
	t.Parallel()
	for currency, good := range map[string]bool{"USD": true, "CAD": true, "EUR": false} {
		f := open(t, []byte("Code,Description,Currency,Net\nA1,Hub,$,9.80\n"))
		p, err := ProposeFile(f)
		require.NoError(t, err)
		for r, err := range NewList(f, p.In(currency)).Rows() {
			require.NoError(t, err)
			require.Equal(t, good, r.Good(), "%s: %s", currency, sentences(r))
		}
	}
}
