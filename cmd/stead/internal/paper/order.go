package paper

import (
	"stead/cmd/stead/internal/desk"
)

// Order is an order as it is sent to its supplier.
func Order(p desk.OrderPaper) func(*Sheet) {
	return func(s *Sheet) {
		letterhead(s, p.Shop)
		s.Title(p.Heading())
		var rows [][]string
		for _, l := range p.Order.Lines {
			rows = append(rows, []string{p.Codes[l.OfferID], p.Parts[l.PartID].Name, desk.PacksWords(l.Packs, l.Pack), l.Price.StringFixed(2), l.Cost().StringFixed(2)})
		}
		s.Table([]string{"YOUR CODE", "DESCRIPTION", ">PACKS", ">A PACK", ">" + p.Supplier.Currency}, rows)
		s.Gap()
		s.Say(p.TotalWords())
	}
}
