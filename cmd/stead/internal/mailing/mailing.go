// Package mailing sets what goes out by mail: the desk's words in plain text and in HTML, and the papers as files.
package mailing

import (
	"bytes"
	"context"
	"fmt"
	"html/template"
	"strings"
	"time"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/paper"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/post"
	"stead/pricing"
	"stead/pricing/billing"
)

// Letter says to whom something goes, and what whoever sends it writes besides.
type Letter struct {
	To   string // an address; empty: the one on record
	Note string
	Link string // to the customer's page; empty: none, and the paper goes along
}

// NoAddressError says that nobody's address is known.
type NoAddressError struct {
	Of   inventory.Kind // a customer or a supplier
	ID   int64
	Code string // of a supplier
	Name string
}

func (e *NoAddressError) Error() string {
	return fmt.Sprintf("no e-mail address of %s is on record", e.Name)
}

// Quote sets a job's newest quote for its customer. It must wait for an answer.
func Quote(ctx context.Context, db inventory.DB, jobID int64, l Letter, now time.Time) (post.Draft, error) {
	job, err := pricing.JobByID(ctx, db, jobID)
	if err != nil {
		return post.Draft{}, err
	}
	newest, err := pricing.ToSend(ctx, db, jobID, calendar.DayOf(now))
	if err != nil {
		return post.Draft{}, err
	}
	q := desk.TellQuote(newest, desk.At(now))
	if q.Photos, err = desk.PaperPhotos(ctx, db, jobID); err != nil {
		return post.Draft{}, err
	}
	shop, err := inventory.LoadShop(ctx, db)
	if err != nil {
		return post.Draft{}, err
	}
	to, err := customerAddress(job.Bike.Customer, l.To)
	if err != nil {
		return post.Draft{}, err
	}
	d := post.Draft{JobID: jobID, What: pricing.QuoteTitle(q.Version), To: to}
	return set(d, shop, desk.QuoteMail(shop, q.Quote, q.Clock, l.Link).With(l.Note),
		file{fmt.Sprintf("quote-%d.pdf", jobID), paper.Quote(shop, q)})
}

// Bill sets a bill or a credit note for its customer.
func Bill(ctx context.Context, db inventory.DB, series billing.Series, number int64, l Letter, now time.Time) (post.Draft, error) {
	b, err := desk.LoadBill(ctx, db, series, number, now)
	if err != nil {
		return post.Draft{}, err
	}
	shop, err := inventory.LoadShop(ctx, db)
	if err != nil {
		return post.Draft{}, err
	}
	customer := pricing.Customer{Name: b.Customer}
	if b.JobID != 0 {
		job, err := pricing.JobByID(ctx, db, b.JobID)
		if err != nil {
			return post.Draft{}, err
		}
		customer = job.Bike.Customer
	}
	to, err := customerAddress(customer, l.To)
	if err != nil {
		return post.Draft{}, err
	}
	what := fmt.Sprintf("%s %d", series, number)
	d := post.Draft{JobID: b.JobID, What: what, To: to}
	return set(d, shop, desk.BillMail(shop, b).With(l.Note), file{strings.ReplaceAll(what, " ", "-") + ".pdf", paper.Bill(b)})
}

// Order sets an order for its supplier, as a paper and as a table.
func Order(ctx context.Context, db inventory.DB, id int64, l Letter, now time.Time) (post.Draft, error) {
	p, err := desk.LoadOrderPaper(ctx, db, id, now)
	if err != nil {
		return post.Draft{}, err
	}
	to := post.Address{Name: p.Supplier.Name, Mail: l.To}
	if to.Mail == "" {
		if to.Mail = p.Supplier.Email; to.Mail == "" {
			return post.Draft{}, &NoAddressError{Of: inventory.OfSupplier, ID: p.Supplier.ID, Code: p.Supplier.Code, Name: p.Supplier.Name}
		}
	}
	d := post.Draft{OrderID: id, What: fmt.Sprintf("order %d", id), To: to}
	d, err = set(d, p.Shop, desk.OrderMail(p).With(l.Note), file{fmt.Sprintf("order-%d.pdf", id), paper.Order(p)})
	if err != nil {
		return d, err
	}
	var table bytes.Buffer
	if err := p.WriteCSV(&table); err != nil {
		return d, err
	}
	d.Files = append(d.Files, post.File{Name: fmt.Sprintf("order-%d.csv", id), Type: "text/csv", Content: table.Bytes()})
	return d, nil
}

// customerAddress is a customer's address. One that is given for this once is somebody's who may go by another name.
func customerAddress(c pricing.Customer, given string) (post.Address, error) {
	switch {
	case given != "" && given != c.Email:
		return post.Address{Mail: given}, nil
	case c.Email == "":
		name := c.Name
		if name == "" {
			name = "whoever bought over the counter"
		}
		return post.Address{}, &NoAddressError{Of: inventory.OfCustomer, ID: c.ID, Name: name}
	}
	return post.Address{Name: c.Name, Mail: c.Email}, nil
}

type file struct {
	name string
	set  func(*paper.Sheet)
}

// set puts words and paper into a message.
func set(d post.Draft, shop inventory.Shop, m desk.Mail, paperFile file) (post.Draft, error) {
	d.From, d.Subject, d.Text = shop.Name, m.Subject, m.Text()
	var html, pdf bytes.Buffer
	if err := page.Execute(&html, m); err != nil {
		return d, fmt.Errorf("set %s: %w", d.What, err)
	}
	d.HTML = html.String()
	size, err := paper.ReadSize("a4")
	if err != nil {
		return d, err
	}
	if err := paper.Write(&pdf, size, d.What, paperFile.set); err != nil {
		return d, err
	}
	d.Files = append(d.Files, post.File{Name: paperFile.name, Type: "application/pdf", Content: pdf.Bytes()})
	return d, nil
}

// page is the message in HTML, as plain as a letter: it asks for nothing from anywhere.
var page = template.Must(template.New("mail").Parse(`<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>{{.Subject}}</title></head>
<body style="font-family: sans-serif; font-size: 16px; line-height: 1.5; max-width: 36em">
{{range .Words}}<p>{{.}}</p>
{{end}}{{if .Rows}}<p>{{range $i, $row := .Rows}}{{if $i}}<br>
{{end}}{{$row}}{{end}}</p>
{{end}}{{with .Link}}<p><a href="{{.}}">{{$.LinkWords}}</a></p>
<p style="font-size: 14px">Or copy this into a browser:<br>{{.}}</p>
{{end}}{{range .After}}<p>{{.}}</p>
{{end}}<p>{{range $i, $line := .Signed}}{{if $i}}<br>
{{end}}{{$line}}{{end}}</p>
</body></html>
`))
