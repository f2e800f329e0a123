package paper

import (
	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing"
)

// Agreement is what a customer said yes to, with its differences word for word and a line to sign on.
func Agreement(shop inventory.Shop, p desk.AgreedPaper) func(*Sheet) {
	return func(s *Sheet) {
		letterhead(s, shop)
		s.Title(p.Title())
		s.Say(p.HandedWords())
		s.Points(p.AgreedWords())
		s.Gap()
		var rows [][]string
		for _, l := range p.Agreement.Standing() {
			rows = append(rows, []string{desk.AgreedLineWords(l), pricing.Amount(p.Agreement.Currency, l.Amount)})
		}
		s.Table([]string{"", ">"}, rows)
		s.Gap()
		s.Total("total", pricing.Amount(p.Agreement.Currency, p.Agreement.Total))
		s.Points(p.TaxWords())
		s.Gap()
		s.Points(p.Different)
		s.Points(p.WishedWords())
		s.Points(p.Cautions)
		s.Points(p.Quote.TermWords())
		s.Points(p.UnmendedNotes())
		s.Sign(p.Approval.By)
	}
}
