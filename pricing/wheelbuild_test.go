package pricing

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution"
	"stead/substitution/inspection"
)

// A wheel is built, or trued, once, however many of its parts are new.
func TestWheelIsBuiltOnce(t *testing.T) {
	for _, c := range []struct {
		name   string
		places []substitution.Place
		want   []int
	}{
		{"a new rim with all spokes", []substitution.Place{"rear.rim", "rear.spokes-left", "rear.spokes-right", "rear.nipples"}, []int{30, 0, 0, 0}},
		{"spokes on both sides", []substitution.Place{"rear.spokes-left", "rear.spokes-right"}, []int{30, 0}},
		{"one side alone", []substitution.Place{"rear.spokes-left"}, []int{30}},
		{"two wheels are two", []substitution.Place{"front.spokes-left", "rear.spokes-left"}, []int{30, 30}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var lines []LabourLine
			var findings []inspection.Finding
			for _, p := range c.places {
				lines = append(lines, LabourLine{Place: p, Minutes: 30, Amount: pounds("28.80"), net: pounds("24.00")})
				findings = append(findings, inspection.Finding{Place: p, Action: inspection.Replace})
			}
			var got []int
			for _, l := range builtWithin(lines, findings) {
				got = append(got, l.Minutes)
				require.Equal(t, l.Minutes == 0, l.Amount.IsZero())
			}
			require.Equal(t, c.want, got)
		})
	}
}
