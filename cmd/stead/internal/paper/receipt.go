package paper

import (
	"stead/cmd/stead/internal/desk"
	"stead/inventory"
)

// Receipt is what was paid for a job, payment by payment.
func Receipt(shop inventory.Shop, p desk.PaidPaper) func(*Sheet) {
	return func(s *Sheet) {
		letterhead(s, shop)
		s.Title(p.Title())
		s.Table([]string{"", "", ">"}, p.Rows())
		s.Gap()
		s.Total("paid", p.Total())
		s.Points(p.Billed())
		s.Points(p.UnmendedNotes())
	}
}
