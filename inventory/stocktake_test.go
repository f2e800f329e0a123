package inventory

import (
	"testing"
	"time"

	"stead/migrations/testdb"

	"github.com/stretchr/testify/require"
)

func TestStocktake(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	part, now := addRing(t, tx), day(time.March, 30)
	addBins(t, tx, "A1", "B1")
	addOffer(t, tx, addSupplier(t, tx).ID, part.ID, 1)
	request := begun(t, tx)
	require.NoError(t, PutIn(ctx, tx, request, part.ID, "A1", 10, Opening, ""))
	require.NoError(t, Move(ctx, tx, request, part.ID, "A1", "B1", 4))

	sheets, err := Sheets(ctx, tx, now)
	require.NoError(t, err)
	require.Len(t, sheets, 2)
	require.Equal(t, part.ID, sheets[0].Lines[0].PartID)
	sheets, err = Sheets(ctx, tx, now, "b1")
	require.NoError(t, err)
	require.Len(t, sheets, 1)
	_, err = Sheets(ctx, tx, now, "Z9")
	require.ErrorAs(t, err, new(*UnknownError))

	next, err := NextBins(ctx, tx, now)
	require.NoError(t, err)
	require.Equal(t, "A1", next[0].Bin, "more is in it and it moved more often")
	require.Nil(t, next[0].Counted)

	// Two were carried from one bin to the other without a word, and one was sold.
	found, err := Stocktake(ctx, tx, request, []Counting{{"A1", part.ID, 4}, {"B1", part.ID, 6}}, "")
	require.NoError(t, err)
	require.Len(t, found, 2)
	require.Equal(t, -2, found[0].Counted-found[0].Expected)
	require.Contains(t, found[0].May[0], "bin B1 has 2 more: moved and not booked")
	require.Equal(t, 10, stockOf(t, tx, part.ID).OnHand)

	found, err = Stocktake(ctx, tx, request, []Counting{{"A1", part.ID, 4}}, "")
	require.NoError(t, err)
	require.Empty(t, found)
	next, err = NextBins(ctx, tx, now)
	require.NoError(t, err)
	require.Zero(t, next[0].Score, "what was counted and did not move since need not be counted again")

	_, err = tx.Exec(ctx, `SELECT set_config('stead.clock', (shop_clock() + interval '1 day')::text, true)`)
	require.NoError(t, err)
	require.NoError(t, Sell(ctx, tx, request, part.ID, 3, ""))
	next, err = NextBins(ctx, tx, now)
	require.NoError(t, err)
	require.Equal(t, "A1", next[0].Bin, "it has moved since")
	require.Positive(t, next[0].Score)
	found, err = Stocktake(ctx, tx, request, []Counting{{"A1", part.ID, 4 - 3 - 1}, {"B1", part.ID, 6}}, "")
	require.NoError(t, err)
	require.Len(t, found, 1)

	_, err = Stocktake(ctx, tx, request, []Counting{{"A1", part.ID, 1}, {"a1", part.ID, 2}}, "")
	require.ErrorContains(t, err, "counted twice")
	requireLedgerAddsUp(t, ctx, tx)
}

func TestExplain(t *testing.T) {
	moved := []Movement{
		{At: day(time.March, 2), Bin: "A1", Pieces: -2, Reason: Used},
		{At: day(time.March, 2), Bin: "A1", Pieces: 5, Reason: Received},
		{At: day(time.March, 2), Bin: "B1", Pieces: 2, Reason: Moved},
	}
	for _, test := range []struct {
		counted, expected int
		bin, says         string
	}{
		{3, 5, "A1", "-2 used on 2026-03-02, bin A1: perhaps there was another that was not booked"},
		{7, 5, "A1", "perhaps it was booked twice, or never happened"},
		{0, 5, "A1", "+5 received on 2026-03-02, bin A1: perhaps it was booked twice, or never happened"},
		{9, 5, "A1", "-2 used on 2026-03-02: perhaps booked the wrong way round"},
		{7, 5, "B1", "+2 moved"},
	} {
		may := explain(Difference{Bin: test.bin, Counted: test.counted, Expected: test.expected}, nil, moved)
		require.NotEmpty(t, may, test.says)
		require.Contains(t, may[len(may)-1]+may[0], test.says)
	}
	require.Empty(t, explain(Difference{Bin: "A1", Counted: 4, Expected: 5}, nil, moved))
}
