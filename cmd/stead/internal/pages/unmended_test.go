package pages_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/paper"
	"stead/inventory"
	"stead/pricing/billing"
)

// A customer who leaves worn brake blocks out is told on every page and paper, from the quote to the bill, that the bike
// goes home with them and is not to be ridden until they are mended; and the mechanic sees the same.
func TestWornBrakeThatIsLeftOutIsTold(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	const goes, was = "The bike goes home with this not mended: front brake blocks.", "The bike was handed back with this not mended: front brake blocks."
	const advice = "Our advice is not to ride it until a competent mechanic has mended that"
	told := func(says, text string) {
		t.Helper()
		require.Contains(t, text, says)
		require.Contains(t, text, advice)
	}
	require.NotContains(t, v.get("/jobs/101/quote").text, "not mended")
	v.get("/jobs/101/inspect?place=front.rim-pads").form("look").send(v, "action", "replace")
	v.get("/jobs/101/at?place=front.rim-pads").form("leave-out").send(v, "why", "she fits them herself")
	v.get("/jobs/101/options").form("quote").send(v)
	told(goes, v.get("/jobs/101").text)
	told(goes, v.get("/jobs/101/quote").text)
	_, secret, made := strings.Cut(v.get("/jobs/101/send").form("link").send(v).path, "?link=")
	require.True(t, made)
	customer := s.stranger()
	letter := customer.get("/q/" + secret).text
	told(goes, letter)
	require.Less(t, strings.Index(letter, goes), strings.Index(letter, "Say yes"))

	shop, err := inventory.LoadShop(t.Context(), s.db)
	require.NoError(t, err)
	quote, err := desk.LoadQuotePaper(t.Context(), s.db, 101, moment)
	require.NoError(t, err)
	require.NotEmpty(t, quote.Asked)
	onPaper := readPapers(t, paper.Quote(shop, quote))
	told(goes, onPaper)
	require.Contains(t, onPaper, quote.AskedWords(), "as Book in promises")

	yes := customer.get("/q/"+secret+"?option=cheapest").form("yes").with("answer-1", "accept", "answer-2", "accept", "name", "Ines Falkner").send(customer)
	if strings.Contains(yes.text, "is that good enough?") {
		yes = yes.form("yes").with("ready-by", yes.later(t)).send(customer)
	}
	require.Contains(t, yes.text, "this is what we agreed")
	told(goes, yes.text)
	told(goes, v.get("/jobs/101/card").text)
	agreed, err := desk.LoadAgreedPaper(t.Context(), s.db, 101, moment)
	require.NoError(t, err)
	told(goes, readPapers(t, paper.Agreement(shop, agreed)))

	v.get("/jobs/101").form("close", "early").send(v, "leave-out", "yes")
	told(was, v.get("/jobs/101").text)
	told(was, v.get(billOf(101)).form("bill").send(v, "how", "card").text)
	told(was, v.get(billOf(101)).text)
	bill, err := desk.LoadBill(t.Context(), s.db, billing.Bills, 1, moment)
	require.NoError(t, err)
	require.EqualValues(t, 101, bill.JobID)
	told(was, readPapers(t, paper.Bill(bill)))
	told(was, desk.BillMail(shop, bill).Text())
}

// A customer who wants none of it reads before and after the no what the bike goes home with.
func TestWhoeverWantsNoneIsToldOfTheBrakes(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	v.get("/jobs/101/inspect?place=front.caliper").form("look").send(v, "action", "adjust")
	v.get("/jobs/101/options").form("quote").send(v)
	_, secret, made := strings.Cut(v.get("/jobs/101/send").form("link").send(v).path, "?link=")
	require.True(t, made)
	customer := s.stranger()
	page := customer.get("/q/" + secret)
	const goes = "The bike goes home with this not mended: front brake. Safety hangs on it"
	require.Contains(t, page.text, goes)
	no := page.form("no").send(customer, "name", "Ines Falkner")
	require.Contains(t, no.text, "you said no to this")
	require.Contains(t, no.text, goes)
}
