package describe

import (
	"slices"

	"stead/substitution"
)

// readHeadset reads the open headset code: "EC34/28.6 | ZS44/30". The second figure of the upper end is the steerer, of
// the lower end the crown-race seat; which end a code is follows from that figure, and must agree with the order.
func readHeadset(r *reading) {
	codes := 0
	for i := range r.items {
		kind := r.headsetKind(i)
		if kind == "" || !r.isFigure(i+1) || !r.glued(i+1) || !r.isJoint(i+2, "/") || !r.isFigure(i+3) {
			continue
		}
		key := append(append(r.key[:0], kind...), ' ')
		key = r.digits(append(r.digits(key, i+1), '/'), i+3)
		r.key = key
		end, ok := headEnds.of(key)
		if !ok {
			continue
		}
		codes++
		upper, lower := steererSize(end.SeatMM), crownSize(end.SeatMM)
		saysUpper, saysLower := r.endSaid(i, i+4, "upper"), r.endSaid(i, i+4, "lower")
		silent := !saysUpper && !saysLower
		switch {
		case upper && (saysUpper || silent && codes == 1):
			r.give("upper", substitution.Text(end.String()), plain, i, i+4)
			r.give("steerer_mm", substitution.Num(end.SeatMM), plain, i, i+4)
		case lower && (saysLower || silent):
			r.give("lower", substitution.Text(end.String()), plain, i, i+4)
			r.give("crown_mm", substitution.Num(end.SeatMM), plain, i, i+4)
		}
	}
}

func (r *reading) headsetKind(i int) string {
	for _, kind := range []string{"ec", "zs", "is"} {
		if r.isWord(i, kind) {
			return kind
		}
	}
	return ""
}

// endSaid reports whether the text names the end beside a code: "upper: IS42/28.6", "IS42/28.6 top". Between two codes
// it may be of either, and the figure tells.
func (r *reading) endSaid(from, to int, end string) bool {
	return slices.ContainsFunc([]int{to, from - 1, from - 2}, func(i int) bool {
		return i >= 0 && i < len(r.items) && r.items[i].kind == phrase && r.saysValue(i, "position", end)
	})
}

func steererSize(v float64) bool {
	switch v {
	case 22.2, 25.4, 28.6, 31.8, 38.1:
		return true
	}
	return false
}

func crownSize(v float64) bool {
	switch v {
	case 26.4, 26.5, 27, 30, 33, 39, 39.8, 40, 45, 46, 52:
		return true
	}
	return false
}

// readSteerer reads a steerer named in inches: 1", 1 1/8", 1-1/8, 1.1/8, 1"1/8, 1.5".
func readSteerer(r *reading) {
	for i := range r.items {
		it := &r.items[i]
		if !r.isFigure(i) || it.unit&(none|inch) == 0 {
			continue
		}
		size, end := 0.0, 0
		switch {
		case it.value == 1 && it.decimals == 0: // in French and Italian lists 1"1/8 too
			j := i + 1
			if r.isJoint(j, "-.") {
				j++
			}
			if above, below, to, ok := r.fraction(j); ok && above == 1 && (below == 8 || below == 4) {
				size, end = map[int]float64{8: 28.6, 4: 31.8}[below], to
			} else if it.unit&inch != 0 {
				size, end = 25.4, i+1
			}
		case it.value == 1.1 && r.isJoint(i+1, "/") && r.isFigure(i+2) && (r.items[i+2].value == 8 || r.items[i+2].value == 4):
			size, end = map[float64]float64{8: 28.6, 4: 31.8}[r.items[i+2].value], i+3
		case it.value == 1.125:
			size, end = 28.6, i+1
		case it.value == 1.5 && it.unit&inch != 0:
			size, end = 38.1, i+1
		}
		if size > 0 && !r.has("upper") {
			r.give("steerer_mm", substitution.Num(size), plain, i, end)
		} else if size > 0 {
			r.claim(i, end)
		}
	}
}

// readEitherWay reads the angle of a stem that may be turned over: "+/-7".
func readEitherWay(r *reading) {
	for i := 1; i < len(r.items); i++ {
		it := &r.items[i]
		if r.isFigure(i) && r.isJoint(i-1, "~") && it.unit&(none|degree) != 0 && it.value <= 60 {
			r.give("angle_deg", substitution.Num(it.value), plain, i, i+1)
		}
	}
}

// readQuill reads the shaft of a stem that is said to have a quill: of its sizes, the 22.2 or 21.1 in front is no bar's.
func readQuill(r *reading) {
	if !r.saysKind("quill") {
		return
	}
	for i := range r.items {
		it := &r.items[i]
		if r.isFigure(i) && (it.value == 22.2 || it.value == 21.1) && it.unit&(none|mm) != 0 && r.isJoint(i+1, "x") && r.isFigure(i+2) && r.items[i+2].value >= 40 {
			r.give("quill_mm", substitution.Num(it.value), plain, i, i+1)
			return
		}
	}
}

// readSteererAndBar reads the two clamps of a stem, in either order: "28.6/31.8". No bar is 28.6 mm thick, and a quill
// of that size, for a steerer of 1 1/4 in, is said to be one, so that the figure is else the steerer; 25.4 is one of three, so it is a steerer only where the text says that the stem clamps one.
func readSteererAndBar(r *reading) {
	for i := range r.items {
		if !r.isFigure(i) || r.items[i].clause != mainClause || !r.isJoint(i+1, "/x-") || !r.isFigure(i+2) || r.continues(i, i+3) {
			continue
		}
		steerer, bar := i, i+2
		if r.items[bar].value == 28.6 {
			steerer, bar = bar, steerer
		}
		switch size := r.items[bar].value; {
		case size != 25.4 && size != 26 && size != 31.8 && size != 35, r.items[i].unit&(none|mm) == 0, r.items[i+2].unit&(none|mm) == 0:
		case r.items[steerer].value == 28.6 && r.saysKind("quill"):
			r.give("quill_mm", substitution.Num(28.6), plain, steerer, steerer+1)
			r.give("clamp_mm", substitution.Num(size), plain, bar, bar+1)
		case r.items[steerer].value == 28.6, r.items[steerer].value == 25.4 && size > 25.4 && r.saysKind("clamp"):
			r.give("steerer_mm", substitution.Num(r.items[steerer].value), plain, steerer, steerer+1)
			r.give("clamp_mm", substitution.Num(size), plain, bar, bar+1)
		case r.items[steerer].value == 25.4 && size > 25.4 && !r.saysKind("quill"):
			r.unread = append(r.unread, r.wholeWord(steerer))
			r.claim(steerer, steerer+1)
			r.give("clamp_mm", substitution.Num(size), plain, bar, bar+1)
		}
	}
}

// saysKind reports whether a word gave the kind.
func (r *reading) saysKind(kind string) bool {
	for i := range r.findings {
		if f := &r.findings[i]; f.dim == "kind" && f.value.Word() == kind {
			return true
		}
	}
	return false
}
