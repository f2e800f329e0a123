package substitution

import (
	"fmt"
	"strings"
)

// Same compares the part with the one that was there. It is the test of function and finish rules: where it breaks,
// the part fits and something is different.
type Same struct {
	Mine []string
	// Usual is what is meant where one of the two says nothing of the dimension.
	Usual Value
	// Feel puts the difference into what a rider feels; where it is nil or returns nothing, old and new are named.
	Feel func(s Scene, at Place) string
}

func (t Same) scope(at Place) []Place { return []Place{at} }

func (t Same) judge(s Scene, at Place) Judgement {
	if s.kept(at) || s.Was[at] == nil || s.Now[at] == nil {
		return Judgement{}
	}
	var was, now []string
	var unknown []side
	differs := false
	for _, dim := range t.Mine {
		d := s.side(mine(dim), at)
		if t.Usual.form != 0 && d.known != d.wasKnown {
			if !d.known {
				d.now, d.known = t.Usual, true
			} else {
				d.was, d.wasKnown = t.Usual, true
			}
		}
		if d.wasKnown {
			was = append(was, d.dimension().named(d.was))
		}
		if d.known {
			now = append(now, d.dimension().named(d.now))
		}
		if d.known != d.wasKnown {
			unknown = append(unknown, d)
		}
		differs = differs || d.known && d.wasKnown && !d.now.Equal(d.was)
	}
	if len(was)+len(now) == 0 {
		return Judgement{} // nothing to compare
	}
	j := Judgement{Answer: Holds, Wanted: strings.Join(was, " "), Found: strings.Join(now, " ")}
	switch {
	case differs:
		j.Answer = Breaks
		if t.Feel != nil {
			j.Words = t.Feel(s, at)
		}
		if j.Words == "" {
			j.Words = fmt.Sprintf("%s: %s in place of %s", at.words(), j.Found, j.Wanted)
		}
	case len(unknown) > 0:
		j.Answer = CantTell
		j.Words = fmt.Sprintf("whether the %s differs in %s is not recorded", at.words(), unknown[0].dimension().Plain())
		for _, d := range unknown {
			if !d.known {
				j.Missing = append(j.Missing, d.missing())
			}
		}
	default:
		j.Words = at.words() + ": " + j.Found + ", as before"
	}
	return j
}

func (Same) narrow(Scene, Place, Place) []Condition { return nil }

// named is a value as a difference names it: a yes or a no by what it is of, "tubeless" and "not tubeless".
func (d Dimension) named(v Value) string {
	switch {
	case d.Form != Flag:
		return d.Show(v)
	case v.Equal(Yes(true)):
		return d.Plain()
	}
	return "not " + d.Plain()
}
