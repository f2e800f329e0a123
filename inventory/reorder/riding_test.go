package reorder

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// By hand: a part that sells 24 a year at £6, kept from 2 up to 6, whose own order would cost £1.20 of carriage. At 3
// it would fall to its level in half a month, in which three pieces cost 3 x 6 x 0.25 / 24 = 18.75 pence to hold:
// £1.0125 is saved. At 5 one piece waits three times as long: 18.75 pence too.
func TestRideAlong(t *testing.T) {
	r := RideAlong{Position: 3, Level: 2, UpTo: 6, PerYear: 24, Price: 6, Holding: 0.25, Saves: 1.20}
	require.InDelta(t, 1.0125, r.Worth(), 1e-9)
	r.Position = 5
	require.InDelta(t, 1.0125, r.Worth(), 1e-9)
	require.Equal(t, 5, r.CanOrder())
	r.Price = 60
	require.Equal(t, 2, r.CanOrder(), "the dearer part is left until it is short: at each number its pieces cost more to hold than is saved")
	r.Price, r.PerYear = 6, 0
	require.Zero(t, r.Worth(), "what does not sell does not ride")
}

// The more it sells and the more its own order would cost, the sooner a part rides along; the dearer it is the later.
func TestRideAlongIsReasonable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		level := rapid.IntRange(0, 10).Draw(t, "level")
		r := RideAlong{Level: level, UpTo: level + rapid.IntRange(2, 20).Draw(t, "gap"), PerYear: rapid.Float64Range(0.5, 200).Draw(t, "a year"),
			Price: rapid.Float64Range(0.5, 100).Draw(t, "price"), Holding: 0.25, Saves: rapid.Float64Range(0, 8).Draw(t, "saves")}
		r.Position = rapid.IntRange(level+1, r.UpTo-1).Draw(t, "position")
		more, dearer, dear := r, r, r
		more.PerYear *= 2
		dearer.Saves++
		dear.Price *= 2
		require.GreaterOrEqual(t, more.Worth(), r.Worth())
		require.Greater(t, dearer.Worth(), r.Worth())
		require.LessOrEqual(t, dear.Worth(), r.Worth())
		require.LessOrEqual(t, r.Worth(), r.Saves)
		require.GreaterOrEqual(t, r.CanOrder(), level)
		require.Less(t, r.CanOrder(), r.UpTo)
	})
}
