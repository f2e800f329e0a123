package note

import (
	"slices"

	"stead/substitution"
	"stead/substitution/inspection"
)

// predicate is one thing said of a part: what is to be done, what was read, a size. A void one is understood and says
// nothing that is kept.
type predicate struct {
	spans    []span
	action   inspection.Action
	readings []fact
	facts    []fact
	bend     bool // bent or out of true: what that is depends on the part
	straight bool // and its opposite
	balls    bool // of the balls inside
	caged    bool // of those in cages
	listed   bool // an action said of a list after a colon
	but      bool // "but" stands before it
	negated  bool
	plain    *predicate // what is denied
	void     bool
	segment  int
	glued    bool // said right after another, without a mark or "and" between
}

// unit is a part, or a list of them, with what is said of it.
type unit struct {
	parts    []*nounPhrase
	verb     *predicate // said before the list: "renew"
	says     []*predicate
	wanted   bool // what is named is wanted, not fitted
	same     bool // "the same" as what was said before
	sameAt   span
	sameOf   []string    // "the same size": nothing else of it
	sameAs   *nounPhrase // as what
	correct  bool        // it corrects what was said before
	scratch  bool
	excepted bool   // what was said before it in the sentence is not said of its parts
	apart    bool   // what is said right after its part is said of the rest
	instead  bool   // "that's the front hub"
	exchange bool   // what was said of two parts is the other way round
	forget   bool   // what was said of its parts is taken back
	inverted bool   // its parts are named after what is said of them: "no damage to frame or fork"
	marks    []span // words that bind it to what was said before
	but      bool
	pronoun  bool
	many     bool // they
	pending  bool // the verb may belong to the part before it instead
	elided   elision
	segment  int
}

// elision is what is left of "the rear is" and "the rear isn't" after something was said of the front.
type elision uint8

const (
	is elision = iota + 1
	isNot
)

// segment is a stretch between marks, or between one statement and the next.
type segment struct {
	first, last int
	kinds       [otherBike + 2]bool // the ways of not saying so that were met, by role
	dirty       bool                // it has a word that was not understood
	part, said  bool
	known       bool // the part is one of ours, or a bare end
	action      bool
	order       bool // a verb before its parts says what is to be done
	wish        bool // it says what is wanted
	priced      bool // it names a price or a time
	own         bool // "I found" begins it
	likes       bool // it tells what somebody would like
	theirs      bool // it tells what somebody does with what is theirs, not what they say: "she's bringing her own"
	joined      role // "and" or "but" does
	did         bool // what was done stands before its parts, so that it holds for a new one joined to them
	governed    bool // a hedge or a plan stands before its verb, so that it holds for a verb joined to that
	heads       bool // a colon ends it, so that it holds for what follows
}

// countOnly reports that of balls a count is said, and no size yet.
func countOnly(u *unit) bool {
	says := u.says
	if len(says) == 0 && len(u.parts) == 1 {
		says = u.parts[0].before // "twenty balls top"
	}
	return len(says) == 1 && len(says[0].facts) == 0 && len(says[0].readings) == 1 && says[0].readings[0].name == "balls"
}

// canAll reports that all the parts that a unit names can have a reading.
func (u *unit) canAll(pr *predicate) bool {
	for _, n := range u.parts {
		for _, r := range pr.readings {
			if n.head == nil {
				return false
			}
			if _, ok := readingValue(n.head.family, r); !ok {
				return false
			}
		}
	}
	return len(u.parts) > 0 || len(u.says) > 0
}

// negate turns a reading and takes an action away: "not shot" is no action at all.
func (pr *predicate) negate() {
	plain := *pr
	plain.readings = slices.Clone(pr.readings)
	pr.negated, pr.plain = true, &plain
	switch {
	case pr.bend:
		pr.bend, pr.straight = false, true
	case pr.straight:
		pr.bend, pr.straight = true, false
	}
	pr.action = ""
	for i, r := range pr.readings {
		if r.value.Form() != substitution.Flag {
			pr.void = true
			continue
		}
		pr.readings[i].value = substitution.Yes(!r.value.Equal(substitution.Yes(true)))
	}
	pr.facts = nil
	if len(pr.readings) == 0 && !pr.bend && !pr.straight {
		pr.void = true
	}
}

func (s *segment) hasKind() bool {
	for _, k := range s.kinds {
		if k {
			return true
		}
	}
	return false
}
