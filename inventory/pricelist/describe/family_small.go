package describe

import (
	"slices"

	"stead/substitution"
)

// The small parts that other parts call for are consumables told apart by their purpose, and each is named by one size at
// most: a star nut by the steerer that it goes into, a spacer by its width. A fixed sprocket's lockring is kept with
// sprockets, by its thread. Each has a grammar under a name of its own, so that only its own size is read.
func smallGrammars() map[substitution.Family]*grammar {
	inSteerer := func(also ...reader) *grammar {
		return &grammar{
			also: append([]reader{readSteerer, doubtSteerer}, also...),
			// 25.4 mm alone is a steerer of one inch or the bore of one of an inch and an eighth.
			slots: []slot{{dim: "steerer_mm", labels: "steerer", units: "mm none", within: "25.4|28.6|31.8|38.1", alone: "28.6", bare: "28.6"}},
		}
	}
	all := map[substitution.Family]*grammar{
		"?cassette-lockring": {
			also:  []reader{doubtSmallest},
			slots: []slot{{dim: "teeth_min", labels: "teeth smallest", units: "teeth none", within: "9..18"}},
		},
		"?rotor-lockring": {words: "notches"},
		"?freehub-spacer": {
			also:  []reader{readSpacerWidth},
			slots: []slot{{dim: "width_mm", labels: "width height thickness", units: "mm none", within: "0.4..6", joined: "1|1.85"}},
		},
		"?brake-fluid":      {words: "fluid"},
		"?tubeless-valve":   {slots: []slot{{dim: "valve_mm", labels: "length", units: "mm none", within: "30..120", alone: "30..120"}}},
		"?tubular-tape":     {slots: []slot{{dim: "width_mm", labels: "width", units: "mm none", within: "14..40", alone: "16..30"}}},
		"?star-nut":         inSteerer(),
		"?steerer-expander": inSteerer(dropCarbon),
	}
	for _, plain := range []substitution.Family{
		"?rotor-adapter", "?clamp-shim", "?ferrule", "?cable-end", "?valve-reducer", "?crush-washer", "?hose-olive", "?hose-insert",
		"?post-sleeve", "?bar-shim", "?caliper-adapter", "?tab-clamp", "?sealant", "?tubeless-plug", "?tubular-glue", "?patch", "?derailleur-link",
	} {
		all[plain] = &grammar{}
	}
	for name, g := range all {
		g.of, g.purpose = "consumable", string(name[1:])
	}
	all["?track-lockring"] = &grammar{of: "sprocket", also: []reader{readLockringThread}}
	return all
}

// isSmall reports whether a name is that of a small part, or of several that go by one name.
func isSmall(f substitution.Family) bool {
	if f == "" || f[0] != '?' {
		return false
	}
	switch f {
	case someLockring, someSpacer, someShim, someAdapter, someOlive, someWasher, someEndCap, someExpander:
		return true
	}
	g := grammars()[f]
	return g != nil && g.of != ""
}

// whichOfSmall settles, of each name that several small parts share, which of them it is; "" where nothing tells.
var whichOfSmall = map[substitution.Family]func(*scratch) substitution.Family{
	someLockring:   (*scratch).whichLockring,
	someSpacer:     (*scratch).whichSpacer,
	someShim:       (*scratch).whichShim,
	someAdapter:    (*scratch).whichAdapter,
	someOlive:      (*scratch).whichOlive,
	someWasher:     (*scratch).whichWasher,
	someEndCap:     (*scratch).whichEndCap,
	someExpander:   (*scratch).whichExpander,
	"?hose-olive":  (*scratch).oliveOrKit,
	"?hose-insert": (*scratch).insertOrKit,
	"?cable-end":   (*scratch).whichCableEnd,
}

// whichSmall settles a small part's name by what else is said; "" where that does not tell, or tells of a tool for it.
func (s *scratch) whichSmall(f substitution.Family) substitution.Family {
	if s.saysTool() {
		return ""
	}
	if which := whichOfSmall[f]; which != nil {
		return which(s)
	}
	return f
}

func (s *scratch) whichSpacer() substitution.Family {
	if s.hints("cassette", "freehub", "") && !s.mentionsHub() && !s.mentionsAny("headset", "bottom-bracket", "pedal", "axle", "crankset") {
		return "?freehub-spacer"
	}
	if s.goesOnSteerer() && !s.mentionsAny("bottom-bracket", "pedal", "axle", "crankset", "cassette", "hub") {
		return "headset-spacer"
	}
	return ""
}

// goesOnSteerer reports whether the headset, a stem or a steerer's size is named.
func (s *scratch) goesOnSteerer() bool {
	if s.mentionsAny("headset", "stem") {
		return true
	}
	for i := range s.items {
		it := &s.items[i]
		if s.saysValue(i, "kind", "threadless") || it.kind == figure && it.value == 28.6 {
			return true
		}
		if it.kind == figure && it.value == 8 && i >= 3 && s.items[i-1].kind == joint && s.items[i-1].joint == '/' && s.items[i-2].value == 1 && s.wholeInch(i-3) {
			return true // one and an eighth
		}
	}
	return false
}

// wholeInch reports whether a one stands at item i, or before the dash there: the first of "1 1/8" and "1-1/8".
func (s *scratch) wholeInch(i int) bool {
	if s.items[i].kind == joint && (s.items[i].joint == '-' || s.items[i].joint == '"') && i > 0 {
		i--
	}
	return s.items[i].isWhole(1, 1)
}

func (s *scratch) whichShim() substitution.Family {
	switch {
	case s.mentions("front-derailleur"):
		return "?clamp-shim"
	case s.mentions("seatpost"):
		return "?post-sleeve"
	case s.mentionsAny("handlebar", "stem"):
		return "?bar-shim"
	}
	return ""
}

func (s *scratch) whichAdapter() substitution.Family {
	if s.putsSixBoltsOnSplines() {
		return "?rotor-adapter"
	}
	if mounts := s.brakeMounts(); mounts > 1 || mounts == 1 && s.hasFigure(140, 223) {
		return "brake-adapter"
	}
	return ""
}

// brakeMounts counts how often a brake's mount is named.
func (s *scratch) brakeMounts() int {
	n := 0
	for i := range s.items {
		if it := &s.items[i]; it.kind == phrase && slices.ContainsFunc(it.sense.says, func(says says) bool { return says.dimension == "mount_to" }) {
			n++
		}
	}
	return n
}

// whichOlive knows that olive is a colour too.
func (s *scratch) whichOlive() substitution.Family {
	switch {
	case s.mentions("?hose-insert"):
		return "consumable"
	case s.hints("?hose-olive", "", ""):
		return "?hose-olive"
	}
	return ""
}

func (s *scratch) oliveOrKit() substitution.Family {
	if s.mentionsKitOfHose() {
		return "consumable"
	}
	return "?hose-olive"
}

func (s *scratch) insertOrKit() substitution.Family {
	if s.mentionsKitOfHose() {
		return "consumable"
	}
	return "?hose-insert"
}

// mentionsKitOfHose reports whether olive and insert are named together: a kit of both is neither alone.
func (s *scratch) mentionsKitOfHose() bool {
	return s.mentionsAny("?hose-olive", someOlive) && s.mentions("?hose-insert")
}

func (s *scratch) whichWasher() substitution.Family {
	if s.hints("?crush-washer", "", "") {
		return "?crush-washer"
	}
	return "consumable"
}

func (s *scratch) whichExpander() substitution.Family {
	switch {
	case s.mentions("consumable"):
		return "consumable" // of a bar end
	case !s.hints("stem", "", "") && !s.mentionsAny("seatpost", "handlebar", "grip", "bar-tape", "bottom-bracket", "tube"):
		return "?steerer-expander"
	}
	return ""
}

func (s *scratch) whichCableEnd() substitution.Family {
	if s.hasMillimetres(3.5, 6.5) {
		return "consumable" // as thick as housing: a ferrule may be meant
	}
	return "?cable-end"
}

func (s *scratch) whichLockring() substitution.Family {
	threaded := s.hasLockringThread()
	cassette := s.mentions("cassette") || s.hints("?cassette-lockring", "freehub", "")
	rotor := s.mentions("disc-rotor") || s.saysMount("centre-lock") >= 0
	switch {
	case s.mentionsAny("bottom-bracket", "headset", "pedal", "crankset"):
		return ""
	case threaded && !cassette && !rotor:
		return "?track-lockring"
	case threaded || s.hints("?track-lockring", "", ""):
		return ""
	case cassette && rotor:
		return "consumable"
	case cassette:
		return "?cassette-lockring"
	case rotor:
		return "?rotor-lockring"
	}
	return ""
}

// whichEndCap tells the cap on a wire's end from the one on its housing, which is a ferrule.
func (s *scratch) whichEndCap() substitution.Family {
	inner, outer := s.mentions("cable-inner"), s.mentions("cable-outer")
	switch {
	case outer && !inner:
		return "?ferrule"
	case (inner || s.mentions(someCable)) && !outer && !s.hasMillimetres(3.5, 6.5):
		return "?cable-end"
	}
	return "consumable"
}

// putsSixBoltsOnSplines reports whether both mounts are said, and not those of the rare adapter for splined rotors.
func (s *scratch) putsSixBoltsOnSplines() bool {
	bolts, splines := s.saysMount("6-bolt"), s.saysMount("centre-lock")
	if bolts < 0 || splines < 0 {
		return false
	}
	named := func(i int, f substitution.Family) bool {
		return i < len(s.items) && s.items[i].sense != nil && s.items[i].sense.family == f
	}
	return !named(bolts+1, "hub") && (!named(splines+1, "disc-rotor") || named(splines+2, someAdapter))
}

// saysMount is the first item that says the rotor mount, -1 if none. Behind a stroke "6B" is a figure.
func (s *scratch) saysMount(mount string) int {
	for i := range s.items {
		it := &s.items[i]
		if s.saysValue(i, "rotor_mount", mount) || mount == "6-bolt" && it.kind == figure && it.value == 6 && it.unit&bolts != 0 {
			return i
		}
	}
	return -1
}

// saysTool reports whether the description is of a tool: one "for …" or "with …" a tool is none.
func (s *scratch) saysTool() bool {
	for i := range s.items {
		if it := &s.items[i]; it.kind == phrase && it.clause == mainClause && it.sense.hint == aTool {
			return true
		}
	}
	return false
}

// mentionsHub reports whether a hub is named otherwise than as a freehub.
func (s *scratch) mentionsHub() bool {
	for i := range s.items {
		if it := &s.items[i]; it.sense != nil && it.sense.family == "hub" && it.sense.hint != "cassette" {
			return true
		}
	}
	return false
}

func (s *scratch) mentionsAny(families ...substitution.Family) bool {
	for _, f := range families {
		if s.mentions(f) {
			return true
		}
	}
	return false
}

func (s *scratch) hasMillimetres(low, high float64) bool {
	for i := range s.items {
		if it := &s.items[i]; it.kind == figure && it.unit&mm != 0 && it.value >= low && it.value <= high {
			return true
		}
	}
	return false
}
