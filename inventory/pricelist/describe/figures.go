package describe

import (
	"math"

	"stead/substitution"
)

// measure is a figure in the slot's own unit, if the slot takes its unit.
func (s *slot) measure(it *item) (float64, bool) {
	u := it.unit & s.takes
	if u == 0 {
		return 0, false
	}
	v := it.value
	if it.thousands && it.unit&(millilitre|gram|pieces) != 0 {
		v = tidy(v * 1000)
	}
	return u.in(v), true
}

// value is the dimension's value for a figure; ok is false when the dimension is a count and the figure is not whole.
func (s *slot) value(v float64) (value substitution.Value, ok bool) {
	switch s.form {
	case substitution.Int:
		n := math.Round(v)
		if math.Abs(v-n) > 1e-9 {
			return value, false
		}
		return substitution.Count(int(n)), true
	case substitution.Word:
		return substitution.Text(trim(v) + s.word), true
	}
	return substitution.Num(tidy(v)), true
}

// readForm reads figures in a fixed order, wherever it stands in the text.
func (r *reading) readForm(form []element) {
	for i := range r.items {
		if end, ok := r.matchForm(form, i, false); ok {
			r.matchForm(form, i, true)
			r.claim(i, end)
		}
	}
}

// matchForm tries a form at item i; with take it also notes the dimensions.
func (r *reading) matchForm(form []element, start int, take bool) (end int, ok bool) {
	end = start
	for k := range form {
		if end, ok = r.matchElement(&form[k], end, take); !ok {
			return 0, false
		}
	}
	if r.continues(start, end) || r.belowLine(start) {
		return 0, false
	}
	return end, true
}

// matchElement tries one step of a form at item i, and gives the item after it.
func (r *reading) matchElement(e *element, i int, take bool) (end int, ok bool) {
	if e.label != 0 {
		return r.matchLabel(e.label, i)
	}
	if i >= len(r.items) {
		return i, false
	}
	it := &r.items[i]
	switch {
	case e.joint == "~":
		ok = it.kind == joint && (it.joint == '~' || it.joint == '-' || it.joint == '>')
	case e.joint != "":
		ok = it.kind == joint && it.joint == e.joint[0]
	case e.isGap:
		ok = it.kind == figure && !it.used && e.past.has(it.value)
	default:
		ok = r.matchSlot(&r.grammar.slots[e.slot], i, take)
	}
	return i + 1, ok
}

// matchLabel tries a label at item i, with or without a colon on either side.
func (r *reading) matchLabel(label labels, i int) (end int, ok bool) {
	i = r.pastEquals(i)
	if i >= len(r.items) || r.items[i].kind != phrase || r.items[i].sense.labels&label == 0 {
		return i, false
	}
	return r.pastEquals(i + 1), true
}

// pastEquals is the item after the colons and equals signs at item i.
func (r *reading) pastEquals(i int) int {
	for i < len(r.items) && r.items[i].isEquals() {
		i++
	}
	return i
}

func (r *reading) matchSlot(s *slot, i int, take bool) bool {
	it := &r.items[i]
	if it.kind != figure || it.used && !take {
		return false
	}
	v := it.value
	if it.unit != none {
		var ok bool
		if v, ok = s.measure(it); !ok {
			return false
		}
	}
	if !s.ranges.within.has(v) {
		return false
	}
	if take {
		if value, ok := s.value(v); ok {
			r.give(s.dim, value, plain, i, i+1)
		}
	}
	return true
}

// belowLine reports whether the figure is the lower half of a fraction: the 16 of "5/16 x 140".
func (r *reading) belowLine(i int) bool {
	if i < 2 || r.items[i].kind != figure || !r.isJoint(i-1, "/") || !r.glued(i) || r.items[i-2].kind != figure {
		return false
	}
	switch r.items[i].value {
	case 2, 4, 8, 16, 32, 64, 128:
		return r.items[i-2].value < r.items[i].value && r.items[i-2].decimals <= 1
	}
	return false
}

// continues reports whether the run of figures goes on beyond items [from, to) with the same joint: "14-34" inside
// "12-14-34" is no range.
func (r *reading) continues(from, to int) bool {
	if to-from < 3 || r.items[from+1].kind != joint {
		return false
	}
	j := r.items[from+1].joint
	if to+1 < len(r.items) && r.items[to].kind == joint && r.items[to].joint == j && r.items[to+1].kind == figure {
		return true
	}
	return from >= 2 && r.items[from-1].kind == joint && r.items[from-1].joint == j &&
		r.items[from-2].kind == figure && r.items[from-2].unit == none
}

// readLabels binds figures to the words that name them: "BCD 110", "110 BCD", "length: 90 mm", "30 mm crown race".
//
// A label between two figures may name either, until one of them is named by another: "125 drop 75 reach".
func (r *reading) readLabels() {
	if r.readLabelsOnce() {
		r.readLabelsOnce()
	}
}

func (r *reading) readLabelsOnce() (again bool) {
	for i := range r.items {
		it := &r.items[i]
		if it.sense == nil || it.sense.labels == 0 || it.kind != phrase {
			continue
		}
		forward, strict := r.labelled(i, +1)
		if strict {
			r.bind(i, forward)
			continue
		}
		back := r.labelledBefore(i)
		switch {
		case back == i-1 && r.glued(i) && r.bind(i, back): // "110PCD"
			continue
		case forward == i+1 && r.glued(i+1) && r.bind(i, forward): // "PCD110"
			continue
		}
		if back >= 0 && forward >= 0 && r.slotFor(i, back) != nil && r.slotFor(i, forward) != nil {
			if r.isLabelled(back) && r.bind(i, forward) {
				continue
			}
			again = true // it may name either
			continue
		}
		if back < 0 || !r.bind(i, back) {
			r.bind(i, forward)
		}
	}
	return again
}

// labelledBefore is the figure before a label that it may name; -1 if none.
func (r *reading) labelledBefore(i int) int {
	back, _ := r.labelled(i, -1)
	if r.isWheel(i, back) {
		return -1
	}
	return back
}

// isWheel reports whether the figure before a valve is the wheel's name in inches and no valve's length: "Tube 28 presta".
func (r *reading) isWheel(label, at int) bool {
	if at < 0 || r.family != "tube" || r.items[label].sense.labels&valveLabel == 0 || r.items[at].unit != none || r.items[at].decimals > 0 {
		return false
	}
	v := r.items[at].value
	return v == 26 || v == 27 || v == 28 || v == 29
}

var valveLabel = labelOf("valve")

// isLabelled reports whether a label that can be of it stands right before the figure at item i, so that the one behind it
// names the next: "cintre 25,4 longueur 80".
func (r *reading) isLabelled(i int) bool {
	return i > 0 && r.items[i-1].kind == phrase && r.items[i-1].sense.labels != 0 && r.slotFor(i-1, i) != nil
}

// labelled looks for the figure that a label names, forwards or backwards, within its phrase. Strict means that a
// colon or equals sign says it is this one.
func (r *reading) labelled(i, step int) (at int, strict bool) {
	for j, steps := i+step, 0; j >= 0 && j < len(r.items) && steps < 4; j, steps = j+step, steps+1 {
		it := &r.items[j]
		switch {
		case it.kind == figure:
			if it.used && !strict {
				return -1, false
			}
			return j, strict
		case it.isEquals() && step > 0 || j == i+1 && it.joint == '.' && r.letters(i) == 1 && r.glued(j) && r.glued(j+1):
			strict = true // "L.80" as well
		case !r.passes(j, step):
			return -1, false
		}
	}
	return -1, false
}

// passes reports whether item j may stand between a label and its figure, which is looked for by the step.
func (r *reading) passes(j, step int) bool {
	it := &r.items[j]
	switch it.kind {
	case joint:
		switch it.joint {
		case '.', 'o', '#', '~', '"':
			return true
		case '-':
			return step > 0 && r.minus(j)
		}
	case phrase:
		return it.sense.noise && it.sense.family == "" || it.sense.labels != 0 && step < 0
	}
	return false
}

// bind gives the one slot that has the label and takes the figure its value.
func (r *reading) bind(label, at int) bool {
	if at < 0 {
		return false
	}
	s := r.slotFor(label, at)
	if s == nil {
		return false
	}
	v, _ := s.measure(&r.items[at])
	value, ok := s.value(r.signed(s, at, v))
	if ok {
		r.give(s.dim, value, plain, at, at+1)
	}
	return ok
}

// slotFor is the slot that a label means for a figure; nil if none takes it, or if two do.
func (r *reading) slotFor(label, at int) *slot {
	var found *slot
	for k := range r.grammar.slots {
		s := &r.grammar.slots[k]
		if s.has&r.items[label].sense.labels == 0 {
			continue
		}
		v, ok := s.measure(&r.items[at])
		if !ok || !s.ranges.within.has(r.signed(s, at, v)) || r.isRange(s, at, false) {
			continue
		}
		if found != nil && !r.has(found.dim) {
			if r.has(s.dim) {
				continue
			}
			return nil // two dimensions go by that name
		}
		found = s
	}
	return found
}

// isRange reports whether the figure is one end of a range of the slot's dimension ("300-350 mm"): a range is no value. In a
// terse code the dashes between bare figures part its fields.
func (r *reading) isRange(s *slot, at int, terse bool) bool {
	end := func(j, f int) bool {
		if terse && j >= 0 && f >= 0 && f < len(r.items) && r.isJoint(j, "-") && r.items[f].unit == none {
			return false
		}
		return j >= 0 && f >= 0 && f < len(r.items) && r.isJoint(j, "-/>&") && r.items[f].kind == figure && !r.items[f].used &&
			(r.items[f].unit == none || r.items[f].unit == r.items[at].unit) && s.ranges.within.has(r.items[f].value)
	}
	return end(at-1, at-2) || end(at+1, at+2)
}

// signed is the figure with its minus sign, for the one dimension that has a sign.
func (r *reading) signed(s *slot, at int, v float64) float64 {
	if s.dim == "angle_deg" && at > 0 && r.minus(at-1) {
		return -v
	}
	return v
}

// minus reports whether item i is a minus sign: glued to the figure behind it and to nothing before.
func (r *reading) minus(i int) bool {
	it := &r.items[i]
	return it.kind == joint && it.joint == '-' && r.glued(i+1) && (i == 0 || !r.glued(i) || r.isJoint(i-1, "/,;:("))
}

// readUnits takes figures with a unit but no label, where one dimension only can be meant.
func (r *reading) readUnits() {
	for i := range r.items {
		r.readUnit(i, mainClause)
	}
	for i := range r.items { // what is said of another part gives way to what is said of this one
		r.readUnit(i, forClause)
	}
}

func (r *reading) readUnit(i int, about clause) {
	it := &r.items[i]
	if it.kind != figure || it.used || it.unit == none || (it.clause == mainClause) != (about == mainClause) || r.belowLine(i) {
		return
	}
	var found *slot
	var value float64
	several := false
	for k := range r.grammar.slots {
		s := &r.grammar.slots[k]
		v, ok := s.measure(it)
		if v = r.signed(s, i, v); !ok || s.alone == "never" || !s.ranges.alone.has(v) || r.isRange(s, i, false) {
			continue
		}
		switch {
		case found == nil || r.has(found.dim) && !r.has(s.dim):
			found, value = s, v
		case !r.has(s.dim):
			several = true
		}
	}
	if found == nil || several || about == forClause && r.has(found.dim) {
		return
	}
	if v, ok := found.value(value); ok {
		r.give(found.dim, v, plain, i, i+1)
	}
}

// readBare takes figures that stand alone, as terse codes have them ("CR-110-34"): only where exactly one figure can be
// the dimension and the figure can be nothing else.
func (r *reading) readBare() {
	type claim struct {
		at    int
		value float64
		twice bool
	}
	var claims [8]claim
	for k := range claims {
		claims[k].at = -1
	}
	for i := range r.items {
		it := &r.items[i]
		if it.kind != figure || it.used || it.unit != none || it.decimals == 2 && it.value > 3 || r.belowLine(i) || r.endsModel(i) {
			continue
		}
		only := -1
		for k := range r.grammar.slots {
			s := &r.grammar.slots[k]
			if r.has(s.dim) || r.isRange(s, i, true) || !(s.ranges.bare.has(it.value) || s.ranges.joined.has(it.value) && r.joined(i)) {
				continue
			}
			if only >= 0 {
				only = -2
				break
			}
			only = k
		}
		if only < 0 || only >= len(claims) {
			continue
		}
		c := &claims[only]
		c.twice = c.at >= 0
		c.at, c.value = i, it.value
	}
	for k := range claims {
		if c := &claims[k]; c.at >= 0 && !c.twice {
			if v, ok := r.grammar.slots[k].value(c.value); ok {
				r.give(r.grammar.slots[k].dim, v, bare, c.at, c.at+1)
			}
		}
	}
}

// joined reports whether a dash, stroke or × ties the figure to what is before it, without a space.
func (r *reading) joined(i int) bool {
	if i == 0 || r.items[i-1].kind != joint {
		return false
	}
	if r.items[i-1].joint == 'x' {
		return true
	}
	if !r.glued(i) {
		return false
	}
	switch r.items[i-1].joint {
	case '-', '/':
		return r.glued(i-1) && !r.isLettersOfCode(i-2)
	}
	return false
}

// isLettersOfCode reports whether the item is a word that nobody knows, or a letter or two that name nothing: "S-270"
// is a model, and no saddle of 270 mm.
func (r *reading) isLettersOfCode(i int) bool {
	if i < 0 {
		return true
	}
	it := &r.items[i]
	return it.kind == unknown || it.kind == phrase && r.letters(i) <= 2 && !it.sense.namesThing() && len(it.sense.says) == 0
}

// endsModel reports whether the figure is written onto the letters of a model's name: "A-175", "L620".
func (r *reading) endsModel(i int) bool {
	if i == 0 || !r.glued(i) {
		return false
	}
	if r.isJoint(i-1, "-/") {
		return i > 1 && r.glued(i-1) && r.isLettersOfCode(i-2)
	}
	return r.items[i-1].kind == unknown
}
