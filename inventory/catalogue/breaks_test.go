package catalogue

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/pricelist"
	"stead/migrations/testdb"
)

// breaksOfOffer are an offer's prices as a person would say them: "1:8.5 5:8".
func breaksOfOffer(o inventory.Offer) string {
	var words []string
	for _, b := range o.Breaks {
		words = append(words, fmt.Sprintf("%d:%s", b.FromPacks, b.Price))
	}
	return strings.Join(words, " ")
}

// What a list says of larger quantities is what the order plan reckons with, and only as long as a list says it.
func TestLoadPricesForMany(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	run := func(list string, day int, each bool) Summary {
		t.Helper()
		file := open(t, []byte(list))
		p, err := pricelist.ProposeFile(file)
		require.NoError(t, err)
		p.PriceEach = each
		s, err := Load{SupplierID: supplier, File: file, Mapping: p.Mapping, AsOf: march.AddDate(0, 0, day), Accept: Accept{Jumps: true}}.Run(ctx, tx)
		require.NoError(t, err)
		return s
	}
	const list = "Code,Description,1+,5+,25+,Pack\n" +
		"CH,CHAIN 9SPD 116L,8.50,8.00,7.25,1\n" +
		"CS,CASSETTE 9SPD 11-32,12.50,12.50,-,1\n" + // the same again is no better price
		"TY,TYRE 28-622,9.10,9.80,8.10,1\n" + // a mistake in the list
		"BL,BALLS 1/4 G100,0.04,0.03,0.02,10\n" +
		"KW,KWARTEL 40T 110PCD,6.00,5.00,,1\n"
	s := run(list, 0, false)
	require.Equal(t, "1:8.5 5:8 25:7.25", breaksOfOffer(offerOf(t, tx, supplier, "CH")))
	require.Equal(t, "1:12.5", breaksOfOffer(offerOf(t, tx, supplier, "CS")))
	require.Equal(t, "1:9.1 25:8.1", breaksOfOffer(offerOf(t, tx, supplier, "TY")))
	require.Len(t, s.Bad, 1)
	require.Contains(t, s.Bad[0].String(), "line 4, column D (5+): the price from 5 on, 9.8, is above the 9.1 of fewer")

	// A line that waits keeps them for the offer that it becomes.
	_, err := Answer(ctx, tx, supplier, "kwartel", "family chainring")
	require.NoError(t, err)
	require.Equal(t, "1:6 5:5", breaksOfOffer(offerOf(t, tx, supplier, "KW")))

	// Prices of one piece hold from so many pieces on, and a bag of ten is more than five.
	run(list+"\n", 2, true)
	require.Equal(t, "1:0.3 3:0.2", breaksOfOffer(offerOf(t, tx, supplier, "BL")), "25 pieces are three bags")

	// What a later list no longer says is no longer so; a list that says nothing of many leaves what was said by hand.
	run(strings.Replace(list, "8.00,7.25", ",7.00", 1), 3, false)
	require.Equal(t, "1:8.5 25:7", breaksOfOffer(offerOf(t, tx, supplier, "CH")))
	run("Code,Description,Trade,Pack\nCH,CHAIN 9SPD 116L,8.50,1\n", 4, false)
	require.Equal(t, "1:8.5 25:7", breaksOfOffer(offerOf(t, tx, supplier, "CH")))
}

// What a list names as no longer to be had is not offered; what it expects on a day is not here before.
func TestLoadWhatIsOut(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	run := func(stock, due string, day int) Summary {
		t.Helper()
		file := open(t, []byte("Code,Description,Trade,Stock,Back in\nCH,CHAIN 9SPD 116L,8.50,"+stock+","+due+"\nCS,CASSETTE 9SPD 11-32,12.50,yes,\nKW,KWARTEL 40T 110PCD,6.00,"+stock+","+due+"\n"))
		p, err := pricelist.ProposeFile(file)
		require.NoError(t, err)
		s, err := Load{SupplierID: supplier, File: file, Mapping: p.Mapping, AsOf: march.AddDate(0, 0, day)}.Run(ctx, tx)
		require.NoError(t, err)
		return s
	}
	due := func(code string, at int) string {
		t.Helper()
		d, err := inventory.LoadDeliveries(ctx, tx, march.AddDate(0, 0, at))
		require.NoError(t, err)
		if b, ok := d.BackOrder(offerOf(t, tx, supplier, code)); ok {
			return b.Day.String()
		}
		return ""
	}
	run("out", "14/09/2026", 0)
	require.Equal(t, "2026-09-14", due("CH", 1))
	require.Empty(t, due("CS", 1))
	require.Empty(t, due("CH", 300), "that day is past")
	_, err := Answer(ctx, tx, supplier, "kwartel", "family chainring")
	require.NoError(t, err)
	require.Equal(t, "2026-09-14", due("KW", 1), "a line that waited keeps it")

	s := run("discontinued", "", 2)
	require.Equal(t, 2, s.Ended)
	require.Equal(t, 2, s.Gone)
	require.True(t, offerOf(t, tx, supplier, "CH").Gone)
	require.False(t, offerOf(t, tx, supplier, "CS").Gone)
	_, err = TakeBack(ctx, tx, supplier)
	require.NoError(t, err)
	require.False(t, offerOf(t, tx, supplier, "CH").Gone)
	require.Equal(t, "2026-09-14", due("CH", 3), "the list before is the last one again")

	run("out", "21/09/2026", 3)
	require.Equal(t, "2026-09-21", due("CH", 3), "the newest list's day")
	require.Equal(t, "2026-09-21", due("KW", 3))

	run("yes", "14/09/2026", 4)
	require.Empty(t, due("CH", 5), "it is there now, and more comes that day")
}

// A list with tax in its prices, and an order's confirmation, are held until a person has looked.
func TestOtherPapersAreHeld(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	for headings, says := range map[string]string{
		"Code,Description,Price inc VAT,Stock":                 "column C (Price inc VAT) says that tax is in its prices",
		"Codice,Descrizione,Prezzo ivato,Giac.":                "column C (Prezzo ivato) says that tax is in its prices",
		"Artikelnr,Omschrijving,Prijs incl. btw,Voorraad":      "column C (Prijs incl. btw) says that tax is in its prices",
		"Référence,Libellé,Prix TTC,Dispo":                     "column C (Prix TTC) says that tax is in its prices",
		"Artikelcode,Omschrijving,Nettoprijs,Besteld,Geleverd": "the headings are those of an order that is confirmed or sent",
		"Code,Description,Net,Qty ordered,To follow":           "the headings are those of an order that is confirmed or sent",
		"Code,Description,Price ex VAT,Stock":                  "",
		"Artikelnr,Bezeichnung,EK netto,Bestand":               "",
	} {
		file := open(t, []byte(headings+"\nCH,CHAIN 9SPD 116L,8.50,1,1\n,Subtotaal,8.50,,\n"))
		p, err := pricelist.ProposeFile(file)
		require.NoError(t, err)
		p.Headings = append(p.Headings, make([]string, max(0, 5-len(p.Headings)))...)
		_, err = Load{SupplierID: supplier, File: file, Mapping: p.Mapping, AsOf: march}.Run(ctx, tx)
		if says == "" {
			require.NoError(t, err, headings)
			continue
		}
		require.ErrorContains(t, err, says)
		require.Contains(t, strings.Join(p.Doubts, " "), says)
	}
}
