package describe

import (
	"math"
	"slices"

	"stead/substitution"
)

// readPieces reads how many pieces the supplier's unit holds: "pair", "gross", "box of 100", "PK10", "50 pcs", "2 pairs".
func (r *reading) readPieces() {
	if r.beginsWithNumber() {
		r.pack(count(&r.items[0]), 0, 2)
	}
	for i := 0; i < len(r.items); i++ {
		it := &r.items[i]
		switch {
		case it.kind == figure && it.unit&pieces != 0 && !it.used && it.value == math.Trunc(it.value) && !r.isWheelName(it):
			n := count(it)
			if i > 0 && r.items[i-1].kind == phrase && r.items[i-1].sense.packOf {
				r.items[i-1].used = true
			}
			r.pack(n, i, i+1)
		case it.kind != phrase || it.clause == forClause || i == 0 && it.sense.code == r.family:
		case it.sense.pieces > 0:
			if !it.sense.isFinished() || r.isPair(i) {
				r.readPair(i)
			}
		case it.sense.packOf:
			i = max(i, r.readPackOf(i)-1)
		}
	}
}

// beginsWithNumber reports whether the description begins with how many there are: "10 x inner tube".
func (r *reading) beginsWithNumber() bool {
	return len(r.items) > 2 && r.items[0].isWhole(2, 1000) && r.items[0].unit == none && r.isJoint(1, "x") && !r.glued(1) && r.items[2].kind == phrase && r.items[2].sense.family != ""
}

// isOfAWheel reports whether a bare figure is the size of the wheel that the part goes with: "mudguards 28 pair" are two.
func (r *reading) isOfAWheel(it *item) bool {
	table, err := substitution.TableOf(r.family)
	if err != nil || it.value < 12 || !namesWheel(it.value) {
		return false
	}
	_, goesWithOne := table.Dimension("bead_mm")
	return goesWithOne
}

// isWheelName reports whether a German figure with "er" names a wheel, "28er", and not how many there are, "5er-Satz".
func (r *reading) isWheelName(it *item) bool {
	if it.unit&inch == 0 || it.value < 2 {
		return it.unit&inch != 0
	}
	return namesWheel(it.value)
}

// namesWheel reports whether wheels are called by so many inches.
func namesWheel(inches float64) bool {
	switch inches {
	case 12, 14, 16, 18, 20, 22, 24, 26, 27, 27.5, 28, 29, 32, 36:
		return true
	}
	return false
}

// pack notes a number of pieces. One piece is no pack.
func (r *reading) pack(n, from, to int) {
	if n == 1 {
		r.claim(from, to)
		return
	}
	if n < 1 || n > 100000 {
		return
	}
	r.give("pack", substitution.Count(n), plain, from, to)
}

// count is a figure as a number of pieces; in "1,000 pcs" the comma parts thousands.
func count(it *item) int {
	if it.thousands {
		return int(math.Round(it.value * 1000))
	}
	if it.value > 1e6 {
		return -1
	}
	return int(it.value)
}

// readPair reads "pair" and "gross", and how many of them: "2PR", "25 pairs".
func (r *reading) readPair(i int) {
	n, from := r.items[i].sense.pieces, i
	if r.countsSets(i) {
		n, from = n*int(r.items[i-1].value), i-1
	} else if n == 2 && i > 0 && r.items[i-1].kind == phrase && r.items[i-1].sense.packOf {
		r.items[i-1].used = true // "pack pair"
	}
	r.pack(n, from, i+1)
}

// countsSets reports whether the figure before item i, a word for several pieces, says how many of them there are.
func (r *reading) countsSets(i int) bool {
	if i == 0 {
		return false
	}
	it := &r.items[i-1]
	if !it.isWhole(1, 50) || it.unit != none || it.used || r.isOfAWheel(it) {
		return false
	}
	if r.items[i].sense.pieces > 2 && !r.glued(i) && it.value > 10 {
		return false // of large sets nobody sells so many
	}
	if i == 1 || !r.glued(i-1) {
		return true
	}
	switch before := &r.items[i-2]; before.kind {
	case joint:
		return r.isJoint(i-2, ",;(") // "1.5x20 pr" is a size
	case unknown:
		return false // "M6 PR"
	case phrase:
		return before.sense.packOf
	}
	return true
}

// readPackOf reads "box of 100", "PK10", "qty: 4", "SET 5", "bag 25 pairs", and returns the item behind what it read.
func (r *reading) readPackOf(i int) int {
	if r.isPackBehindStroke(i) {
		r.pack(count(&r.items[i-2]), i-2, i+1)
		return i + 1
	}
	j := r.behindPackWord(i)
	if j >= len(r.items) {
		r.readPackBefore(i)
		return j
	}
	if r.letters(i) == 1 && r.glued(i+1) {
		return i // "A100" is a model, and not "à 100"
	}
	it := &r.items[j]
	if !it.countsPieces() || it.value < 1 || r.times(j) {
		return i
	}
	n, to := count(it), j+1
	if to < len(r.items) && r.items[to].kind == phrase && r.items[to].sense.pieces == 2 {
		n *= 2
		to++
	}
	r.pack(n, i, to)
	return to
}

// isPackBehindStroke reports whether the word says what a number before a stroke goes into: "50/case".
func (r *reading) isPackBehindStroke(i int) bool {
	return i >= 2 && r.isJoint(i-1, "/") && r.glued(i) && r.glued(i-1) && r.items[i-2].countsPieces() && !(i > 2 && r.glued(i-2) && r.items[i-3].kind != joint)
}

// behindPackWord is the item behind a word for a pack, past what ties a number to it: "qty: 4", "SET-5", "Bag/10",
// "Btl. 50".
func (r *reading) behindPackWord(i int) int {
	j := i + 1
	for j < len(r.items) && (r.items[j].isEquals() || r.isJoint(j, "-.") && r.glued(j) || r.isOf(j)) {
		j++
	}
	if r.isJoint(j, "/") && r.glued(j) && r.glued(j+1) {
		j++
	}
	return j
}

// isOf reports whether the item is a small word between a pack and what it holds: "zakje van 100", "sachet de 10".
func (r *reading) isOf(i int) bool {
	return slices.ContainsFunc([]string{"van", "de", "di", "da", "a", "of", "zu", "mit", "met"}, func(word string) bool { return r.isWord(i, word) })
}

// countsPieces reports whether the item is a whole figure, not yet read, that may count pieces.
func (it *item) countsPieces() bool {
	return it.kind == figure && !it.used && (it.unit == none || it.unit&pieces != 0) && (it.decimals == 0 || it.thousands)
}

// times reports whether a run of figures begins at item i: "shifter set 3x7".
func (r *reading) times(i int) bool {
	return r.isJoint(i+1, "x/-") && i+2 < len(r.items) && r.items[i+2].kind == figure
}

// readPackBefore reads a number that the word ends on: "50 pk".
func (r *reading) readPackBefore(i int) {
	if i < 2 || r.glued(i) {
		return
	}
	if it, before := &r.items[i-1], &r.items[i-2]; it.kind == figure && it.unit == none && !it.used && it.decimals == 0 && !r.isOfAWheel(it) && (before.kind == phrase || r.isJoint(i-2, ",;(")) {
		r.pack(count(it), i-1, i+1)
	}
}

// readMultiplied reads "X100" at the end of a terse code, once every size has been read.
func (r *reading) readMultiplied() {
	if r.has("pack") || r.family == "tyre" || r.family == "tube" {
		return
	}
	for i := 1; i < len(r.items); i++ {
		it := &r.items[i]
		if it.countsPieces() && it.decimals == 0 && it.value >= 2 && r.isJoint(i-1, "x") && r.multiplies(i) {
			r.pack(count(it), i-1, i+1)
			return
		}
	}
}

// multiplies reports whether the figure behind an x says how many there are, and is no size: "3/16 x 50" balls, or
// "black x 100" at the end of the line.
func (r *reading) multiplies(i int) bool {
	if i < 2 || r.items[i-2].kind != figure {
		return i >= 2 && i+1 >= len(r.items) || r.glued(i)
	}
	before := &r.items[i-2]
	if r.family == "loose-balls" && before.used && r.items[i].value >= 5 {
		return true
	}
	if before.used && i+1 >= len(r.items) && !r.mayBeSize(i) {
		return true // "star nuts 1 1/8 x 10"
	}
	return r.glued(i) && !r.glued(i-1) && (before.unit != none || before.used)
}

// mayBeSize reports whether the figure may be a size of the part.
func (r *reading) mayBeSize(i int) bool {
	return slices.ContainsFunc(r.grammar.slots, func(s slot) bool { return s.ranges.within.has(r.items[i].value) })
}

// readSetOf also gives a set's number to a dimension of its own: a set of five chainring bolts.
func readSetOf(dim string) reader {
	return func(r *reading) {
		for i := 0; i+1 < len(r.items); i++ {
			it := &r.items[i]
			if it.kind != phrase || !it.sense.packOf || it.sense.labels&setLabel == 0 {
				continue
			}
			j := i + 1
			if r.items[j].kind == joint && r.items[j].joint == ':' && j+1 < len(r.items) {
				j++
			}
			if f := &r.items[j]; f.kind == figure && f.unit&(none|pieces) != 0 && f.value >= 3 && f.value <= 10 && f.decimals == 0 {
				r.findings = append(r.findings, finding{dim: dim, value: substitution.Count(int(f.value)), strength: plain, from: j, to: j + 1})
			}
		}
	}
}

var setLabel = labelOf("set")
