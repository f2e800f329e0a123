package catalogue

import (
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/pricelist"
	"stead/migrations/testdb"
)

// A recommended price is of what is sold together unless the column or the cell says that it is of one piece; a part
// keeps it a piece.
func TestRetailIsOfWhatIsSoldTogether(t *testing.T) {
	each := mapping
	each.RetailEach, each.PriceEach = true, true
	for _, c := range []struct {
		name, line            string
		mapping               pricelist.Mapping
		price, retail, aPiece string // of a pack, of a pack, of a piece
	}{
		{"a bag of balls", "A1,BALLS 1/4 BAG 144 G100,,,,3.60,7.50,,", mapping, "3.6", "7.5", "0.052083"},
		{"a pair of pads", "A1,DISC PADS SINTERED PR,,,,4.20,9.99,,", mapping, "4.2", "9.99", "4.995"},
		{"a pack by its column", "A1,CABLE END CAPS,,,,2.00,15.00,500,", mapping, "2", "15", "0.03"},
		{"one piece", "A1,CHAIN 9SPD 116L,,,,9.00,19.99,,", mapping, "9", "19.99", "19.99"},
		{"columns of one piece", "A1,DISC PADS SINTERED PR,,,,2.10,4.99,,", each, "4.2", "9.98", "4.99"},
		{"of a piece, for a bag costs more", "A1,CABLE END CAPS,,,,15.00,2.00,500,", mapping, "15", "1000", "2"},
		{"a cell of one piece", "A1,DISC PADS SINTERED PR,,,,4.20,£4.99 each,,", mapping, "4.2", "9.98", "4.99"},
	} {
		t.Run(c.name, func(t *testing.T) {
			tx, ctx := testdb.Tx(t), t.Context()
			supplier := addSupplier(t, tx)
			l := Load{SupplierID: supplier, File: open(t, []byte(head+c.line+"\n")), Mapping: c.mapping, AsOf: march}
			_, err := l.Run(ctx, tx)
			require.NoError(t, err)
			offer := offerOf(t, tx, supplier, "A1")
			require.Equal(t, c.price, offer.PriceAt(1).String())
			require.Equal(t, c.aPiece, partOf(t, tx, supplier, "A1").Retail.Decimal.String())
			sold, err := SoldBy(ctx, tx, offer.PartID)
			require.NoError(t, err)
			require.Len(t, sold[0].Retail, 1)
			require.Equal(t, c.retail, sold[0].Retail[0].Price.String())
		})
	}
}

// A newer list changes it and the older stays in its history; what the shop has said itself no list changes.
func TestRetailFollowsTheNewestList(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	one, two := addSupplier(t, tx), addSupplier(t, tx)
	_, err := load(t, tx, one, spring, 0, Accept{})
	require.NoError(t, err)
	_, err = load(t, tx, one, strings.Replace(spring, "16.99", "18.99", 1), 10, Accept{})
	require.NoError(t, err)
	require.Equal(t, "18.99", partOf(t, tx, one, "C34").Retail.Decimal.String())
	_, err = load(t, tx, two, head+"R1,INNER RING 34T,Hullin,H34,6291041500213,8.00,15.99,,\n", 5, Accept{})
	require.NoError(t, err)
	require.Equal(t, offerOf(t, tx, one, "C34").PartID, offerOf(t, tx, two, "R1").PartID)
	require.Equal(t, "18.99", partOf(t, tx, one, "C34").Retail.Decimal.String(), "the other supplier said its price before")
	_, err = load(t, tx, two, head+"R1,INNER RING 34T,Hullin,H34,6291041500213,8.00,17.99,,\n", 20, Accept{})
	require.NoError(t, err)
	require.Equal(t, "17.99", partOf(t, tx, one, "C34").Retail.Decimal.String())
	sold, err := SoldBy(ctx, tx, offerOf(t, tx, one, "C34").PartID)
	require.NoError(t, err)
	require.Equal(t, []string{"18.99", "16.99"}, []string{sold[1].Retail[0].Price.String(), sold[1].Retail[1].Price.String()})

	_, err = tx.Exec(ctx, `UPDATE part SET retail = 25, retail_by = NULL, retail_as_of = NULL WHERE id = $1`, offerOf(t, tx, one, "C34").PartID)
	require.NoError(t, err)
	_, err = load(t, tx, one, strings.Replace(spring, "16.99", "19.99", 1), 30, Accept{})
	require.NoError(t, err)
	require.Equal(t, "25", partOf(t, tx, one, "C34").Retail.Decimal.String(), "the shop's own price")
}

// A recommended price of another currency is turned at the rate of the day on which it was said.
func TestRetailOfAnotherCurrency(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	_, err := tx.Exec(ctx, `UPDATE supplier SET currency = 'EUR' WHERE id = $1`, supplier)
	require.NoError(t, err)
	_, err = load(t, tx, supplier, spring, 0, Accept{})
	require.NoError(t, err)
	require.False(t, partOf(t, tx, supplier, "C34").Retail.Valid, "without a rate it is not known")
	for _, rate := range []struct {
		day  int
		rate string
	}{{-100, "1.25"}, {-10, "1.20"}, {10, "1.10"}} {
		require.NoError(t, inventory.SetRate(ctx, tx, "EUR", decimal.RequireFromString(rate.rate), calendar.DayOf(march.AddDate(0, 0, rate.day))))
	}
	require.Equal(t, "14.158333", partOf(t, tx, supplier, "C34").Retail.Decimal.String(), "16.99 / 1.20")
	_, err = tx.Exec(ctx, `DELETE FROM exchange_rate WHERE valid_from < $1`, march)
	require.NoError(t, err)
	require.Equal(t, "15.445455", partOf(t, tx, supplier, "C34").Retail.Decimal.String(), "the first rate that was recorded later")
}

// A recommended price below what is asked, or beyond four times that, is shown to be looked at.
func TestRetailThatCanHardlyBeMeant(t *testing.T) {
	tx := testdb.Tx(t)
	supplier := addSupplier(t, tx)
	s, err := Load{SupplierID: supplier, Mapping: mapping, AsOf: march, Tax: decimal.NewFromInt(20), File: open(t, []byte(head+
		"A1,BALLS 1/4 BAG 144 G100,,,,3.60,2.00,,\n"+
		"A2,DISC PADS SINTERED PR,,,,4.20,9.99,,\n"+
		"A3,CHAIN 9SPD 116L,,,,9.00,10.79,,\n"+ // 8.99 without tax
		"A4,CHAIN 9SPD 114L,,,,9.00,10.80,,\n"+
		"A5,CHAIN 9SPD 112L,,,,9.00,43.20,,\n"+
		"A6,CHAIN 9SPD 110L,,,,9.00,43.21,,\n"))}.Run(t.Context(), tx)
	require.NoError(t, err)
	var codes []string
	for _, d := range s.Retail {
		codes = append(codes, d.Code)
		require.True(t, Doubtful(d.Price, d.Retail, decimal.NewFromInt(20)))
	}
	require.Equal(t, []string{"A1", "A3", "A6"}, codes)
	require.Equal(t, "300", MarkUp(decimal.NewFromInt(9), decimal.RequireFromString("43.20"), decimal.NewFromInt(20)).String())
}

// A list in another currency than the supplier's is held back.
func TestListInAnotherCurrency(t *testing.T) {
	tx := testdb.Tx(t)
	supplier := addSupplier(t, tx)
	_, err := load(t, tx, supplier, strings.ReplaceAll(spring, ",8.50,", ",€8.50,"), 0, Accept{})
	require.ErrorContains(t, err, `the price "€8.50" is not in GBP, the supplier's currency`)
	m := mapping
	m.Headings = append([]string(nil), m.Headings...)
	m.Headings[5] = "Price EUR"
	_, err = Load{SupplierID: supplier, Mapping: m, AsOf: march, File: open(t, []byte(strings.Replace(spring, "Trade", "Price EUR", 1)))}.Run(t.Context(), tx)
	require.ErrorContains(t, err, "is headed as EUR, and the supplier's currency is GBP")
}

func TestAListOfADayToCome(t *testing.T) {
	tx := testdb.Tx(t)
	supplier := addSupplier(t, tx)
	l := Load{SupplierID: supplier, Mapping: mapping, AsOf: march.AddDate(36, 0, 0), Now: march, File: open(t, []byte(spring))}
	_, err := l.Run(t.Context(), tx)
	var later *LaterListError
	require.ErrorAs(t, err, &later)
	l.AsOf = march.Add(-time.Hour)
	_, err = l.Run(t.Context(), tx)
	require.NoError(t, err)
}
