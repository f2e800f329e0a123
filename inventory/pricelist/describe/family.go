package describe

import (
	"slices"

	"stead/substitution"
)

// Some names are short for several families; the rest of the description says which.
const (
	someBearing substitution.Family = "?bearing"
	somePads    substitution.Family = "?pads"
	someCable   substitution.Family = "?cable"

	someLockring substitution.Family = "?lockring"
	someSpacer   substitution.Family = "?spacer"
	someShim     substitution.Family = "?shim"
	someAdapter  substitution.Family = "?adapter"
	someOlive    substitution.Family = "?olive"
	someWasher   substitution.Family = "?washer"
	someEndCap   substitution.Family = "?end-cap"
	someExpander substitution.Family = "?expander"

	someBracket    substitution.Family = "?bracket"
	someDerailleur substitution.Family = "?derailleur"

	aTool    substitution.Family = "?tool"     // for one of them
	aDrum    substitution.Family = "?drum"     // brake, whose shoes are none of ours
	aGearHub substitution.Family = "?gear-hub" // for which a shifter or a dust cap is

	aSclaverand substitution.Family = "?sclaverand" // in the languages that call a Presta valve so
)

// sized are the families of which a list hardly sells one without saying a size, a number of teeth or of speeds.
var sized = []substitution.Family{
	"chain", "chain-joiner", "cassette", "freewheel", "sprocket", "chainring", "crankset", "bottom-bracket", "headset", "headset-bearing", "cartridge-bearing",
	"loose-balls", "ball-cage", "hub", "hub-cone", "axle", "rim", "rim-tape", "spoke", "nipple", "tyre", "tube", "seatpost", "stem", "handlebar",
	"rear-derailleur", "front-derailleur", "jockey-wheel", "disc-rotor", "cable-inner", "cable-outer",
}

// doubtful reports whether the name may be half the name of something else: nothing that was read fits the family, and
// behind its name stands a word that nobody knows. A "rim jack" is no rim, nor a "rear mech pivot bolt" a rear mech.
func (r *reading) doubtful(spec substitution.Spec) bool {
	if r.named < 0 || r.items[r.named].sense.own {
		return false
	}
	if r.isOfUnknown() {
		return true
	}
	if !r.grammar.sized || saysSize(spec) {
		return false
	}
	for i := r.named + 1; i < len(r.items); i++ {
		if it := &r.items[i]; it.kind == unknown && !it.used && it.clause == mainClause {
			return true
		}
	}
	return false
}

// isOfUnknown reports whether the name only says what a thing that nobody knows is of: a "Steuersatz-Austreiber", a
// "sangle de pédale".
func (r *reading) isOfUnknown() bool {
	if before := r.named - 2; before >= 0 && r.items[before].kind == unknown && (r.isLink(r.named-1) || r.isWord(r.named-1, "a")) {
		return true
	}
	dash, behind := r.named+1, r.named+2
	return behind < len(r.items) && r.isJoint(dash, "-") && r.glued(dash) && r.glued(behind) && r.items[behind].kind == unknown &&
		r.letters(behind) >= shortestStem && !(behind+1 < len(r.items) && r.glued(behind+1) && r.items[behind+1].kind == figure)
}

// isLink reports whether the item is a small word between the nouns of a French, Italian or Dutch name.
func (r *reading) isLink(i int) bool {
	it := &r.items[i]
	return it.kind == phrase && it.last == it.first+1 && base().links[r.tokens[it.first].id]
}

// letters is how long the item's first word is.
func (r *reading) letters(i int) int {
	t := &r.tokens[r.items[i].first]
	return t.norm[1] - t.norm[0]
}

// saysSize reports whether a spec has a dimension beside finish, pack, place and use.
func saysSize(spec substitution.Spec) bool {
	for name := range spec {
		if !isFinish(name) && name != "pack" && name != "position" && name != "use" {
			return true
		}
	}
	return false
}

// otherWords are the words that say it is none of our parts.
func (r *reading) otherWords() string {
	if r.other[1] == 0 {
		return ""
	}
	start, _ := r.span(&r.items[r.other[0]])
	_, end := r.span(&r.items[r.other[1]-1])
	return r.text[start:end]
}

func isKind(f substitution.Family) bool {
	switch f {
	case someBearing, somePads, someCable, someBracket, someDerailleur, aTool, aDrum, aGearHub, aSclaverand:
		return true
	}
	return isSmall(f)
}

// decide says what family the description is of, or "" if it does not say.
//
// The first name outside a "for …" or "with …" clause counts, and of names side by side the last: "chain" is a chain,
// "headset balls" are balls, "chain tool" is no part of ours.
func (s *scratch) decide() substitution.Family {
	s.other, s.named = [2]int{}, -1
	if s.saysNot() || s.isBundle() {
		return ""
	}
	found, at := s.name()
	if s.other[1] > 0 || s.mayBeTool(at) {
		return ""
	}
	if found == "bolt" && s.boltsOn(at) {
		found, at = s.items[0].sense.code, 0
	}
	if found == "" {
		if found = s.weakName(); !s.bearsOut(found) {
			return ""
		}
	}
	found, s.named = s.whichOf(found), at
	if (found == "rim-pad" || found == "") && s.hints(aDrum, "", "") {
		s.other = [2]int{0, len(s.items)}
		return ""
	}
	return found
}

// boltsOn reports whether a bolt only says how a part is held that the text begins with, and whose teeth stand between:
// "RD 8s max 34T hanger bolt M10x1". By its speeds alone a bolt says what it is for: "RD 8s pivot bolt M4".
func (s *scratch) boltsOn(at int) bool {
	return at > 1 && s.items[0].kind == phrase && s.items[0].sense.code != "" && slices.ContainsFunc(s.items[1:at], func(it item) bool { return it.kind == figure && it.unit&(teeth|speeds) == teeth })
}

// bearsOut reports whether the figures of a part are there of which only a weak word speaks: "BSA" is also what a cup or a tool
// is for, "104 BCD" a spider's, and a "connector" a lamp's.
func (s *scratch) bearsOut(weak substitution.Family) bool {
	switch weak {
	case "disc-rotor":
		return s.hasFigure(120, 230)
	case "chain-joiner":
		return s.hasUnit(speeds) && s.knowsEveryWord()
	case "chainring":
		return s.hasUnit(teeth) && s.knowsEveryWord()
	case "bottom-bracket":
		return s.saysDimension("spindle_interface") && s.knowsEveryWord()
	}
	return true
}

// knowsEveryWord reports whether no word is unknown, which may be the name of what is sold.
func (s *scratch) knowsEveryWord() bool {
	return !slices.ContainsFunc(s.items, func(it item) bool { return it.kind == unknown && it.clause == mainClause })
}

// mayBeTool reports whether a description begins with a word that is cut at a stop and may be a tool for what is
// named behind it: "Chi. pedali" is a spanner.
func (s *scratch) mayBeTool(at int) bool {
	if at < 1 || s.items[0].kind != unknown {
		return false
	}
	first := s.items[0].first
	return s.stopped(first) && base().near.mayBeTool(s.lower(&s.tokens[first]))
}

// name is the name that counts and the item where it ends; "" and -1 if there is none. Where it turns out to be of none
// of our parts, it notes the words that say so.
func (s *scratch) name() (found substitution.Family, at int) {
	at = -1
	for i := range s.items {
		it := &s.items[i]
		if it.kind != phrase || it.clause != mainClause {
			continue
		}
		switch named := it.sense.family; {
		case named != "":
			if at < 0 || s.goesOn(at, i) && !partOf(found, named) {
				found, at = compound(found, named), i
			}
		case it.sense.none && s.isOther(found, at, i):
			if at < 0 {
				at = i
			}
			s.other = [2]int{at, i + 1}
			return "", -1
		}
	}
	return found, at
}

// goesOn reports whether the name at item i goes on at item j.
func (s *scratch) goesOn(i, j int) bool { return s.beside(i, j) || s.sameThing(i, j) }

// isOther reports whether the word at item i, of none of our parts, says what the thing is: alone it does, unless it
// describes what is named behind it; beside a name it does, unless it describes that, or that is of a small part or
// seals it.
func (s *scratch) isOther(found substitution.Family, at, i int) bool {
	if at < 0 {
		return !s.saysOfLater(i)
	}
	return !s.items[i].sense.whole && s.goesOn(at, i) && !s.items[i].sense.describes(found) && !isSmall(found) && found != "seal-kit"
}

// weakName is what the thing is if no name says it: by the code that the text begins with, or by the first word that is
// a name where nothing better is said.
func (s *scratch) weakName() substitution.Family {
	for i := range s.items {
		it := &s.items[i]
		if it.kind != phrase || it.clause != mainClause {
			continue
		}
		weak := it.sense.weak
		if i == 0 && it.sense.code != "" {
			weak = it.sense.code
		}
		if weak != "" {
			return weak
		}
	}
	return ""
}

// describes reports whether the word gives a dimension of this family and of few others: a lamp's battery is none of
// our parts, but says what feeds the lamp.
func (s *sense) describes(f substitution.Family) bool {
	return slices.ContainsFunc(s.says, func(says says) bool { return says.in != nil && says.speaksOf(f) })
}

// saysNot reports whether a word says that the thing is none of our parts, whatever else is named: a tool for one, a kit of
// spares. What comes with a part, or what it is for, does not.
func (s *scratch) saysNot() bool {
	for i := range s.items {
		if it := &s.items[i]; it.kind == phrase && it.sense.not && (it.clause == mainClause || it.clause == withClause && s.afterAnd(i)) {
			s.other = [2]int{i, i + 1}
			return true
		}
	}
	return false
}

// afterAnd reports whether an "and" or "&" joins item i to what stands before it, with nothing but names between: a "cable &
// housing cutter" cuts both, and what is "supplied with" a tool is none.
func (s *scratch) afterAnd(i int) bool {
	for k := i - 1; k > 0; k-- {
		it := &s.items[k]
		if it.kind != phrase {
			return false
		}
		if it.sense.opens == withClause {
			return s.isAnd(it) && s.items[k-1].kind == phrase
		}
	}
	return false
}

// saysOfLater reports whether a word that is none of our parts only describes a part that is named right behind it: the
// battery of a "battery rear lamp", the wheel of a "rear wheel hub".
func (s *scratch) saysOfLater(i int) bool {
	for j := i + 1; j < len(s.items) && s.items[j].clause == mainClause; j++ {
		if it := &s.items[j]; it.kind == joint && it.joint == '-' {
			continue
		} else if it.kind != phrase || s.isAnd(it) {
			return false
		}
		if f := s.items[j].sense.family; f != "" {
			return s.items[i].sense.whole || s.items[i].sense.describes(f)
		}
	}
	return false
}

// saysMoreOf are, by the family that is named first, those whose name beside it only says more of it.
var saysMoreOf = map[substitution.Family][]substitution.Family{
	"bleed-kit":         {"lubricant", "consumable"}, // "bleed kit mineral oil"
	"hub":               {"freewheel", "cassette", "freehub-body", "axle", "skewer", "axle-nut"},
	"crankset":          {"chainring"},
	"loose-balls":       {"headset", "hub", "bottom-bracket", "bearing"},
	"ball-cage":         {"headset", "hub", "bottom-bracket", "bearing"},
	"cartridge-bearing": {"crankset"}, // a French "pédalier" is the bottom bracket too
	"headset-bearing":   {"headset", "hub", "bottom-bracket", "bearing"},
	"brake-caliper":     {"disc-rotor", "lubricant", "consumable"},
	"tube":              {"tyre"},
	"lamp":              {"dynamo", "mudguard", "rack", "seatpost", "stem", "handlebar"}, // what feeds it, and what it is on
	"child-seat":        {"rack", "handlebar", "seatpost"},
	"basket":            {"rack", "handlebar", "stem"},
	"bell":              {"handlebar", "stem"},
	"display":           {"handlebar", "stem"}, // what they are on
	"drive-battery":     {"rack", "seatpost"},
	"charger":           {"drive-battery"}, // what it fills
	"kickstand":         {"rack"},
	"service-kit":       {"shock", "fork-seal", "suspension-oil"},
	"bottle-cage":       {"handlebar", "stem", "seatpost"},
	"speed-sensor":      {"hub", "spoke", "rim", "display"},
	"wheel-magnet":      {"spoke", "rim", "speed-sensor"},
	"mudguard":          {"tyre", "fork-seal", "seatpost"},
	"frame-lock":        {"mudguard", "chain"},
	"bar-plug":          {"handlebar", "bar-tape"},
	"cleat":             {"pedal"},
	"brake-adapter":     {"brake-caliper", "disc-rotor"},
	"brake-lever":       {"handlebar", "cable-inner", someCable, "lubricant", "consumable"}, // the bar that they are for, and what pulls them
	"brake-hose":        {"brake-caliper", "brake-lever", "lubricant", "consumable"},
	"rack":              {"seatpost", "axle", "skewer", "thru-axle"}, // what they are on
	"axle":              {"cable-inner", someCable},                  // an Italian "cavo" is hollow
	"hanger":            {"rear-derailleur", "thru-axle", "axle"},
	"saddle":            {"hanger"},
	"rim-pad":           {"rim"},
	"skewer":            {"bolt"}, // what closes it
	"seat-clamp":        {"bolt", "skewer"},
	"chain-guard":       {"chain"},
	"lamp-wire":         {"dynamo", "lamp"},
	"shifter":           {"hub"},
	"jockey-wheel":      {"rear-derailleur"},
	"indicator-chain":   {"hub", "hub-shifter"},
	"hub-internals":     {"hub"},
	"non-turn-washer":   {"hub", "axle"},
	"hub-spare":         {"hub", "sprocket", "bolt"},
	"hub-shifter":       {"hub", "shifter"},
}

// partOf reports whether the second of two names side by side only says more of the first: a "cassette hub" was one
// phrase, but in "hub freewheel thread" the hub stays a hub.
func partOf(first, second substitution.Family) bool {
	switch second {
	case someSpacer, someShim, someAdapter: // whatever it is of
		return false
	case someLockring:
		return isSmall(first)
	case someOlive: // "grips olive" are green
		return first != "brake-caliper"
	}
	switch first {
	case "seal-kit": // whatever it seals
		return true
	case "lubricant", "grease", "cleaner", "consumable", "bolt": // whatever it is for, but for a kit with it
		return second != "bleed-kit" && second != "seal-kit"
	}
	return isSmall(first) || slices.Contains(saysMoreOf[first], second)
}

// compound is the family that two names side by side make together: "single chainring bolts".
func compound(first, second substitution.Family) substitution.Family {
	switch {
	case first == "chainring" && second == "bolt":
		return "chainring-bolt"
	case first == "headset" && second == someBearing:
		return "headset-bearing"
	case (first == "cable-outer" || first == "cable-inner" || first == someCable) && second == "consumable":
		return "consumable"
	}
	return second
}

// beside reports whether only a dash stands between two items.
func (s *scratch) beside(i, j int) bool {
	for k := i + 1; k < j; k++ {
		if s.items[k].kind != joint || s.items[k].joint != '-' {
			return false
		}
	}
	return true
}

// sameThing reports whether a name that says little by itself ends one that began earlier: "cassette HG lockring". In
// "cassette with alloy spacers" it does not, nor in "hub fixed lockring".
func (s *scratch) sameThing(i, j int) bool {
	switch s.items[j].sense.family {
	case someSpacer, someShim, someAdapter:
	case someLockring:
		if first := s.items[i].sense.family; first != "cassette" && first != "disc-rotor" {
			return false
		}
	default:
		return false
	}
	for k := i + 1; k < j; k++ {
		it := &s.items[k]
		if it.kind != phrase && (it.kind != joint || it.joint != '-') {
			return false
		}
		if it.sense != nil && slices.ContainsFunc(it.sense.says, func(s says) bool { return isFinish(s.dimension) }) {
			return false
		}
	}
	return true
}

func (s *scratch) hasFigure(low, high float64) bool {
	for i := range s.items {
		if it := &s.items[i]; it.kind == figure && it.value >= low && it.value <= high {
			return true
		}
	}
	return false
}

func (s *scratch) hasUnit(u unit) bool {
	return slices.ContainsFunc(s.items, func(it item) bool { return it.kind == figure && it.unit&u != 0 })
}

func (s *scratch) mentions(f substitution.Family) bool {
	for i := range s.items {
		if it := &s.items[i]; it.sense != nil && it.sense.family == f {
			return true
		}
	}
	return false
}

// saysDimension reports whether a word gives the dimension.
func (s *scratch) saysDimension(dim string) bool {
	return slices.ContainsFunc(s.items, func(it item) bool {
		return it.kind == phrase && slices.ContainsFunc(it.sense.says, func(says says) bool { return says.dimension == dim })
	})
}

// hints reports whether a word hints at the family or gives one of two dimensions that only it has.
func (s *scratch) hints(f substitution.Family, dim1, dim2 string) bool {
	for i := range s.items {
		it := &s.items[i]
		if it.sense == nil {
			continue
		}
		if it.sense.hint == f || it.sense.family == f {
			return true
		}
		for _, says := range it.sense.says {
			if says.dimension == dim1 || says.dimension == dim2 {
				return true
			}
		}
	}
	return false
}
