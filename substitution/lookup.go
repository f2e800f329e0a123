package substitution

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Lookup asks a table of what goes with what: freehub bodies and cassettes, freewheel and hub threads.
type Lookup struct {
	Of        []Ref
	Rows      []Row  // the first that fits is the answer
	Otherwise Answer // for what the table does not list
	Why       string // the words for what it does not list
	Optional  bool   // the bike may lack one of the places
	Same      bool   // the first two being one word is enough
	Unaided   bool   // the old part is taken to have gone on without help
	Rare      bool   // where neither the part nor the old one says anything of the first, that need not be asked; see goesWithoutSaying
	Usual     string // the word of the first that is meant where nobody says one, of a Rare table
}

// Row is a line of a Lookup: a key for each Ref, and what is so. A key is a word or figure, two figures "6..7.9" for what
// lies between them, or "*" for any, known or not.
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
	if row, settled := t.find(now); settled && !(row.Answer == CantTell && vouched(sides)) && !(row.Answer == Breaks && maybeAllAsBefore(sides)) {
		return t.told(row, sides, was, found)
	}
	if vouched(sides) {
		return Judgement{Answer: Holds, Before: true, Found: strings.Join(found, ", "), Words: strings.Join(found, " with ") + ", as what was there"}
	}
	j, ok, differs := t.whatever(sides, now, was)
	if ok {
		j.Found, j.Words = strings.Join(found, ", "), strings.Join(found, " with ")+j.Words
		return j
	}
	if differs {
		return untold(t.needed(sides, now)...)
	}
	first := sides[0]
	if t.Optional && !recorded && !(first.saysNoMore() && !(t.Usual != "" && keyed(t.Usual, first.was))) {
		return Judgement{}
	}
	if t.Rare && !first.known && !first.wasKnown {
		switch answer, need := t.withoutSaying(s, at, first, slices.Clone(now)); {
		case !need && answer == Holds:
			return Judgement{Answer: Holds, Found: strings.Join(found, ", "), Words: strings.Join(found, " with ") + ", which goes with any"}
		case !need:
			return Judgement{}
		}
	}
	return untold(t.needed(sides, now)...)
}

// told is the judgement of a row; what it brings is not brought again where the old part had the same.
func (t Lookup) told(row Row, sides []side, was []Value, found []string) Judgement {
	j := Judgement{Answer: row.Answer, Found: strings.Join(found, ", "), Words: strings.Join(found, " with "), Brings: row.Brings}
	if row.Words != "" {
		j.Words += ": " + row.Words
	}
	if row.Answer == CantTell {
		j.Missing = asked(sides)
	}
	if before, had := t.find(was); had && len(row.Brings) > 0 && fmt.Sprint(before.Brings) == fmt.Sprint(row.Brings) {
		j.Brings = nil
		j.Words += " (there already)"
	}
	return j
}

// withoutSaying tells whether the first must be asked, of which neither the part nor the old one says anything. It need
// not be where the usual one does, where what is known goes with any, which is then the answer, or where what is not
// known is the neighbour's, which stays and had such a part before.
func (t Lookup) withoutSaying(s Scene, at Place, first side, now []Value) (answer Answer, need bool) {
	if t.Usual != "" {
		now[0] = Text(t.Usual)
		row, settled := t.find(now)
		return NoRule, settled && row.Answer != Holds
	}
	if first.place != at {
		_, had := s.Was[at]
		return NoRule, !had || first.changed
	}
	for _, v := range t.possible(first.dimension(), 0) {
		now[0] = v
		row, settled := t.find(now)
		switch {
		case !settled: // nor is the other known
			return NoRule, false
		case row.Answer != Holds:
			return NoRule, true
		}
	}
	return Holds, false
}

// needed are the sides that are known, and those that are not and would change the answer.
func (t Lookup) needed(sides []side, now []Value) []side {
	out := slices.Clone(sides)
	for i, d := range sides {
		if !d.known && !t.matters(now, i) {
			out = slices.DeleteFunc(out, func(o side) bool { return o.place == d.place && o.dim == d.dim && o.old == d.old })
		}
	}
	if !slices.ContainsFunc(out, func(d side) bool { return !d.known }) {
		return sides
	}
	return out
}

// matters tells whether any row that may still be the answer asks a key of a column.
func (t Lookup) matters(now []Value, column int) bool {
	return slices.ContainsFunc(t.Rows, func(row Row) bool {
		for i, key := range row.Keys {
			if now[i].form != 0 && !keyed(key, now[i]) {
				return false
			}
		}
		return row.Keys[column] != "*"
	})
}

// asked is what to see to where a table leaves the answer open: the first thing on a part that is new, else the first.
func asked(sides []side) []Missing {
	for _, d := range sides {
		if d.changed {
			return []Missing{d.missing()}
		}
	}
	return []Missing{sides[0].missing()}
}

// whatever answers where one thing is not known and stays on the bike, and the answer is the same for everything it
// could be, seeing that the old part went with it; differs says that it hangs on which of them it is.
func (t Lookup) whatever(sides []side, now, was []Value) (j Judgement, ok, differs bool) {
	at := slices.IndexFunc(sides, func(d side) bool { return !d.known && !d.old })
	if at < 0 || sides[at].changed || !slices.ContainsFunc(sides, func(d side) bool { return d.changed }) {
		return Judgement{}, false, false
	}
	var answer *Row
	dim := sides[at].dimension()
	now, was = slices.Clone(now), slices.Clone(was)
	for _, v := range t.possible(dim, at) {
		now[at], was[at] = v, v
		before, told := t.find(was)
		if !told || before.Answer != Holds || t.Unaided && len(before.Brings) > 0 {
			continue
		}
		after, told := t.find(now)
		if fmt.Sprint(after.Brings) == fmt.Sprint(before.Brings) {
			after.Brings = nil // what held the old one holds the new one
		}
		if !told {
			return Judgement{}, false, false
		}
		if after.Answer == CantTell || answer != nil && (after.Answer != answer.Answer || fmt.Sprint(after.Brings) != fmt.Sprint(answer.Brings)) {
			return Judgement{}, false, true
		}
		answer = &after
	}
	switch {
	case answer == nil:
		return Judgement{}, false, false
	case answer.Answer == Breaks:
		return Judgement{Answer: Breaks, Words: " goes with nothing that the old part went with"}, true, false
	}
	return Judgement{Answer: Holds, Before: true, Brings: answer.Brings, Words: ", which goes wherever the old part did"}, true, false
}

// possible are the values that a column's keys tell apart.
func (t Lookup) possible(dim Dimension, column int) []Value {
	if dim.Form == Word && len(dim.Words) > 0 {
		out := make([]Value, len(dim.Words))
		for i, w := range dim.Words {
			out[i] = Text(w)
		}
		return out
	}
	if dim.Form == Flag {
		return []Value{Yes(true), Yes(false)}
	}
	var out []Value
	for _, row := range t.Rows {
		switch key := row.Keys[column]; {
		case key == "*":
		case dim.Form == Word:
			out = append(out, Text(key))
		default:
			if low, _, ok := between(key); ok && dim.Form == Ints {
				out = append(out, List(int(low)))
			} else if ok {
				out = append(out, Value{form: dim.Form, number: low})
			}
		}
	}
	return out
}

// maybeAllAsBefore tells whether all that is asked is new and, as far as known, what it was: what was there went on.
func maybeAllAsBefore(sides []side) bool {
	return !slices.ContainsFunc(sides, func(d side) bool { return !d.changed || !d.wasKnown || d.known && !d.was.Equal(d.now) })
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
	if t.Same && !unknown && values[0].Equal(values[1]) {
		return Row{Answer: Holds}, true
	}
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
	switch {
	case key == "*":
		return true
	case v.form == Ints:
		return slices.ContainsFunc(v.ints, func(n int) bool { return key == strconv.Itoa(n) })
	case v.form == Number || v.form == Int:
		low, high, ok := between(key)
		return ok && v.number >= low-rounding && v.number <= high+rounding
	}
	return key == v.String()
}

// betweens keeps the figures of keys: rules ask them often.
var betweens sync.Map

// between reads a key of one figure or of two.
func between(key string) (low, high float64, ok bool) {
	if kept, known := betweens.Load(key); known {
		span := kept.([3]float64)
		return span[0], span[1], span[2] == 1
	}
	from, to, two := strings.Cut(key, "..")
	if !two {
		to = from
	}
	low, errLow := strconv.ParseFloat(from, 64)
	high, errHigh := strconv.ParseFloat(to, 64)
	span := [3]float64{low, high, 0}
	if errLow == nil && errHigh == nil {
		span[2] = 1
	}
	betweens.Store(key, span)
	return low, high, span[2] == 1
}

// narrow lists the words that some row accepts with what is known around; it needs the chosen part to enter by words.
func (t Lookup) narrow(s Scene, at, choosing Place) []Condition {
	if t.Otherwise != Breaks {
		return nil
	}
	if first := s.side(t.Of[0], at); t.Rare && first.place != choosing && !first.known && !first.wasKnown {
		return nil // judge is silent where it finds nothing settled
	}
	var out []Condition
	for i, ref := range t.Of {
		me := s.side(ref, at)
		if t.Optional && !me.recorded {
			return nil
		}
		if ref.Old || me.place != choosing || me.dimension().Form != Word {
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
	if t.Same && column < 2 {
		other := s.side(t.Of[1-column], at)
		if !other.known {
			return nil, true
		}
		words = append(words, other.now.word)
	}
	for _, row := range t.Rows {
		possible := row.Answer != Breaks
		for k, ref := range t.Of {
			d := s.side(ref, at)
			if (ref.Old || d.place != choosing) && d.known && !keyed(row.Keys[k], d.now) {
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
