package substitution

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A figure in pound-inches comes out in newton metres as the lists print it: 300 lb·in are 33.9 N·m, 360 are 40.7 (the list
// of a bike maker's family, which itself prints 32.9 for the first by a slip).
func TestPoundInches(t *testing.T) {
	part, err := ParsePart("bottom-bracket", "torque_nm=300lbin")
	require.NoError(t, err)
	mark, _ := part.Get("torque_nm")
	require.InDelta(t, 33.9, mark.Float(), 0.05)
	require.InDelta(t, 40.7, 360*0.112985, 0.05)
}

func TestTorqueWords(t *testing.T) {
	for _, c := range []struct {
		name, place, part string
		says              []string
	}{
		{"what is marked on it counts", "stem", "kind=clamp torque_nm=5", []string{"5 N·m, as it is marked"}},
		{"a joint of this kind only", "crank", "spindle_interface=24mm", []string{"pinch bolts of a hollow axle: 12 to 15 N·m"}},
		{"both where the kind is not known", "front.rotor", "rotor_mm=160", []string{"lockring: 39.5 to 40.2 N·m", "bolts: 5 to 6.2 N·m"}},
		{"a safety place without a figure", "handlebar", "clamp_mm=31.8", []string{"its maker's figure"}},
		{"nothing to tighten", "chain", "speeds=9", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			site, err := SiteOf(Place(c.place))
			require.NoError(t, err)
			part, err := ParsePart(site.Family, c.part)
			require.NoError(t, err)
			words := TorqueWords(site.Place, &part)
			require.Len(t, words, len(c.says))
			for i, says := range c.says {
				require.Contains(t, words[i], says)
			}
		})
	}
}

// Every joint is of a family that there is, is told apart by a dimension of it, and has a source that can be named.
func TestTorquesAreOfTheVocabulary(t *testing.T) {
	for _, joint := range Torques() {
		table, err := TableOf(joint.Family)
		require.NoError(t, err)
		require.Less(t, joint.Low, joint.High)
		require.NotEmpty(t, joint.Source.Text)
		if joint.Dimension == "" {
			continue
		}
		d, known := table.Dimension(joint.Dimension)
		require.True(t, known, "%s", joint)
		for _, w := range joint.Words {
			_, err := d.Check(Text(w))
			require.NoError(t, err, "%s", joint)
		}
	}
	for family := range tightened {
		_, err := TableOf(family)
		require.NoError(t, err)
	}
}
