package catalogue

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
)

// A roll is sold as its metres: the part is one metre of it, whoever's roll it comes off, and a metre costs its share.
func TestRollIsItsMetres(t *testing.T) {
	tx := testdb.Tx(t)
	ctx := t.Context()
	supplier := addSupplier(t, tx)
	_, err := load(t, tx, supplier, head+
		"HSG,GEAR OUTER 4MM BLACK 30M ROLL,Corvane,,,24.00,60.00,,12\n"+
		"CUT,GEAR OUTER 4MM BLACK 1.7M,Corvane,,,3.00,6.00,,12\n"+
		"PIN,GEAR OUTER 4MM BLACK PER METRE,Tolvar,,,1.10,2.50,,12\n", 0, Accept{})
	require.NoError(t, err)
	for _, want := range []struct {
		code, retail string
		pack         int
		byMetre      bool
	}{{"HSG", "2", 30, true}, {"CUT", "6", 1, false}, {"PIN", "2.5", 1, true}} {
		o := offerOf(t, tx, supplier, want.code)
		require.Equal(t, want.pack, o.Pack, want.code)
		p, err := inventory.PartByID(ctx, tx, o.PartID)
		require.NoError(t, err)
		require.Equal(t, want.byMetre, p.IsByMetre(), want.code)
		require.Equal(t, want.retail, p.Retail.Decimal.String(), want.code)
		_, long := p.Get("length_mm")
		require.NotEqual(t, want.byMetre, long, "%s: a roll's length is its pack, not the part's", want.code)
	}
	hsg := offerOf(t, tx, supplier, "HSG")
	p, err := inventory.PartByID(ctx, tx, hsg.PartID)
	require.NoError(t, err)
	require.Equal(t, "GEAR OUTER 4MM BLACK 30M ROLL, by the metre", p.Name)

	// The same list again, and its lines read anew, leave it so.
	_, err = load(t, tx, supplier, head+"HSG,GEAR OUTER 4MM BLACK 30M ROLL,Corvane,,,25.50,60.00,,12\n", 7, Accept{Gone: true, Prices: true})
	require.NoError(t, err)
	again := offerOf(t, tx, supplier, "HSG")
	require.Equal(t, hsg.PartID, again.PartID)
	require.Equal(t, 30, again.Pack)
	require.Equal(t, "25.5", again.PriceAt(1).String())
}

// A foot is no metre: what a list sells by the foot is no offer until somebody says what it is, and a roll of so many
// feet is its metres: 25 ft are 7.62 m.
func TestByTheFootIsNotByTheMetre(t *testing.T) {
	tx := testdb.Tx(t)
	ctx := t.Context()
	supplier := addSupplier(t, tx)
	s, err := load(t, tx, supplier, head+
		"FOOT,BRAKE HOUSING 5MM BLACK BY THE FOOT,Corvane,,,0.80,1.60,,12\n"+
		"BOX,GEAR OUTER 4MM BLACK 25FT BOX,Corvane,,,14.00,35.00,,12\n", 0, Accept{})
	require.NoError(t, err)
	require.Equal(t, 1, s.Parts)
	o := offerOf(t, tx, supplier, "BOX")
	require.Equal(t, 7, o.Pack)
	var waits string
	require.NoError(t, tx.QueryRow(ctx, `SELECT reason FROM list_waiting WHERE code = 'FOOT'`).Scan(&waits))
	require.Contains(t, waits, "sold by the foot")
}

// A roll of rim tape is as many wheels' lengths as it holds: once round a bead seat of 635 mm and 100 mm over are 2.09 m, so
// that 10 m do four wheels and 50 m do 23 (arithmetic). A strip for one wheel stays one, and a metre goes round none.
func TestTapeIsWheelsLengths(t *testing.T) {
	tx := testdb.Tx(t)
	ctx := t.Context()
	supplier := addSupplier(t, tx)
	_, err := load(t, tx, supplier, head+
		"TEN,TUBELESS RIM TAPE 25MM X 10M,Corvane,,,8.00,20.00,,12\n"+
		"FIFTY,Felgenband Gewebe 17 mm Rolle 50 m,Corvane,,,23.00,46.00,,12\n"+
		"RING,RIM TAPE 16MM 622,Corvane,,,0.60,2.00,,12\n"+
		"PAIR,TUBELESS RIM TAPE 30MM X 10M PACK OF 2,Corvane,,,15.00,38.00,,12\n"+
		"FOOT,RIM TAPE CLOTH 16MM PER FOOT,Corvane,,,0.15,0.40,,12\n"+
		"CUT,RIM TAPE CLOTH 16MM PER METRE,Corvane,,,0.40,1.00,,12\n", 0, Accept{})
	require.NoError(t, err)
	for _, want := range []struct {
		code, retail, name string
		pack               int
	}{
		{"TEN", "5", "TUBELESS RIM TAPE 25MM X 10M, a wheel's length", 4},
		{"FIFTY", "2", "Felgenband Gewebe 17 mm Rolle 50 m, a wheel's length", 23},
		{"RING", "2", "RIM TAPE 16MM 622", 1},
		{"PAIR", "19", "TUBELESS RIM TAPE 30MM X 10M PACK OF 2", 2}, // two rolls, each whole
	} {
		o := offerOf(t, tx, supplier, want.code)
		require.Equal(t, want.pack, o.Pack, want.code)
		p, err := inventory.PartByID(ctx, tx, o.PartID)
		require.NoError(t, err)
		require.Equal(t, want.name, p.Name)
		require.Equal(t, want.retail, p.Retail.Decimal.String(), want.code)
	}
	for code, sold := range map[string]string{"CUT": "sold by the metre", "FOOT": "sold by the foot"} {
		var waits string
		require.NoError(t, tx.QueryRow(ctx, `SELECT reason FROM list_waiting WHERE code = $1`, code).Scan(&waits))
		require.Contains(t, waits, sold)
	}
}

// Inner cable comes off a roll too: a roll is its metres, and what comes off it has no head.
func TestInnerByTheMetre(t *testing.T) {
	tx := testdb.Tx(t)
	supplier := addSupplier(t, tx)
	_, err := load(t, tx, supplier, head+
		"ROLL,BRAKE INNER WIRE 1.5MM STAINLESS 30M ROLL,Corvane,,,15.00,45.00,,12\n"+
		"HEAD,BRAKE INNER 1.5X2000 PEAR STAINLESS,Corvane,,,1.00,3.00,,12\n", 0, Accept{})
	require.NoError(t, err)
	roll, one := offerOf(t, tx, supplier, "ROLL"), offerOf(t, tx, supplier, "HEAD")
	require.Equal(t, 30, roll.Pack)
	require.Equal(t, 1, one.Pack)
	p, err := inventory.PartByID(t.Context(), tx, roll.PartID)
	require.NoError(t, err)
	require.True(t, p.IsByMetre())
	_, headed := p.Get("nipple")
	require.False(t, headed)
}
