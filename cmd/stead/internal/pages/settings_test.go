package pages_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"
)

// An owner changes how the shop works, setting by setting; a mechanic sees it and changes nothing.
func TestSettings(t *testing.T) {
	s := open(t)
	v := s.as(ownerName)
	page := v.get("/shop")
	form := page.form("set")
	same := form.send(v)
	require.Contains(t, same.text, "the settings are saved", same.text)
	require.Equal(t, form.values.Get("sure"), same.form("set").values.Get("sure"))
	require.Equal(t, form.values.Get("mark-up"), same.form("set").values.Get("mark-up"))

	stale := page.form("set").send(v, "name", "Another Yard", "key", "AAAAAAAAAAAAAAAAAAAAAAAAAA")
	require.Equal(t, http.StatusConflict, stale.status)
	require.Contains(t, stale.text, "changed the settings")
	require.Equal(t, "Another Yard", stale.form("set").values.Get("name"), "what was typed is kept")

	for act, c := range map[string]struct {
		fields []string
		says   string
	}{
		"tax":    {[]string{"name", "VAT", "percent", "21", "from", "2027-01-01"}, "VAT is recorded"},
		"labour": {[]string{"family", "chain", "action", "clean", "words", "clean the chain", "minutes", "10", "price", "7,50"}, "clean the chain: saved"},
		"bin":    {[]string{"bin", "Z9"}, "bin Z9"},
		"rate":   {[]string{"currency", "eur", "rate", "1.16"}, "£1 buys 1.16 EUR"},
		"weigh":  {[]string{"of", "finish", "weight", "5"}, "finish is weighed anew"},
		"shelf":  {[]string{"target", "97", "waiting", "2,50", "waiting-safety", "4", "season", "3,4,6,8,10,11,10,10,9,8,6,4"}, "costs £2.50, for one of the brakes, the steering or the wheels £4.00"},
		"life":   {[]string{"kind", "lubricant", "keeps", "36"}, "lubricant: keeps 36 months"},
		"closed": {[]string{"first", "2026-12-24", "last", "2026-12-31", "why", "stocktaking"}, "stocktaking"},
	} {
		require.Contains(t, v.get("/shop").form(act).send(v, c.fields...).text, c.says, act)
	}
	sense := v.get("/shop").form("shelf")
	require.Equal(t, "97", sense.values.Get("target"))
	require.Equal(t, "3,4,6,8,10,11,10,10,9,8,6,4", sense.values.Get("season"))
	refusedShelf := sense.send(v, "target", "100", "season", "3,4")
	require.Equal(t, http.StatusUnprocessableEntity, refusedShelf.status)
	require.Contains(t, refusedShelf.text, "these are 2")
	require.Contains(t, sense.send(v, "target", "100").text, "a shelf without end")
	wrong := v.get("/shop").form("set").send(v, "sure", "often", "quote-days", "-1", "country", "Atlantis")
	require.Equal(t, http.StatusUnprocessableEntity, wrong.status)

	require.Contains(t, v.get("/shop").text, "Dates are promised at 9 in 10, quotes stand 14 days, mark-up 45 % where no retail price is known.", "a sentence")
	require.Contains(t, v.get("/suppliers").text, "carriage £5.95 free from £75.00")
	require.Contains(t, v.get("/bikes/99").text, "There is no bike 99.", "a sentence")

	m := s.as(mechanicName)
	require.NotContains(t, m.get("/shop").source, "<form method=\"post\"")
	refused := v.get("/shop").form("bin").send(m, "bin", "Z8")
	require.Equal(t, http.StatusForbidden, refused.status)
	require.NotContains(t, m.get("/shop").text, "Z8")
}

// An owner gives somebody who has forgotten it another PIN and password.
func TestNewSecrets(t *testing.T) {
	s := open(t)
	v := s.as(ownerName)
	row := ""
	require.NoError(t, s.db.QueryRow(t.Context(), `SELECT id::text FROM person WHERE name = $1`, mechanicName).Scan(&row))
	form := v.get("/people").form("secrets", row)
	require.Contains(t, form.send(v).text, "give a PIN, a password, or both")
	require.Contains(t, form.send(v, "pin", "12ab").text, "a PIN is")
	require.Contains(t, form.send(v, "pin", "8642", "password", "two bent derailleurs").text, "kept for "+mechanicName)
	m := s.stranger()
	m.get("/sign-in").form("sign-in").send(m, "name", mechanicName, "password", "two bent derailleurs")
	require.Equal(t, http.StatusOK, m.get("/").status)
}
