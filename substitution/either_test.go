package substitution

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestEither(t *testing.T) {
	teeth := []WeightedTerm{{Weight: 1, Dimension: "teeth_max"}}
	for _, c := range []struct {
		name         string
		a, b, either Condition // nil where they ask about different things
	}{
		{"a number", Between{"bcd_mm", 109, 111}, Between{"bcd_mm", 110, 130}, Between{"bcd_mm", 109, 130}},
		{"another number", Between{"bcd_mm", 109, 111}, Between{"bolts", 5, 5}, nil},
		{"words", OneOf{"freehub", []string{"hg", "hg-l"}}, OneOf{"freehub", []string{"hg", "xd"}}, OneOf{"freehub", []string{"hg", "hg-l", "xd"}}},
		{"counts", SharesAny{"speeds", []int{9}}, SharesAny{"speeds", []int{9, 10}}, SharesAny{"speeds", []int{9, 10}}},
		{"a sum", Weighted{teeth, 28}, Weighted{teeth, 34}, Weighted{teeth, 34}},
		{"another sum", Weighted{teeth, 28}, Weighted{[]WeightedTerm{{Weight: 1, Dimension: "teeth_min"}}, 34}, nil},
		{"different things", SharesAny{"speeds", []int{9}}, OneOf{"speeds", []string{"9"}}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			either, same := Either(c.a, c.b)
			require.Equal(t, c.either != nil, same)
			require.Equal(t, c.either, either)
		})
	}
}
