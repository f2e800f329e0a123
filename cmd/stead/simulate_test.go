package main

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/reorder"
)

// Where the whole shelf met fewer sales than it was asked for the words say whether that is luck, and how many of those missed
// nobody could have known of.
func TestShortWords(t *testing.T) {
	whole := reorder.Played{Rule: reorder.WholeShelf, Target: 0.95, Sales: 131, Met: 123, Share: 123. / 131, NewSales: 8, NewShare: 0.25}
	require.Equal(t, "Asked 95 the whole shelf met 123 of 131: fewer, but no more so than luck explains. Of the 8 missed, 6 were of parts that first sold while this was played.", shortWords(whole))
	far := whole
	far.Met, far.Share, far.NewShare = 100, 100./131, 1
	require.Equal(t, "Asked 95 the whole shelf met 100 of 131: fewer than luck explains.", shortWords(far))
	far.Met, far.Share = 130, 130./131
	require.Empty(t, shortWords(far), "as many as were asked for")
	far = whole
	far.Rule = reorder.PartByPart
	require.Empty(t, shortWords(far))
}
