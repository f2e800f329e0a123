package paper_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

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
	for _, l := range p.Lines() {
		says = append(says, p.Codes[l.OfferID], p.Parts[l.PartID].Name, desk.PacksWords(l.Packs, l.Pack), "£"+l.Price.StringFixed(2), "£"+l.Cost().StringFixed(2))
	}
	requireRead(t, paper.Order(p), says...)
}

// A code that was added to an order is read once by its supplier, with all its packs, wherever it is written; at another
// price a pack it is a line of its own, and the goods come to the same.
func TestOrderSaysACodeOnce(t *testing.T) {
	line := func(packs int, price string) inventory.OrderLine {
		return inventory.OrderLine{OfferID: 7, PartID: 1, Packs: packs, Pack: 1, Price: money(price)}
	}
	p := desk.OrderPaper{Shop: shop, Supplier: inventory.Supplier{Name: "Harbour Lane", Currency: "GBP"},
		Order: inventory.Order{ID: 501, PlacedAt: now, Lines: []inventory.OrderLine{line(5, "2.40"), line(1, "2.40"), line(2, "2.20")}},
		Parts: map[int64]inventory.Part{1: {Part: substitution.Part{Name: "balls 1/4 in"}}}, Codes: map[int64]string{7: "HL-99"}}
	var csv strings.Builder
	require.NoError(t, p.WriteCSV(&csv))
	for where, text := range map[string]string{"paper": read(t, paper.A4, paper.Order(p)), "letter": p.Letter(), "table": csv.String()} {
		require.Equal(t, 2, strings.Count(text, "HL-99"), where)
		require.NotContains(t, text, "12.00", where)
	}
	require.Contains(t, csv.String(), "14.40")
	require.Contains(t, csv.String(), "4.40")
	require.Equal(t, "18.80", p.Order.Goods().StringFixed(2))
	require.Equal(t, 5, p.Order.Lines[0].Packs, "the order itself keeps its lines")
}
