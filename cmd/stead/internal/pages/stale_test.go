package pages_test

import (
	"net/http"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// Whatever somebody else changes between the opening of a page and the sending of its form is noticed: nothing is done, what
// was typed is kept beside what stands there now, and the same form does it when it is sent once more.
func TestStaleForms(t *testing.T) {
	s := open(t)
	mine, other := s.as(ownerName), s.as(mechanicName)
	owner := s.as(ownerName)
	ring := "/parts/" + partNumber(t, s, "TAR-CH9")
	for _, c := range []struct {
		name, path, act string
		typed           []string
		meanwhile       func()
		tells           string // of what happened
		now             string // of what stands there now
	}{
		{"a customer, corrected", "/customers/1", "correct", []string{"phone", "01632 960099", "why", "she said so"}, func() {
			other.get("/customers/1").form("correct").send(other, "email", "ines@falkner.example", "why", "she wrote")
		}, mechanicName + " changed customer 1", "ines@falkner.example"},
		{"a customer, whose address was filled in at booking", "/customers/3", "correct", []string{"contact", "rings twice", "why", "seen"}, func() {
			other.get("/book").form("book").send(other, "customer", "Marit Solheim", "contact", "marit@solheim.example", "bike", "green gravel bike")
		}, mechanicName + " booked", "marit@solheim.example"},
		{"a bike", "/bikes/2", "correct", []string{"words", "red racer", "why", "better"}, func() {
			other.get("/bikes/2").form("correct").send(other, "frame", "FT 4471 K", "why", "looked")
		}, mechanicName + " changed bike 2", "FT 4471 K"},
		{"a part, corrected", ring + "/set", "set", []string{"name", "my chain", "why", "shorter"}, func() {
			other.get(ring+"/set").form("set").send(other, "retail", "19,50", "why", "dearer")
		}, "", "19.50"},
		{"a part, of which a list says something else", ring + "/set", "set", []string{"brand", "Tarn", "why", "so it is"}, func() {
			_, err := s.db.Exec(t.Context(), `UPDATE part SET name = 'chain as a list calls it' WHERE maker_code = 'TAR-CH9'`)
			require.NoError(t, err)
		}, "", "chain as a list calls it"},
		{"how a part is ordered", ring + "/set", "by-hand", []string{"how", "from", "from", "harbour", "why", "cheaper"}, func() {
			other.get(ring+"/set").form("by-hand").send(other, "how", "later", "until", "2026-12-24", "why", "stocktaking")
		}, "", ""},
		{"how many of a part are kept", ring + "/keep", "set", []string{"at", "2", "to", "6"}, func() {
			other.get(ring+"/keep").form("set").send(other, "at", "3", "to", "9")
		}, "", ""},
		{"the settings", "/shop", "set", []string{"name", "The Yard"}, func() {
			owner.get("/shop").form("set").send(owner, "quote-days", "21")
		}, ownerName + " changed", "21"},
		{"a rate of tax", "/shop", "tax", []string{"name", "VAT", "percent", "9", "on", "repairs"}, func() {
			owner.get("/shop").form("tax").send(owner, "name", "VAT", "percent", "5", "on", "repairs")
		}, ownerName, ""},
		{"a rate of exchange", "/shop", "rate", []string{"currency", "EUR", "rate", "1,15"}, func() {
			owner.get("/shop").form("rate").send(owner, "currency", "EUR", "rate", "1,17")
		}, ownerName, ""},
		{"what a difference counts", "/shop", "weigh", []string{"of", "finish", "weight", "3"}, func() {
			owner.get("/shop").form("weigh").send(owner, "of", "finish", "weight", "4")
		}, ownerName, ""},
		{"a supplier's terms", "/suppliers/harbour", "set", []string{"name", "Harbour Lane"}, func() {
			owner.get("/suppliers/harbour").form("set").send(owner, "name", "Harbour Lane Cycles")
		}, ownerName, "Harbour Lane Cycles"},
		{"the days on which a supplier is closed", "/suppliers/harbour", "closed", []string{"first", "2026-12-24", "last", "2026-12-31", "why", "holiday"}, func() {
			owner.get("/suppliers/harbour").form("closed").send(owner, "first", "2026-12-27", "last", "2026-12-28", "why", "stocktaking")
		}, ownerName, ""},
		{"a word of a supplier's lists", "/lists/harbour", "line", []string{"code", "HL11567", "is", "none"}, func() {
			data, err := os.ReadFile("../../../../testdata/demo/lists/harbour-december.csv")
			require.NoError(t, err)
			look := other.get("/lists/harbour").form("send").upload(other, "list", "harbour-january.csv", append(data, '\n'))
			done := look.form("load").send(other, "columns", "yes", "jumps", "yes", "good", "yes", "gone", "yes", "prices", "yes")
			require.Contains(t, done.text, "the list is loaded", done.text)
		}, mechanicName + " loaded", ""},
		{"the server for mail", "/post", "server", []string{"host", "mail.example", "sender", "me@tannery.example", "security", "starttls"}, func() {
			owner.get("/post").form("server").send(owner, "host", "post.example", "sender", "you@tannery.example", "security", "tls")
		}, ownerName, "post.example"},
	} {
		t.Run(c.name, func(t *testing.T) {
			form := mine.get(c.path).form(c.act).with(c.typed...)
			c.meanwhile()
			before := count(t, s, `SELECT count(*) FROM request`)
			stale := form.send(mine)
			require.Equal(t, http.StatusConflict, stale.status, stale.text)
			require.Contains(t, stale.text, "this has changed since you opened it")
			require.Contains(t, stale.text, c.tells)
			if c.now != "" {
				require.Contains(t, stale.text, "Here stands now: "+c.now)
			}
			again := stale.form(c.act)
			for i := 0; i < len(c.typed); i += 2 {
				require.Equal(t, c.typed[i+1], again.values.Get(c.typed[i]), "what was typed is kept")
			}
			require.Equal(t, before, count(t, s, `SELECT count(*) FROM request`), "nothing is done yet")
			done := again.send(mine)
			require.Equal(t, http.StatusOK, done.status, done.text)
			require.Equal(t, before+1, count(t, s, `SELECT count(*) FROM request`), "and now it is")
		})
	}
}
