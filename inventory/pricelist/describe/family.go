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

	aTool substitution.Family = "?tool" // for one of them
	aDrum substitution.Family = "?drum" // brake, whose shoes are none of ours
)

// sized are the families of which a list hardly sells one without saying a size, a number of teeth or of speeds.
var sized = []substitution.Family{
	"chain", "chain-joiner", "cassette", "freewheel", "sprocket", "chainring", "crankset", "bottom-bracket", "headset", "headset-bearing", "cartridge-bearing",
	"loose-balls", "ball-cage", "hub", "hub-cone", "axle", "rim", "rim-tape", "spoke", "nipple", "tyre", "tube", "seatpost", "stem", "handlebar",
	"rear-derailleur", "front-derailleur", "jockey-wheel", "disc-rotor", "cable-inner", "cable-outer",
}

// doubtful reports whether the name may be half the name of something else: nothing that was read fits the family, and behind
// its name stands a word that nobody knows. A "rim jack" is no rim, nor a "rear mech pivot bolt" a rear mech.
func (r *reading) doubtful(spec substitution.Spec) bool {
	if r.named < 0 || r.items[r.named].sense.own || !r.grammar.sized {
		return false
	}
	for name := range spec {
		if !isFinish(name) && name != "pack" && name != "position" && name != "use" {
			return false
		}
	}
	for i := r.named + 1; i < len(r.items); i++ {
		if it := &r.items[i]; it.kind == unknown && !it.used && it.clause == mainClause {
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
	case someBearing, somePads, someCable, aTool, aDrum:
		return true
	}
	return isSmall(f)
}

// decide says what family the description is of, or "" if it does not say.
//
// The first name outside a "for …" or "with …" clause counts, and of names side by side the last: "chain" is a chain,
// "headset balls" are balls, "chain tool" is no part of ours.
func (s *scratch) decide() substitution.Family {
	var found, weak substitution.Family
	at := -1
	s.other, s.named = [2]int{}, -1
	if s.saysNot() {
		return ""
	}
	for i := range s.items {
		it := &s.items[i]
		if it.sense == nil || it.kind != phrase {
			continue
		}
		if it.clause != mainClause {
			continue
		}
		named := it.sense.family
		beside := at >= 0 && (named != "" || it.sense.none) && (s.beside(at, i) || s.sameThing(at, i))
		switch {
		case it.sense.none && named == "" && (at < 0 || beside && !isSmall(found)):
			s.other = [2]int{i, i + 1}
			if beside {
				s.other[0] = at
			}
			return ""
		case named != "" && (at < 0 || beside && !partOf(found, named)):
			found, at = compound(found, named), i
		case i == 0 && it.sense.code != "":
			weak = it.sense.code
		case it.sense.weak != "" && weak == "":
			weak = it.sense.weak
		}
	}
	if found == "" {
		found = weak
		if found == "disc-rotor" && !s.hasFigure(120, 230) {
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

// saysNot reports whether a word says that the thing is none of our parts, whatever else is named: a tool for one, a kit of
// spares. What comes with a part, or what it is for, does not.
func (s *scratch) saysNot() bool {
	for i := range s.items {
		if it := &s.items[i]; it.kind == phrase && it.clause == mainClause && it.sense.not {
			s.other = [2]int{i, i + 1}
			return true
		}
	}
	return false
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
	if isSmall(first) {
		return true
	}
	switch first {
	case "lubricant", "grease", "cleaner", "consumable", "bolt":
		return true
	case "hub":
		return second == "freewheel" || second == "cassette" || second == "freehub-body"
	case "crankset":
		return second == "chainring"
	case "loose-balls", "ball-cage", "headset-bearing":
		return second == "headset" || second == "hub" || second == "bottom-bracket" || second == "bearing"
	case "brake-caliper":
		return second == "disc-rotor"
	case "tube":
		return second == "tyre"
	case "rim-pad":
		return second == "rim"
	}
	return false
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

// whichOf settles a name that several families share by what else is said.
func (s *scratch) whichOf(f substitution.Family) substitution.Family {
	switch f {
	case someBearing:
		if s.mentions("headset") && !s.namesBearing() || s.hasAngles() {
			return "headset-bearing"
		}
		return "cartridge-bearing"
	case somePads:
		disc, rim := s.hints("disc-pad", "compound", "pad_shape"), s.hints("rim-pad", "pad_fixing", "rim_material")
		switch {
		case disc && !rim:
			return "disc-pad"
		case rim && !disc:
			return "rim-pad"
		}
		return ""
	case someCable:
		inner, outer := s.hints("cable-inner", "nipple", ""), s.hints("cable-outer", "", "")
		if !inner && !outer {
			inner, outer = s.hasFigure(1, 2) || s.hasFigure(1000, 3500), s.hasFigure(4, 6)
		}
		switch {
		case inner && !outer:
			return "cable-inner"
		case outer && !inner:
			return "cable-outer"
		}
		return ""
	}
	if isSmall(f) {
		return s.whichSmall(f)
	}
	return f
}

func (s *scratch) mentions(f substitution.Family) bool {
	for i := range s.items {
		if it := &s.items[i]; it.sense != nil && it.sense.family == f {
			return true
		}
	}
	return false
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
