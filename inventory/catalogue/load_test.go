package catalogue

import (
	"context"
	"fmt"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/pricelist"
	"stead/migrations/testdb"
)

func TestMain(m *testing.M) { testdb.Main(m) }

var suppliers atomic.Int64

func addSupplier(t testing.TB, tx pgx.Tx) int64 {
	t.Helper()
	s, err := inventory.AddSupplier(t.Context(), tx, inventory.Supplier{
		Code: fmt.Sprintf("list-%d", suppliers.Add(1)), Name: "Oak Lane Wholesale", LeadDays: 2, ToOrderDays: 10, Carriage: decimal.RequireFromString("4.95"),
	})
	require.NoError(t, err)
	return s.ID
}

var mapping = pricelist.Mapping{Header: 1, Headings: []string{"Code", "Description", "Brand", "MPN", "EAN", "Trade", "RRP", "Pack", "Stock"},
	Columns: map[pricelist.Field]int{pricelist.Code: 1, pricelist.Name: 2, pricelist.Brand: 3, pricelist.MakerCode: 4,
		pricelist.GTIN: 5, pricelist.Price: 6, pricelist.RRP: 7, pricelist.Pack: 8, pricelist.Stock: 9}}

const head = "Code,Description,Brand,MPN,EAN,Trade,RRP,Pack,Stock\n"

const spring = head +
	"C34,C/RING 34T 110PCD 5-BOLT INNER SILVER 9/10SPD,Hullin,H34,6291041500213,8.50,16.99,,12\n" +
	"BAL,BALLS 1/4 BAG 144 G100,,,,3.60,6.99,,low\n" +
	"PAD,DISC PADS RS-7 SINTERED PR,,,,4.20,9.99,,0\n" +
	"KWA,KWARTEL 40T 110PCD,,,,6.00,11.99,,12\n"

var march = time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)

func load(t testing.TB, tx pgx.Tx, supplier int64, list string, day int, accept Accept) (Summary, error) {
	t.Helper()
	return Load{SupplierID: supplier, File: open(t, []byte(list)), Mapping: mapping, AsOf: march.AddDate(0, 0, day), Accept: accept}.Run(t.Context(), tx)
}

func offerOf(t testing.TB, tx pgx.Tx, supplier int64, code string) inventory.Offer {
	t.Helper()
	var id int64
	require.NoError(t, tx.QueryRow(t.Context(), `SELECT id FROM offer WHERE supplier_id = $1 AND code = $2`, supplier, code).Scan(&id))
	o, err := inventory.OfferByID(t.Context(), tx, id)
	require.NoError(t, err)
	return o
}

func TestLoad(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	s, err := load(t, tx, supplier, spring, 0, Accept{})
	require.NoError(t, err)
	require.Equal(t, Summary{Rows: 4, New: 3, Parts: 3, Waiting: 1, Unread: 2}, s)

	ring := offerOf(t, tx, supplier, "C34")
	require.Equal(t, "8.5", ring.PriceAt(1).String())
	require.Equal(t, inventory.InStock, ring.Stock)
	require.Equal(t, 1, ring.Pack)
	part, err := inventory.PartByID(ctx, tx, ring.PartID)
	require.NoError(t, err)
	require.Equal(t, "chainring", string(part.Family))
	require.Equal(t, "Hullin", part.Brand)
	require.Equal(t, "6291041500213", part.GTIN)
	require.Equal(t, "16.99", part.Retail.Decimal.String())
	require.Equal(t, "bcd_mm 110, bolts 5, colour silver, position inner, speeds 9/10, teeth 34", part.Spec.String())
	for name, fact := range part.Spec {
		require.Equal(t, "supplier-text", string(fact.Origin), name)
	}
	require.Equal(t, 144, offerOf(t, tx, supplier, "BAL").Pack)

	again, err := load(t, tx, supplier, spring, 1, Accept{})
	require.NoError(t, err)
	require.True(t, again.Again, "the same file changes nothing")

	_, err = load(t, tx, supplier, spring+"\n", -1, Accept{})
	var older *OlderListError
	require.ErrorAs(t, err, &older)

	autumn := strings.NewReplacer("8.50", "9.10", ",12\n", ",0\n").Replace(spring)
	autumn = strings.Replace(autumn, "BAL,", "BAL2,", 1)
	s, err = load(t, tx, supplier, autumn, 100, Accept{})
	require.NoError(t, err)
	require.Len(t, s.LeftOut, 1)
	s.LeftOut = nil
	require.Equal(t, Summary{Rows: 4, New: 1, Changed: 1, Same: 1, Gone: 1, Parts: 1, Waiting: 1, Unread: 2}, s)
	require.True(t, offerOf(t, tx, supplier, "BAL").Gone)
	require.Equal(t, inventory.ToOrder, offerOf(t, tx, supplier, "C34").Stock)
	history, err := priceHistory(ctx, tx, ring.ID)
	require.NoError(t, err)
	require.Len(t, history, 2)
	require.Equal(t, "9.1", history[0].Price.String())
	require.Equal(t, "8.5", history[1].Price.String())

	s, err = load(t, tx, supplier, spring, 200, Accept{})
	require.NoError(t, err)
	require.Equal(t, 1, s.Back)
	require.False(t, offerOf(t, tx, supplier, "BAL").Gone)
}

// A jump, a bad row or a column that does not look like prices holds the list back until a person has looked.
func TestHeld(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	_, err := load(t, tx, supplier, spring, 0, Accept{})
	require.NoError(t, err)
	held := func(list string, accept Accept) Summary {
		t.Helper()
		_, err := load(t, tx, supplier, list, 10, accept)
		var held *HeldError
		require.ErrorAs(t, err, &held)
		require.Equal(t, "8.5", offerOf(t, tx, supplier, "C34").PriceAt(1).String(), "nothing was written")
		return held.Summary
	}
	jump := strings.Replace(spring, "8.50", "12.00", 1)
	s := held(jump, Accept{GoodRows: true})
	require.Equal(t, []Jump{{Code: "C34", Name: "C/RING 34T 110PCD 5-BOLT INNER SILVER 9/10SPD", Was: decimal.RequireFromString("8.5000"), Now: decimal.RequireFromString("12.0000")}}, s.Jumps)

	bad := spring + "BAD,CHAIN 9SPD,,,,-1,9.99,,\nTWO,CHAIN 9SPD,,,,5,9.99,,\nTWO,CHAIN 10SPD,,,,6,9.99,,\n"
	s = held(bad, Accept{Jumps: true})
	require.Equal(t, 3, s.Refused)
	require.Equal(t, "line 6, column F (Trade): the price -1 is below nothing", s.Bad[0].String())
	require.Contains(t, s.Bad[1].String(), "line 8: the code TWO stood on line 7 already")

	preview, err := Load{SupplierID: supplier, File: open(t, []byte(bad)), Mapping: mapping, AsOf: march.AddDate(0, 0, 10)}.Preview(ctx, tx)
	require.NoError(t, err)
	require.Equal(t, 3, preview.Refused)

	s, err = load(t, tx, supplier, bad, 10, Accept{GoodRows: true})
	require.NoError(t, err)
	require.Equal(t, 4, s.Same+s.Waiting)

	pricey := strings.NewReplacer("8.50", "85", "3.60", "36", "4.20", "42", "6.00", "60", ",16.99", ",", ",6.99", ",", ",9.99", ",", ",11.99", ",").Replace(spring)
	_, err = load(t, tx, supplier, pricey, 20, Accept{GoodRows: true, Jumps: true})
	require.ErrorContains(t, err, "the middle price is")
	_, err = load(t, tx, supplier, pricey, 20, Accept{GoodRows: true, Jumps: true, Prices: true})
	require.NoError(t, err)
}

// A price for many outlives a new price for one only while it is the lower of the two.
func TestBreaksOfAnOlderPrice(t *testing.T) {
	tx := testdb.Tx(t)
	supplier := addSupplier(t, tx)
	_, err := load(t, tx, supplier, spring, 0, Accept{})
	require.NoError(t, err)
	ring := offerOf(t, tx, supplier, "C34")
	_, err = tx.Exec(t.Context(), `INSERT INTO price_break (offer_id, from_packs, price) VALUES ($1, 5, 8.20), ($1, 10, 7.10)`, ring.ID)
	require.NoError(t, err)
	_, err = load(t, tx, supplier, strings.Replace(spring, "8.50", "7.90", 1), 1, Accept{})
	require.NoError(t, err)
	ring = offerOf(t, tx, supplier, "C34")
	require.Len(t, ring.Breaks, 2)
	require.Equal(t, "7.9", ring.PriceAt(5).String())
	require.Equal(t, "7.1", ring.PriceAt(10).String())
}

// A list that broke off on its way must not make most of what a supplier sells go.
func TestCutShort(t *testing.T) {
	tx := testdb.Tx(t)
	supplier := addSupplier(t, tx)
	list := head
	for i := range 50 {
		list += fmt.Sprintf("C%d,C/RING 34T 110PCD 5-BOLT INNER SILVER 9/10SPD,Hullin,H%d,,8.50,16.99,,12\n", i, i)
	}
	_, err := load(t, tx, supplier, list, 0, Accept{})
	require.NoError(t, err)
	most := strings.Join(strings.SplitAfter(list, "\n")[:strings.Count(head, "\n")+28], "")
	s, err := load(t, tx, supplier, most, 0, Accept{})
	require.NoError(t, err, "fewer go than stay")
	require.Equal(t, 22, s.Gone)
	_, err = load(t, tx, supplier, list+"\n", 0, Accept{})
	require.NoError(t, err)
	short := strings.Join(strings.SplitAfter(list, "\n")[:strings.Count(head, "\n")+10], "")
	_, err = load(t, tx, supplier, short, 1, Accept{})
	require.ErrorContains(t, err, "40 offers of the last list are missing from this one and only 10 are still in it")
	require.False(t, offerOf(t, tx, supplier, "C49").Gone)
	s, err = load(t, tx, supplier, short, 1, Accept{Gone: true})
	require.NoError(t, err)
	require.Equal(t, 40, s.Gone)
	require.True(t, offerOf(t, tx, supplier, "C49").Gone)
}

// One answer settles every line that has the word, now and in the next list.
func TestReview(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	_, err := load(t, tx, supplier, spring, 0, Accept{})
	require.NoError(t, err)
	list, err := Review(ctx, tx, supplier)
	require.NoError(t, err)
	words := map[string]Unread{}
	for _, u := range list {
		words[u.Word] = u
	}
	require.Equal(t, Unread{Word: "rs-7", Lines: 1, Examples: []string{"DISC PADS RS-7 SINTERED PR"}}, words["rs-7"])
	require.Equal(t, 1, words["kwartel"].Waiting)

	_, err = Answer(ctx, tx, supplier, "RS-7", "pad_shape=B05")
	require.NoError(t, err)
	pad, err := inventory.PartByID(ctx, tx, offerOf(t, tx, supplier, "PAD").PartID)
	require.NoError(t, err)
	require.Equal(t, "compound sintered, pad_shape B05", pad.Spec.String())

	s, err := Answer(ctx, tx, supplier, "kwartel", "family chainring")
	require.NoError(t, err)
	require.Equal(t, 1, s.New)
	ring, err := inventory.PartByID(ctx, tx, offerOf(t, tx, supplier, "KWA").PartID)
	require.NoError(t, err)
	require.Equal(t, "bcd_mm 110, teeth 40", ring.Spec.String())
	list, err = Review(ctx, tx, supplier)
	require.NoError(t, err)
	require.Empty(t, list)

	s, err = load(t, tx, supplier, spring+"KW2,KWARTEL 42T 110PCD,,,,6.00,11.99,,12\n", 1, Accept{})
	require.NoError(t, err)
	require.Equal(t, 1, s.New)
	require.Zero(t, s.Waiting+s.Unread)

	_, err = Answer(ctx, tx, supplier, "zog", "the small ones")
	require.ErrorContains(t, err, "which is none")
}

// What was measured or mended by hand stays, whatever the next list says.
func TestByHandStays(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	_, err := load(t, tx, supplier, spring, 0, Accept{})
	require.NoError(t, err)
	id := offerOf(t, tx, supplier, "C34").PartID
	_, err = tx.Exec(ctx, `UPDATE part SET dims = dims || '{"teeth": 36}', origins = origins || '{"teeth": "measured"}' WHERE id = $1`, id)
	require.NoError(t, err)
	_, err = load(t, tx, supplier, spring+"\nX,CHAIN 9SPD 116L,,,,9.00,,,\n", 1, Accept{})
	require.NoError(t, err)
	part, err := inventory.PartByID(ctx, tx, id)
	require.NoError(t, err)
	teeth, _ := part.Get("teeth")
	require.Equal(t, "36", teeth.String())
	require.Equal(t, "measured", string(part.Spec["teeth"].Origin))
}

// The history of a price by hand begins with the list that changes it, and has the older price only if that was said before.
func TestHistoryOfAPriceByHand(t *testing.T) {
	for _, c := range []struct {
		name   string
		byHand time.Duration // after the list
		want   []string
	}{
		{"before the list", -time.Hour, []string{"2.6", "2.4"}},
		{"at the moment of the list", 0, []string{"2.6"}},
		{"after the list", time.Hour, []string{"2.6"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			tx, ctx := testdb.Tx(t), t.Context()
			listed, supplier := addSupplier(t, tx), addSupplier(t, tx)
			_, err := load(t, tx, listed, spring, 0, Accept{})
			require.NoError(t, err)
			o, err := inventory.PutOffer(ctx, tx, inventory.Offer{SupplierID: supplier, Code: "BAG", PartID: offerOf(t, tx, listed, "BAL").PartID, Pack: 100,
				AsOf: march.Add(c.byHand), Breaks: []inventory.Break{{FromPacks: 1, Price: decimal.RequireFromString("2.40")}}})
			require.NoError(t, err)
			_, err = load(t, tx, supplier, head+"BAG,BALLS 1/4 BAG 100 G100,,,,2.60,,,\n", 0, Accept{})
			require.NoError(t, err)
			history, err := priceHistory(ctx, tx, o.ID)
			require.NoError(t, err)
			var prices []string
			for _, was := range history {
				prices = append(prices, was.Price.String())
			}
			require.Equal(t, c.want, prices)
			require.Equal(t, "2.6", offerOf(t, tx, supplier, "BAG").PriceAt(1).String())
		})
	}
}

// Two wholesalers' offers are of one part by bar code or maker's code; else a person is asked, and may take it back.
func TestSamePart(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	one, two := addSupplier(t, tx), addSupplier(t, tx)
	_, err := load(t, tx, one, spring, 0, Accept{})
	require.NoError(t, err)
	_, err = load(t, tx, two, head+
		"A1,\"Inner chainring, 34 teeth, 110 mm BCD, silver\",,,6291041500213,8.20,,,\n"+
		"A2,\"Inner chainring 34T, 110 BCD\",HULLIN,h34,,8.10,,,\n"+
		"A3,\"Loose balls 1/4, grade 100, box of 500\",,,,11.00,,,\n", 0, Accept{})
	require.NoError(t, err)
	ring := offerOf(t, tx, one, "C34").PartID
	require.Equal(t, ring, offerOf(t, tx, two, "A1").PartID, "by bar code")
	require.Equal(t, ring, offerOf(t, tx, two, "A2").PartID, "by brand and maker's code, whatever their case")

	balls, other := offerOf(t, tx, one, "BAL"), offerOf(t, tx, two, "A3")
	require.NotEqual(t, balls.PartID, other.PartID)
	likely, err := Likely(ctx, tx, two, 10)
	require.NoError(t, err)
	require.Len(t, likely, 1)
	require.Equal(t, other.PartID, likely[0].PartID)
	require.Equal(t, balls.PartID, likely[0].OtherID)

	merge, err := Merge(ctx, tx, balls.PartID, other.PartID)
	require.NoError(t, err)
	require.Equal(t, balls.PartID, offerOf(t, tx, two, "A3").PartID)
	require.NoError(t, Split(ctx, tx, merge))
	require.Equal(t, other.PartID, offerOf(t, tx, two, "A3").PartID)
	require.NoError(t, Split(ctx, tx, merge), "a second time changes nothing")

	require.NoError(t, Differ(ctx, tx, other.PartID, balls.PartID))
	likely, err = Likely(ctx, tx, two, 10)
	require.NoError(t, err)
	require.Empty(t, likely)
	_, err = Merge(ctx, tx, ring, other.PartID)
	require.ErrorContains(t, err, "they are not one")
}

// Rows of one list are one part by maker's code or by bar code, whichever they have.
func TestOnePartTwice(t *testing.T) {
	tx := testdb.Tx(t)
	supplier := addSupplier(t, tx)
	s, err := load(t, tx, supplier, head+
		"A1,CHAIN 9SPD 116L,Hullin,C9,6291041500213,9.00,,,\n"+
		"A2,CHAIN 9SPD 116L BOX 25,Hullin,C9,,200.00,,25,\n"+
		"A3,CHAIN 9SPD 116L,,,6291041500213,9.20,,,\n", 0, Accept{})
	require.NoError(t, err)
	require.Equal(t, 1, s.Parts)
	part := offerOf(t, tx, supplier, "A1").PartID
	require.Equal(t, part, offerOf(t, tx, supplier, "A2").PartID)
	require.Equal(t, part, offerOf(t, tx, supplier, "A3").PartID)
	require.Equal(t, 25, offerOf(t, tx, supplier, "A2").Pack)
}

func TestMappingIsKept(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	_, ok, err := MappingOf(ctx, tx, supplier)
	require.NoError(t, err)
	require.False(t, ok)
	require.NoError(t, PutMapping(ctx, tx, supplier, mapping))
	kept, ok, err := MappingOf(ctx, tx, supplier)
	require.NoError(t, err)
	require.True(t, ok)
	require.Equal(t, mapping, kept)
}

// While a list is loaded others see the old one, and a load that fails leaves nothing behind.
func TestAllOrNothing(t *testing.T) {
	pool, ctx := testdb.New(t), t.Context()
	var supplier int64
	require.NoError(t, pgx.BeginFunc(ctx, pool, func(tx pgx.Tx) error {
		supplier = addSupplier(t, tx)
		_, err := load(t, tx, supplier, spring, 0, Accept{})
		return err
	}))
	count := func() (n int) {
		require.NoError(t, pool.QueryRow(ctx, `SELECT count(*) FROM offer WHERE gone_at IS NULL`).Scan(&n))
		return n
	}
	require.Equal(t, 3, count())
	tx, err := pool.Begin(ctx)
	require.NoError(t, err)
	_, err = load(t, tx, supplier, head+"NEW,CHAIN 9SPD,,,,5.00,,,\n", 1, Accept{Prices: true})
	require.NoError(t, err)
	require.Equal(t, 3, count(), "before the commit the old list stands")
	require.NoError(t, tx.Rollback(ctx))
	require.Equal(t, 3, count())

	cancelled, cancel := context.WithCancel(ctx)
	tx, err = pool.Begin(ctx)
	require.NoError(t, err)
	cancel()
	_, err = Load{SupplierID: supplier, File: open(t, []byte(spring+"\n")), Mapping: mapping}.Run(cancelled, tx)
	require.Error(t, err)
	_ = tx.Rollback(ctx) // the cancelled load has closed the connection already
	require.Equal(t, 3, count())
}
