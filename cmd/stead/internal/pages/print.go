package pages

import (
	"bytes"
	"context"
	"net/url"
	"strconv"
	"time"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/paper"
	"stead/inventory"
	"stead/inventory/barcode"
	"stead/pricing"
	"stead/pricing/billing"
)

// ofThing loads a paper of a job or of an order.
type ofThing = func(ctx context.Context, db inventory.DB, id int64, now time.Time) (paper.Paper, error)

// jobPapers and orderPapers are the papers that there are of one, by their names in the path.
var (
	jobPapers   = map[string]ofThing{"quote": paper.QuoteOf, "agreement": paper.AgreementOf, "card": paper.CardOf, "receipt": paper.ReceiptOf}
	orderPapers = map[string]ofThing{"order": paper.OrderOf, "goods-in": paper.GoodsInOf}
	billPapers  = map[string]billing.Series{"bill": billing.Bills, "credit-note": billing.Credits}
)

// printed is a link to a paper: as a sheet of A4 and, at the counter, on a roll.
type printed struct{ Words, Path string }

func (p printed) Roll() string {
	address, _ := url.Parse(p.Path) // one that we made
	q := address.Query()
	q.Set("size", "80mm")
	address.RawQuery = q.Encode()
	return address.String()
}

// setPaper sets a paper on the page that was asked for, A4 where none was.
func (v *visit) setPaper(p paper.Paper, err error) (file, error) {
	if err != nil {
		return file{}, ofTheQuestion(err)
	}
	size, err := v.size()
	if err != nil {
		return file{}, err
	}
	var out bytes.Buffer
	if err := paper.Write(&out, size, p.Name, p.Set); err != nil {
		return file{}, ofTheQuestion(err)
	}
	return file{kind: pdf, name: p.Name + ".pdf", data: out.Bytes()}, nil
}

func (v *visit) size() (paper.Size, error) {
	text := v.asked("size")
	if text == "" {
		return paper.A4, nil
	}
	size, err := paper.ReadSize(text)
	return size, ofTheQuestion(err)
}

// paperOf is a paper of the path's thing, by its name in the path.
func (v *visit) paperOf(thing string, papers map[string]ofThing) (file, error) {
	id, err := v.number(thing)
	if err != nil {
		return file{}, err
	}
	load, known := papers[v.r.PathValue("paper")]
	if !known {
		return file{}, &inventory.UnknownError{Kind: "paper", Name: v.r.PathValue("paper")}
	}
	return v.setPaper(load(v.ctx, v.db(), id, v.now))
}

func giveJobPaper(v *visit) (file, error)   { return v.paperOf("job", jobPapers) }
func giveOrderPaper(v *visit) (file, error) { return v.paperOf("order", orderPapers) }

// giveBill gives a bill or a credit note by its number.
func giveBill(v *visit) (file, error) {
	series, known := billPapers[v.r.PathValue("series")]
	number, err := v.number("number")
	if !known || err != nil {
		return file{}, &inventory.UnknownError{Kind: "paper", Name: v.r.PathValue("series") + " " + v.r.PathValue("number")}
	}
	return v.setPaper(paper.BillOf(v.ctx, v.db(), series, number, v.now))
}

// giveSheet gives the sheet to count a bin by.
func giveSheet(v *visit) (file, error) {
	return v.setPaper(paper.SheetOf(v.ctx, v.db(), v.r.PathValue("bin"), v.now))
}

// mostLabels bounds how many labels of one thing are set at once: four sheets of A4.
const mostLabels = 96

// giveLabel gives labels of a bin, a part, a bike or a job: one, or as many as are asked for.
func giveLabel(v *visit) (file, error) {
	label, err := desk.LoadLabel(v.ctx, v.db(), barcode.Kind(v.r.PathValue("kind")), v.r.PathValue("name"))
	if err != nil {
		return file{}, ofTheQuestion(err)
	}
	size, err := v.size()
	if err != nil {
		return file{}, err
	}
	n := 1
	if asked, err := strconv.Atoi(v.asked("copies")); err == nil && asked > 0 {
		n = min(asked, mostLabels)
	}
	var labels []desk.Label
	for range n {
		labels = append(labels, label)
	}
	var out bytes.Buffer
	if err := paper.Labels(&out, size, labels); err != nil {
		return file{}, ofTheQuestion(err)
	}
	return file{kind: pdf, name: "label-" + v.r.PathValue("kind") + "-" + v.r.PathValue("name") + ".pdf", data: out.Bytes()}, nil
}

// giveLetterQuote gives a customer the version of the quote that their link leads to; once they have agreed, what they
// agreed to.
func giveLetterQuote(v *visit) (file, error) {
	_, agreed, err := pricing.QuoteVersion(v.ctx, v.db(), v.link.JobID, v.link.Version)
	if err != nil {
		return file{}, err
	}
	if agreed != nil {
		return v.setPaper(paper.AgreementOf(v.ctx, v.db(), v.link.JobID, v.now))
	}
	return v.setPaper(paper.QuoteVersionOf(v.ctx, v.db(), v.link.JobID, v.link.Version, v.now))
}
