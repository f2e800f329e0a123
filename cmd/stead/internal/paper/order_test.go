package paper_test

import (
	"testing"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/paper"
	"stead/inventory"
	"stead/substitution"
)

func TestOrder(t *testing.T) {
	p := desk.OrderPaper{
		Shop: shop, Supplier: inventory.Supplier{Name: "Harbour Lane", Currency: "GBP"},
		Order: inventory.Order{ID: 501, PlacedAt: now, Carriage: money("5.95"), Lines: []inventory.OrderLine{
			{OfferID: 7, PartID: 1, Packs: 3, Pack: 144, Price: money("2.40")},
			{OfferID: 8, PartID: 2, Packs: 1, Pack: 1, Price: money("24.57")},
		}},
		Parts: map[int64]inventory.Part{1: {Part: substitution.Part{Name: "balls 1/4 in"}}, 2: {Part: substitution.Part{Name: "ring 50T silver"}}},
		Codes: map[int64]string{7: "HL-99", 8: "HL-4711"},
		Added: []string{"ring 50T silver, 1: added on Wed 2 Dec, 14:10"},
	}
	says := []string{"Tannery Yard", p.Heading(), p.TotalWords(), "goods £31.77, carriage £5.95", desk.InPlace, p.Added[0]}
	for _, l := range p.Order.Lines {
		says = append(says, p.Codes[l.OfferID], p.Parts[l.PartID].Name, desk.PacksWords(l.Packs, l.Pack), "£"+l.Price.StringFixed(2), "£"+l.Cost().StringFixed(2))
	}
	requireRead(t, paper.Order(p), says...)
}
