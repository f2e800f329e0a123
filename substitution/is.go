package substitution

import (
	"slices"
	"strings"
)

// Is asks that a dimension of the part be one of some words, wherever the rule applies.
type Is struct {
	Mine  string
	Words []string
}

func (t Is) scope(at Place) []Place { return []Place{at} }

func (t Is) judge(s Scene, at Place) Judgement {
	me := s.side(mine(t.Mine), at)
	if !me.known {
		return untold(me)
	}
	j := Judgement{Answer: Holds, Wanted: strings.Join(t.Words, " or "), Found: me.now.word, Words: me.words()}
	if !slices.Contains(t.Words, me.now.word) {
		j.Answer = Breaks
		j.Words = me.words() + ", where " + j.Wanted + " is wanted"
	}
	return j
}

func (t Is) narrow(_ Scene, at, choosing Place) []Condition {
	if at != choosing {
		return nil
	}
	return []Condition{OneOf{t.Mine, t.Words}}
}
