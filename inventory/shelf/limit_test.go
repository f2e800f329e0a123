package shelf

import (
	"testing"

	"stead/inventory"

	"github.com/stretchr/testify/require"
)

// A part that sells well is kept only as far as its place and its life allow.
func TestShelfLimits(t *testing.T) {
	b := newBooks(t)
	ctx := t.Context()
	offer := addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 1)
	offer.Breaks = []inventory.Break{{FromPacks: 1, Price: pounds("0.40")}}
	offer, err := inventory.PutOffer(ctx, b.tx, offer)
	require.NoError(t, err)
	b.move(360, 90, inventory.Opening, nil)
	for ago := 358; ago > 1; ago -= 7 {
		b.move(ago, -1, inventory.Sold, nil)
	}
	keep := func() Keeping {
		t.Helper()
		return b.keeping(b.now)
	}
	free := keep()
	require.Greater(t, *free.AdvisedTo, 12)
	require.NotContains(t, free.Words, "its place")

	require.NoError(t, SetLimit(ctx, b.tx, b.part.ID, Limit{Holds: 12}))
	placed := keep()
	require.LessOrEqual(t, *placed.AdvisedTo, 12)
	require.Greater(t, *placed.AdvisedTo, 6, "the room that there is is used")
	require.Contains(t, placed.Words, "Its place holds 12.")

	offer.Pack = 10
	offer, err = inventory.PutOffer(ctx, b.tx, offer)
	require.NoError(t, err)
	tens := keep()
	require.Equal(t, []int{2, 12}, []int{*tens.AdvisedLevel, *tens.AdvisedTo}, "ten fit where two are left")
	offer.Pack = 50
	_, err = inventory.PutOffer(ctx, b.tx, offer)
	require.NoError(t, err)
	none := keep()
	require.Nil(t, none.AdvisedLevel)
	require.Contains(t, none.Words, "keep none, order it for the job. Its place holds 12, and no fewer than 50 are ordered at a time.")

	offer.Pack = 1
	_, err = inventory.PutOffer(ctx, b.tx, offer)
	require.NoError(t, err)
	require.NoError(t, SetLimit(ctx, b.tx, b.part.ID, Limit{Months: 2}))
	perishes := keep()
	require.LessOrEqual(t, *perishes.AdvisedTo, 10, "no more than sell in two months, at one a week")
	require.Contains(t, perishes.Words, "It keeps 2 months.")

	require.NoError(t, SetLimit(ctx, b.tx, b.part.ID, Limit{}))
	require.Equal(t, *free.AdvisedTo, *keep().AdvisedTo)
	require.NoError(t, SetFamilyLife(ctx, b.tx, b.part.Family, 2))
	require.Equal(t, *perishes.AdvisedTo, *keep().AdvisedTo, "as for all of its family")
	require.NoError(t, SetLimit(ctx, b.tx, b.part.ID, Limit{Months: 60}))
	require.Equal(t, *free.AdvisedTo, *keep().AdvisedTo, "its own goes before its family's")
	require.NoError(t, SetFamilyLife(ctx, b.tx, b.part.Family, 0))
	require.Error(t, SetFamilyLife(ctx, b.tx, "no such family", 3))
	require.ErrorContains(t, SetLimit(ctx, b.tx, b.part.ID, Limit{Months: 900}), "keeps for 900 months")
	require.ErrorContains(t, SetLimit(ctx, b.tx, b.part.ID, Limit{Holds: -1}), "-1 pieces")
}

// What hardly sells in the time that it keeps is bought for the job, and lies in excess sooner.
func TestShelfLife(t *testing.T) {
	b := newBooks(t)
	ctx := t.Context()
	addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 1)
	b.move(700, 8, inventory.Opening, nil)
	for _, ago := range []int{690, 480, 260, 90} {
		b.move(ago, -1, inventory.Sold, nil)
	}
	excess := func() int {
		s, err := Load(ctx, b.tx, usualShelf, nil, b.now)
		require.NoError(t, err)
		list, err := s.Excess(ctx, b.tx)
		require.NoError(t, err)
		for _, e := range list {
			return e.Excess
		}
		return 0
	}
	before := excess()
	require.NoError(t, SetLimit(ctx, b.tx, b.part.ID, Limit{Months: 2}))
	require.Greater(t, excess(), before)
	require.Contains(t, b.keeping(b.now).Words, "It keeps 2 months, and hardly one sells in that time.")
}

// More than the place holds is neither set nor insisted on, and a place that is too small for what is set is not said.
func TestNoRoom(t *testing.T) {
	b := newBooks(t)
	ctx := t.Context()
	require.NoError(t, SetLimit(ctx, b.tx, b.part.ID, Limit{Holds: 6}))
	two, six, seven := 2, 6, 7
	require.NoError(t, SetReorder(ctx, b.tx, b.part.ID, &two, &six))
	var full *NoRoomError
	require.ErrorAs(t, SetReorder(ctx, b.tx, b.part.ID, &two, &seven), &full)
	require.Equal(t, 6, full.Holds)
	require.ErrorAs(t, Say(ctx, b.tx, Word{PartID: b.part.ID, Answer: AtLeast, Pieces: 7}), &full)
	require.NoError(t, Say(ctx, b.tx, Word{PartID: b.part.ID, Answer: AtLeast, Pieces: 5}))
	require.ErrorAs(t, SetLimit(ctx, b.tx, b.part.ID, Limit{Holds: 5}), &full)
	require.NoError(t, SetReorder(ctx, b.tx, b.part.ID, nil, nil))
	require.ErrorAs(t, SetLimit(ctx, b.tx, b.part.ID, Limit{Holds: 4}), &full)
	require.NoError(t, SetLimit(ctx, b.tx, b.part.ID, Limit{Holds: 5}))

	twin := addPart(t, b.tx, ring(50, 110, "silver"))
	require.NoError(t, SetLimit(ctx, b.tx, twin.ID, Limit{Holds: 3, Months: 6}))
	_, err := b.tx.Exec(ctx, `UPDATE part SET merged_into = $1 WHERE id = $2`, b.part.ID, twin.ID)
	require.NoError(t, err)
	limits, err := LoadLimits(ctx, b.tx)
	require.NoError(t, err)
	require.Equal(t, Limit{Holds: 3, Months: 6}, limits.Of(b.part.ID, b.part.Family), "of two that are one the tighter holds")
}
