package desk

import (
	"fmt"
	"strings"

	"stead/inventory"
	"stead/pricing"
	"stead/pricing/billing"
)

// Mail is what a message says: the same in plain text, in HTML, and in the words to copy where no server is set up.
type Mail struct {
	Subject         string
	Words           []string // a paragraph each
	Rows            []string // one under the other, as on a paper
	Link, LinkWords string   // a page, and what is behind it; empty: none
	After           []string // what follows the link
	Signed          []string // the shop, a line each
}

// With is the mail with a note of whoever sends it, before all else but the greeting.
func (m Mail) With(note string) Mail {
	if note = strings.TrimSpace(note); note != "" {
		m.Words = append(append([]string{m.Words[0]}, strings.Split(note, "\n\n")...), m.Words[1:]...)
	}
	return m
}

// Text is the mail as plain text.
func (m Mail) Text() string {
	parts := append([]string{}, m.Words...)
	if len(m.Rows) > 0 {
		parts = append(parts, strings.Join(m.Rows, "\n"))
	}
	if m.Link != "" {
		parts = append(parts, m.Link)
	}
	parts = append(append(parts, m.After...), strings.Join(m.Signed, "\n"))
	return strings.Join(parts, "\n\n") + "\n"
}

// Message is the mail in one line, to send from a telephone.
func (m Mail) Message() string {
	words := strings.Join(m.Words, " ")
	if m.Link != "" {
		words += " " + m.Link
	}
	return words + " – " + m.Signed[0]
}

func signed(shop inventory.Shop) []string {
	lines := []string{shop.Name}
	for line := range strings.SplitSeq(shop.Address, "\n") {
		if line = strings.TrimSpace(line); line != "" {
			lines = append(lines, line)
		}
	}
	return lines
}

// QuoteMail brings a customer their quote: by a link to their page, as the paper that goes with it where there is none.
func QuoteMail(shop inventory.Shop, q pricing.Quote, clock Clock, link string) Mail {
	m := Mail{Subject: "Your " + q.Bike, Link: link, LinkWords: "See what we found, and answer", Signed: signed(shop),
		Words: []string{fmt.Sprintf("Hello %s,", q.Customer)},
		After: []string{fmt.Sprintf("The prices stand until %s. Nothing is ordered or done before you say yes.", clock.Day(q.ValidUntil))}}
	found := fmt.Sprintf("we have looked at your %s", q.Bike)
	if q.Amends > 0 {
		found = fmt.Sprintf("there is more to do on your %s than we agreed on", q.Bike)
		m.After[0] = fmt.Sprintf("The prices stand until %s. What we agreed on goes on; nothing more is ordered or done before you say yes.", clock.Day(q.ValidUntil))
	}
	if link == "" {
		m.Words = append(m.Words, found+". What we found, what it would cost and when it would be ready is in the quote that comes with this.")
		return m
	}
	m.Words = append(m.Words, found+". What we found, what it would cost and when it would be ready is here:")
	return m
}

// BillMail brings a customer a bill or a credit note.
func BillMail(shop inventory.Shop, b Bill) Mail {
	what := strings.ToLower(b.Title()[:1]) + b.Title()[1:]
	m := Mail{Subject: fmt.Sprintf("%s, %s", b.Title(), shop.Name), Signed: signed(shop), Words: []string{"Hello,"}}
	if b.Customer != "" {
		m.Words[0] = fmt.Sprintf("Hello %s,", b.Customer)
	}
	words := fmt.Sprintf("with this comes %s", what)
	if b.Bike != "" {
		words += " for your " + b.Bike
	}
	comes := "in all"
	if b.Series == billing.Credits {
		comes = "given back"
	}
	words += fmt.Sprintf(", %s %s.", pricing.Amount(b.Currency, b.Total), comes)
	m.Words = append(m.Words, words)
	m.Words = append(m.Words, b.UnmendedWords()...)
	if b.Series == billing.Bills {
		for _, paid := range b.PaidWords() {
			m.Rows = append(m.Rows, Sentence(paid))
		}
	}
	m.After = []string{"Thank you for bringing it to us."}
	return m
}

// OrderMail brings a supplier an order.
func OrderMail(p OrderPaper) Mail {
	words, rest, _ := strings.Cut(strings.TrimSpace(p.Letter()), "\n\n")
	return Mail{Subject: fmt.Sprintf("Order %d, %s", p.Order.ID, p.Shop.Name), Signed: signed(p.Shop),
		Words: []string{"Hello,", strings.ReplaceAll(words, "\n", " ") + "."}, Rows: strings.Split(rest, "\n"),
		After: []string{"The same is attached, to print and as a table. Please tell us what cannot come, and when the rest will."}}
}
