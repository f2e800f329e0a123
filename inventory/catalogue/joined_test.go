package catalogue

import (
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/pricelist"
	"stead/migrations/testdb"
)

func partOf(t testing.TB, tx pgx.Tx, supplier int64, code string) inventory.Part {
	t.Helper()
	p, err := inventory.PartByID(t.Context(), tx, offerOf(t, tx, supplier, code).PartID)
	require.NoError(t, err)
	return p
}

func says(problems []pricelist.Problem) string {
	var b strings.Builder
	for _, p := range problems {
		b.WriteString(p.String() + "\n")
	}
	return b.String()
}

// A code joins lines of one list only where they can be one thing.
func TestCodesThatJoinNothing(t *testing.T) {
	for _, c := range []struct {
		name, list string
		parts      int
		says       string
	}{
		{"no codes at all", "A1,CHAIN 9SPD 116L,Hullin,N/A,,9.00,,,\nA2,DISC PADS SINTERED PR,Hullin,N/A,,4.00,,,\nA3,CASS 9SPD 11-28T,Hullin,N/A,,14.00,,,\n" +
			"A4,BAR TAPE BLACK,Hullin,N/A,,5.00,,,\nA5,GRIPS BLACK PAIR,Hullin,N/A,,5.00,,,\n", 5, ""},
		{"a dash, a nought and what is to come", "A1,CHAIN 9SPD 116L,Hullin,-,0,9.00,,,\nA2,CHAIN 9SPD 114L,Hullin,-,0,9.00,,,\nA3,CHAIN 9SPD 112L,Hullin,TBA,N/A,9.00,,,\nA4,CHAIN 9SPD 110L,Hullin,TBA,,9.00,,,\n", 4, ""},
		{"one code for two families", "A1,CHAIN 9SPD 116L,Hullin,X1,,9.00,,,\nA2,DISC PADS SINTERED PR,Hullin,X1,,4.00,,,\n", 2, "line 2: the maker's code stands on 2 lines that need not be one thing"},
		{"one code for rotors of two mounts", "A1,DISC ROTOR 160MM 6-BOLT,Hullin,R160,,9.00,,,\nA2,DISC ROTOR 160MM CENTRE LOCK,Hullin,R160,,11.00,,,\n", 2, "the maker's code"},
		{"one code for pads of which nobody knows the shape", "A1,DISC PADS RS-7,Hullin,PADS,,9.00,,,\nA2,DISC PADS KX-2,Hullin,PADS,,9.00,,,\n", 2, "the maker's code"},
		{"a bar code on every line", "A1,CHAIN 9SPD 116L,,,6291041500213,9.00,,,\nA2,DISC PADS SINTERED PR,,,6291041500213,4.00,,,\n", 2, "line 2: the bar code stands on 2 lines"},
		{"a code that five lines share", "A1,BAR TAPE,Hullin,TAPE,,9.00,,,\nA2,BAR TAPE,Hullin,TAPE,,9.10,,,\nA3,BAR TAPE,Hullin,TAPE,,9.20,,,\nA4,BAR TAPE,Hullin,TAPE,,9.30,,,\nA5,BAR TAPE,Hullin,TAPE,,9.40,,,\n", 5, "stands on 5 lines"},
		{"the piece, the bag and the box", "A1,CHAIN 9SPD 116L,Hullin,C9,,9.00,,,\nA2,CHAIN 9SPD 116L BOX 25,Hullin,C9,,200.00,,,\nA3,CHAIN 9SPD 116L PK5,Hullin,C9,,43.00,,,\n", 1, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			tx := testdb.Tx(t)
			supplier := addSupplier(t, tx)
			s, err := load(t, tx, supplier, head+c.list, 0, Accept{Prices: true})
			require.NoError(t, err)
			require.Equal(t, c.parts, s.Parts)
			if c.says == "" {
				require.Empty(t, s.Bad)
			} else {
				require.Contains(t, says(s.Bad), c.says)
				require.Zero(t, s.Refused, "the lines are good")
			}
		})
	}
}

// What another supplier's part cannot be is a part of its own, though it has its bar code or its maker's code; the code
// stays with the part that had it first.
func TestAcrossLists(t *testing.T) {
	tx := testdb.Tx(t)
	one, two := addSupplier(t, tx), addSupplier(t, tx)
	_, err := load(t, tx, one, head+"A1,DISC ROTOR 160MM 6-BOLT,Hullin,R160,6291041500213,9.00,,,\nA2,CHAIN 9SPD,Hullin,C9,,9.00,,,\n", 0, Accept{})
	require.NoError(t, err)
	s, err := load(t, tx, two, head+
		"B1,DISC ROTOR 160MM CENTRE LOCK,Hullin,R160,,9.00,,,\n"+
		"B2,CHAIN 9SPD,,,6291041500213,9.00,,,\n"+
		"B3,CHAIN TOOL,Hullin,C9,,9.00,,,\n", 0, Accept{Prices: true})
	require.NoError(t, err)
	rotor := offerOf(t, tx, one, "A1").PartID
	require.NotEqual(t, rotor, offerOf(t, tx, two, "B1").PartID)
	require.NotEqual(t, rotor, offerOf(t, tx, two, "B2").PartID)
	require.Empty(t, partOf(t, tx, two, "B2").GTIN)
	require.Equal(t, 1, s.Waiting, "a tool is no chain, whatever its code")
	require.Contains(t, says(s.Bad), "which differs in rotor_mount")
	require.Contains(t, says(s.Bad), "its bar code is that of another part")

	waiting, err := Waiting(t.Context(), tx, two)
	require.NoError(t, err)
	require.Len(t, waiting, 1)
	require.Contains(t, waiting[0].Reason, "CHAIN TOOL")
}

// A supplier that gives an old code to another article has not changed the part.
func TestACodeUsedAgain(t *testing.T) {
	tx := testdb.Tx(t)
	supplier := addSupplier(t, tx)
	_, err := load(t, tx, supplier, spring, 0, Accept{})
	require.NoError(t, err)
	ring := offerOf(t, tx, supplier, "C34").PartID
	s, err := load(t, tx, supplier, strings.Replace(spring, "C/RING 34T 110PCD 5-BOLT INNER SILVER 9/10SPD,Hullin,H34,6291041500213", "DISC PADS SINTERED PR,Hullin,H99,", 1), 1, Accept{})
	require.NoError(t, err)
	require.NotEqual(t, ring, offerOf(t, tx, supplier, "C34").PartID)
	require.Equal(t, "disc-pad", string(partOf(t, tx, supplier, "C34").Family))
	require.Contains(t, says(s.Bad), "line 2: the description under its code was of another part before")
	require.Empty(t, s.Jumps, "it is not that price that moved")
	s, err = load(t, tx, supplier, strings.Replace(spring, "34T", "36T", 1), 2, Accept{GoodRows: true, Jumps: true, Prices: true})
	require.NoError(t, err)
	ring36 := partOf(t, tx, supplier, "C34")
	teeth, _ := ring36.Get("teeth")
	require.Equal(t, "36", teeth.String(), "a ring of other teeth is another ring")
}

// What lists joined before they were held against each other is found, and can be parted; it stays parted.
func TestWhatWasJoinedWrongly(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	list := head + "A1,CHAIN 9SPD 116L,Hullin,X1,,9.00,,,\nA2,CHAIN 9SPD 116L BOX 25,Hullin,X1,,200.00,,,\n"
	_, err := load(t, tx, supplier, list, 0, Accept{})
	require.NoError(t, err)
	doubtful, err := Joined(ctx, tx)
	require.NoError(t, err)
	require.Empty(t, doubtful)
	pads := offerOf(t, tx, supplier, "A2")
	_, err = tx.Exec(ctx, `UPDATE offer SET description = 'DISC PADS SINTERED PR' WHERE id = $1`, pads.ID) // as an earlier program joined it
	require.NoError(t, err)

	doubtful, err = Joined(ctx, tx)
	require.NoError(t, err)
	require.Len(t, doubtful, 1)
	require.Equal(t, "A2", doubtful[0].Code)
	require.Equal(t, pads.PartID, doubtful[0].PartID)
	require.Contains(t, doubtful[0].Why, "disc-pad")

	own, err := PartOffer(ctx, tx, supplier, "A2")
	require.NoError(t, err)
	require.NotEqual(t, pads.PartID, own.ID)
	require.Equal(t, "disc-pad", string(own.Family))
	doubtful, err = Joined(ctx, tx)
	require.NoError(t, err)
	require.Empty(t, doubtful)
	_, err = load(t, tx, supplier, strings.Replace(list, "CHAIN 9SPD 116L BOX 25,Hullin,X1,,200.00", "DISC PADS SINTERED PR,Hullin,X1,,100.00", 1), 1, Accept{Jumps: true, Prices: true})
	require.NoError(t, err)
	require.Equal(t, own.ID, offerOf(t, tx, supplier, "A2").PartID, "and stays so with the next list")
	_, err = PartOffer(ctx, tx, supplier, "A2")
	require.ErrorContains(t, err, "stands for itself")
}

func TestRingsOfTwoCirclesAreNotMadeOne(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	_, err := load(t, tx, supplier, head+"A1,C/RING 34T 110PCD 5-BOLT,,,,9.00,,,\nA2,C/RING 34T 104PCD 4-BOLT,,,,9.00,,,\n", 0, Accept{})
	require.NoError(t, err)
	_, err = Merge(ctx, tx, offerOf(t, tx, supplier, "A1").PartID, offerOf(t, tx, supplier, "A2").PartID)
	require.ErrorContains(t, err, "bcd_mm 110")
	require.ErrorContains(t, err, "104: they are not one")
}
