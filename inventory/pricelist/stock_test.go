package pricelist

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/calendar"
)

// What wholesalers write of their stock in six languages: common practice, no source.
func TestStandingOf(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		want  standing
		cells []string
	}{
		{has, []string{"Sofort lieferbar", "vorrätig", "grün", "oui", "DISPONIBLE", "op voorraad", "sí", "disponibile", "150+", "> 100", "1.200", "1,200", "12 Stk.", "8 pz"}},
		{fewLeft, []string{"wenige", "beperkt", "2", "< 5", "3 st", "Auslauf - lieferbar", "end of line, low stock"}},
		{out, []string{"0", "nil", "nicht lieferbar", "épuisé", "rupture", "uitverkocht", "esaurito", "agotado", "due 12/05", "ab 12.01.2027", "KW 7/2027", "rupture, 13 janv. 2027", "due soon"}},
		{ended, []string{"DISCONTINUED", "EOL", "rot - Auslauf", "arrêté", "vervallen", "esaurito def.", "fuori prod.", "descat."}},
		{asked, []string{"call", "tel. anfragen", "nous consulter", "a. Anfr.", "op aanvraag", "telefonare", "consultar", "yes / no"}},
		{unsaid, []string{"", "?", "ask Dave", "in stock soon", "11-32", "EUR"}},
	} {
		for _, cell := range c.cells {
			require.Equal(t, c.want, standingOf(cell, nil), cell)
		}
	}
}

// A week is its Monday (ISO 8601: the first week has the 4th of January), a serial a workbook's day (ECMA-376: 1 is 1 January 1900).
func TestDayOf(t *testing.T) {
	t.Parallel()
	list := calendar.Date(2026, time.November, 29)
	for _, c := range []struct {
		cell       string
		monthFirst bool
		want       string
	}{
		{"09.01.2027", false, "2027-01-09"}, {"9-1-27", false, "2027-01-09"}, {"1/9/2027", true, "2027-01-09"}, {"2027-01-09", true, "2027-01-09"},
		{"46390", false, "2027-01-03"}, {"KW 53/2026", false, "2026-12-28"}, {"KW 1/2027", false, "2027-01-04"}, {"wk 50", false, "2026-12-07"}, {"week 3", false, "2027-01-18"},
		{"13 janv. 2027", false, "2027-01-13"}, {"9 déc. 2026", false, "2026-12-09"}, {"3 maart", false, "2027-03-03"}, {"15 gennaio 2027", false, "2027-01-15"},
		{"23 Jan 2027", false, "2027-01-23"}, {"4 mei 2027", false, "2027-05-04"}, {"1 juin 2027", false, "2027-06-01"}, {"2 juil. 2027", false, "2027-07-02"},
		{"naz. 9-12-2026", false, "2026-12-09"}, {"Mai 2027", false, "2027-05-01"},
		{"31.02.2027", false, ""}, {"KW 54/2026", false, ""}, {"31/12/2026", true, ""}, {"unbest.", false, ""}, {"à confirmer", false, ""}, {"12", false, ""}, {"", false, ""},
	} {
		day, ok := dayOf(c.cell, c.monthFirst, list)
		require.Equal(t, c.want != "", ok, c.cell)
		if ok {
			require.Equal(t, c.want, day.String(), c.cell)
		}
	}
	_, ok := dayOf("wk 50", false, 0)
	require.False(t, ok, "a week of no year is none without the list's own day")
}

// What a list says of days and of its own words is read with its rows.
func TestRowsOfStockAndDays(t *testing.T) {
	t.Parallel()
	file := open(t, []byte("Zeichen: grün = lieferbar, gelb = bitte anfragen;;;;\nArtNr;Bezeichnung;EK netto;Ampel;lieferbar ab\n"+
		"A1;Kette 9-fach;8,50;grün;04.01.2027\nA2;Kassette 9-fach;12,50;gelb;\nA3;Reifen 28-622;9,10;rot;KW 2/2027\nA4;Schlauch 28-622;2,10;rot - Auslauf;\nA5;Pedale;9,10;rot;31.31.2027\n"))
	p, err := ProposeFile(file)
	require.NoError(t, err)
	var rows []Row
	for r, err := range Rows(file, p.Mapping) {
		require.NoError(t, err)
		rows = append(rows, r)
	}
	require.Len(t, rows, 5)
	require.Equal(t, inventory.InStock, rows[0].Stock)
	require.Nil(t, rows[0].Due, "it is there")
	require.Equal(t, inventory.Unknown, rows[1].Stock, "as the list itself says")
	require.Empty(t, rows[1].Problems)
	require.Equal(t, "2027-01-11", rows[2].Due.String())
	require.True(t, rows[3].Gone)
	require.Contains(t, sentences(rows[4]), `column E (lieferbar ab): "31.31.2027" is no day that can be read`)

	american, err := ProposeFile(open(t, []byte("Code,Description,Price,ETA\nA1,Chain 9 speed,8.50,01/09/2027\nA2,Cassette,8.50,01/31/2027\n")))
	require.NoError(t, err)
	require.True(t, american.MonthFirst)
}

func FuzzStanding(f *testing.F) {
	f.Add("rot - Auslauf, KW 5/2027")
	f.Add("46390")
	f.Fuzz(func(t *testing.T, cell string) {
		standingOf(cell, nil)
		if day, ok := dayOf(cell, false, 20_000); ok {
			require.True(t, day > -100_000 && day < 100_000, day)
		}
	})
}
