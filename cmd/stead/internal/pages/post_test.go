package pages_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"
)

// Without a server the words are there to copy; with one a quote, a bill and an order go into the queue when somebody says
// so, once, and their job or order tells what became of them.
func TestPost(t *testing.T) {
	s := open(t)
	v, owner := s.as(mechanicName), s.as(ownerName)
	send := v.get("/jobs/101/send")
	require.NotContains(t, send.source, `value="mail"`)
	linked := send.form("link").send(v)
	require.Contains(t, linked.text, "Hello Ines Falkner,")
	require.Contains(t, linked.text, "Nothing is ordered or done before you say yes.")
	order := v.get("/orders/501")
	require.Contains(t, order.text, "No server for outgoing mail is set up. These are the words")
	require.Contains(t, order.source, "mailto:?subject=Order%20501")

	require.NotContains(t, v.get("/post").source, `value="server"`, "the settings are the owner's")
	page := owner.get("/post")
	wrong := page.form("server").send(owner, "host", "mail.example", "sender", "bench", "security", "starttls")
	require.Equal(t, http.StatusUnprocessableEntity, wrong.status)
	require.Contains(t, wrong.text, "is no e-mail address")
	refused := page.form("server").send(v, "host", "elsewhere.example", "sender", "me@elsewhere.example", "security", "starttls")
	require.Equal(t, http.StatusForbidden, refused.status)
	set := page.form("server").send(owner, "host", "mail.example", "sender", "bench@tannery.example", "account", "bench", "security", "starttls")
	require.Contains(t, set.text, "Mail goes from bench@tannery.example by mail.example, port 587, account bench")
	require.Contains(t, set.text, "is not on this machine", "nobody has given a password")

	form := v.get("/jobs/101/send").form("mail", "quote")
	none := form.send(v, "to", "ines")
	require.Contains(t, none.text, "one @ and no spaces")
	require.Equal(t, "ines", none.form("mail", "quote").values.Get("to"), "what was typed is kept")
	form = none.form("mail", "quote").with("to", "ines@falkner.example", "note", "Sorry that it took a day.")
	sent := form.send(v)
	require.Contains(t, sent.text, "quote 1 goes with the next post")
	require.Contains(t, sent.text, "Quote 1 to ines@falkner.example Waits to be sent")
	form.send(v)
	require.Equal(t, 1, count(t, s, `SELECT count(*) FROM message`), "a second tap sends no second one")
	job := v.get("/jobs/101")
	require.Contains(t, job.text, "Quote 1 to ines@falkner.example Waits to be sent")
	require.Contains(t, job.text, mechanicName+" sent the quote by e-mail to ines@falkner.example")
	var content string
	require.NoError(t, s.db.QueryRow(t.Context(), `SELECT convert_from(content, 'UTF8') FROM message`).Scan(&content))
	require.Contains(t, content, "Sorry that it took a day.")
	require.Contains(t, content, "http://stead.test/q/")
	require.Contains(t, content, `filename="quote-101.pdf"`)

	require.Contains(t, v.get("/orders/501").form("mail", "order").send(v, "to", "orders@harbour.example").text, "Order 501 to orders@harbour.example Waits to be sent")
	v.get("/jobs/106").form("use").send(v).form("close").send(v)
	v.get("/jobs/106/bill").form("bill").send(v, "how", "")
	require.Contains(t, v.get("/jobs/106/bill").form("mail", "bill-1").send(v, "to", "bo@customer.example").text, "bill 1 goes with the next post")

	// A sale over the counter has no job: its bill and its credit note go from their own pages, once.
	v.get("/parts/"+partNumber(t, s, "TAR-CH9")).form("sell").send(v, "pieces", "1", "paid", "cash")
	slip := v.get("/bills/2").form("mail")
	require.Contains(t, slip.send(v, "to", "").text, "say to which address it goes")
	for range 2 {
		require.Contains(t, slip.send(v, "to", "ada@customer.example").text, "bill 2 goes with the next post")
	}
	require.Equal(t, 1, count(t, s, `SELECT count(*) FROM message WHERE what = 'bill 2' AND recipient = 'ada@customer.example' AND convert_from(content, 'UTF8') LIKE '%filename="bill-2.pdf"%'`))
	v.get("/bills/2").form("credit").send(v, "why", "scratched", "all", "yes")
	require.Contains(t, v.get("/credits/1").form("mail").send(v, "to", "ada@customer.example").text, "credit note 1 goes with the next post")

	_, err := s.db.Exec(t.Context(), `UPDATE message SET state = 'unsure', answer = 'the line was cut' WHERE id = 1`)
	require.NoError(t, err)
	require.Contains(t, v.get("/").text, "May have arrived: the line was cut. Ask whether it came, or send it again")
	waiting := v.get("/post")
	require.Contains(t, waiting.form("arrived", "1").send(v).text, "It arrived, says "+mechanicName)
	require.Contains(t, v.get("/post").form("cancel", "2").send(v).text, "Cancelled on Wed 2 Dec, ")
	late := waiting.form("again", "1").send(v)
	require.Equal(t, http.StatusUnprocessableEntity, late.status)
	require.Contains(t, late.text, "what has left is not sent again")
	require.Contains(t, owner.get("/post").form("none").send(owner).text, "No server for outgoing mail is set up")
}
