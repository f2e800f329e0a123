package substitution

import (
	"fmt"
	"slices"
	"strings"
)

// Torque is how tight a joint is by a published list, in newton metres. It brackets a figure that nobody marked on the part:
// the part's own mark counts before it, then its maker's manual. Two lists differ by twice for some joints.
type Torque struct {
	Family    Family
	Joint     string // "crank bolt of a square or splined spindle"
	Dimension string // where the joint is that of some parts only: the dimension that tells, and its words
	Words     []string
	Low, High float64
	Source    Source
}

var (
	byTorqueList = Source{"torque list of a bike maker's family, as villagecycle.com has it", Handbook}
	byCargoBook  = Source{"owner's manual of a cargo bike, torque appendix; high for light parts", Handbook}
	byOldManual  = Source{"a bike maker's manual of 2002: 85 to 125 lb·in", Handbook}
)

// torques lists the joints of which a figure can be cited, and no other.
var torques = []Torque{
	{"bottom-bracket", "cups", "", nil, 33.9, 40.7, Source{"torque list of a bike maker's family: 300 to 360 lb·in", Handbook}},
	{"stem", "clamp on the steerer", "kind", []string{"clamp"}, 13.6, 16.3, byCargoBook},
	{"stem", "wedge of the quill", "kind", []string{"quill"}, 19.7, 29.4, byCargoBook},
	{"crankset", "crank bolt of a square or splined spindle", "spindle_interface", []string{"jis-taper", "iso-taper", "octalink", "isis"}, 34.5, 44.2, byCargoBook},
	{"crankset", "pinch bolts of a hollow axle", "spindle_interface", []string{"24mm"}, 12, 15, byTorqueList},
	{"crank-arm", "crank bolt of a square or splined spindle", "spindle_interface", []string{"jis-taper", "iso-taper", "octalink", "isis"}, 34.5, 44.2, byCargoBook},
	{"crank-arm", "pinch bolts of a hollow axle", "spindle_interface", []string{"24mm"}, 12, 15, byTorqueList},
	{"pedal", "spindle in the arm", "", nil, 34.7, 39.5, byCargoBook},
	{"chainring-bolt", "bolt of steel", "material", []string{"steel", "stainless"}, 7.9, 14, Source{"two lists: 7.9 to 10.7 and 12 to 14", Handbook}},
	{"chainring-bolt", "bolt of alloy", "material", []string{"alloy"}, 5, 9.9, Source{"two lists: 5 to 9.9 and 8 to 9", Handbook}},
	{"cassette", "lockring", "", nil, 30, 50, byTorqueList},
	{"disc-rotor", "lockring", "rotor_mount", []string{"centre-lock"}, 39.5, 40.2, byTorqueList},
	{"disc-rotor", "bolts", "rotor_mount", []string{"6-bolt"}, 5, 6.2, byTorqueList},
	{"brake-caliper", "M6 bolts of a disc caliper", "mount", []string{"post", "is"}, 11.3, 12.4, byTorqueList},
	{"brake-caliper", "M5 bolts of a disc caliper", "mount", []string{"flat"}, 6.8, 7.3, byTorqueList},
	{"brake-caliper", "bolt of a brake arm", "mount", []string{"cantilever"}, 7.9, 9.6, byTorqueList},
	{"rear-derailleur", "bolt in the hanger", "", nil, 7.9, 9.6, byTorqueList},
	{"seat-clamp", "bolt", "kind", []string{"bolt"}, 9.6, 14.1, byOldManual},
}

// Torques are the joints of which a published figure can be cited.
func Torques() []Torque { return torques }

// TorqueWords say how tight a part is put on at a place: by its own mark, else by what is published, else that its maker's
// figure is wanted; nothing for a place where neither is known and nobody's safety hangs on it.
func TorqueWords(place Place, part *Part) []string {
	if mark, known := part.Get("torque_nm"); known {
		return []string{fmt.Sprintf("%s N·m, as it is marked", mark)}
	}
	site, err := SiteOf(place)
	if err != nil {
		return nil
	}
	var out []string
	for _, t := range torques {
		if t.Family == site.Family && t.ofPart(part) {
			out = append(out, fmt.Sprintf("%s: %s to %s N·m by a published list; what is marked on it, or its maker's figure, counts before that", t.Joint, figure(t.Low), figure(t.High)))
		}
	}
	if len(out) == 0 && site.Safety && tightened[site.Family] {
		out = append(out, "its maker's figure: none that could be cited is on record here")
	}
	return out
}

// ofPart reports whether the joint is, or may be, that of a part.
func (t Torque) ofPart(part *Part) bool {
	if t.Dimension == "" {
		return true
	}
	v, known := part.Get(t.Dimension)
	return !known || slices.Contains(t.Words, v.word)
}

// tightened are the families of which somebody tightens a bolt, a nut or a thread that holds the rider.
var tightened = map[Family]bool{"stem": true, "handlebar": true, "seatpost": true, "seat-clamp": true, "saddle": true, "crankset": true, "crank-arm": true, "pedal": true, "bolt": true,
	"chainring-bolt": true, "brake-caliper": true, "brake-lever": true, "disc-rotor": true, "brake-adapter": true, "axle-nut": true, "skewer": true, "thru-axle": true, "headset": true,
	"fork": true, "bottom-bracket": true, "rim-pad": true, "cleat": true, "rack": true, "child-seat": true, "peg": true, "shock": true}

// String is the joint with its figures.
func (t Torque) String() string {
	return strings.TrimSpace(fmt.Sprintf("%s, %s: %s to %s N·m", t.Family, t.Joint, figure(t.Low), figure(t.High)))
}
