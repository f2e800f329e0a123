package describe

import (
	"strings"

	"stead/substitution"
	"stead/substitution/standard"
)

// readBearing reads a bearing's number: 6902, 61903-2RS1, 608, R8, 15267. Seal and clearance are words of their own. What
// the number settles of bore, outside and width is part of what the supplier says.
func readBearing(r *reading) {
	r.readBoreAndOuter()
	for i := range r.items {
		name, from, ok := r.bearingNumber(i)
		if !ok {
			continue
		}
		r.key = append(append(r.key[:0], name...), r.sealMark()...)
		b, ok := bearings.of(r.key)
		if !ok {
			continue
		}
		width, known := b.WidthMM()
		r.readSnapRing(i + 1)
		switch prefix := r.bearingPrefix(from); {
		case prefix == "f" && !r.has("outer_ring"):
			r.unread = append(r.unread, r.wholeWord(i))
			r.anyRing = true
			continue
		case prefix == "fl":
			r.give("outer_ring", substitution.Text("flanged"), plain, from-1, from)
		case prefix == "w" && b.OpenMM != b.ClosedMM:
			known = false
			fallthrough
		case prefix != "":
			r.claim(from-1, from)
		default:
			r.give("designation", substitution.Text(string(name)), plain, from, i+1)
		}
		r.give("bore_mm", substitution.Num(b.BoreMM), plain, from, i+1)
		r.give("outer_mm", substitution.Num(b.OuterMM), plain, from, i+1)
		if known {
			r.give("width_mm", substitution.Num(width), plain, from, i+1)
		}
	}
}

// readSnapRing reads a groove in the outer ring, or a groove with its ring, from the mark behind the number or its seal: "6902N",
// "6902-2RS NR", where NR is not the French list's black.
func (r *reading) readSnapRing(i int) {
	for i < len(r.items) && (r.isJoint(i, "-/") || r.items[i].kind == phrase && (r.says(i, "seal") || r.says(i, "clearance"))) {
		i++
	}
	if r.isWord(i, "nr") || r.isWord(i, "n") {
		r.drop("colour", i, i+1)
		r.give("outer_ring", substitution.Text("grooved"), plain, i, i+1)
	}
}

// bearingPrefix is a letter before the number that says another bearing than the number does: f is a flange with many
// makers and stainless steel with one, sf and mf are mostly both, fl is a flange, and w wider with one maker and stainless
// steel with another.
func (r *reading) bearingPrefix(from int) string {
	at := from - 1
	if r.isJoint(at, "-") && r.glued(from) {
		at--
	}
	for _, prefix := range []string{"f", "sf", "mf", "fl", "w"} {
		if r.isWord(at, prefix) && (prefix != "w" || r.glued(from)) { // "w 6902" is with one
			return strings.TrimLeft(prefix, "sm")
		}
	}
	return ""
}

// readBoreAndOuter reads "d: 15 mm; D: 28 mm": bearing catalogues write a small d for the bore and a capital for the
// outside.
func (r *reading) readBoreAndOuter() {
	for i := range r.items {
		if !r.isWord(i, "d") {
			continue
		}
		j := i + 1
		for r.isJoint(j, ":=") {
			j++
		}
		if j == i+1 || !r.isFigure(j) || r.items[j].unit&(none|mm) == 0 {
			continue
		}
		dim := "bore_mm"
		if r.text[r.tokens[r.items[i].first].start] == 'D' {
			dim = "outer_mm"
		}
		r.give(dim, substitution.Num(r.items[j].value), plain, j, j+1)
	}
}

// bearingNumber is the number at item i, if it is one: a name in the table of sizes, or five or six digits of the trade's
// dimension code right beside the word "bearing" or a seal mark.
func (r *reading) bearingNumber(i int) (name []byte, from int, ok bool) {
	if !r.isFigure(i) || r.items[i].decimals > 0 || r.items[i].unit != none {
		return nil, 0, false
	}
	name, from = r.digits(nil, i), i
	if whole, known := r.boreBehindStroke(i, name); known {
		return whole, i - 2, true
	}
	if r.isWord(i-1, "r") && r.glued(i) {
		name, from = append([]byte("R"), name...), i-1
	}
	if r.isWord(i-1, "mr") && r.glued(i) && len(name) >= 5 {
		return name, i - 1, true // somebody's prefix before a dimension code
	}
	joined := r.isJoint(i-1, "x/") || r.isJoint(i+1, "x/")
	if _, known := standard.BearingByName(string(name)); known {
		return name, from, !joined || len(name) > 3
	}
	if len(name) < 5 || len(name) > 6 || joined {
		return nil, 0, false
	}
	return name, from, r.besideBearing(i)
}

// boreBehindStroke reads "60/22", a number behind whose stroke the bore itself stands, which ends at item i.
func (r *reading) boreBehindStroke(i int, bore []byte) (name []byte, known bool) {
	if !r.isJoint(i-1, "/") || !r.glued(i-1) || !r.glued(i) || !r.isFigure(i-2) || r.items[i-2].unit != none || r.items[i-2].decimals > 0 {
		return nil, false
	}
	name = append(append(r.digits(nil, i-2), '/'), bore...)
	_, known = standard.BearingByName(string(name))
	return name, known
}

func (r *reading) besideBearing(i int) bool {
	for _, j := range []int{i - 1, i - 2, i + 1, i + 2} {
		if j < 0 || j >= len(r.items) || r.items[j].kind != phrase {
			continue
		}
		s := r.items[j].sense
		if s.family == someBearing || s.family == "cartridge-bearing" || s.weak == "cartridge-bearing" || r.says(j, "seal") {
			return true
		}
	}
	return false
}

// sealMark is the seal that the text says, as a mark behind the number: closed small bearings are wider than open ones.
func (r *reading) sealMark() string {
	mark := ""
	for i := range r.findings {
		f := &r.findings[i]
		if f.dim != "seal" {
			continue
		}
		said := map[string]string{"2rs": "-2RS", "zz": "-ZZ", "rs": "-RS", "open": " OPEN"}[f.value.Word()]
		if mark != "" && said != mark {
			return ""
		}
		mark = said
	}
	return mark
}

// namesBearing reports whether the text has a bearing's number or seal.
func (s *scratch) namesBearing() bool {
	for i := range s.items {
		it := &s.items[i]
		if it.kind != figure || it.decimals > 0 || it.last != it.first+1 {
			continue
		}
		if t := &s.tokens[it.first]; t.norm[1]-t.norm[0] >= 4 {
			if _, ok := standard.BearingByName(string(s.lower(t))); ok {
				return true
			}
		}
	}
	return false
}

// hasAngles reports whether the text has the two chamfer angles of a headset bearing.
func (s *scratch) hasAngles() bool {
	for i := 0; i+2 < len(s.items); i++ {
		if _, _, ok := s.anglesAt(i); ok {
			return true
		}
	}
	return false
}

// anglesAt reads "36/45", "45x45" or "36°x45°": inside and outside chamfer. Headset bearings have 36 or 45 degrees.
func (s *scratch) anglesAt(i int) (inside, outside float64, ok bool) {
	if i+2 >= len(s.items) {
		return 0, 0, false
	}
	a, j, b := &s.items[i], &s.items[i+1], &s.items[i+2]
	if a.kind != figure || b.kind != figure || j.kind != joint || !(j.joint == '/' || j.joint == 'x' || j.joint == '-') {
		return 0, 0, false
	}
	angle := func(it *item) bool {
		return (it.value == 36 || it.value == 45) && it.unit&(none|degree) != 0 && it.decimals == 0
	}
	if !angle(a) || !angle(b) || a.value > b.value {
		return 0, 0, false
	}
	if i+3 < len(s.items) && s.items[i+3].kind == joint && s.items[i+3].joint == 'x' {
		return 0, 0, false
	}
	return a.value, b.value, true
}

func readAngles(r *reading) {
	for i := range r.items {
		if inside, outside, ok := r.anglesAt(i); ok && !r.items[i].used {
			r.give("inner_angle_deg", substitution.Num(inside), plain, i, i+3)
			r.give("outer_angle_deg", substitution.Num(outside), plain, i, i+3)
		}
	}
}

// readHeadsetEnvelope reads the three sizes of a headset bearing in whichever order they are written: the largest is
// the outside, the smallest the height.
func readHeadsetEnvelope(r *reading) {
	for i := range r.items {
		if !r.isFigure(i) || !r.isJoint(i+1, "x/") || !r.isFigure(i+2) || !r.isJoint(i+3, "x/") || !r.isFigure(i+4) {
			continue
		}
		var v [3]float64
		for k := range v {
			if r.items[i+2*k].unit&(none|mm) == 0 {
				v = [3]float64{}
				break
			}
			v[k] = r.items[i+2*k].value
		}
		outer, width := max(v[0], v[1], v[2]), min(v[0], v[1], v[2])
		bore := v[0] + v[1] + v[2] - outer - width
		if outer < 36 || outer > 58 || width < 5 || width > 12 || bore < 24 || bore >= outer {
			continue
		}
		r.give("bore_mm", substitution.Num(tidy(bore)), plain, i, i+5)
		r.give("outer_mm", substitution.Num(outer), plain, i, i+5)
		r.give("width_mm", substitution.Num(width), plain, i, i+5)
	}
}

// readBall reads a ball's size: "5/32", "3.97 mm", "size: 1/4".
func readBall(r *reading) {
	for i := range r.items {
		key, end := r.key[:0], 0
		if _, _, to, ok := r.fraction(i); ok {
			key, end = r.digits(append(r.digits(key, i), '/'), i+2), to
		} else if r.isFigure(i) && r.items[i].unit&mm != 0 {
			key, end = append(r.digits(key, i), " mm"...), i+1
		} else {
			continue
		}
		r.key = key
		if size, ok := ballSizes.of(key); ok {
			r.give("ball_mm", substitution.Num(tidy(size)), plain, i, end)
		}
	}
}

// readBallCage reads "1/4 x 9": nine quarter-inch balls.
func readBallCage(r *reading) {
	for i := range r.items {
		if f := &r.items[i]; r.isFigure(i) && f.unit == none && f.value >= 5 && f.value <= 40 && i+1 < len(r.items) &&
			r.items[i+1].kind == phrase && r.says(i+1, "ball_mm") {
			r.give("balls", substitution.Count(int(f.value)), plain, i, i+1) // "nine quarter inch balls"
			continue
		}
		_, _, end, ok := r.fraction(i)
		if !ok {
			continue
		}
		n := -1
		from, to := i, end
		switch {
		case r.isJoint(end, "x-/") && r.isFigure(end+1):
			n, to = end+1, end+2
		case r.isJoint(i-1, "x") && r.isFigure(i-2):
			n, from = i-2, i-2
		default:
			continue
		}
		balls := &r.items[n]
		if balls.unit&(none|pieces) == 0 && balls.sense == nil || balls.decimals > 0 || balls.value < 5 || balls.value > 40 {
			continue
		}
		r.key = r.digits(append(r.digits(r.key[:0], i), '/'), i+2)
		size, ok := ballSizes.of(r.key)
		if !ok {
			continue
		}
		r.give("ball_mm", substitution.Num(tidy(size)), plain, from, to)
		r.give("balls", substitution.Count(int(balls.value)), plain, from, to)
	}
}
