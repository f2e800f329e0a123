package paper

import (
	"fmt"
	"strings"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
)

// letterhead is whose paper it is.
func letterhead(s *Sheet, shop inventory.Shop) {
	s.Strong(shop.Name)
	for words := range strings.Lines(shop.Address) {
		s.Say(words)
	}
	s.Gap()
}

// Quote is a quote with all its options, as it is handed to the customer.
func Quote(shop inventory.Shop, q desk.Quote) func(*Sheet) {
	refused := q.Refusal != nil
	q = q.Handed()
	return func(s *Sheet) {
		letterhead(s, shop)
		s.Title(q.Title())
		if words := q.AskedWords(); words != "" {
			s.Say(words)
		}
		s.Say(q.Stands())
		if words := q.AmendsWords(); words != "" {
			s.Say(words)
		}
		s.Points(q.TermWords())
		s.Points(q.UnmendedNotes())
		if len(q.Labour) > 0 {
			s.Head("Work")
			var rows [][]string
			for _, l := range q.Labour {
				rows = append(rows, []string{l.Said(), fmt.Sprintf("%d min", l.Minutes), pricing.Amount(q.Currency, l.Amount)})
			}
			s.Table([]string{"", ">", ">"}, rows)
		}
		if !q.Shared.Empty() {
			s.Head("In every option")
			lines(s, q.Currency, q.Shared.Lines)
			s.Points(q.Shared.HandedNotes())
		}
		for _, c := range q.Choices {
			s.Head(c.Head(q.Currency))
			lines(s, q.Currency, c.Apart.Lines)
			s.Points(c.HandedWords(q.Currency))
		}
		if words := q.CarriageWords(); words != "" {
			s.Gap()
			s.Say(words)
		}
		if refused {
			s.Head("Nothing does the job as asked")
			s.Say("We have looked, and have not found a way yet that keeps to all that was asked.")
		}
		if len(q.Photos) > 0 {
			s.Head("What we found")
			s.Photos(q.Photos)
		}
	}
}

// lines are the parts of an option, or those that all have.
func lines(s *Sheet, currency string, list []desk.QuoteLine) {
	var rows [][]string
	for _, l := range list {
		what, name := l.For, l.Name
		for _, from := range l.From {
			rows = append(rows, []string{what, name, from.Words, pricing.Amount(currency, from.Amount)})
			what, name = "", ""
		}
	}
	if len(rows) > 0 {
		s.Table([]string{"", "", "", ">"}, rows)
	}
}
