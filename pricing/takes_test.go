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
	takers := Takers(bikes, nine)
	require.Len(t, takers, 1)
	require.EqualValues(t, 1, takers[0].Bike.ID)
	require.EqualValues(t, "chain", takers[0].Place)

	others := []inventory.Part{{ID: 1, Part: *nine}, {ID: 2, Part: *eight}, {ID: 3, Part: *part("cassette", "speeds=9")}}
	stands := StandsInFor(nine, others)
	require.Len(t, stands, 1)
	require.EqualValues(t, 1, stands[0].ID)
}
