package pages_test

import (
	"net/http"
	"net/url"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
)

// A part is found by what one knows of it, with how many there are and whose.
func TestFindOnTheShelf(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	part, err := inventory.PartNamed(t.Context(), s.db, "KES-B14-G25")
	require.NoError(t, err)
	for name, words := range map[string]string{"the maker's code": "kes-b14-g25", "words and a size": "ball 1/4", "misspelt": "bal 1/4 G25"} {
		t.Run(name, func(t *testing.T) {
			found := (&visitor{t, s, v.http}).get("/shelf?q=" + url.QueryEscape(words))
			require.Contains(t, found.text, part.Name)
			require.Regexp(t, `\d+ in D2`, found.text)
			require.Regexp(t, `\d+ free`, found.text)
		})
	}
	require.Contains(t, v.get("/shelf?typing=yes&q=bal+1%2F4").text, part.Name, "its words begin so")
	require.Contains(t, v.get("/shelf?typing=yes&q=bla+1%2F4+G25").text, "Nothing has these words yet")
	require.Contains(t, v.get("/shelf?typing=yes&q=ba").text, "Nothing has these words yet", "two letters are waited for")
	require.Contains(t, v.get("/shelf?bin=D2").text, part.Name)
	require.Contains(t, v.get("/shelf?q=zorbling").text, "No part of these words")
	require.Contains(t, v.get("/shelf").text, "D2")
}

// What is done to the stock of a part is done once, and stands in its history.
func TestStockOfAPart(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	part, err := inventory.PartNamed(t.Context(), s.db, "TAR-CH8")
	require.NoError(t, err)
	path := pathOf("/parts/%d", part.ID)
	stock := func() int {
		all, err := inventory.StockOf(t.Context(), s.db, []int64{part.ID})
		require.NoError(t, err)
		return all[part.ID].OnHand
	}
	page, had := v.get(path), stock()

	put := page.form("put-in").with("pieces", "4", "bin", "A1", "reason", "returned", "note", "wrong length")
	require.Contains(t, put.send(v).text, "4 of "+part.Name+" put into A1")
	put.send(v)
	require.Equal(t, had+4, stock(), "a form that is sent twice puts in once")
	require.Contains(t, page.form("move").send(v, "pieces", "2", "from", "A1", "to", "A2").text, "2 in A2")
	require.Contains(t, page.form("scrap").send(v, "pieces", "1", "bin", "A2", "why", "rusted").text, "scrapped: rusted")
	require.Contains(t, page.form("sell").send(v, "pieces", "1").text, "is written")
	require.Equal(t, had+2, stock())
	counted := page.form("count").send(v, "pieces", "4", "bin", "A1")
	require.Contains(t, counted.text, "1 fewer than the ledger said")
	require.Equal(t, had+1, stock())

	for name, wrong := range map[string]sent{
		"no number":      page.form("count").with("pieces", "some"),
		"nothing":        page.form("sell").with("pieces", ""),
		"no why":         page.form("scrap").with("pieces", "1"),
		"more than here": page.form("sell").with("pieces", "500"),
		"no such bin":    page.form("move").with("pieces", "1", "to", "Z99"),
	} {
		t.Run(name, func(t *testing.T) {
			a := wrong.send(&visitor{t, s, v.http})
			require.GreaterOrEqual(t, a.status, http.StatusBadRequest, a.text)
			require.Equal(t, had+1, stock())
		})
	}
}
