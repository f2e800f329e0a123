package substitution

import (
	"fmt"
	"slices"
)

// Torque is how tight a joint is by a published list, in newton metres. It brackets a figure that nobody marked on the part:
// the part's own mark counts before it, then its maker's manual.
type Torque struct {
	Family    Family
	Joint     string  // "crank bolt of a square or splined spindle"
	At        []Place // where a family has several places: those that have this joint; none: all
	Dimension string  // where the joint is that of some parts only: the dimension that tells, and its words
	Words     []string
	Low, High float64
	Differ    string // where the lists differ by more than twice, what each says: none of them is to be gone by
	Source    Source
}

var (
	byTorqueList = Source{"torque list of a bike maker's family, as villagecycle.com and dedhambike.com have it", Handbook}
	byCargoBook  = Source{"owner's manual of a cargo bike, torque appendix; high for light parts", Handbook}
	bySeatManual = Source{"two bike makers' manuals of 2002 and 2003, in lb·in", Handbook}
	byNutManuals = Source{"three bike makers' manuals: 180 to 240 lb·in in front, 240 to 300 behind", Handbook}
	byCrankLists = Source{"three lists of M8 bolts: 34.5 to 44.2, 38 to 42 and 39.5 to 49.2", Handbook}
	bySplineList = Source{"two lists: cranks 34.5 to 44.2, M12 and M15 bolts 47.5 to 54.2", Handbook}
	byStemLists  = Source{"a repair page (bikemaintenancepros.com), a stem's manual and that of a cargo bike", TradePage}
	byClampLists = Source{"a repair page (bikemaintenancepros.com) and two bike makers' manuals of 2002 and 2003", TradePage}
)

// The words of dimensions by which joints are told apart.
var (
	squareTaper = []string{"jis-taper", "iso-taper"}
	splined     = []string{"octalink", "isis"}
	postOrTabs  = []string{"post", "is"}
)

const (
	steererLists = "5 to 7, 11.3 to 13.6 and 13.6 to 16.3"
	barLists     = "4 to 6, 11.3 to 13.6 in a welded stem, 17 to 20.3 in a forged one, 19.7 to 29.4 on a cargo bike"
	postLists    = "5 to 7, and 9.6 to 14.1"
)

// torques lists the joints of which a figure can be cited, and no other.
var torques = []Torque{
	{Family: "bottom-bracket", Joint: "cups on a thread", Dimension: "shell", Words: []string{"bsa", "iso", "italian", "french", "swiss"}, Low: 33.9, High: 40.7, Source: Source{"torque list of a bike maker's family: 300 to 360 lb·in", Handbook}},
	{Family: "headset", Joint: "locknut on a thread", Dimension: "kind", Words: []string{"threaded"}, Low: 14.7, High: 16.9, Source: byCargoBook},
	{Family: "stem", Joint: "clamp on the steerer", Dimension: "kind", Words: []string{"clamp"}, Low: 5, High: 16.3, Differ: steererLists, Source: byStemLists},
	{Family: "stem", Joint: "wedge of the quill", Dimension: "kind", Words: []string{"quill"}, Low: 19.7, High: 29.4, Source: Source{"manuals of a cargo bike and of a stem: 175 to 260 lb·in", Handbook}},
	{Family: "handlebar", Joint: "bar in the stem", Low: 4, High: 29.4, Differ: barLists, Source: byStemLists},
	{Family: "bolt", Joint: "bar or steerer in the stem", At: []Place{"stem.bolts"}, Low: 4, High: 29.4, Differ: barLists, Source: byStemLists},
	{Family: "crankset", Joint: "crank bolt of a square taper", Dimension: "spindle_interface", Words: squareTaper, Low: 34.5, High: 49.2, Source: byCrankLists},
	{Family: "crankset", Joint: "crank bolt of a splined spindle", Dimension: "spindle_interface", Words: splined, Low: 34.5, High: 54.2, Source: bySplineList},
	{Family: "crankset", Joint: "pinch bolts of a hollow axle", Dimension: "spindle_interface", Words: []string{"24mm"}, Low: 12, High: 15, Source: byTorqueList},
	{Family: "crank-arm", Joint: "crank bolt of a square taper", Dimension: "spindle_interface", Words: squareTaper, Low: 34.5, High: 49.2, Source: byCrankLists},
	{Family: "crank-arm", Joint: "crank bolt of a splined spindle", Dimension: "spindle_interface", Words: splined, Low: 34.5, High: 54.2, Source: bySplineList},
	{Family: "crank-arm", Joint: "pinch bolts of a hollow axle", Dimension: "spindle_interface", Words: []string{"24mm"}, Low: 12, High: 15, Source: byTorqueList},
	{Family: "bolt", Joint: "crank bolt of a square taper", At: []Place{"crank.bolts"}, Dimension: "thread", Words: []string{"M8x1"}, Low: 34.5, High: 49.2, Source: byCrankLists},
	{Family: "bolt", Joint: "crank bolt of a splined spindle", At: []Place{"crank.bolts"}, Dimension: "thread", Words: []string{"M12x1", "M15x1"}, Low: 34.5, High: 54.2, Source: bySplineList},
	{Family: "pedal", Joint: "spindle in the arm", Low: 34.7, High: 39.5, Source: byCargoBook},
	{Family: "chainring-bolt", Joint: "bolt of steel", Dimension: "material", Words: []string{"steel", "stainless"}, Low: 7.9, High: 14, Source: Source{"two lists: 7.9 to 10.7 and 12 to 14", Handbook}},
	{Family: "chainring-bolt", Joint: "bolt of alloy", Dimension: "material", Words: []string{"alloy"}, Low: 5, High: 9.9, Source: Source{"two lists: 5 to 9.9 and 8 to 9", Handbook}},
	{Family: "cassette", Joint: "lockring", Low: 30, High: 50, Source: byTorqueList},
	{Family: "front-derailleur", Joint: "band round the tube", Dimension: "mount", Words: []string{"clamp"}, Low: 2.8, High: 4, Source: byTorqueList},
	{Family: "front-derailleur", Joint: "bolt in the tab", Dimension: "mount", Words: []string{"braze-on"}, Low: 4.9, High: 6.8, Source: byTorqueList},
	{Family: "rear-derailleur", Joint: "bolt in the hanger", Dimension: "mount", Words: []string{"hanger"}, Low: 7.9, High: 9.6, Source: byTorqueList},
	{Family: "cable-inner", Joint: "cable's bolt at the brake", At: []Place{"front.brake-cable", "rear.brake-cable"}, Low: 5.7, High: 7.9, Source: byTorqueList},
	{Family: "cable-inner", Joint: "cable's bolt at the rear derailleur", At: []Place{"rear.gear-cable"}, Low: 4, High: 5.9, Source: Source{"torque list of a bike maker's family: 35 to 52 lb·in", Handbook}},
	{Family: "cable-inner", Joint: "cable's bolt at the front derailleur", At: []Place{"front.gear-cable"}, Low: 5, High: 6.8, Source: byCargoBook},
	{Family: "disc-rotor", Joint: "lockring", Dimension: "rotor_mount", Words: []string{"centre-lock"}, Low: 39.5, High: 40.2, Source: byTorqueList},
	{Family: "disc-rotor", Joint: "bolts", Dimension: "rotor_mount", Words: []string{"6-bolt"}, Low: 5, High: 6.2, Source: byTorqueList},
	{Family: "bolt", Joint: "rotor's bolts", At: []Place{"front.rotor.bolts", "rear.rotor.bolts"}, Low: 5, High: 6.2, Source: byTorqueList},
	{Family: "brake-caliper", Joint: "M6 bolts of a disc caliper", Dimension: "mount", Words: postOrTabs, Low: 11.3, High: 12.4, Source: byTorqueList},
	{Family: "brake-caliper", Joint: "M5 bolts of a disc caliper", Dimension: "mount", Words: []string{"flat"}, Low: 6.8, High: 7.3, Source: byTorqueList},
	{Family: "brake-caliper", Joint: "bolt of a brake arm", Dimension: "mount", Words: []string{"cantilever", "u-brake"}, Low: 7.9, High: 9.6, Source: byTorqueList},
	{Family: "brake-caliper", Joint: "bolt of a road caliper", At: []Place{"front.caliper"}, Dimension: "mount", Words: []string{"single-bolt"}, Low: 6, High: 7, Source: byTorqueList},
	{Family: "brake-caliper", Joint: "bolt of a road caliper", At: []Place{"rear.caliper"}, Dimension: "mount", Words: []string{"single-bolt"}, Low: 7.9, High: 9.6, Source: byTorqueList},
	{Family: "bolt", Joint: "M6 bolts of a disc caliper", At: []Place{"front.caliper.bolts", "rear.caliper.bolts"}, Dimension: "thread", Words: []string{"M6x1"}, Low: 11.3, High: 12.4, Source: byTorqueList},
	{Family: "bolt", Joint: "M5 bolts of a disc caliper", At: []Place{"front.caliper.bolts", "rear.caliper.bolts"}, Dimension: "thread", Words: []string{"M5x0.8"}, Low: 6.8, High: 7.3, Source: byTorqueList},
	{Family: "brake-adapter", Joint: "M6 bolts", Dimension: "mount_from", Words: postOrTabs, Low: 11.3, High: 12.4, Source: byTorqueList},
	{Family: "brake-adapter", Joint: "M5 bolts", Dimension: "mount_from", Words: []string{"flat"}, Low: 6.8, High: 7.3, Source: byTorqueList},
	{Family: "rim-pad", Joint: "pad on a brake arm", Dimension: "pad_fixing", Words: []string{"threaded", "smooth-post"}, Low: 7.9, High: 9, Source: byTorqueList},
	{Family: "rim-pad", Joint: "pad on a road caliper", Dimension: "pad_fixing", Words: []string{"threaded", "cartridge-insert"}, Low: 4.5, High: 6.8, Source: byTorqueList},
	{Family: "axle-nut", Joint: "nuts of a front wheel", At: []Place{"front.axle-nuts"}, Low: 20.3, High: 27.1, Source: byNutManuals},
	{Family: "axle-nut", Joint: "nuts of a rear wheel", At: []Place{"rear.axle-nuts"}, Low: 27.1, High: 33.9, Source: byNutManuals},
	{Family: "seat-clamp", Joint: "bolt", Dimension: "kind", Words: []string{"bolt"}, Low: 5, High: 14.1, Differ: postLists, Source: byClampLists},
	{Family: "bolt", Joint: "seat clamp", At: []Place{"seatpost.clamp-bolt"}, Low: 5, High: 14.1, Differ: postLists, Source: byClampLists},
	{Family: "saddle", Joint: "one bolt with a 6 mm key", Low: 17, High: 28.3, Source: bySeatManual},
	{Family: "saddle", Joint: "two bolts with a 5 mm key", Low: 9.6, High: 14.1, Source: bySeatManual},
	{Family: "saddle", Joint: "two bolts with a 4 mm key", Low: 5.1, High: 6.8, Source: bySeatManual},
	{Family: "saddle", Joint: "nuts for a 13 or 14 mm spanner", Low: 20.3, High: 24.9, Source: bySeatManual},
	{Family: "bolt", Joint: "one saddle bolt with a 6 mm key", At: []Place{"seatpost.saddle-bolts"}, Low: 17, High: 28.3, Source: bySeatManual},
	{Family: "bolt", Joint: "two saddle bolts with a 5 mm key", At: []Place{"seatpost.saddle-bolts"}, Low: 9.6, High: 14.1, Source: bySeatManual},
	{Family: "bolt", Joint: "two saddle bolts with a 4 mm key", At: []Place{"seatpost.saddle-bolts"}, Low: 5.1, High: 6.8, Source: bySeatManual},
}

// Torques are the joints of which a published figure can be cited, then those that hold the rider and of which none
// can: they have no figures, and are put on by their makers'.
func Torques() []Torque {
	out := slices.Clone(torques)
	for _, site := range Sites() {
		if site.Safety && tightened[site.Family] && len(torquesAt(site, nil)) == 0 {
			out = append(out, Torque{Family: site.Family, Joint: site.Words, At: []Place{site.Place}, Source: byNoList})
		}
	}
	return out
}

// byNoList is what stands where no figure could be cited.
var byNoList = Source{"its maker's figure: none that could be cited is on record here", Catalogue}

// Places are the places that have the joint.
func (t Torque) Places() []Place {
	if len(t.At) > 0 {
		return t.At
	}
	var out []Place
	for _, site := range Sites() {
		if site.Family == t.Family {
			out = append(out, site.Place)
		}
	}
	return out
}

// TorqueWords say how tight a part is put on at a place: by its own mark, else by what is published and how sure that
// is, else that its maker's figure is wanted; nothing for a place where neither is known and nobody's safety hangs on
// it.
func TorqueWords(place Place, part *Part) []string {
	if mark, known := part.Get("torque_nm"); known {
		return []string{fmt.Sprintf("%s N·m, as it is marked", mark)}
	}
	site, err := SiteOf(place)
	if err != nil {
		return nil
	}
	var out []string
	for _, t := range torquesAt(site, part) {
		out = append(out, t.words())
	}
	switch {
	case len(out) > 0:
		return append(out, "what is marked on it, or its maker's figure, counts before a list")
	case site.Safety && tightened[site.Family]:
		return []string{byNoList.Text}
	}
	return nil
}

// torquesAt are the listed joints that a part at the place has, or may have.
func torquesAt(site Site, part *Part) []Torque {
	var out []Torque
	for _, t := range torques {
		if t.Family == site.Family && (len(t.At) == 0 || slices.Contains(t.At, site.Place)) && t.ofPart(part) {
			out = append(out, t)
		}
	}
	return out
}

// words are the joint with its range and how sure that is.
func (t Torque) words() string {
	if t.Differ != "" {
		return fmt.Sprintf("%s: its maker's figure; lists differ, %s N·m (%s)", t.Joint, t.Differ, t.Source.Confidence)
	}
	return fmt.Sprintf("%s: %s to %s N·m by a list (%s)", t.Joint, figure(t.Low), figure(t.High), t.Source.Confidence)
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
var tightened = map[Family]bool{"stem": true, "handlebar": true, "seatpost": true, "seat-clamp": true, "saddle": true, "crankset": true, "crank-arm": true, "cotter-pin": true, "stabiliser": true, "pedal": true, "bolt": true,
	"chainring-bolt": true, "cable-inner": true, "brake-caliper": true, "brake-lever": true, "disc-rotor": true, "brake-adapter": true, "axle-nut": true, "skewer": true, "thru-axle": true, "headset": true,
	"fork": true, "bottom-bracket": true, "rim-pad": true, "disc-pad": true, "brake-hose": true, "seal-kit": true, "axle": true, "hub-cone": true, "hub-internals": true, "mudguard": true, "grip": true,
	"cleat": true, "rack": true, "child-seat": true, "peg": true, "shock": true}

// Range is what the lists say, in newton metres.
func (t Torque) Range() string {
	switch {
	case t.Source == byNoList:
		return "the maker's figure"
	case t.Differ != "":
		return "the maker's figure: " + t.Differ
	}
	return figure(t.Low) + " to " + figure(t.High)
}

// Grade is how sure the lists are; nothing where there is none.
func (t Torque) Grade() string {
	if t.Source == byNoList {
		return ""
	}
	return t.Source.Confidence.String()
}

// String is the joint with its figures.
func (t Torque) String() string { return fmt.Sprintf("%s, %s: %s N·m", t.Family, t.Joint, t.Range()) }
