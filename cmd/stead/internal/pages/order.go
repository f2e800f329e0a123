package pages

import (
	"bytes"
	"context"
	"encoding/base64"
	"fmt"
	"html/template"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/mailing"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/post"
	"stead/pricing"
)

// orderPage is an order as it is sent, what its supplier said of it since, and what came of it for whom.
type orderPage struct {
	desk.Order
	Paper   desk.OrderPaper
	Open    bool // something is still to come
	Mail    mailForm
	Sent    []messageLine
	CSV     template.URL // the order as a file
	Got     []inventory.Got
	Measure []inventory.ToMeasure
	History []string
}

// InPlace is said over what was added to the order.
func (p orderPage) InPlace() string { return desk.InPlace }

// Due is when a line is expected, or that its supplier knows no day.
func (p orderPage) Due(r desk.OrderRow) string {
	d, err := calendar.ParseDay(r.Expected)
	if err != nil {
		return "nobody can say when"
	}
	return "expected " + p.Day(d)
}

func showOrder(v *visit) (string, any, error) {
	id, err := v.number("order")
	if err != nil {
		return "", nil, err
	}
	p := orderPage{}
	if p.Order, err = desk.LoadOrder(v.ctx, v.db(), id, v.now); err != nil {
		return "", nil, err
	}
	if p.Paper, err = desk.LoadOrderPaper(v.ctx, v.db(), id, v.now); err != nil {
		return "", nil, err
	}
	for _, l := range p.Lines {
		p.Open = p.Open || l.Awaited() > 0
	}
	p.Sent = messageLines(p.Clock, p.Post)
	if p.Mail, err = v.mailForm("order", fmt.Sprintf("order %d", id), p.Supplier.Email, desk.OrderMail(p.Paper)); err != nil {
		return "", nil, err
	}
	p.Mail.Next = p.ToSend()
	var file bytes.Buffer
	if err := p.Paper.WriteCSV(&file); err != nil {
		return "", nil, err
	}
	p.CSV = template.URL("data:text/csv;charset=utf-8;base64," + base64.StdEncoding.EncodeToString(file.Bytes()))
	if p.Got, p.Measure, err = inventory.Came(v.ctx, v.db(), p.Order.Order); err != nil {
		return "", nil, err
	}
	happened, err := inventory.Happenings(v.ctx, v.db(), inventory.Subject{Kind: inventory.OfOrder, ID: id}, 0)
	for _, h := range happened {
		p.History = append(p.History, v.tells(h))
	}
	return fmt.Sprintf("Order %d to %s", id, p.Supplier.Name), p, err
}

func mailOrder(v *visit, t *typed) (string, error) {
	id, err := v.number("order")
	if err != nil {
		return "", err
	}
	l := t.letter()
	return v.send(fmt.Sprintf("/orders/%d", id), "the order", func(ctx context.Context, tx pgx.Tx) (post.Draft, error) {
		return mailing.Order(ctx, tx, id, l, v.now)
	})
}

// tellOrder keeps that the supplier was told of the order by another way than the post.
func tellOrder(v *visit, t *typed) (string, error) {
	id, err := v.number("order")
	if err != nil {
		return "", err
	}
	by := inventory.Way(t.needed("by", "say how they were told"))
	if err := t.wrong(); err != nil {
		return "", err
	}
	o, err := change(v, "told the supplier "+by.Words(), func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Order, error) {
		return inventory.TellOrder(ctx, tx, id, by, v.now)
	})
	return v.done(fmt.Sprintf("/orders/%d", id), "kept that they were told "+o.ToldBy.Words(), err)
}

// Way asks how the supplier was told.
func (p orderPage) Way(f *Form) Field {
	var choices []string
	for _, w := range inventory.Ways() {
		choices = append(choices, string(w), w.Words())
	}
	return f.Choice("by", "How?", "", choices...)
}

// Code is the supplier's code of a line.
func (p orderPage) Code(l inventory.OrderLine) string { return p.Paper.Codes[l.OfferID] }

// Name is what the part of a line is called.
func (p orderPage) Name(l inventory.OrderLine) string { return p.Paper.Parts[l.PartID].Name }

// Packs are how many packs a line has.
func (p orderPage) Packs(l inventory.OrderLine) string { return desk.PacksWords(l.Packs, l.Pack) }

// In writes an amount in the supplier's currency.
func (p orderPage) In(x decimal.Decimal) string { return pricing.Amount(p.Supplier.Currency, x) }

// Total is what the order comes to with carriage.
func (p orderPage) Total() string { return p.In(p.Goods().Add(p.Carriage)) }

// GotWords say whose pieces are that came.
func (p orderPage) GotWords(g inventory.Got) string {
	return fmt.Sprintf("%d of %s, %s", g.Pieces, p.Parts[g.PartID].Name, desk.SiteWords(g.Place))
}

// MeasureWords head what to measure of a substitute.
func (p orderPage) MeasureWords(m inventory.ToMeasure) string { return sentence(desk.MeasureWords(m)) }

// orderLine is the line of an order that a form is of.
func orderLine(v *visit, t *typed) (order, line int64, err error) {
	if order, err = v.number("order"); err != nil {
		return 0, 0, err
	}
	o, err := inventory.OrderByID(v.ctx, v.db(), order)
	if err != nil {
		return 0, 0, err
	}
	for _, l := range o.Lines {
		if fmt.Sprint(l.ID) == t.row {
			return order, l.ID, nil
		}
	}
	return 0, 0, &statusError{400, "the form is not whole: open the page again"}
}

// cancelOrder cancels what is still to come: of one line, or of all.
func cancelOrder(v *visit, t *typed) (string, error) {
	id, err := v.number("order")
	if err != nil {
		return "", err
	}
	var lines []int64
	words := "cancelled what was still to come"
	if t.row != "" {
		_, line, err := orderLine(v, t)
		if err != nil {
			return "", err
		}
		lines, words = []int64{line}, fmt.Sprintf("cancelled line %d", line)
	}
	o, err := change(v, words, func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Order, error) {
		return inventory.CancelOrder(ctx, tx, id, lines...)
	})
	return v.done(fmt.Sprintf("/orders/%d", id), fmt.Sprintf("cancelled here: tell the supplier too; the order is %s, and what jobs were to have of it is wanted again", o.State.Words()), err)
}

// answerOrder records what the supplier answers to a line: a day or that it has none, a price.
func answerOrder(v *visit, t *typed) (string, error) {
	id, line, err := orderLine(v, t)
	if err != nil {
		return "", err
	}
	day, back, price, note := t.day("day"), t.ticked("back-ordered"), t.amount("price"), t.line("note")
	var said []inventory.Confirmation
	add := func(c inventory.Confirmation) {
		c.LineID, c.Kind, c.Note = line, inventory.Acknowledged, note
		said = append(said, c)
	}
	switch {
	case day != nil && back:
		t.mark("day", "give the day, or tick that there is none")
	case day != nil:
		add(inventory.Confirmation{ExpectedOn: day})
	case back:
		add(inventory.Confirmation{BackOrdered: true})
	}
	if price.Valid {
		add(inventory.Confirmation{Price: price})
	}
	if len(said) == 0 {
		t.mark("day", "say what they answered: a day, that there is none, or a price")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.confirm(id, "recorded what the supplier answered", said)
}

// invoiceOrder records what the supplier charges for a line.
func invoiceOrder(v *visit, t *typed) (string, error) {
	id, line, err := orderLine(v, t)
	if err != nil {
		return "", err
	}
	price, note := t.amount("price"), t.line("note")
	if !price.Valid {
		t.mark("price", "say what a pack is charged at")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.confirm(id, "recorded what the supplier charges", []inventory.Confirmation{{LineID: line, Kind: inventory.Invoiced, Price: price, Note: note}})
}

// confirm keeps what a supplier said, and tells which promises will not be kept.
func (v *visit) confirm(id int64, words string, said []inventory.Confirmation) (string, error) {
	if err := v.do(words, func(ctx context.Context, tx pgx.Tx, _ string) error {
		_, err := inventory.Confirm(ctx, tx, id, said, v.now)
		return err
	}); err != nil {
		return "", err
	}
	late, err := desk.LoadLate(v.ctx, v.db(), v.now)
	if err != nil {
		return "", err
	}
	out := []string{"recorded"}
	if len(late.Promises) == 0 {
		out = append(out, desk.NoneLate)
	}
	for _, l := range late.Promises {
		if l.OrderID == id {
			out = append(out, late.Words(l))
		}
	}
	return v.done(fmt.Sprintf("/orders/%d", id), strings.Join(out, "; "), nil)
}

// sentence begins words as a sentence does.
func sentence(words string) string { return desk.Sentence(words) }
