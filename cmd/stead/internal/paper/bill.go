package paper

import (
	"strconv"

	"stead/cmd/stead/internal/desk"
	"stead/pricing"
)

// Bill is a bill or a credit note as it was handed over, with what was paid of it: the receipt.
func Bill(v desk.Bill) func(*Sheet) {
	return func(s *Sheet) {
		s.Title(v.Heading())
		for _, words := range v.Head() {
			if words != v.Heading() {
				s.Say(words)
			}
		}
		s.Gap()
		var rows [][]string
		for _, l := range v.Lines {
			rows = append(rows, []string{strconv.Itoa(l.Number), v.LineWords(l), pricing.Amount(v.Currency, v.Signed(l.Amount))})
		}
		s.Table([]string{"", "", ">"}, rows)
		s.Gap()
		s.Total("total", pricing.Amount(v.Currency, v.Signed(v.Total)))
		s.Points(v.TaxWords())
		s.Gap()
		s.Points(v.PaidWords())
		s.Points(v.UnmendedNotes())
	}
}
