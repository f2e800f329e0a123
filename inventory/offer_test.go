package inventory

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/migrations"
	"stead/migrations/testdb"
)

func TestPacksAndCost(t *testing.T) {
	// A bag of 144 balls at £3.60, from five bags £3.20, at least two bags.
	bags := Offer{Pack: 144, MinimumPacks: 2, Breaks: []Break{{1, pounds("3.60")}, {5, pounds("3.20")}}}
	for _, c := range []struct {
		name   string
		pieces int
		packs  int
		cost   string
	}{
		{"none", 0, 0, "0"},
		{"a hub's worth takes the minimum", 18, 2, "7.20"},
		{"two full bags", 288, 2, "7.20"},
		{"one ball more", 289, 3, "10.80"},
		{"the fifth bag makes all cheaper", 577, 5, "16.00"},
	} {
		t.Run(c.name, func(t *testing.T) {
			packs := bags.PacksFor(c.pieces)
			require.Equal(t, c.packs, packs)
			require.True(t, pounds(c.cost).Equal(bags.Cost(packs)), bags.Cost(packs))
		})
	}
}

// Offers that are read together are those that are read one by one, by part, then by supplier.
func TestOffersOf(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	one, other := addSupplier(t, tx), addSupplier(t, tx)
	part, without, beside := addRing(t, tx), addRing(t, tx), addRing(t, tx)
	want := map[int64][]Offer{}
	for _, said := range []Offer{
		{SupplierID: one.ID, PartID: part.ID, Code: "A", Breaks: []Break{{1, pounds("9")}, {5, pounds("8.125")}, {25, pounds("7.50")}}},
		{SupplierID: one.ID, PartID: part.ID, Code: "B", Breaks: []Break{{1, pounds("8")}}},
		{SupplierID: other.ID, PartID: part.ID, Code: "A", Breaks: []Break{{1, pounds("8.50")}, {2, pounds("8.25")}}},
		{SupplierID: other.ID, PartID: beside.ID, Code: "C", Breaks: []Break{{1, pounds("3")}, {10, pounds("2.8")}}},
	} {
		o, err := PutOffer(ctx, tx, said)
		require.NoError(t, err)
		want[o.PartID] = append(want[o.PartID], o)
	}
	of, err := OffersOf(ctx, tx, []int64{beside.ID, without.ID, part.ID})
	require.NoError(t, err)
	require.Equal(t, want, of)
}

func TestPutOffer(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier, part := addSupplier(t, tx), addRing(t, tx)
	said := Offer{
		SupplierID: supplier.ID, Code: "NQ50", PartID: part.ID, GTIN: "6291041500213", Stock: "in stock", AsOf: day(time.March, 2),
		Breaks: []Break{{10, pounds("8.125")}, {1, pounds("9")}},
	}
	first, err := PutOffer(ctx, tx, said)
	require.NoError(t, err)
	require.Equal(t, 1, first.Pack)
	require.Equal(t, InStock, first.Stock)
	require.Equal(t, "8.125", first.PriceAt(12).String())

	again, err := PutOffer(ctx, tx, said)
	require.NoError(t, err)
	require.Equal(t, first, again)

	older := said
	older.AsOf, older.Breaks = day(time.March, 1), []Break{{1, pounds("7")}}
	_, err = PutOffer(ctx, tx, older)
	var stale *OlderOfferError
	require.ErrorAs(t, err, &stale, "what was said before changes nothing, and that is said")
	kept, err := OfferByID(ctx, tx, first.ID)
	require.NoError(t, err)
	require.Equal(t, first, kept)

	newer := said
	newer.AsOf, newer.Stock, newer.Breaks = day(time.March, 3), ToOrder, []Break{{1, pounds("9.50")}}
	changed, err := PutOffer(ctx, tx, newer)
	require.NoError(t, err)
	require.Equal(t, first.ID, changed.ID)
	require.Len(t, changed.Breaks, 1)
	of, err := OffersOf(ctx, tx, []int64{part.ID})
	require.NoError(t, err)
	require.Equal(t, []Offer{changed}, of[part.ID])

	newer.Gone = true
	gone, err := PutOffer(ctx, tx, newer)
	require.NoError(t, err)
	require.True(t, gone.Gone)
	of, err = OffersOf(ctx, tx, []int64{part.ID})
	require.NoError(t, err)
	require.Empty(t, of)

	other, err := AddPart(ctx, tx, ring(48, 110, "silver"))
	require.NoError(t, err)
	taken := said
	taken.PartID = other.ID
	_, err = PutOffer(ctx, tx, taken)
	require.ErrorAs(t, err, new(*TakenOfferError))
	require.ErrorContains(t, err, "the supplier's code NQ50 stands for part")
}

func TestOfferRefuses(t *testing.T) {
	for _, c := range []struct {
		name, problem string
		change        func(*Offer)
	}{
		{"no code", "the supplier's own code", func(o *Offer) { o.Code = "" }},
		{"no price", "needs a price", func(o *Offer) { o.Breaks = nil }},
		{"a negative price", "a price of -1 from 1 packs on cannot be meant", func(o *Offer) { o.Breaks[0].Price = pounds("-1") }},
		{"a fifth decimal", "a price of 1.23456 from 1 packs on cannot be meant", func(o *Offer) { o.Breaks[0].Price = pounds("1.23456") }},
		{"a negative pack", "a pack of -2", func(o *Offer) { o.Pack = -2 }},
		{"two prices at once", "two prices from 1 packs on", func(o *Offer) { o.Breaks = append(o.Breaks, Break{1, pounds("2")}) }},
		{"no price for the minimum", "the first price is from 5 packs on and the minimum is 1", func(o *Offer) { o.Breaks[0].FromPacks = 5 }},
		{"a strange signal", `stock signal "plenty"`, func(o *Offer) { o.Stock = "plenty" }},
		{"a wrong GTIN", "comes 3", func(o *Offer) { o.GTIN = "6291041500214" }},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := Offer{Code: "NQ50", Breaks: []Break{{1, pounds("9")}}}
			c.change(&o)
			_, err := o.Check()
			require.ErrorContains(t, err, c.problem)
		})
	}
}

func TestOfferOfNobody(t *testing.T) {
	tx := testdb.Tx(t)
	part := addRing(t, tx)
	_, err := PutOffer(t.Context(), tx, Offer{SupplierID: 4711, Code: "X", PartID: part.ID, Breaks: []Break{{1, pounds("9")}}})
	sentence, _ := migrations.Explain(err)
	require.Equal(t, `offer "X": there is no such supplier`, sentence)
}
