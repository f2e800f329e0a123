package substitution

import (
	"fmt"
	"slices"
	"strings"
)

// Lookup asks a table of what goes with what: freehub bodies and cassettes, freewheel and hub threads.
type Lookup struct {
	Of        []Ref
	Rows      []Row  // the first that fits is the answer
	Otherwise Answer // for what the table does not list
	Why       string // the words for what it does not list
	Optional  bool   // the bike may lack one of the places
}

// Row is a line of a Lookup: a key for each Ref ("*" for any, known or not), and what is so.
type Row struct {
	Keys   []string
	Answer Answer
	Words  string
	Brings []Bring
}

// alike is a row for each word: it goes with itself.
func alike(words ...string) []Row {
	var rows []Row
	for _, w := range words {
		rows = append(rows, Row{Keys: []string{w, w}, Answer: Holds})
	}
	return rows
}

func (t Lookup) scope(at Place) []Place { return scopeOf(at, t.Of...) }

func (t Lookup) judge(s Scene, at Place) Judgement {
	sides := make([]side, len(t.Of))
	now, was := make([]Value, len(t.Of)), make([]Value, len(t.Of))
	var found []string
	recorded := true
	for i, ref := range t.Of {
		d := s.side(ref, at)
		sides[i], now[i], was[i] = d, d.now, d.was
		recorded = recorded && d.recorded
		if d.known {
			found = append(found, d.words())
		}
	}
	if row, settled := t.find(now); settled {
		j := Judgement{Answer: row.Answer, Found: strings.Join(found, ", "), Words: strings.Join(found, " with "), Brings: row.Brings}
		if row.Words != "" {
			j.Words += ": " + row.Words
		}
		if before, had := t.find(was); had && len(row.Brings) > 0 && fmt.Sprint(before.Brings) == fmt.Sprint(row.Brings) {
			j.Brings = nil
			j.Words += " (there already)"
		}
		return j
	}
	if vouched(sides) {
		return Judgement{Answer: Holds, Before: true, Found: strings.Join(found, ", "), Words: strings.Join(found, " with ") + ", as what was there"}
	}
	if j, ok := t.whatever(sides, now, was); ok {
		j.Found, j.Words = strings.Join(found, ", "), strings.Join(found, " with ")+j.Words
		return j
	}
	if t.Optional && !recorded {
		return Judgement{}
	}
	return untold(sides...)
}

// whatever answers where one thing is not known and stays on the bike, and the answer is the same for everything it
// could be, seeing that the old part went with it.
func (t Lookup) whatever(sides []side, now, was []Value) (Judgement, bool) {
	at := slices.IndexFunc(sides, func(d side) bool { return !d.known })
	if at < 0 || sides[at].changed || !slices.ContainsFunc(sides, func(d side) bool { return d.changed }) {
		return Judgement{}, false
	}
	possible, breaks, alike := 0, 0, 0
	now, was = slices.Clone(now), slices.Clone(was)
	for _, word := range sides[at].dimension().Words {
		now[at], was[at] = Text(word), Text(word)
		before, told := t.find(was)
		if !told || before.Answer != Holds {
			continue
		}
		possible++
		switch after, told := t.find(now); {
		case told && after.Answer == Breaks:
			breaks++
		case told && after.Answer == Holds && fmt.Sprint(after.Brings) == fmt.Sprint(before.Brings):
			alike++
		}
	}
	switch {
	case possible > 0 && breaks == possible:
		return Judgement{Answer: Breaks, Words: " goes with nothing that the old part went with"}, true
	case possible > 0 && alike == possible:
		return Judgement{Answer: Holds, Before: true, Words: ", which goes wherever the old part did"}, true
	}
	return Judgement{}, false
}

// vouched tells whether the old parts vouch for what is not known: everything unknown stays on the bike, and
// everything new is in these dimensions what was there.
func vouched(sides []side) bool {
	changed := false
	for _, d := range sides {
		if !d.changed {
			continue
		}
		changed = true
		if !d.known || !d.wasKnown || !d.was.Equal(d.now) {
			return false
		}
	}
	return changed
}

// find is the first row that fits, and whether that is settled by what is known. An unknown value (the zero Value)
// may turn out to be any key, so it settles a row only where the row takes any.
func (t Lookup) find(values []Value) (Row, bool) {
	unknown := slices.ContainsFunc(values, func(v Value) bool { return v.form == 0 })
	for _, row := range t.Rows {
		fits, settled := true, true
		for i, key := range row.Keys {
			fits = fits && (values[i].form == 0 || keyed(key, values[i]))
			settled = settled && (values[i].form != 0 || key == "*")
		}
		if fits {
			return row, settled
		}
	}
	return Row{Answer: t.Otherwise, Words: t.Why}, !unknown
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
		me := s.side(ref, at)
		if t.Optional && !me.recorded {
			return nil
		}
		if me.place != choosing || me.dimension().Form != Word {
			continue
		}
		words, any := t.acceptable(s, at, choosing, i)
		if any {
			continue
		}
		// A part like the old one is accepted beside a neighbour that is not known.
		if me.wasKnown {
			words = append(words, me.was.word)
		}
		slices.Sort(words)
		if words = slices.Compact(words); len(words) > 0 {
			out = append(out, OneOf{me.dim, words})
		}
	}
	return out
}

// acceptable are the keys in one column of the rows that do not break, as far as the places around allow; any is true
// where such a row takes any word.
func (t Lookup) acceptable(s Scene, at, choosing Place, column int) (words []string, any bool) {
	for _, row := range t.Rows {
		possible := row.Answer != Breaks
		for k, ref := range t.Of {
			d := s.side(ref, at)
			if d.place != choosing && d.known && !keyed(row.Keys[k], d.now) {
				possible = false
			}
		}
		if !possible {
			continue
		}
		if row.Keys[column] == "*" {
			return nil, true
		}
		words = append(words, row.Keys[column])
	}
	return words, false
}
