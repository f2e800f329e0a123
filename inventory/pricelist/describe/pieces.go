package describe

import (
	"math"

	"stead/substitution"
)

// readPieces reads how many pieces the supplier's unit holds: "pair", "gross", "box of 100", "PK10", "50 pcs", "2 pairs".
func (r *reading) readPieces() {
	for i := range r.items {
		it := &r.items[i]
		switch {
		case it.kind == figure && it.unit&pieces != 0 && !it.used && it.value == math.Trunc(it.value):
			n := count(it)
			if i > 0 && r.items[i-1].kind == phrase && r.items[i-1].sense.packOf {
				r.items[i-1].used = true
			}
			r.pack(n, i, i+1)
		case it.kind != phrase || it.clause == forClause || i == 0 && it.sense.code == r.family:
		case it.sense.pieces > 0:
			r.readPair(i)
		case it.sense.packOf:
			r.readPackOf(i)
		}
	}
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
	it := &r.items[i]
	n, from := it.sense.pieces, i
	if i > 0 {
		if b := &r.items[i-1]; b.kind == figure && b.unit == none && !b.used && b.decimals == 0 && b.value >= 1 && b.value <= 50 &&
			!(i > 1 && r.items[i-2].kind == joint && r.glued(i-1) && r.items[i-2].joint != ',' && r.items[i-2].joint != ';' && r.items[i-2].joint != '(') && !(n > 2 && !r.glued(i) && b.value > 10) {
			n, from = n*int(b.value), i-1
			if before := i - 2; before >= 0 && r.glued(i-1) && (r.items[before].kind == unknown || r.items[before].kind == phrase && !r.items[before].sense.packOf) { // "M6 PR"
				n, from = it.sense.pieces, i
			}
		}
	}
	if from == i && i > 0 && r.items[i-1].kind == phrase && r.items[i-1].sense.packOf && it.sense.pieces == 2 {
		r.items[i-1].used = true
	}
	r.pack(n, from, i+1)
}

// readPackOf reads "box of 100", "PK10", "qty: 4", "SET 5".
func (r *reading) readPackOf(i int) {
	j := i + 1
	for j < len(r.items) && r.items[j].kind == joint && (r.items[j].joint == ':' || r.items[j].joint == '=' || r.items[j].joint == '-' && r.glued(j)) {
		j++
	}
	if j >= len(r.items) {
		return
	}
	it := &r.items[j]
	if it.kind != figure || it.used || it.unit != none && it.unit&pieces == 0 || it.decimals > 0 && !it.thousands || it.value < 1 {
		return
	}
	if j+1 < len(r.items) && r.items[j+1].kind == joint {
		if next := r.items[j+1].joint; (next == 'x' || next == '/' || next == '-') && j+2 < len(r.items) && r.items[j+2].kind == figure {
			return // "shifter set 3x7"
		}
	}
	n, to := count(it), j+1
	if j+1 < len(r.items) && r.items[j+1].kind == phrase && r.items[j+1].sense.pieces == 2 {
		n, to = n*2, j+2
		r.items[j+1].used = true
		for k := range r.findings {
			if r.findings[k].dim == "pack" && r.findings[k].from == j+1 {
				r.findings[k].value = substitution.Count(n)
			}
		}
	}
	r.pack(n, i, to)
}

// readMultiplied reads "X100" at the end of a terse code, once every size has been read.
func (r *reading) readMultiplied() {
	if r.has("pack") || r.family == "tyre" || r.family == "tube" {
		return
	}
	for i := 1; i < len(r.items); i++ {
		it, x := &r.items[i], &r.items[i-1]
		if it.kind != figure || it.used || it.unit != none && it.unit&pieces == 0 || it.decimals > 0 || it.value < 2 || x.kind != joint || x.joint != 'x' {
			continue
		}
		if r.family == "loose-balls" && i > 1 && r.items[i-2].kind == figure && r.items[i-2].used && it.value >= 5 {
			r.pack(count(it), i-1, i+1) // "3/16 x 50"
			return
		}
		if !r.glued(i) || i > 1 && r.items[i-2].kind == figure && (r.glued(i-1) || r.items[i-2].unit == none && !r.items[i-2].used) {
			continue
		}
		r.pack(count(it), i-1, i+1)
		return
	}
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
