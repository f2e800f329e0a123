package pages_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// said is what pdftotext of poppler reads on a PDF that was given.
func (a answer) said(t *testing.T) string {
	t.Helper()
	require.Equal(t, 200, a.status, a.text)
	require.Equal(t, "application/pdf", a.header.Get("Content-Type"))
	file := filepath.Join(t.TempDir(), "paper.pdf")
	require.NoError(t, os.WriteFile(file, []byte(a.source), 0o600))
	out, err := exec.Command("pdftotext", "-raw", file, "-").Output()
	require.NoError(t, err)
	return strings.Join(strings.Fields(string(out)), " ")
}

var aSum = regexp.MustCompile(`£[0-9,]+\.[0-9]{2}`)

// Every paper is printed from the page that it belongs to, with a name of its own and the sums of that page.
func TestPapersOfPages(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		if os.Getenv("STEAD_CI") != "" {
			t.Fatal("pdftotext of Debian's poppler-utils is missing")
		}
		t.Skip("pdftotext of Debian's poppler-utils is missing, so nobody reads the papers back")
	}
	s := open(t)
	v := s.as(mechanicName)
	v.get("/jobs/102/bill").form("pay").send(v, "amount", "12.50", "how", "cash")
	for name, c := range map[string]struct {
		page, paper, file string
		sums              bool // all of the page are on the paper
		says              []string
	}{
		"quote":     {"/jobs/101/quote", "/jobs/101/print/quote", "quote-101.pdf", true, []string{"Quote 1 for job 101", "What we found", "Chain: worn: the gauge drops in"}},
		"agreement": {"/jobs/102", "/jobs/102/print/agreement", "agreement-102.pdf", false, []string{"Agreed on job 102", "total £"}},
		"card":      {"/jobs/102/card", "/jobs/102/print/card", "card-102.pdf", false, []string{"Job 102: Oduya Bright", "promised for"}},
		"receipt":   {"/jobs/102/bill", "/jobs/102/print/receipt", "receipt-102.pdf", true, []string{"cash £12.50", "paid £12.50", "paid before the bill"}},
		"order":     {"/orders/533", "/orders/533/print/order", "order-533.pdf", false, []string{"Order 533 to", "goods £"}},
		"goods in":  {"/orders/533/receive", "/orders/533/print/goods-in", "goods-in-533.pdf", false, []string{"Goods in: order 533", "RIGHT", "delivery note"}},
		"sheet":     {"/shelf?bin=A1", "/bins/A1/sheet", "count-A1.pdf", false, []string{"Bin A1"}},
		"bin":       {"/shelf?bin=A1", "/labels/bin/A1", "label-bin-A1.pdf", false, []string{"bin A1"}},
		"part":      {"/parts/1", "/labels/part/1", "label-part-1.pdf", false, []string{"part 1", "TAR-CH8"}},
		"bike":      {"/bikes/1", "/labels/bike/1", "label-bike-1.pdf", false, []string{"bike 1", "Ines Falkner"}},
		"job":       {"/jobs/101", "/labels/job/101", "label-job-101.pdf", false, []string{"job 101"}},
	} {
		t.Run(name, func(t *testing.T) {
			page := v.get(c.page)
			require.Contains(t, page.source, `href="`+c.paper+`"`)
			require.Contains(t, page.source, `href="`+c.paper+`?size=80mm"`)
			given := v.get(c.paper)
			said := given.said(t)
			require.Contains(t, given.header.Get("Content-Disposition"), c.file)
			require.Equal(t, "no-store", given.header.Get("Cache-Control"))
			for _, words := range c.says {
				require.Contains(t, said, words)
			}
			if sums := aSum.FindAllString(page.text, -1); c.sums {
				require.NotEmpty(t, sums)
				for _, sum := range sums {
					require.Contains(t, said, sum)
				}
			}
		})
	}
	letter := s.stranger().get("/q/" + s.link() + "/quote")
	require.Contains(t, letter.said(t), "Quote 1 for job 101")
	requirePrivate(t, s, 101, letter.said(t))
}
