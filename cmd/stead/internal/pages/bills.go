package pages

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/mailing"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/post"
	"stead/pricing"
	"stead/pricing/billing"
)

// billsPage are the bills and credit notes by day, the newest first.
type billsPage struct {
	From   string
	Unpaid bool // only those of which money is due, or is to be paid back
	Days   []billDay
}

// billDay are the papers of one day.
type billDay struct {
	Day    calendar.Day
	Papers []desk.Bill
}

// recentBills is how far back bills are listed unless a day is named.
const recentBills = 31

func showBills(v *visit) (string, any, error) {
	from, p := v.today()-recentBills, billsPage{From: v.asked("from"), Unpaid: v.asked("unpaid") != ""}
	if p.From != "" {
		d, err := calendar.ParseDay(p.From)
		if err != nil {
			return "", nil, &statusError{400, err.Error()}
		}
		from = d
	}
	t := from.Time()
	list, err := desk.LoadBills(v.ctx, v.db(), time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, v.now.Location()), v.now)
	for i := len(list) - 1; i >= 0; i-- {
		b := list[i]
		if p.Unpaid && b.Due().IsZero() {
			continue
		}
		day := calendar.DayOf(b.MadeAt.In(v.now.Location()))
		if n := len(p.Days); n == 0 || p.Days[n-1].Day != day {
			p.Days = append(p.Days, billDay{Day: day})
		}
		last := &p.Days[len(p.Days)-1]
		last.Papers = append(last.Papers, b)
	}
	return "Bills", p, err
}

// Path is the page of a paper: its job's, or of a sale over the counter its own.
func (p billsPage) Path(b desk.Bill) string {
	switch {
	case b.JobID != 0:
		return billPath(b.JobID)
	case b.Series == billing.Credits:
		return fmt.Sprintf("/credits/%d", b.Number)
	}
	return fmt.Sprintf("/bills/%d", b.Number)
}

// Whose says of whom a paper is.
func (p billsPage) Whose(b desk.Bill) string { return b.WhoseWords() }

// Due is what is still to be paid of it, or to be paid back; empty where nothing is.
func (p billsPage) Due(b desk.Bill) string {
	if b.Due().IsZero() {
		return ""
	}
	words := b.PaidWords()
	return words[len(words)-1]
}

// paperPage is a bill or credit note of its own.
type paperPage struct {
	billPage
	desk.Bill
	Mail mailForm
}

// paperNamed is the paper that the path names.
func (v *visit) paperNamed() (series billing.Series, number int64, err error) {
	series, kind := billing.Bills, "bill"
	if strings.HasPrefix(v.r.URL.Path, "/credits/") {
		series, kind = billing.Credits, "credit"
	}
	number, err = v.number(kind)
	return series, number, err
}

// account is what the bill that the path names is paid with: its job's, or of a sale over the counter its own.
func (v *visit) account() (inventory.Subject, error) {
	n, err := v.number("bill")
	if err != nil {
		return inventory.Subject{}, err
	}
	b, err := billing.Numbered(v.ctx, v.db(), billing.Bills, n)
	if b.JobID != 0 {
		return inventory.Subject{Kind: inventory.OfJob, ID: b.JobID}, err
	}
	return inventory.Subject{Kind: inventory.OfBill, ID: b.ID}, err
}

func showPaper(v *visit) (string, any, error) {
	series, n, err := v.paperNamed()
	if err != nil {
		return "", nil, err
	}
	b, err := desk.LoadBill(v.ctx, v.db(), series, n, v.now)
	if err != nil {
		return "", nil, err
	}
	to := ""
	if b.JobID != 0 {
		job, err := pricing.JobByID(v.ctx, v.db(), b.JobID)
		if err != nil {
			return "", nil, err
		}
		to = job.Bike.Customer.Email
	}
	m, err := v.mailForm("", fmt.Sprintf("%s %d", series, n), to, desk.BillMail(v.shop, b))
	if err != nil {
		return "", nil, err
	}
	p := paperPage{billPage: billPage{Currency: v.shop.Currency}, Bill: b, Mail: m}
	p.dating, err = v.dating()
	return b.Title(), p, err
}

func mailPaper(v *visit, t *typed) (string, error) {
	series, n, err := v.paperNamed()
	if err != nil {
		return "", err
	}
	l := t.letter()
	return v.send(v.r.URL.Path, fmt.Sprintf("%s %d", series, n), func(ctx context.Context, tx pgx.Tx) (post.Draft, error) {
		return mailing.Bill(ctx, tx, series, n, l, v.now)
	})
}

// Paper reports whether it is a bill, which can be paid and corrected.
func (p paperPage) Paper() bool { return p.Series == billing.Bills }

func payBill(v *visit, t *typed) (string, error) {
	n, err := v.number("bill")
	if err != nil {
		return "", err
	}
	how, sum, words := t.payment()
	if err := t.wrong(); err != nil {
		return "", err
	}
	p, err := change(v, words, func(ctx context.Context, tx pgx.Tx, _ string) (billing.Payment, error) {
		return billing.PayBill(ctx, tx, n, sum, how, v.now)
	})
	if err != nil {
		return "", err
	}
	after, err := desk.LoadBill(v.ctx, v.db(), billing.Bills, n, v.now)
	return v.done(fmt.Sprintf("/bills/%d", n), desk.TookWords(p, after.Account, v.shop.Currency), err)
}

func creditPaper(v *visit, t *typed) (string, error) {
	n, err := v.number("bill")
	if err != nil {
		return "", err
	}
	b, err := billing.Numbered(v.ctx, v.db(), billing.Bills, n)
	if err != nil {
		return "", err
	}
	c, err := v.credit(t, n, t.givenBack(b.Lines))
	return v.done(fmt.Sprintf("/credits/%d", c.Number), fmt.Sprintf("credit note %d is written", c.Number), err)
}

// credit writes a credit note for what is given back of a bill.
func (v *visit) credit(t *typed, bill int64, back billing.Back) (billing.Bill, error) {
	why, at := t.needed("why", "say why: it stands on the credit note"), v.moment(t)
	if len(back) == 0 && !t.ticked("all") {
		t.mark("all", "say which lines are given back, or all of them")
	}
	if err := t.wrong(); err != nil {
		return billing.Bill{}, err
	}
	return change(v, dated("wrote a credit note: "+why, at), func(ctx context.Context, tx pgx.Tx, _ string) (billing.Bill, error) {
		return billing.Credit(ctx, tx, bill, back, why, at)
	})
}

// returnsPage is what is still to go back to suppliers, what went back, and what no credit has come for.
type returnsPage struct {
	All     bool
	Waits   []inventory.Beside
	Returns []inventory.Return
}

func showReturns(v *visit) (string, any, error) {
	p := returnsPage{All: v.asked("all") != ""}
	var err error
	if p.Waits, err = inventory.Besides(v.ctx, v.db()); err != nil {
		return "", nil, err
	}
	p.Returns, err = inventory.Returns(v.ctx, v.db(), !p.All)
	return "Gone back", p, err
}

// Words tell of a return, Uncredited that no credit has come for it, and ToGo of what is still here.
func (p returnsPage) Words(r inventory.Return) string    { return sentence(desk.ReturnWords(r)) }
func (p returnsPage) Uncredited(r inventory.Return) bool { return !r.Credited.Valid }
func (p returnsPage) ToGo(b inventory.Beside) string     { return desk.ToGoBackWords(b) }

func creditReturn(v *visit, t *typed) (string, error) {
	id, credit, reference := t.number64("row"), t.amount("credit"), t.line("reference")
	if !credit.Valid {
		t.mark("credit", "say what they credit; 0 where they give none")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	r, err := change(v, fmt.Sprintf("recorded the credit for return %d", id), func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Return, error) {
		return inventory.CreditReturn(ctx, tx, id, credit.Decimal, reference, v.now)
	})
	return v.done("/returns", desk.ReturnWords(r), err)
}

// sendBack sends pieces of an order's line back to its supplier.
func sendBack(v *visit, t *typed) (string, error) {
	id, line, err := orderLine(v, t)
	if err != nil {
		return "", err
	}
	n, why, note := t.count("pieces"), inventory.WhyBack(t.oneOf("why", string(inventory.BackWrong), string(inventory.BackDamaged), string(inventory.BackNotNeeded))), t.line("note")
	if why == "" {
		t.mark("why", "say why they go back")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	r, err := change(v, "sent something back", func(ctx context.Context, tx pgx.Tx, key string) (inventory.Return, error) {
		return inventory.SendBack(ctx, tx, key, line, n, why, 0, note, v.now)
	})
	return v.done(fmt.Sprintf("/orders/%d", id), desk.ReturnWords(r)+": tell the supplier", err)
}

// payment reads how much was paid and how; below nothing where it was paid back.
func (t *typed) payment() (how string, sum decimal.NullDecimal, words string) {
	how, sum, words = t.oneOf("how", "cash", "card", "transfer"), t.amount("amount"), "took a payment"
	if how == "" {
		t.mark("how", "say how it was paid")
	}
	if t.ticked("back") {
		if !sum.Valid {
			t.mark("amount", "say how much was paid back")
		}
		sum.Decimal, words = sum.Decimal.Neg(), "paid money back"
	}
	return how, sum, words
}

// givenBack reads which lines of a bill are given back, and how much of each.
func (t *typed) givenBack(lines []billing.Line) billing.Back {
	back := billing.Back{}
	for _, l := range lines {
		sum := t.amount(fmt.Sprintf("amount-%d", l.Number))
		if t.ticked(fmt.Sprintf("line-%d", l.Number)) || sum.Valid {
			back[l.Number] = sum
		}
	}
	return back
}
