package paper

import (
	"github.com/shopspring/decimal"

	"stead/cmd/stead/internal/desk"
	"stead/pricing"
)

// Order is an order as it is sent to its supplier.
func Order(p desk.OrderPaper) func(*Sheet) {
	return func(s *Sheet) {
		letterhead(s, p.Shop)
		s.Title(p.Heading())
		in := func(sum decimal.Decimal) string { return pricing.Amount(p.Supplier.Currency, sum) }
		var rows [][]string
		for _, l := range p.Lines() {
			rows = append(rows, []string{p.Codes[l.OfferID], p.Parts[l.PartID].Name, desk.PacksWords(l.Packs, l.Pack), in(l.Price), in(l.Cost())})
		}
		s.Table([]string{"YOUR CODE", "DESCRIPTION", ">PACKS", ">A PACK", ">AMOUNT"}, rows)
		s.Gap()
		s.Say(p.TotalWords())
		if len(p.Added) > 0 {
			s.Gap()
			s.Say(desk.InPlace)
			s.Points(p.Added)
		}
	}
}
