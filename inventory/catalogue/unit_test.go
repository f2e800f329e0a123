package catalogue

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist"
	"stead/migrations/testdb"
)

// What a price is of stands in a column of its own, in the pack's words, or in the heading. Each line says what is sold together
// and what that costs; the sums are by hand.
func TestPricesAreOfTheirUnit(t *testing.T) {
	for name, c := range map[string]struct {
		list        string
		pack, price string // of what is sold together; none where the line is held or waits
	}{
		"a column for it, and whole packs":      {"Code;Bezeichnung;VPE;ME;EK netto\nA1;Kette 9-fach 116 Glieder;10;St;9,85\n", "10", "98.5"},
		"packs of pairs":                        {"Code;Bezeichnung;VPE;ME;EK netto\nA1;Bremsgummi 70 mm;25;Paar;1,90\n", "50", "47.5"},
		"a pair's pieces":                       {"Code;Description;Pack;UM;Net\nA1;Rim pads 70 mm;2;PR;4.60\n", "2", "4.6"},
		"per hundred, sold by the pack":         {"Code;Bezeichnung;VPE;PE;Preis\nA1;Speiche 2,0 x 264 mm;500;100;24,00\n", "500", "120"},
		"per hundred alone":                     {"Code;Description;UM;Net\nA1;Spoke 2.0 x 264 mm;hundred;21.00\n", "100", "21"},
		"a hundred in the unit":                 {"Codice;Descrizione;U.M.;Conf.;Prezzo netto\nA1;Raggi inox 2,0 x 262;100 pz;1;30,00\n", "100", "30"},
		"metres, and whole rolls":               {"Codice;Descrizione;U.M.;Conf.;Prezzo netto\nA1;Guaina freno 5 mm nera;mt;50;0,60\n", "50", "30"},
		"the roll is the unit":                  {"Code;Bezeichnung;ME;VPE;EK netto\nA1;Bremszug-Außenhülle 5 mm schwarz;Rolle 30 m;1;18,60\n", "30", "18.6"},
		"a box of so many":                      {"Code,Description,Sold in,Net\nA1,Spoke 2.0 x 264 mm,box of 100,17.00\n", "100", "17"},
		"a box of nobody knows how many":        {"Code,Description,Sold in,Net\nA1,Spoke 2.0 x 264 mm,box,17.00\n", "", ""},
		"a box, and the words say of how many":  {"Code,Description,Sold in,Net\nA1,Spoke 2.0 x 264 mm box of 100,box,17.00\n", "100", "17"},
		"a pack that is not understood":         {"Code,Description,Sold in,Net\nA1,Spoke 2.0 x 264 mm,as usual,17.00\n", "", ""},
		"by the litre":                          {"Code,Description,UM,Net\nA1,Chain oil,litre,4.20\n", "", ""},
		"of nothing that is said":               {"Code,Description,UM,Net\nA1,Bar tape cork,,6.25\nA2,Chain 9 speed,ea,9.00\nA3,Chain 10 speed,ea,9.00\nA4,Chain 11 speed,ea,9.00\nA5,Chain 8 speed,ea,9.00\n", "", ""},
		"a unit price beside packs":             {"Réf;Désignation;Cond.;P.U. HT\nA1;Câble de frein 1,5 mm x 2 m;boîte de 50;0,42\n", "50", "21"},
		"a unit price beside packs of pairs":    {"Réf;Désignation;Cond.;P.U. HT\nA1;Patins de frein 60 mm;10 paires;3,10\n", "20", "31"},
		"each, of what the line names":          {"Code,Description,Net each\nA1,\"Disc pads shape 12, pair\",5.40\n", "2", "5.4"},
		"the unit of the line names a pair too": {"Code,Description,UM,Net\nA1,\"Disc pads shape 12, pair\",ea,5.40\n", "2", "5.4"},
	} {
		t.Run(name, func(t *testing.T) {
			tx := testdb.Tx(t)
			supplier := addSupplier(t, tx)
			file := open(t, []byte(c.list))
			p, err := pricelist.ProposeFile(file)
			require.NoError(t, err)
			_, err = Load{SupplierID: supplier, File: file, Mapping: p.Mapping, AsOf: march, Accept: Accept{GoodRows: true}}.Run(t.Context(), tx)
			require.NoError(t, err)
			var pack, price string
			rows, err := tx.Query(t.Context(), `SELECT pack::text, trim_scale(price)::text FROM offer JOIN price_break ON offer_id = offer.id AND from_packs = 1 WHERE supplier_id = $1 AND code = 'A1'`, supplier)
			require.NoError(t, err)
			for rows.Next() {
				require.NoError(t, rows.Scan(&pack, &price))
			}
			require.NoError(t, rows.Err())
			require.Equal(t, c.pack, pack)
			require.Equal(t, c.price, price)
		})
	}
}
