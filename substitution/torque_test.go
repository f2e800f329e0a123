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
	require.Equal(t, "33.9", mark.String(), "and no finer than a wrench reads")
	require.InDelta(t, 40.7, 360*0.112985, 0.05)
}

const before = "what is marked on it, or its maker's figure, counts before a list"

func TestTorqueWords(t *testing.T) {
	for _, c := range []struct {
		name, place, part string
		says              []string
	}{
		{"what is marked on it counts", "stem", "kind=clamp torque_nm=5", []string{"5 N·m, as it is marked"}},
		{"a joint of this kind only", "crank", "spindle_interface=24mm", []string{"pinch bolts of a hollow axle: 12 to 15 N·m by a list (handbook)", before}},
		{"both where the kind is not known", "front.rotor", "rotor_mm=160", []string{"lockring: 39.5 to 40.2 N·m", "bolts: 5 to 6.2 N·m", before}},
		{"lists that differ leave it to the maker", "handlebar", "clamp_mm=31.8", []string{"its maker's figure; lists differ, 4 to 6,", before}},
		{"a road caliper in front", "front.caliper", "mount=single-bolt", []string{"6 to 7 N·m", before}},
		{"and behind", "rear.caliper", "mount=single-bolt", []string{"7.9 to 9.6 N·m", before}},
		{"a safety place without a figure", "front.thru-axle", "thread=M12x1.5", []string{"its maker's figure"}},
		{"a bracket on a thread", "bottom-bracket", "shell=bsa", []string{"33.9 to 40.7 N·m", before}},
		{"one that is pressed in has no cups to tighten", "bottom-bracket", "shell=bb86", nil},
		{"a derailleur in a hanger", "rear.derailleur", "mount=hanger", []string{"7.9 to 9.6 N·m", before}},
		{"one without a hanger is no bolt in a hanger", "rear.derailleur", "mount=axle", nil},
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
		if joint.Source == byNoList {
			continue
		}
		require.Less(t, joint.Low, joint.High)
		require.Equal(t, joint.High > 2*joint.Low && joint.Differ != "", joint.Differ != "", "%s: lists that differ by less than twice are one range", joint)
		require.NotEmpty(t, joint.Source.Text)
		require.NotEqual(t, Memory, joint.Source.Confidence, "%s: nothing is from memory", joint)
		for _, place := range joint.At {
			site, err := SiteOf(place)
			require.NoError(t, err)
			require.Equal(t, joint.Family, site.Family, "%s", joint)
		}
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

// nothingTightened are families at safety places of which nobody tightens anything, with how they are held.
var nothingTightened = map[Family]string{
	"frame": "nothing of it is put on", "service-kit": "its bolts are the fork's or the shock's", "fork-seal": "pressed in", "half-link": "riveted or pinned",
	"cable-outer": "it ends in stops", "loose-balls": "the cone's locknut", "ball-cage": "the cone's locknut", "cartridge-bearing": "pressed in", "crown-race": "pressed on",
	"headset-spacer": "under the stem", "headset-bearing": "the headset's preload", "hub": "its cones, its axle and the wheel's nuts", "non-turn-washer": "under the axle's nut",
	"rim": "its spokes' tension", "spoke": "by tension, not by torque", "nipple": "by tension, not by torque", "rim-tape": "glued or stretched", "tube": "its valve's ring is turned by hand",
	"tyre": "it sits by its beads", "lamp": "its bracket holds nobody", "bar-plug": "pushed in, or by its own screw, turned by hand", "drive-battery": "it is locked in", "charger": "it is plugged in",
}

// At every place on which the rider's safety hangs the torque is said: a mark, a range with its grade, or that the
// maker's figure is wanted; or nothing is tightened there.
func TestEverySafetyPlaceSaysItsTorque(t *testing.T) {
	bare := map[Family]bool{}
	for _, site := range Sites() {
		words := TorqueWords(site.Place, nil)
		if why := nothingTightened[site.Family]; why != "" {
			require.Empty(t, words, "%s: strike it off the list", site.Place)
			bare[site.Family] = true
			continue
		}
		if site.Safety {
			require.NotEmpty(t, words, "%s: how tight, or why nothing is tightened there", site.Place)
		}
		for _, w := range words {
			require.Regexp(t, `\((handbook|trade page|maker's catalogue|published standard)\)$|maker's figure`, w, "%s", site.Place)
		}
	}
	require.Len(t, bare, len(nothingTightened))
}
