package substitution

import (
	"slices"
	"strings"
)

// Is asks that a dimension of the part be one of some words, wherever the rule applies.
type Is struct {
	Mine   string
	Words  []string
	Placed bool    // or one that the place is named by: a rear hub behind, a brake cable in a brake line
	Rare   bool    // a part that says nothing of it, in the stead of one that said nothing, is not asked
	Silent bool    // a part that says nothing of it is not asked
	Brings []Bring // what a new part never goes on without
	Why    string  // the words for any other
}

func (t Is) scope(at Place) []Place { return []Place{at} }

// words are those that serve at a place.
func (t Is) words(at Place) []string {
	if !t.Placed {
		return t.Words
	}
	return append(slices.Clip(t.Words), namedBy(at)...)
}

func (t Is) judge(s Scene, at Place) Judgement {
	me := s.side(mine(t.Mine), at)
	if !me.known {
		if t.Silent || t.Rare && s.Was[at] != nil && !me.wasKnown {
			return Judgement{}
		}
		return untold(me)
	}
	serves := slices.Contains(t.Words, me.now.word) || t.Placed && suits(at, me.now.word)
	j := Judgement{Answer: Holds, Found: me.now.word, Words: at.made(me.now.word)}
	if me.changed && len(t.Brings) > 0 {
		j.Brings = t.Brings
	}
	if !serves {
		j.Answer, j.Brings = Breaks, nil
		j.Words = at.words() + ": made as " + me.now.word
		if t.Why != "" {
			j.Words += ": " + t.Why
		}
	}
	if dim := me.dimension(); len(dim.Words) > 0 {
		j.Wanted = strings.Join(slices.DeleteFunc(slices.Clone(dim.Words), func(w string) bool {
			return !slices.Contains(t.Words, w) && !(t.Placed && suits(at, w))
		}), " or ")
	}
	return j
}

func (t Is) narrow(_ Scene, at, choosing Place) []Condition {
	if at != choosing {
		return nil
	}
	return []Condition{OneOf{t.Mine, t.words(at)}}
}
