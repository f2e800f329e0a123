package substitution

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// What is set up without a tube, and on what. Rims without hooks by a wheel maker's tyre statement: tubeless tyres
// only, 28 mm on 23 inside at most, at most 5 bar; never a tyre narrower than the rim is inside, by a rim maker. How
// much sealant, by a trade page (vehiclestire.com); the holes by pages on valves; 10 mm over the rim's depth is common
// practice, no source.
func TestSetUpTubeless(t *testing.T) {
	const rim = "bead_mm=622 inner_width_mm=21 hookless=no depth_mm=28 valve_hole_mm=6.5"
	for _, c := range []struct {
		name, tyre, rim string
		stops           []string
		valve           string // in words
		checks          []string
		caution         string
	}{
		{"all is known", "width_mm=40 tubeless=yes", rim, nil, "tubeless valve of 38 mm or more",
			[]string{"40 mm wide: 60 to 120 ml"}, "pump to the lower of what tyre and rim say"},
		{"a narrow tyre", "width_mm=28 tubeless=yes", rim, nil, "", []string{"28 mm wide: 30 to 60 ml"}, ""},
		{"a wide tyre", "width_mm=60 tubeless=yes", "inner_width_mm=30 depth_mm=22 valve_hole_mm=6.5", nil, "tubeless valve of 32 mm or more", []string{"60 mm wide: 120 to 180 ml"}, ""},
		{"wider than any list", "width_mm=100 tubeless=yes", "depth_mm=28 valve_hole_mm=6.5", nil, "", []string{"no list that was read has so wide a tyre"}, ""},
		{"a shallow rim takes the shortest valve", "width_mm=40 tubeless=yes", "depth_mm=7 valve_hole_mm=6.5", nil, "tubeless valve of 20 mm or more", []string{"60 to 120 ml"}, ""},
		{"for tubes", "width_mm=40 tubeless=no", rim, []string{"is made for a tube"}, "", nil, ""},
		{"nobody has read it", "width_mm=40", rim, []string{"is not known: read \"tubeless\""}, "", nil, ""},
		{"a tubular", "width_mm=28 tubular=yes tubeless=yes", rim, []string{"is a tubular"}, "", nil, ""},
		{"nothing is known of the rim", "width_mm=40 tubeless=yes", "", nil, "tubeless valve",
			[]string{"measure the depth of the rear rim", "measure the valve hole of the rear rim", "40 mm wide"}, "feel along the inside of its edge"},
		{"nothing is known of either", "", "", []string{"is not known"}, "tubeless valve",
			[]string{"measure the depth", "measure the valve hole", "by the width that is read on it: 30 to 60 ml up to 32 mm"}, "feel along"},
		{"a hole for a car valve", "width_mm=40 tubeless=yes", "depth_mm=28 valve_hole_mm=8.5", nil, "", []string{"8.5 mm wide: the valve wants a foot", "60 to 120 ml"}, ""},
		{"a hole too small", "width_mm=40 tubeless=yes", "depth_mm=28 valve_hole_mm=5.5", []string{"too small for a tubeless valve"}, "", nil, ""},
		{"no hooks", "width_mm=40 tubeless=yes", "inner_width_mm=25 hookless=yes depth_mm=28 valve_hole_mm=6.5", nil, "", nil, "it has no hooks, and carries only a tyre that its own maker and the tyre's both list with it, at 5 bar (72.5 psi) at most"},
		{"28 mm on a rim without hooks, 23 inside", "width_mm=28 tubeless=yes", "inner_width_mm=23 hookless=yes depth_mm=28 valve_hole_mm=6.5", nil, "", nil, "5 bar"},
		{"28 mm on a rim without hooks, 25 inside", "width_mm=28 tubeless=yes", "inner_width_mm=25 hookless=yes depth_mm=28 valve_hole_mm=6.5", []string{"29 mm or more is wanted"}, "", nil, "5 bar"},
		{"for tubes on a rim without hooks", "width_mm=40 tubeless=no", "inner_width_mm=25 hookless=yes depth_mm=28 valve_hole_mm=6.5",
			[]string{"is made for a tube", "a tyre for tubes comes off a hookless rim"}, "", nil, "5 bar"},
		{"narrower than the rim is inside", "width_mm=23 tubeless=yes", "inner_width_mm=24 hookless=no depth_mm=28 valve_hole_mm=6.5", []string{"never a tyre narrower"}, "", nil, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			build := Build{"rear.tyre": partOf(t, "tyre", c.tyre), "rear.rim": partOf(t, "rim", c.rim), "rear.rim-tape": nil}
			scene := Scene{Was: build, Now: build, Open: map[Place]bool{"rear.rim-tape": true}}
			got := SetUpTubeless(scene, "rear")
			requireEachHas(t, c.stops, got.Stops)
			if c.checks != nil {
				requireEachHas(t, c.checks, got.Checks)
			}
			require.Contains(t, got.Cautions[0], c.caution)
			require.Len(t, got.Brings, 2)
			if c.valve != "" {
				require.Equal(t, c.valve, got.Brings[0].Words)
			}
			require.Equal(t, "tyre sealant", got.Brings[1].Words)
		})
	}
}

// A new tyre brings valve and sealant by its own rule where the old one had a tube; in place of one that had none it
// does not, and the set-up does.
func TestSetUpWithANewTyre(t *testing.T) {
	for was, brings := range map[string]int{"tubeless=no": 0, "tubeless=yes": 2, "": 2} {
		build := Build{"front.tyre": partOf(t, "tyre", was), "front.rim": nil}
		scene := Scene{Was: build, Now: build, Open: map[Place]bool{"front.tyre": true}}
		got := SetUpTubeless(scene, "front")
		require.Empty(t, got.Stops, was)
		require.Len(t, got.Brings, brings, was)
	}
}

// A valve that is long enough, and not far too long, is what is brought.
func TestTubelessValveMeets(t *testing.T) {
	build := Build{"rear.rim": partOf(t, "rim", "depth_mm=28")}
	valve := tubelessValve(Scene{Was: build, Now: build}, "rear.tyre")
	for text, meets := range map[string]bool{"valve_mm=37": false, "valve_mm=38": true, "valve_mm=60": true, "valve_mm=80": false, "": false} {
		require.Equal(t, meets, valve.Meets(partOf(t, "consumable", "purpose=tubeless-valve "+text)), text)
	}
}

func partOf(t *testing.T, family Family, text string) *Part {
	t.Helper()
	p, err := ParsePart(family, text)
	require.NoError(t, err)
	return &p
}

func requireEachHas(t *testing.T, want, got []string) {
	t.Helper()
	require.Len(t, got, len(want), "%q", got)
	for i := range want {
		require.Contains(t, got[i], want[i])
	}
}
