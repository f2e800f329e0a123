package inventory

import (
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory/barcode"
	"stead/migrations/testdb"
)

// coded is the one part that bears what was scanned; nil for none.
func coded(t *testing.T, tx pgx.Tx, scanned string) *int64 {
	t.Helper()
	code, err := barcode.Read(scanned)
	require.NoError(t, err)
	found, err := PartsCoded(t.Context(), tx, code)
	require.NoError(t, err)
	if len(found) == 0 {
		return nil
	}
	require.Len(t, found, 1, scanned)
	named, err := PartNamed(t.Context(), tx, scanned)
	require.NoError(t, err, scanned)
	require.Equal(t, found[0].ID, named.ID)
	searched, err := FindParts(t.Context(), tx, Search{Words: scanned})
	require.NoError(t, err)
	require.Equal(t, found, searched)
	return &found[0].ID
}

// A part is found by its GTIN as it is printed on it, on a box of it, and in longer codes; by the GTIN that a supplier sells
// it under; by makers', suppliers' and given codes.
func TestPartsCoded(t *testing.T) {
	tx := testdb.Tx(t)
	p := ring(50, 110, "black")
	p.GTIN, p.Brand, p.MakerCode = "6291041500213", "Corvane", "R110-50"
	p, err := AddPart(t.Context(), tx, p)
	require.NoError(t, err)
	short := ring(48, 110, "black")
	short.GTIN = "0000096385074"
	short, err = AddPart(t.Context(), tx, short)
	require.NoError(t, err)
	s := addSupplier(t, tx)
	_, err = PutOffer(t.Context(), tx, Offer{SupplierID: s.ID, Code: "NQ-50", PartID: p.ID, GTIN: "9506000134352", Pack: 1, Stock: InStock, AsOf: day(time.March, 2), Breaks: []Break{{1, pounds("9")}}})
	require.NoError(t, err)
	for _, scanned := range []string{"6291041500213", "06291041500213", "16291041500210", "]C10106291041500213", "https://example.org/01/06291041500213", "9506000134352", "nq-50", "r110-50"} {
		got := coded(t, tx, scanned)
		require.NotNil(t, got, scanned)
		require.Equal(t, p.ID, *got, scanned)
	}
	require.Equal(t, short.ID, *coded(t, tx, "96385074"))
	require.Nil(t, coded(t, tx, "2000000000060"))
}

func TestGiveCode(t *testing.T) {
	tx := testdb.Tx(t)
	a, b := addRing(t, tx), addRing(t, tx)
	hand := Hand{By: "Bram Oakes", At: day(time.March, 2)}
	give := func(code string, to int64) error {
		_, err := GiveCode(t.Context(), tx, code, to, hand)
		return err
	}
	require.NoError(t, give("16291041500210", a.ID), "a box's code is kept beside the part's own")
	is, err := PartByID(t.Context(), tx, a.ID)
	require.NoError(t, err)
	require.Empty(t, is.GTIN)
	require.NoError(t, give("96385074", a.ID))
	is, err = PartByID(t.Context(), tx, a.ID)
	require.NoError(t, err)
	require.Equal(t, "0000096385074", is.GTIN, "the first GTIN is its own")
	require.NoError(t, give("2000000000060", a.ID))
	require.NoError(t, give("Drawer 7/B", a.ID))
	codes, err := GivenCodes(t.Context(), tx, a.ID)
	require.NoError(t, err)
	require.Equal(t, []string{"16291041500210", "2000000000060", "drawer 7/b"}, codes)
	require.Equal(t, a.ID, *coded(t, tx, "DRAWER 7/B"))
	trail, err := Corrections(t.Context(), tx, OfPart, a.ID)
	require.NoError(t, err)
	require.Len(t, trail, 4)

	require.ErrorAs(t, give("drawer 7/b", b.ID), new(*TakenError))
	require.ErrorAs(t, give("drawer 7/b", a.ID), new(*NothingToCorrectError))
	require.ErrorAs(t, give("x", b.ID+1), new(*UnknownError))
	require.ErrorContains(t, give("part 71", b.ID), "a label of the workshop's own")
	require.ErrorContains(t, give(" ", b.ID), "nothing was scanned")

	from, err := TakeCode(t.Context(), tx, "Drawer 7/B", hand)
	require.NoError(t, err)
	require.Equal(t, a.ID, from)
	require.Nil(t, coded(t, tx, "drawer 7/b"))
	_, err = TakeCode(t.Context(), tx, "drawer 7/b", hand)
	require.ErrorAs(t, err, new(*UnknownError))
	require.NoError(t, give("drawer 7/b", b.ID), "and is free for another")
}
