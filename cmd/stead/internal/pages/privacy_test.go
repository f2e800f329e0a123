package pages_test

import (
	"bytes"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/paper"
	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

// Whatever a customer is given, page or paper, says nothing of who supplies the workshop, what its parts cost it, what
// its rules are called, or who else has a bike there. Every job of the demo goes home for it, with its quote, agreement
// and bill.
func TestCustomersSeeNothingOfTheWorkshops(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	customer, secret := s.stranger(), s.link()
	letters := []string{customer.get("/q/" + secret).source}
	q, err := lastQuote(t, s, 101)
	require.NoError(t, err)
	for _, o := range q.Options {
		letters = append(letters, customer.get("/q/"+secret+"?option="+o.Name()).source)
	}
	yes := customer.get("/q/"+secret+"?option=cheapest").form("yes").with("answer-1", "accept", "answer-2", "accept", "name", "Ines Falkner")
	agreed := yes.send(customer)
	if strings.Contains(agreed.text, "is that good enough?") {
		agreed = agreed.form("yes").with("ready-by", agreed.later(t)).send(customer)
	}
	require.Contains(t, agreed.text, "this is what we agreed")
	for _, letter := range append(letters, agreed.source) {
		requirePrivate(t, s, 101, letter)
	}

	if plan := v.get("/orders/plan"); strings.Contains(plan.source, `value="place"`) {
		plan.form("place", "").send(v)
	}
	orders, err := inventory.Orders(t.Context(), s.db, true)
	require.NoError(t, err)
	require.NotEmpty(t, orders)
	for _, o := range orders {
		require.Contains(t, v.get(pathOf("/orders/%d/receive", o.ID)).form("receive").send(v, "all", "yes", "bin", "A1").text, "the order is closed")
	}
	shop, err := inventory.LoadShop(t.Context(), s.db)
	require.NoError(t, err)
	carried := false
	for job := int64(101); job <= 106; job++ {
		quote, quoted, err := desk.LoadQuote(t.Context(), s.db, job, moment)
		require.NoError(t, err)
		require.True(t, quoted)
		papers := []func(*paper.Sheet){paper.Quote(shop, quote)}
		if len(quote.Options) == 0 { // nothing does it as asked
			requirePrivate(t, s, job, readPapers(t, papers...))
			continue
		}
		if page := v.get(pathOf("/jobs/%d", job)); strings.Contains(page.source, `value="use"`) {
			page.form("use").send(v)
		}
		v.get(pathOf("/jobs/%d", job)).form("close").send(v)
		require.Contains(t, v.get(billOf(job)).form("bill").send(v, "how", "card").text, "is written")
		requirePrivate(t, s, job, v.get(billOf(job)).text)
		agreed, err := desk.LoadAgreedPaper(t.Context(), s.db, job, moment)
		require.NoError(t, err)
		papers = append(papers, paper.Agreement(shop, agreed))
		require.NotEmpty(t, agreed.Account.Papers)
		for _, b := range agreed.Account.Papers {
			papers = append(papers, paper.Bill(agreed.Paper(b)))
			for _, l := range b.Lines {
				carried = carried || l.Kind == pricing.CarriesLine
			}
		}
		requirePrivate(t, s, job, readPapers(t, papers...))
	}
	require.True(t, carried, "no bill has carriage on it, so none could tell whose")
}

func billOf(job int64) string { return pathOf("/jobs/%d/bill", job) }

// requirePrivate looks through what is given to the customer of a job.
func requirePrivate(t *testing.T, s *shop, job int64, given string) {
	t.Helper()
	require.NotEmpty(t, given)
	suppliers, err := inventory.Suppliers(t.Context(), s.db)
	require.NoError(t, err)
	for _, one := range suppliers {
		require.NotContains(t, given, one.Name, "job %d", job)
		require.NotRegexp(t, `(?i)\b`+one.Code+`\b`, given, "job %d", job)
	}
	for _, r := range substitution.Rules() {
		require.NotContains(t, given, r.ID, "job %d", job)
	}
	quote, _, err := pricing.LastQuote(t.Context(), s.db, job)
	require.NoError(t, err)
	theirs := map[string]bool{} // what they pay may be what something costs by chance
	costs := map[string]string{}
	for _, o := range quote.Options {
		if o.Landed.IsPositive() {
			costs[o.Landed.StringFixed(2)] = "what option " + o.Name() + " costs the workshop"
		}
		for _, p := range o.Parts {
			theirs[p.Amount.StringFixed(2)] = true
			offers, err := inventory.OffersOf(t.Context(), s.db, []int64{p.PartID})
			require.NoError(t, err)
			for _, offer := range offers[p.PartID] {
				for _, b := range offer.Breaks {
					costs[b.Price.StringFixed(2)] = "what a pack of " + p.Name + " costs"
				}
			}
		}
	}
	for cost, of := range costs {
		if !theirs[cost] {
			require.NotRegexp(t, `[^\d.]`+strings.ReplaceAll(cost, ".", `\.`)+`\b`, given, "job %d: %s", job, of)
		}
	}
	bikes, err := pricing.JobByID(t.Context(), s.db, job)
	require.NoError(t, err)
	others, err := s.db.Query(t.Context(), `SELECT name FROM customer WHERE id <> $1`, bikes.Bike.Customer.ID)
	require.NoError(t, err)
	defer others.Close()
	for others.Next() {
		var name string
		require.NoError(t, others.Scan(&name))
		require.NotContains(t, given, name, "another customer")
	}
	require.NoError(t, others.Err())
}

// readPapers is what pdftotext reads on papers; without it only CI fails.
func readPapers(t *testing.T, papers ...func(*paper.Sheet)) string {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		if os.Getenv("STEAD_CI") != "" {
			t.Fatal("pdftotext of Debian's poppler-utils is missing")
		}
		t.Skip("pdftotext of Debian's poppler-utils is missing, so nobody reads the papers back")
	}
	var pdf bytes.Buffer
	require.NoError(t, paper.Write(&pdf, paper.A4, "papers", papers...))
	file := filepath.Join(t.TempDir(), "papers.pdf")
	require.NoError(t, os.WriteFile(file, pdf.Bytes(), 0o600))
	text, err := exec.CommandContext(t.Context(), "pdftotext", "-layout", file, "-").Output()
	require.NoError(t, err)
	return strings.Join(strings.Fields(string(text)), " ")
}

// A customer who tries other numbers learns nothing: not by the news either, which tell of the link's own job alone.
func TestCustomersTryOtherNumbers(t *testing.T) {
	s := open(t)
	secret := s.link()
	v := s.stranger()
	for _, topic := range []string{"job+102", "*", "shelf", "order", "job", "link+102", "link+AAAAAAAAAAAAAAAAAAAAAAAAAA,job+102"} {
		require.Equal(t, http.StatusForbidden, v.get("/live?on="+topic).status, topic)
	}
	form := v.get("/q/" + secret).form("yes")
	for name, f := range map[string]sent{
		"an option of no quote":  form.with("option", "103"),
		"a job of another":       form.with("job", "103", "version", "1"),
		"a button of the bench":  {form.path, form.with("act", "close").values},
		"the link of nobody":     {"/q/102", form.values},
		"a page of the bench":    {"/jobs/102", form.with("act", "cancel", "why", "theirs").values},
		"an order of the shop":   {"/orders/501", form.with("act", "cancel").values},
		"a part on the shelf":    {"/parts/1", form.with("act", "sell", "pieces", "1").values},
		"a bill, to be paid off": {billOf(106), form.with("act", "pay", "how", "cash").values},
	} {
		t.Run(name, func(t *testing.T) {
			before := changes(t, s)
			a := f.send(&visitor{t, s, v.http}, "name", "Ines Falkner")
			require.GreaterOrEqual(t, a.status, 400, a.text)
			require.Equal(t, before, changes(t, s))
			for job := 102; job <= 106; job++ {
				require.NotContains(t, a.source, fmt.Sprint("job ", job))
			}
		})
	}
}
