package pages_test

import (
	"bytes"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
)

// Bills stand by day, with what is not settled; one over the counter is paid back and corrected on its own page.
func TestBills(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	require.Contains(t, v.get("/bills").text, "None was written")
	sold := v.get("/parts/"+partNumber(t, s, "TAR-CH9")).form("sell").send(v, "pieces", "1", "paid", "cash")
	require.Contains(t, sold.text, "bill 1 is written")
	require.Contains(t, sold.source, `<a href="/bills/1">See it`)
	require.Contains(t, v.get("/bills").text, "Bill 1 over the counter")
	require.Contains(t, v.get("/bills?unpaid=yes").text, "All is settled")
	require.Equal(t, http.StatusBadRequest, v.get("/bills?from=soon").status)
	slip := v.get("/bills/1")
	require.Contains(t, slip.text, "Total")
	require.Contains(t, slip.form("credit").send(v, "why", "scratched").text, "say which lines are given back")
	credit := slip.form("credit").send(v, "why", "scratched", "line-1", "yes", "amount-1", "2,50")
	require.Equal(t, "/credits/1", credit.path, credit.text)
	require.Contains(t, credit.text, "Credit note 1 for bill 1")
	require.Contains(t, v.get("/bills?unpaid=yes").text, "to be paid back in all: £2.50")
	require.Contains(t, v.get("/bills/1").form("pay").send(v, "how", "cash", "back", "yes", "amount", "2.50").text, "paid back")
	require.Contains(t, v.get("/bills?unpaid=yes").text, "All is settled")
}

// What came wrong goes back to its supplier, and the credit for it is kept.
func TestReturns(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	orders, err := inventory.Orders(t.Context(), s.db, true)
	require.NoError(t, err)
	order := pathOf("/orders/%d", orders[0].ID)
	goods := v.get(order + "/receive").form("receive")
	require.Contains(t, goods.send(v, "all", "yes", "bin", "A1").text, "booked in")
	page := v.get(order)
	form := page.form("send-back")
	require.Contains(t, form.send(v, "pieces", "1").text, "say why they go back")
	v.get("/jobs/101").form("cancel").send(v, "why", "sold the bike")
	for _, job := range []string{"102", "103", "105", "106"} { // what jobs hold stays, so they let go
		v.get("/jobs/"+job).form("cancel").send(v, "why", "sold the bike")
	}
	back := v.get(order).form("send-back").send(v, "pieces", "1", "why", "not needed")
	require.Contains(t, back.text, "credit expected", back.text)
	open := v.get("/returns")
	require.Contains(t, open.text, "credit expected")
	require.Contains(t, open.form("credit").send(v).text, "say what they credit")
	require.Contains(t, open.form("credit").send(v, "credit", "0", "reference", "CN-118").text, "no credit given")
	require.Contains(t, v.get("/returns").text, "No credit is awaited")
	require.Contains(t, v.get("/returns?all=yes").text, "no credit given")
}

// Two parts of two suppliers that are one are made one, parted again, and said to be two.
func TestAlike(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	for _, supplier := range []string{"northmoor", "harbour", "gantry", "tworivers"} {
		page := v.get("/lists/" + supplier + "/alike")
		if !strings.Contains(page.source, `value="same"`) {
			continue
		}
		same := page.form("same").send(v)
		if same.status != http.StatusOK {
			require.Contains(t, page.form("differ").send(v).text, "stay two")
			continue
		}
		require.Contains(t, same.text, "are one now")
		require.Contains(t, v.get("/lists/joined").form("split").send(v).text, "stands for itself again")
	}
	require.Equal(t, http.StatusBadRequest, sent{"/lists/harbour/alike", map[string][]string{"act": {"same"}, "row": {"one two"}}}.send(v).status)
	require.Equal(t, http.StatusUnprocessableEntity, sent{"/lists/joined", map[string][]string{"act": {"split-line"}, "row": {"harbour NOTHING"}, "key": {"AAAAAAAAAAAAAAAAAAAAAAAAAA"}}}.send(v).status)
}

// A list is read by another line of headings and another sheet, where somebody says so; and so are prices that moved.
func TestListReadOtherwise(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	data := []byte("Winter list;;;\nCode;Description;Trade;RRP\nHL900;chain 9-speed 116 links;9,50;20,00\nHL901;chain 8-speed 116 links;8,50;18,00\n")
	look := v.get("/lists/harbour").form("send").upload(v, "list", "winter.csv", data)
	require.Contains(t, look.path, "?file=")
	require.Contains(t, v.get(look.path+"&header=2").text, "HL900")
	require.Equal(t, http.StatusBadRequest, v.get(look.path+"&jump=5000").status)
	require.Equal(t, http.StatusNotFound, v.get(look.path+"&sheet=Summer").status)
	require.GreaterOrEqual(t, v.get(look.path+"&header=900").status, http.StatusBadRequest)
	require.Equal(t, http.StatusOK, v.get(look.path+"&jump=10").status)
	require.Contains(t, v.get("/lists/harbour").form("line").send(v, "code", "NOTHING", "forget", "yes").text, "no line of the supplier’s lists has the code")
	large := bytes.Repeat([]byte("x"), 10)
	require.Contains(t, v.get("/lists/harbour").form("send").upload(v, "list", "nothing.csv", large).text, "nothing.csv")
}

// One part alone is wanted at a place, another not at all, and the options keep to it.
func TestOnlyThatPart(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	path := "/jobs/101/why?option=cheapest&place=crank.outer-ring"
	page := v.get(path)
	not := page.form("not").send(v)
	require.Contains(t, not.text, "planned again without that part")
	require.Contains(t, not.text, "Within: ")
	require.Contains(t, not.form("limit").send(v, "anew", "yes", "many", "1", "only", "shelf").text, "everything from the shelf")
	again := v.get("/jobs/101/options").form("limit").send(v, "only", "", "many", "1")
	require.Contains(t, again.text, "parts from 1 supplier at most")
	require.Contains(t, v.get(path).form("only").send(v).text, "only ")
}
