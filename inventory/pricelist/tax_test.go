package pricelist

import (
	"fmt"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// What a line beside the table says of tax, in the manners of six countries. Only what is said of trade prices counts.
func TestTermsOfTax(t *testing.T) {
	t.Parallel()
	for says, want := range map[string]string{
		"Alle Preise in EUR inkl. 19 % MwSt.":                                "in 19",
		"Preise verstehen sich zzgl. gesetzl. MwSt.":                         "out",
		"Alle Preise netto zuzüglich 19% Mehrwertsteuer":                     "out",
		"Sämtliche Preise enthalten die gesetzliche Mehrwertsteuer von 19 %": "in 19",
		"UVP inkl. 19 % MwSt., Händlerpreise exkl. MwSt.":                    "out",
		"All prices include VAT at 20%":                                      "in 20",
		"Prices exclude VAT at 20%":                                          "out",
		"Prices do not include VAT":                                          "out",
		"RRP inc VAT at 20%":                                                 "",
		"Carriage paid on orders over £100 inc VAT":                          "",
		"Trade prices ex works, incl. 20% VAT":                               "in 20",
		"All prices + VAT":                                                   "",
		"Tarif HT, TVA 20 % en sus":                                          "out",
		"Tous nos prix s'entendent TTC (TVA 20 %)":                           "in 20",
		"Prix publics TTC":                                                   "",
		"Prijzen incl. 21% btw":                                              "in 21",
		"Prijzen inclusief 21% btw, exclusief verzendkosten":                 "in 21",
		"Prijzen inclusief 21% btw en exclusief verzendkosten":               "in 21",
		"onze prijzen voor maart (excl. btw)":                                "out",
		"I prezzi si intendono IVA 22% inclusa, franco magazzino.":           "in 22",
		"Prezzi IVA esclusa":                                                 "out",
		"Prezzi al pubblico ivati":                                           "",
		"Precios en euros. P.V.P. con IVA incluido (21%). P.V.D. sin IVA.":   "out",
		"Precios con IVA incluido (21%)":                                     "in 21",
		"IVA no incluido":                                                    "out",
		"Preise inkl. 19 % bzw. 7 % MwSt.":                                   "in 19 7",
		"Preise inkl. 8,1 % MwSt":                                            "in 8.1",
		"Stand 01.03.2027, inkl. MwSt.":                                      "in",
		"Liefertermine ohne Gewähr":                                          "",
		"prices before tax":                                                  "out",
		"All pallet charges include VAT at 20%":                              "",
		"Carriage £5.95 inc VAT at 20% on orders under £100":                 "",
		"Mindermengenzuschlag 5,95 EUR inkl. 19 % MwSt.":                     "",
		"Frais de port 9,90 € TTC":                                           "",
		"Transportkosten pauschal, inkl. MwSt. 19 %":                         "in ? 19",
		"All workshop courses include VAT at 20%":                            "in ? 20",
		"Delivery prices include VAT at 20%":                                 "in ? 20",
		"Carriage paid over £100, trade prices inc VAT at 20%":               "in 20",
	} {
		t.Run(says, func(t *testing.T) {
			t.Parallel()
			var heard terms
			heard.hear(Line{Cells: []string{says}})
			var got []string
			if heard.taxIn {
				got = append(got, "in")
			}
			if heard.taxIn && !heard.certain { // it may be that of something else, so its rate is not taken
				require.Empty(t, heard.rates)
				got = append(got, "?")
			}
			if heard.taxOut {
				got = append(got, "out")
			}
			for _, r := range ratesIn(heard.words) {
				got = append(got, r.String())
			}
			require.Equal(t, want, strings.Join(got, " "))
		})
	}
}

func TestTermsOfCurrency(t *testing.T) {
	t.Parallel()
	for says, want := range map[string]string{
		"Preisliste Händler 2027, alle Preise in CHF exkl. MwSt.": "CHF",
		"Price list 2027 - prices in € per piece":                 "EUR",
		"Trade prices, GBP":          "",
		"Trade prices (GBP)":         "GBP",
		"Prezzi in franchi svizzeri": "CHF",
		"Currency: USD":              "",
		"Carriage paid from €250":    "",
		"Prices in pounds sterling; carriage paid from €250": "GBP",
	} {
		t.Run(says, func(t *testing.T) {
			t.Parallel()
			var heard terms
			heard.hear(Line{Cells: []string{says}})
			require.Equal(t, want, strings.Join(heard.currencies, " "))
		})
	}
}

// proposed is a list's mapping as it suggests itself, for a supplier who sells in euros.
func proposed(t testing.TB, list string) (*File, Mapping) {
	t.Helper()
	f := open(t, []byte(list))
	p, err := ProposeFile(f)
	require.NoError(t, err)
	p.Currency = "EUR"
	return f, p.Mapping
}

// A list that says at which rate tax is in its prices is read before tax; one that does not say so plainly is held.
func TestTaxInPrices(t *testing.T) {
	t.Parallel()
	const row = "A1;Kette 9-fach 116 Glieder;11,90;17,90\nA2;Kassette 9-fach 11-32;23,80;39,95\n"
	for _, c := range []struct {
		name, list, price string
		paper             Paper
	}{
		{"none", "Code;Bezeichnung;Preis;UVP\n" + row, "11.9", ""},
		{"in the title", "Preise inkl. 19 % MwSt.;;;\nCode;Bezeichnung;Preis;UVP\n" + row, "10", ""},
		{"in the heading", "Code;Bezeichnung;Preis inkl. 19% MwSt;UVP\n" + row, "10", ""},
		{"at the foot", "Code;Bezeichnung;Preis;UVP\n" + row + "Alle Preise inkl. 19 % MwSt.;;;\n", "10", ""},
		{"no rate", "Code;Bezeichnung;Preis inkl. MwSt;UVP\n" + row, "11.9", TaxIn},
		{"two rates", "Preise inkl. 19 % bzw. 7 % MwSt.;;;\nCode;Bezeichnung;Preis;UVP\n" + row, "11.9", TaxIn},
		{"of recommended prices", "Code;Bezeichnung;Preis;UVP inkl. 19 % MwSt\n" + row, "11.9", ""},
		{"the heading against the title", "Preise inkl. 19 % MwSt.;;;\nCode;Bezeichnung;Preis zzgl. MwSt;UVP\n" + row, "11.9", ""},
		{"two titles", "Preise inkl. 19 % MwSt.;;;\nPreise ohne MwSt.;;;\nCode;Bezeichnung;Preis;UVP\n" + row, "11.9", TaxIn},
		{"gross", "Code;Bezeichnung;Preis brutto;UVP\n" + row, "11.9", TaxIn},
		{"column and a foot of something else", "Code;Bezeichnung;Preis;UVP;MwSt\nA1;Kette;11,90;17,90;19\nA2;Kassette;23,80;39,95;19\nAlle Kurse inkl. 19 % MwSt.\n", "11.9", TaxIn},
		{"both prices", "Code;Bezeichnung;Preis inkl. MwSt;Preis exkl. MwSt\nA1;Kette 9-fach 116 Glieder;11,90;10,00\nA2;Kassette;23,80;20,00\n", "10", ""},
		{"each line's own", "Code;Bezeichnung;Prix TTC;TVA %\nA1;Chaîne 9v;11,90;19\nA2;Manuel;10,55;5,5\n", "10", ""},
		{"the supplier's keys for rates", "Code;Bezeichnung;Prix TTC;TVA\nA1;Chaîne 9v;11,90;1\nA2;Manuel;10,55;2\n", "11.9", TaxIn},
		{"amounts of tax", "Code;Bezeichnung;Prix TTC;TVA\nA1;Chaîne 9v;11,90;1,90\nA2;Manuel;10,55;0,55\n", "11.9", TaxIn},
		{"another currency", "Preise in CHF;;;\nCode;Bezeichnung;Preis;UVP\n" + row, "11.9", OtherCurrency},
		{"before a discount", "Code;Bezeichnung;Preis;Rabatt %\nA1;Kette 9-fach;20,00;45\nA2;Kassette;30,00;40\n", "20", Discounted},
		{"after a discount", "Code;Bezeichnung;Preis;Rabatt %;Netto\nA1;Kette 9-fach;20,00;45;11,00\nA2;Kassette;30,00;40;18,00\n", "11", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			f, m := proposed(t, c.list)
			l := NewList(f, m)
			for row, err := range l.Rows() {
				require.NoError(t, err)
				if row.Code == "A1" {
					require.Equal(t, c.price, row.Price.Decimal.String())
				}
			}
			paper, says := l.OtherPaper()
			require.Equal(t, c.paper, paper, says)
			require.Equal(t, c.paper == "", says == "")
		})
	}
}

// What stands at the foot of a long list is heard when it has been read: such a list is held, not read with tax in its prices.
func TestTaxAtTheFootOfALongList(t *testing.T) {
	t.Parallel()
	var list strings.Builder
	list.WriteString("Code;Bezeichnung;Preis;UVP\n")
	for i := range 2 * sampled {
		fmt.Fprintf(&list, "A%d;Kette 9-fach;11,90;17,90\n", i)
	}
	list.WriteString("Alle Preise inkl. 19 % MwSt.;;;\n")
	f, m := proposed(t, list.String())
	l := NewList(f, m)
	for _, err := range l.Rows() {
		require.NoError(t, err)
	}
	paper, says := l.OtherPaper()
	require.Equal(t, TaxIn, paper)
	require.Contains(t, says, "(“Alle Preise inkl. 19 % MwSt.”), which nobody has taken out")
}

// What a person has said of the tax stands, unless the list says otherwise; a later list is asked anew.
func TestTaxThatAPersonSaid(t *testing.T) {
	t.Parallel()
	const row = "A1;Kette;11,90;17,90\nA2;Kassette;23,80;39,95\n"
	_, m := proposed(t, "Code;Bezeichnung;Preis brutto;UVP\n"+row)
	_, says := m.OtherPaper()
	require.Contains(t, says, "may mean with tax, or before something is taken off: say the rate of the tax that is in these prices, 0 where none is, or which column has what is left")
	m.TaxIn = decimal.NewNullDecimal(decimal.NewFromInt(19))
	for title, want := range map[string]Paper{
		"":                             "",
		"Preise inkl. 19 % MwSt.;;;\n": "",
		"Preise inkl. 7 % MwSt.;;;\n":  TaxIn,
	} {
		later, err := m.Check(open(t, []byte(title+"Code;Bezeichnung;Preis brutto;UVP\n"+row)))
		require.NoError(t, err)
		require.Equal(t, "19", later.TaxIn.Decimal.String())
		paper, says := later.OtherPaper()
		require.Equal(t, want, paper, "%s %s", title, says)
	}
}

// TestBeforeTax takes tax out that was put on; by the rule of Council Directive 2006/112/EC, article 78, the tax is no part of
// the taxable amount.
func TestBeforeTax(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		net := decimal.New(rapid.Int64Range(1, 10_000_000).Draw(t, "net"), -2)
		rate := decimal.New(rapid.Int64Range(0, 400).Draw(t, "rate"), -1)
		gross := net.Mul(hundred.Add(rate)).Div(hundred)
		require.True(t, net.Equal(beforeTax(gross, rate)), "%s at %s", net, rate)
	})
}
