package describe

import "stead/substitution"

// comeAlong are the families that a list names beside a part because they come with it: a hub with its skewer, spokes
// and nipples. They make no bundle.
var comeAlong = map[substitution.Family]bool{
	"consumable": true, "bolt": true, "bar-plug": true, "cleat": true, "chain-joiner": true, "headset-spacer": true, "top-cap": true,
	"axle-nut": true, "skewer": true, "crown-race": true, "seat-clamp": true, "nipple": true, "freehub-body": true, "chainring-bolt": true,
	"lamp-wire": true, "dynamo": true, "chain-guard": true, "cartridge-bearing": true, "loose-balls": true, "ball-cage": true, "axle": true,
	"lubricant": true, "grease": true, "brake-adapter": true, "disc-pad": true, "rim-pad": true,
}

// isBundle reports whether the description is of several parts that are sold together: "chain + cassette", "kit of
// cable and housing". What comes "with" a part, or is what it is "for", makes no bundle of it.
func (s *scratch) isBundle() bool {
	first := -1
	for i := range s.items {
		it := &s.items[i]
		if it.kind != phrase || !it.sense.major {
			continue
		}
		switch {
		case first < 0 && it.clause == mainClause && it.sense.family != "":
			first = i
		case first >= 0 && s.joinsParts(first, i):
			s.other = [2]int{first, i + 1}
			return true
		}
	}
	return false
}

// isMajor reports whether a phrase names a part that is sold for itself, whatever it comes with.
func (s *sense) isMajor() bool {
	f := s.partNamed()
	return f != "" && !comeAlong[f] && !isSmall(f) && f != someBearing && f != somePads
}

// partNamed is the part that a phrase names: "inner" beside a cable's housing is its wire.
func (s *sense) partNamed() substitution.Family {
	if s.family == "" && (s.hint == "cable-inner" || s.hint == "cable-outer") {
		return s.hint
	}
	return s.family
}

func isCable(f substitution.Family) bool {
	return f == "cable-inner" || f == "cable-outer" || f == someCable
}

// joinsParts reports whether "and" or a plus stands between two names of different parts, or a comma where a word says
// that there are several.
func (s *scratch) joinsParts(i, j int) bool {
	a, b := s.items[i].sense.partNamed(), s.items[j].sense.partNamed()
	if a == b || partOf(a, b) || s.items[j].sense.family == "" && !isCable(a) {
		return false
	}
	if s.items[j].clause == withClause {
		return s.opensWithAnd(j)
	}
	return s.items[j].clause == mainClause && !s.goesOn(i, j) && (s.saysSeveral() || s.andBetween(i, j))
}

// andBetween reports whether an "and" that opens no clause stands between two items.
func (s *scratch) andBetween(i, j int) bool {
	for k := i + 1; k < j; k++ {
		if it := &s.items[k]; it.kind == phrase && s.isAnd(it) {
			return true
		}
	}
	return false
}

// opensWithAnd reports whether the clause that item i stands in was opened by an "and" or a plus.
func (s *scratch) opensWithAnd(i int) bool {
	for k := i - 1; k > 0 && s.items[k].clause == withClause; k-- {
		if it := &s.items[k]; it.kind == phrase && it.sense.opens == withClause {
			return s.isAnd(it)
		}
	}
	return false
}

// isAnd reports whether a word that opens a clause only joins two things.
func (s *scratch) isAnd(it *item) bool {
	switch string(s.lower(&s.tokens[it.first])) {
	case "and", "&", "+", "und", "et", "e", "en":
		return true
	}
	return false
}

func (s *scratch) saysSeveral() bool {
	for i := range s.items {
		if it := &s.items[i]; it.kind == phrase && it.sense.several {
			return true
		}
	}
	return false
}
