package substitution

import (
	"slices"
	"strings"
)

// Lookup asks a table of what goes with what: freehub bodies and cassettes, freewheel and hub threads.
type Lookup struct {
	Of        []Ref
	Rows      []Row
	Otherwise Answer // for what the table does not list
	Why       string // the words for what it does not list
	Optional  bool   // the bike may lack one of the places
}

// Row is a line of a Lookup: a key for each Ref ("*" for any), and what is so.
type Row struct {
	Keys   []string
	Answer Answer
	Words  string
	Brings []Bring
}

func (t Lookup) scope(at Place) []Place { return scopeOf(at, t.Of...) }

func (t Lookup) judge(s Scene, at Place) Judgement {
	sides := make([]side, len(t.Of))
	unknown, same := 0, true
	for i, ref := range t.Of {
		sides[i] = s.side(ref, at)
		if t.Optional && !sides[i].recorded {
			return Judgement{}
		}
		switch d := sides[i]; {
		case !d.known && d.changed:
			same = false
			unknown++
		case !d.known:
			unknown++
		case d.changed && !(d.wasKnown && d.was.Equal(d.now)):
			same = false
		}
	}
	if unknown > 0 {
		if same && slices.ContainsFunc(sides, func(d side) bool { return d.changed }) {
			return Judgement{Answer: Holds, Before: true, Words: "the same as what was there, with what is there"}
		}
		return untold(sides...)
	}
	found := make([]string, len(sides))
	for i, d := range sides {
		found[i] = d.words()
	}
	j := Judgement{Answer: t.Otherwise, Found: strings.Join(found, ", "), Words: strings.Join(found, " with ") + ": " + t.Why}
	for _, row := range t.Rows {
		if row.fits(sides) {
			j.Answer, j.Brings = row.Answer, row.Brings
			j.Words = strings.Join(found, " with ")
			if row.Words != "" {
				j.Words += ": " + row.Words
			}
			break
		}
	}
	return j
}

func (r Row) fits(sides []side) bool {
	for i, key := range r.Keys {
		if !keyed(key, sides[i].now) {
			return false
		}
	}
	return true
}

// keyed reports whether a row's key names a value; for a list, whether the list holds it.
func keyed(key string, v Value) bool {
	if key == "*" || v.form != Ints {
		return key == "*" || key == v.String()
	}
	return slices.ContainsFunc(v.ints, func(n int) bool { return key == Count(n).String() })
}

// narrow lists the words that some row accepts with what is known around; it needs the chosen part to enter by words.
func (t Lookup) narrow(s Scene, at, choosing Place) []Condition {
	if t.Otherwise != Breaks {
		return nil
	}
	var out []Condition
	for i, ref := range t.Of {
		p, dim := ref.at(at)
		if p != choosing || s.side(ref, at).dimension().Form != Word {
			continue
		}
		var words []string
		for _, row := range t.Rows {
			possible := row.Answer != Breaks
			for k, other := range t.Of {
				d := s.side(other, at)
				if d.place == choosing {
					continue
				}
				possible = possible && (!d.known || keyed(row.Keys[k], d.now))
			}
			if !possible {
				continue
			}
			if row.Keys[i] == "*" {
				return nil
			}
			words = append(words, row.Keys[i])
		}
		// A part like the old one is accepted beside a neighbour that is not known.
		if was, known := s.Was[choosing].Get(dim); known {
			words = append(words, was.word)
		}
		slices.Sort(words)
		if words = slices.Compact(words); len(words) > 0 {
			out = append(out, OneOf{dim, words})
		}
	}
	return out
}
