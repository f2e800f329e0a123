package pages_test

import (
	"net/http"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A deposit, the bill, what is left to pay, and a credit note, with plain forms.
func TestBill(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	path := "/jobs/106/bill"
	require.Contains(t, v.get(path).text, "The bill is written when the bike has gone home")
	none := v.get(path).form("pay").send(v, "amount", "20")
	require.Equal(t, http.StatusUnprocessableEntity, none.status)
	require.Contains(t, none.text, "say how it was paid")
	require.Equal(t, "20", none.form("pay").values.Get("amount"), "what was typed is kept")
	require.Contains(t, none.form("pay").send(v, "how", "cash", "amount", "5").text, "paid before the bill: £5.00")

	fitted := v.get("/jobs/106").form("use").send(v)
	fitted.form("close").send(v)
	require.Contains(t, v.get(path).text, "As things stand the shop’s address and tax number are not on it. Set them first", "before it is written for good")
	form := v.get(path).form("bill")
	bill := form.send(v, "how", "")
	require.Contains(t, bill.text, "bill 1 is written")
	require.Contains(t, bill.text, "Total")
	require.Contains(t, bill.text, "VAT at 20 %")
	require.Contains(t, bill.text, "to pay: ")
	require.Contains(t, bill.source, `<details id="money" open>`, "what is next is that it is paid")
	require.Equal(t, 1, count(t, s, `SELECT count(*) FROM bill`))
	form.send(v, "how", "")
	require.Equal(t, 1, count(t, s, `SELECT count(*) FROM bill`), "a second tap writes no second one")

	tooMuch := bill.form("pay").send(v, "how", "card", "amount", "9999")
	require.Contains(t, tooMuch.text, "is due, not £9999.00")
	require.Contains(t, bill.form("pay").send(v, "how", "card").text, "all of it is paid")

	require.Contains(t, v.get(path).form("credit").send(v, "why", "scratched").text, "say which lines are given back")
	credit := v.get(path).form("credit").send(v, "why", "scratched", "line-1", "yes", "amount-1", "2,50")
	require.Contains(t, credit.text, "credit note 1 is written")
	require.Contains(t, credit.text, "Credit note 1 for bill 1")
	require.Contains(t, credit.text, "to be paid back in all: £2.50")
	require.Contains(t, credit.source, `<details id="money" open>`, "what is next is that it is paid back")
	require.Contains(t, credit.text, "It was billed at £", "of each line, beside how much of it is given back")
	require.Contains(t, credit.form("pay").send(v, "how", "card", "back", "yes", "amount", "2.50").text, "paid back, card: £2.50")
}

func count(t *testing.T, s *shop, query string) (n int) {
	require.NoError(t, s.db.QueryRow(t.Context(), query).Scan(&n))
	return n
}

// After approval what is new is quoted beside what was agreed, which a no leaves as it is.
func TestAmend(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	require.Contains(t, v.get("/jobs/101/amend").text, "Nothing is agreed yet")
	page := v.get("/jobs/102/amend")
	require.Contains(t, page.text, "Agreed, and stays")
	var place string
	require.NoError(t, s.db.QueryRow(t.Context(), `SELECT place FROM claim WHERE job_id = 102 ORDER BY id LIMIT 1`).Scan(&place))
	made := page.form("amend").send(v, "anew-"+place, "yes")
	require.Equal(t, "/jobs/102/quote", made.path, made.text)
	require.Contains(t, made.text, "adds to version")
	declined := v.get("/jobs/102/amend").form("decline").send(v, "by", "Anna Beck")
	require.Contains(t, declined.text, "what was agreed stays as it is")
}

// The card has what is done, with what, and from where.
func TestCard(t *testing.T) {
	s := open(t)
	card := s.as(mechanicName).get("/jobs/106/card")
	for _, words := range []string{"Promised", "To do", "bin "} {
		require.Contains(t, card.text, words)
	}
}

// A clock that was set back is said, and who writes a paper chooses the day that it bears.
func TestClockSetBack(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	require.NotContains(t, v.get("/parts/1").text, "Which day does the paper bear?")
	sold := v.get("/parts/1").form("sell").send(v, "pieces", "1", "paid", "cash")
	require.Contains(t, sold.text, "bill 1 is written")
	before := v.get("/parts/1").form("sell")
	s.pass(-48 * time.Hour)

	refused := before.send(v, "pieces", "1", "paid", "cash")
	require.Equal(t, http.StatusUnprocessableEntity, refused.status)
	require.Contains(t, refused.text, "the clock says Monday 30 November, and bill 1 is dated Wednesday 2 December")
	require.Contains(t, refused.text, "Which day does the paper bear?")
	require.Contains(t, refused.form("sell").send(v, "dated", "last").text, "bill 2 is written")
	require.Contains(t, v.get("/bills/2").text, "Bill 2, 2 December 2026")

	credit := v.get("/bills/2").form("credit")
	require.Equal(t, http.StatusUnprocessableEntity, credit.send(v, "all", "yes", "why", "brought back").status)
	require.Contains(t, credit.send(v, "all", "yes", "why", "brought back", "dated", "today").text, "Credit note 1 for bill 2, 30 November 2026")
	require.NotContains(t, v.get("/parts/1").text, "Which day does the paper bear?")
	require.Equal(t, 1, count(t, s, `SELECT count(*) FROM request WHERE words = 'sold part 1, dated as the paper before it'`))

	s.pass(-48 * time.Hour)
	fitted := v.get("/jobs/106").form("use").send(v)
	fitted.form("close").send(v)
	bill := v.get("/jobs/106/bill").form("bill")
	require.Contains(t, bill.send(v, "how", "card").text, "bears a wrong day")
	require.Contains(t, bill.send(v, "how", "card", "dated", "last").text, "Bill 3, 30 November 2026")
}
