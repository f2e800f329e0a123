package pricelist

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The words over the columns are those of the trade papers of each country; common practice, no source.
func TestHeadingsInEveryLanguage(t *testing.T) {
	t.Parallel()
	rows := "\nA-1;Chain 9 speed 116 links;10;4;8,50;12;6291041500213\nA-2;Cassette 9 speed;1;2;12,50;0;\n"
	want := map[Field]int{Code: 1, Name: 2, Pack: 3, Minimum: 4, Price: 5, Stock: 6, GTIN: 7}
	for _, c := range []struct{ name, headings string }{
		{"German", "Artikel-Nr.;Artikelbezeichnung;VPE;Mindestabnahme;HEK netto €;Lagerbestand;EAN-Nr."},
		{"German, numbers", "Bestellnr.;Artikeltext;VE;Mindestmenge;EK netto;Bestand;EANnr."},
		{"French", "Réf. art.;Libellé;Colisage;Qté min.;P.U. HT;Disponibilité;Code barres"},
		{"French without accents", "Reference;Designation;Cond.;Qte min;Prix net HT;Dispo.;Gencod"},
		{"Dutch", "Artikelcode;Omschrijving;Per verpakking;Min. afname;Inkoopprijs excl. btw;Voorraad;Streepjescode"},
		{"Italian", "Cod. articolo;Descrizione articolo;Conf.;Q.tà min.;Prezzo netto;Giacenza;Codice a barre"},
		{"Spanish", "Cód. artículo;Descripción;Uds./caja;Pedido mínimo;Precio neto €;Existencias;Código de barras"},
		{"English", "Part no.;Particulars;Unit;Min qty;Nett £;Free stock;Barcode"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			p, err := ProposeFile(open(t, []byte(c.headings+rows)))
			require.NoError(t, err)
			require.Equal(t, 1, p.Header)
			require.Equal(t, want, p.Columns)
			require.Empty(t, p.Doubts)
		})
	}
}

// A price for many, a line's total and a day look like prices or codes by their figures alone.
func TestOtherColumnsAreNoFields(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, list string
		want       map[Field]int
		breaks     []BreakColumn
	}{
		{"prices for many", "SKU;Description;1+;5+;25+\nA1;Chain, 9 speed;8.50;8.00;7.25\nA2;Cassette 9 speed;POA;;\nA3;Tyre 28-622;9.10;8.80;8.10\n",
			map[Field]int{Code: 1, Name: 2, Price: 3}, []BreakColumn{{5, 4}, {25, 5}}},
		{"in words", "Codice;Articolo;Netto;da 12 pz;oltre 50\nA1;Catena 9v 116;8,50;8,00;7,10\nA2;Pacco pignoni 9v;n.d.;;\n",
			map[Field]int{Code: 1, Name: 2, Price: 3}, []BreakColumn{{12, 4}, {50, 5}}},
		{"ranges", "Artnr;Omschrijving;1-11;12-47;48+\nA1;Ketting 9-v;8,50;8,00;7,10\nA2;Cassette 9-v;12,50;12,00;11,10\n",
			map[Field]int{Code: 1, Name: 2, Price: 3}, []BreakColumn{{12, 4}, {48, 5}}},
		{"two lines of headings", "Artículo;;Precio €;;Exist.\nRef.;Denominación;unidad;desde 10 u.;\nA1;Cadena 9v 116;8,50;8,00;sí\nA2;Cassette 9v;12,50;;no\n",
			map[Field]int{Code: 1, Name: 2, Price: 3, Stock: 5}, []BreakColumn{{10, 4}}},
		{"a line's number and total", "Pos;Référence;Libellé;PU net HT;Montant;Livraison prévue\n1;A1;Chaîne 9v 116;8,50;85,00;12/01/2027\n2;A2;Cassette 9v;N.C.;;\n3;A3;Pneu 28-622;3,10;31,00;\n",
			map[Field]int{Code: 2, Name: 3, Price: 4, Due: 6}, nil},
		{"numbers of lines without a heading", "1;K-101;Chain 9 speed 116 links;8.50\n2;K-204;Cassette 9 speed;12.50\n3;K-307;Tyre 28-622 black;9.10\n4;K-333;Tube 28-622 presta;2.10\n",
			map[Field]int{Code: 2, Name: 3, Price: 4}, nil},
		{"a price for many without a heading", "K-101;Chain 9 speed;8.50;8.10\nK-204;Cassette 9 speed;12.50;\nK-307;Tyre 28-622;9.10;\n",
			map[Field]int{Code: 1, Name: 2, Price: 3}, nil},
		{"a stock without a heading", "K-101;Chain 9 speed;8.50;Y\nK-204;Cassette 9 speed;12.50;40\nK-307;Tyre 28-622;9.10;N\n",
			map[Field]int{Code: 1, Name: 2, Price: 3, Stock: 4}, nil},
		{"the same word over code and description", "Article;Réf;Prix HT\nChaîne 9v 116;A1;8,50\nCassette 9v;A2;12,50\n",
			map[Field]int{Code: 2, Name: 1, Price: 3}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			p, err := ProposeFile(open(t, []byte(c.list)))
			require.NoError(t, err)
			require.Equal(t, c.want, p.Columns)
			require.Equal(t, c.breaks, p.Breaks)
		})
	}
}

func TestBreakFrom(t *testing.T) {
	t.Parallel()
	for heading, want := range map[string]int{
		"10+": 10, "3 +": 3, "Q.ta 3+": 3, "Staffel 10+": 10, "ab 10 Stk.": 10, "Preis ab 25": 25, "from 100": 100, "dès 6": 6, "à partir de 12 pièces": 12,
		"vanaf 4 st": 4, "desde 10 u.": 10, "≥ 20": 20, "10-24": 10, "25 – 49 pcs": 25, "1+": 1,
		"Price 2026": 0, "EAN13": 0, "lieferbar ab": 0, "lieferbar ab 12.01.2027": 0, "1,37+": 0, "11-32T": 0, "Price": 0, "2": 0,
	} {
		require.Equal(t, want, breakFrom(heading), heading)
	}
}

// A list whose headings take two lines is known again.
func TestMappingCheckOfTwoLines(t *testing.T) {
	t.Parallel()
	list := func(title string) []byte {
		return []byte(title + "Article;;Prix €;;Dispo\nRéf.;Désignation;unité;dès 10;\nA1;Chaîne 9v;8,50;8,00;oui\nA2;Cassette 9v;12,50;;non\n")
	}
	p, err := ProposeFile(open(t, list("")))
	require.NoError(t, err)
	again, err := p.Mapping.Check(open(t, list("Tarif de printemps;;;;\n\n")))
	require.NoError(t, err)
	require.Equal(t, 4, again.Header)
	require.Equal(t, p.Columns, again.Columns)
	require.Equal(t, []BreakColumn{{10, 4}}, again.Breaks)
}

func FuzzBreakFrom(f *testing.F) {
	f.Add("Q.ta 3+")
	f.Add("à partir de 12")
	f.Fuzz(func(t *testing.T, heading string) {
		n := breakFrom(heading)
		require.True(t, n >= 0 && n <= 9999)
	})
}
