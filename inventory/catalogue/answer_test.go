package catalogue

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist"
	"stead/inventory/pricelist/describe"
	"stead/migrations/testdb"
)

const misread = head + "K1,KRUNK CHAIN BLACK,,,,3.00,,,12\nK2,CHAIN 9SPD 116L,,,,9.00,,,12\nK3,KRUNK CHAIN SILVER,,,,3.10,,,12\nK4,ZOG 40T,,,,3.10,,,12\n"

// A family that was read wrongly is mended by a word, though no word of the line was unread: all its lines, now and in
// the next list.
func TestAFamilyIsMendedByAWord(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	_, err := load(t, tx, supplier, misread, 0, Accept{})
	require.NoError(t, err)
	require.Equal(t, "chain", string(partOf(t, tx, supplier, "K1").Family))

	s, err := Answer(ctx, tx, supplier, "Krunk-Chain", "none")
	require.NoError(t, err)
	require.Equal(t, 2, s.Rows)
	require.Equal(t, 2, s.Waiting)
	require.True(t, offerOf(t, tx, supplier, "K1").Gone, "nobody is sold a krunk chain for a chain")
	require.False(t, offerOf(t, tx, supplier, "K2").Gone)
	waiting, err := Waiting(ctx, tx, supplier)
	require.NoError(t, err)
	require.Len(t, waiting, 3)
	require.Contains(t, waiting[0].Reason, "KRUNK CHAIN")
	require.Equal(t, "no word of it names a kind of part; not read: ZOG", waiting[2].Reason)

	again, err := Answer(ctx, tx, supplier, "krunk-chain", "none")
	require.NoError(t, err)
	require.True(t, again.Again, "nothing changed, and that is said")

	s, err = load(t, tx, supplier, misread+"K5,KRUNK CHAIN GOLD,,,,3.20,,,\n", 1, Accept{})
	require.NoError(t, err)
	require.Equal(t, 4, s.Waiting)
	require.True(t, offerOf(t, tx, supplier, "K1").Gone)

	s, err = Answer(ctx, tx, supplier, "krunk-chain", "family chain-joiner")
	require.NoError(t, err)
	require.Equal(t, 3, s.Rows)
	require.Equal(t, "chain-joiner", string(partOf(t, tx, supplier, "K1").Family))
	require.False(t, offerOf(t, tx, supplier, "K1").Gone)
}

// A line is mended alone, family and dimensions; the thing on the shelf stays the same thing, and the next list leaves
// it so.
func TestALineIsMended(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	_, err := load(t, tx, supplier, misread, 0, Accept{})
	require.NoError(t, err)
	before := offerOf(t, tx, supplier, "K1").PartID
	s, err := SayLine(ctx, tx, supplier, "K1", []string{"family chain-joiner", "speeds=9/10"})
	require.NoError(t, err)
	require.Equal(t, 1, s.Mended)
	part := partOf(t, tx, supplier, "K1")
	require.Equal(t, before, part.ID, "nothing else is offered of it")
	require.Equal(t, "chain-joiner", string(part.Family))
	require.Equal(t, "chain_width 11/128, colour black, speeds 9/10", part.Spec.String(), "and what follows from its speeds")
	require.Equal(t, "chain", string(partOf(t, tx, supplier, "K3").Family), "the other line was not spoken of")

	_, err = load(t, tx, supplier, strings.Replace(misread, "3.00", "3.05", 1), 1, Accept{})
	require.NoError(t, err)
	require.Equal(t, "chain-joiner", string(partOf(t, tx, supplier, "K1").Family))

	_, err = SayLine(ctx, tx, supplier, "K1", nil)
	require.NoError(t, err)
	require.Equal(t, "chain", string(partOf(t, tx, supplier, "K1").Family), "what was said is taken back")

	_, err = SayLine(ctx, tx, supplier, "K4", []string{"family chainring"})
	require.NoError(t, err)
	require.Equal(t, "chainring", string(partOf(t, tx, supplier, "K4").Family), "a line that waited")
	s, err = SayLine(ctx, tx, supplier, "K4", nil)
	require.NoError(t, err)
	require.Equal(t, 1, s.Waiting, "it is no part without what was said of it")
	require.True(t, offerOf(t, tx, supplier, "K4").Gone)
	for _, wrong := range [][]string{{"family bottle"}, {"teeth=many"}, {"shininess=high"}, {"black"}, {"none", "colour=black"}} {
		_, err = SayLine(ctx, tx, supplier, "K1", wrong)
		require.Error(t, err, wrong)
	}
	_, err = SayLine(ctx, tx, supplier, "K9", []string{"none"})
	require.ErrorContains(t, err, `no line of the supplier's lists has the code "K9"`)
}

// A line on which the reader fails waits, and the list is loaded.
func TestALineThatTheReaderFailsOn(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	file := open(t, []byte(misread))
	l := listRows{load: Load{File: file, Mapping: mapping}, list: pricelist.NewList(file, mapping)}
	st := stage{supplierID: supplier, asOf: march, lines: &lineNumbers{}, reader: Reader{words: (*describe.Reader)(nil)}} // which fails on all
	require.NoError(t, st.fill(ctx, tx, l.rows()))
	s, err := st.apply(ctx, tx, 25, true)
	require.NoError(t, err)
	require.Equal(t, 4, s.Waiting)
	waiting, err := Waiting(ctx, tx, supplier)
	require.NoError(t, err)
	require.Equal(t, "the reader failed on its description", waiting[0].Reason)
}

// A line that says two things of which one must be wrong waits, and both are named.
func TestALineThatContradictsItself(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	s, err := load(t, tx, supplier, head+"A1,CHAIN 9SPD 1/8,,,,9.00,,,\nA2,CHAIN 9SPD 116L,,,,9.00,,,\n", 0, Accept{})
	require.NoError(t, err)
	require.Equal(t, 1, s.Waiting)
	require.Equal(t, 1, s.Parts)
	waiting, err := Waiting(ctx, tx, supplier)
	require.NoError(t, err)
	require.Equal(t, "it contradicts itself: chain: chain_width 1/8 does not go with speeds 9: one of the two is wrong", waiting[0].Reason)
	_, err = SayLine(ctx, tx, supplier, "A1", []string{"chain_width=none"})
	require.NoError(t, err)
	require.Equal(t, "chain_width 11/128, speeds 9", partOf(t, tx, supplier, "A1").Spec.String(), "its width follows from its speeds")
}

// A part that is read wrongly but that others offer too is left to them.
func TestAMisreadLineLeavesOthersPart(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	one, two := addSupplier(t, tx), addSupplier(t, tx)
	_, err := load(t, tx, one, head+"A1,CHAIN 9SPD,Hullin,C9,,9.00,,,\n", 0, Accept{})
	require.NoError(t, err)
	_, err = load(t, tx, two, head+"B1,CHAIN 9SPD,Hullin,C9,,9.00,,,\n", 0, Accept{})
	require.NoError(t, err)
	require.Equal(t, offerOf(t, tx, one, "A1").PartID, offerOf(t, tx, two, "B1").PartID)
	_, err = SayLine(ctx, tx, two, "B1", []string{"family chain-joiner"})
	require.NoError(t, err)
	require.Equal(t, "chain", string(partOf(t, tx, one, "A1").Family))
	require.Equal(t, "chain-joiner", string(partOf(t, tx, two, "B1").Family))
}
