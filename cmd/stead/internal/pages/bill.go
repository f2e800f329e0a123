package pages

import (
	"context"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/mailing"
	"stead/inventory/post"
	"stead/pricing"
	"stead/pricing/billing"
)

// billPage is what a job comes to and what was paid: its bill, its credit notes, money before and after.
type billPage struct {
	JobID  int64
	Whose  string
	Papers []desk.Bill
	Paid   []string // of all papers
	Make   bool     // the bill can be written
	Lacks  string   // what it will lack of the shop, and that for good
	Due    bool     // of what was billed, or to be paid back of it
	Closed bool
	Take   bool       // money can be taken or given back
	Mails  []mailForm // one a paper

	Receipt  bool // something was paid
	Currency string

	dating
}

func showBill(v *visit) (string, any, error) {
	id, err := v.number("job")
	if err != nil {
		return "", nil, err
	}
	job, err := desk.LoadJob(v.ctx, v.db(), id, v.now)
	if err != nil {
		return "", nil, err
	}
	p := billPage{JobID: id, Whose: job.Whose(), Closed: job.State == pricing.Closed, Take: job.State != pricing.Cancelled || job.Account.Paid.IsPositive()}
	p.Receipt, p.Currency = len(job.Account.Payments) > 0, v.shop.Currency
	p.Make = p.Closed && job.Account.Open()
	if p.Make {
		p.Lacks = desk.BillWillLack(v.shop, job.Quote != nil && !job.Quote.Tax.Percent.IsZero())
	}
	p.Due = len(job.Account.Papers) > 0 && !job.Account.Due.IsZero()
	if p.dating, err = v.dating(); err != nil {
		return "", nil, err
	}
	for _, b := range job.Account.Papers {
		one := job.Paper(b)
		m, err := v.mailForm(paperRow(b), fmt.Sprintf("%s %d", b.Series, b.Number), job.Bike.Customer.Email, desk.BillMail(v.shop, one))
		if err != nil {
			return "", nil, err
		}
		p.Papers, p.Mails = append(p.Papers, one), append(p.Mails, m)
	}
	p.Paid = desk.Bill{Bill: billing.Bill{Currency: v.shop.Currency}, Clock: job.Clock, Account: job.Account}.PaidWords()
	title := fmt.Sprintf("Bill for job %d", id)
	if len(p.Papers) > 0 {
		title = p.Papers[0].Title()
	}
	return title, p, nil
}

// thumbed is where the act leads that is next on a page of several: the thumb shows it, and what it asks stands there.
type thumbed struct{ Path, Words string }

// Act is what is next: to write the bill, to take or pay back what is due, or to send the paper that was not sent; none where
// all of it is done.
func (p billPage) Act() *thumbed {
	if p.Make {
		return &thumbed{"#write", "Write the bill"}
	}
	return billed(p.Due && p.Take, p.Mails...)
}

// Act is what is next with one paper.
func (p paperPage) Act() *thumbed { return billed(p.Paper() && !p.Account.Due.IsZero(), p.Mail) }

func billed(due bool, mails ...mailForm) *thumbed {
	if due {
		return &thumbed{"#money", "Money came, or went back"}
	}
	for _, m := range mails {
		if m.Next {
			return &thumbed{"#mail-" + m.Row, "Send " + m.What}
		}
	}
	return nil
}

// Print leads to a bill or a credit note as PDF.
func (p billPage) Print(b desk.Bill) printed {
	return printed{b.Title(), fmt.Sprintf("/papers/%s/%d", strings.ReplaceAll(string(b.Series), " ", "-"), b.Number)}
}

// Bill reports whether a paper is a bill, of which something can be given back.
func (p billPage) Bill(b desk.Bill) bool { return b.Series == billing.Bills }

// GiveBack and HowMuch ask whether a line is given back, and how much of it.
func (p billPage) GiveBack(f *Form, l billing.Line) Field {
	return f.Tick(fmt.Sprintf("line-%d", l.Number), desk.LineWords(l))
}

func (p billPage) HowMuch(f *Form, l billing.Line) Field {
	return f.Amount(fmt.Sprintf("amount-%d", l.Number), fmt.Sprintf("How much money of line %d", l.Number)).With(fmt.Sprintf("It was billed at %s. Nothing: all that is left of that.", pricing.Amount(p.Currency, l.Amount)))
}

// ways are how money comes.
var ways = []string{"cash", "cash", "card", "card", "transfer", "transfer"}

// Ways asks how it was paid.
func (p billPage) Ways(f *Form, label string, first ...string) Field {
	return f.Choice("how", label, "", append(first, ways...)...)
}

func billPath(job int64) string { return fmt.Sprintf("/jobs/%d/bill", job) }

// paperRow tells the forms of a job's papers apart.
func paperRow(b billing.Bill) string {
	return fmt.Sprintf("%s-%d", strings.ReplaceAll(string(b.Series), " ", "-"), b.Number)
}

func mailBill(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	account, err := billing.AccountOfJob(v.ctx, v.db(), id)
	if err != nil {
		return "", err
	}
	for _, b := range account.Papers {
		if t.row != paperRow(b) {
			continue
		}
		l := t.letter()
		return v.send(billPath(id), fmt.Sprintf("%s %d", b.Series, b.Number), func(ctx context.Context, tx pgx.Tx) (post.Draft, error) {
			return mailing.Bill(ctx, tx, b.Series, b.Number, l, v.now)
		})
	}
	return "", &statusError{400, "the form is not whole: open the page again"}
}

func makeBill(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	how, at := t.oneOf("how", "cash", "card", "transfer"), v.moment(t)
	if err := t.wrong(); err != nil {
		return "", err
	}
	b, err := change(v, dated("wrote the bill", at), func(ctx context.Context, tx pgx.Tx, _ string) (billing.Bill, error) {
		return billing.MakePaid(ctx, tx, id, how, at)
	})
	words := fmt.Sprintf("bill %d is written", b.Number)
	if lacking := (desk.Bill{Bill: b}).Lacking(); lacking != "" {
		words += "; " + lacking + ": set them under Shop, for the next one"
	}
	return v.done(billPath(id), words, err)
}

func takePayment(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	how, sum, words := t.payment()
	if err := t.wrong(); err != nil {
		return "", err
	}
	p, err := change(v, words, func(ctx context.Context, tx pgx.Tx, _ string) (billing.Payment, error) {
		return billing.Pay(ctx, tx, id, sum, how, v.now)
	})
	if err != nil {
		return "", err
	}
	after, err := billing.AccountOfJob(v.ctx, v.db(), id)
	return v.done(billPath(id), desk.TookWords(p, after, v.shop.Currency), err)
}

func creditBill(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	account, err := billing.AccountOfJob(v.ctx, v.db(), id)
	if err != nil {
		return "", err
	}
	number, back := int64(t.count("bill")), billing.Back{}
	for _, b := range account.Papers {
		if b.Series != billing.Bills || b.Number != number {
			continue
		}
		back = t.givenBack(b.Lines)
	}
	c, err := v.credit(t, number, back)
	return v.done(billPath(id), fmt.Sprintf("credit note %d is written", c.Number), err)
}
