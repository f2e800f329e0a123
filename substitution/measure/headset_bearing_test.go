package measure

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The first size is a bearing seller's own example of how headset bearings are named, 30.15x41x6.5 36/45; 6808 is of the
// size of a common lower bearing (ISO 15; the headset's is from memory). That the angles must agree is a bearing maker's
// guide and a headset maker's.
func TestHeadsetBearings(t *testing.T) {
	for name, c := range map[string]struct {
		bearing Bearing
		says    string
		firm    bool
		matches int
	}{
		"all five": {Bearing{Bore: Caliper(30.16), Outer: Caliper(40.98), Width: Caliper(6.5), InnerDeg: 36, OuterDeg: 45},
			"This is a headset bearing: 30.15 × 41 × 6.5, 36°/45°.", true, 1},
		"without its angles": {Bearing{Bore: Caliper(30.16), Outer: Caliper(40.98), Width: Caliper(6.5)},
			"The angles decide, and no caliper shows them", false, 0},
		"another angle": {Bearing{Bore: Caliper(30.16), Outer: Caliper(40.98), Width: Caliper(6.5), InnerDeg: 45, OuterDeg: 45},
			"order it by all five", false, 0},
		"41.8 is not 41": {Bearing{Bore: Caliper(30.16), Outer: Caliper(41.8), Width: Caliper(6.5), InnerDeg: 45, OuterDeg: 45},
			"from memory", false, 1},
		"no listed size": {Bearing{Bore: Caliper(33.05), Outer: Caliper(45.9), Width: Caliper(7)},
			"order it by all five", false, 0},
		"a plain one of the same size": {Bearing{Bore: Caliper(40), Outer: Caliper(51.98), Width: Caliper(6.98)},
			"its rings are chamfered at 36°/45°", true, 1},
		"worn, not a headset's": {Bearing{Bore: Caliper(30), Outer: Caliper(41.7), Width: Caliper(7)},
			"The nearest is 6806", false, 0},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := c.bearing.Identify()
			require.NoError(t, err)
			require.Contains(t, r.Words(), c.says)
			require.Equal(t, c.firm, r.Firm())
			require.Len(t, r.Matches, c.matches)
		})
	}
	_, err := Bearing{Bore: Caliper(30), Outer: Caliper(41), InnerDeg: 90}.Identify()
	require.EqualError(t, err, "an angle of 90° is no bearing's: 36 and 45 are common")
}
