package pricing

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/substitution"
)

func TestTakers(t *testing.T) {
	part := func(family substitution.Family, spec string) *substitution.Part {
		p, err := substitution.ParsePart(family, spec)
		require.NoError(t, err)
		return &p
	}
	nine, eight := part("chain", "speeds=9 chain_width=11/128"), part("chain", "speeds=8 chain_width=3/32")
	bikes := []Bike{
		{ID: 1, Build: substitution.Build{"chain": nine, "rear.cassette": part("cassette", "speeds=9")}},
		{ID: 2, Build: substitution.Build{"chain": eight, "rear.cassette": part("cassette", "speeds=8")}},
		{ID: 3, Build: substitution.Build{"rear.cassette": part("cassette", "speeds=9")}}, // no chain on record
		{ID: 4, Build: substitution.Build{"chain": nil}},                                  // nothing is known of it
	}
	takers := takersOf(t, bikes, nine)
	require.Len(t, takers, 1)
	require.EqualValues(t, 1, takers[0].Bike.ID)
	require.EqualValues(t, "chain", takers[0].Place)

	// A part of its own, not the very one that is fitted; and a chain of which nobody knows whether it is long enough.
	bearing, other, narrow := part("cartridge-bearing", "bore_mm=15 outer_mm=28 width_mm=7"), part("cartridge-bearing", "bore_mm=15 outer_mm=28 width_mm=7"), part("cartridge-bearing", "bore_mm=15 outer_mm=28 width_mm=6")
	hubs := []Bike{
		{ID: 5, Build: substitution.Build{"front.hub.bearing-left": bearing, "front.hub.bearing-right": bearing, "chain": nine, "rear.cassette": part("cassette", "speeds=9")}},
		{ID: 6, Build: substitution.Build{"front.hub.bearing-left": narrow}},
	}
	takers = takersOf(t, hubs, other)
	require.Len(t, takers, 2, "both sides of one hub, and none of the narrow one")
	for _, taker := range takers {
		require.EqualValues(t, 5, taker.Bike.ID)
	}
	require.Empty(t, takersOf(t, hubs, part("chain", "speeds=9 chain_width=11/128")))

	others := []inventory.Part{{ID: 1, Part: *nine}, {ID: 2, Part: *eight}, {ID: 3, Part: *part("cassette", "speeds=9")}}
	stands := StandsInFor(nine, others)
	require.Len(t, stands, 1)
	require.EqualValues(t, 1, stands[0].ID)
}

func takersOf(t *testing.T, bikes []Bike, part *substitution.Part) []Taker {
	t.Helper()
	fleet, err := FleetOf(bikes)
	require.NoError(t, err)
	return fleet.Takers(part)
}

// Bikes that are recorded alike are asked once and each named; one that differs in any place, or in one dimension of a
// place that is not asked of, is asked for itself.
func TestBikesAlikeAreAskedOnce(t *testing.T) {
	part := func(family substitution.Family, spec string) *substitution.Part {
		p, err := substitution.ParsePart(family, spec)
		require.NoError(t, err)
		return &p
	}
	const right = "bore_mm=15 outer_mm=28 width_mm=7"
	bike := func(id int64, bearing, chain string) Bike {
		return Bike{ID: id, Build: substitution.Build{"front.hub.bearing-left": part("cartridge-bearing", bearing), "chain": part("chain", chain)}}
	}
	bikes := []Bike{
		bike(1, right, "speeds=9"),
		bike(2, right, "speeds=8"),
		bike(3, right, "speeds=9"),
		bike(4, "bore_mm=15 outer_mm=28 width_mm=6", "speeds=9"),
		bike(5, right, "speeds=9"),
	}
	fleet, err := FleetOf(bikes)
	require.NoError(t, err)
	require.Len(t, fleet.kinds, 3)
	var took []int64
	for _, taker := range fleet.Takers(part("cartridge-bearing", right)) {
		took = append(took, taker.Bike.ID)
	}
	require.Equal(t, []int64{1, 2, 3, 5}, took, "and not the narrow one")
}
