package describe

import (
	"bytes"
	"math"

	"stead/substitution"
	"stead/substitution/standard"
)

// wheelSize is a tyre's or tube's size as read: a bead seat, and from which to which width.
type wheelSize struct {
	bead, from, to int
	iso            bool
	first, last    int // items
}

// sizeAt reads a size at item i: "28-622", "28/47-622", "26 x 1.95", "700 x 28/32C", "20 x 1.75 to 2.125". In a tyre a range
// of widths is no size.
func (r *reading) sizeAt(i int, ranges bool) (wheelSize, bool) {
	if !r.isFigure(i) {
		return wheelSize{}, false
	}
	if size, ok := r.isoAt(i, ranges); ok {
		return size, true
	}
	return r.namedAt(i, ranges)
}

// isoAt reads the ISO 5775 form.
func (r *reading) isoAt(i int, ranges bool) (wheelSize, bool) {
	if i > 0 && r.isJoint(i-1, "-/x") && r.glued(i) && i > 1 && r.items[i-2].kind == figure {
		return wheelSize{}, false
	}
	size := wheelSize{first: i, iso: true}
	if !r.isWidth(i) || r.items[i].unit != none {
		return size, false
	}
	size.from = int(r.items[i].value)
	size.to = size.from
	j := i + 1
	if ranges && r.isJoint(j, "/-") && r.isWidth(j+1) && r.isJoint(j+2, "-x/") {
		size.to = int(r.items[j+1].value)
		j += 2
	}
	if !r.isJoint(j, "-") && !(ranges && r.isJoint(j, "x")) || !r.isFigure(j+1) || r.items[j+1].decimals > 0 {
		return size, false
	}
	bead := int(r.items[j+1].value)
	if _, known := standard.BeadSeatByMM(bead); !known || size.to < size.from {
		return size, false
	}
	size.bead, size.last = bead, j+2
	return size, true
}

func (r *reading) isWidth(i int) bool {
	return r.isFigure(i) && r.items[i].decimals == 0 && r.items[i].value >= 16 && r.items[i].value <= 130
}

// namedAt reads a size by its inch or French name.
func (r *reading) namedAt(i int, ranges bool) (wheelSize, bool) {
	wheel, j := r.wheelName(i)
	if wheel == nil {
		return wheelSize{}, false
	}
	if !r.isJoint(j, "x") {
		return wheelSize{}, false
	}
	name := append(append([]byte(nil), wheel...), " x "...)
	first, end, ok := r.widthAt(name, j+1)
	if !ok {
		return wheelSize{}, false
	}
	size := wheelSize{bead: first.BeadMM, from: first.WidthMM, to: first.WidthMM, first: i, last: end}
	if r.isJoint(end, "/->") && r.isFigure(end+1) {
		second, to, ok := r.widthAt(name, end+1)
		switch {
		case !ok:
		case !ranges || second.BeadMM != first.BeadMM || second.WidthMM < first.WidthMM:
			return wheelSize{}, false
		default:
			size.to, size.last = second.WidthMM, to
		}
	}
	if r.isJoint(size.last, "/x") && r.glued(size.last) && r.isFigure(size.last+1) {
		return wheelSize{}, false // the size goes on in a way that is not known
	}
	return size, true
}

// wheelName reads "26", "27.5", "27 1/2", "700", "650B", "29 inch" at item i and returns it with the item behind it.
func (r *reading) wheelName(i int) (name []byte, next int) {
	it := &r.items[i]
	if it.unit&bolts != 0 && it.value == 650 { // elsewhere "5B" is five bolts
		return []byte("650b"), i + 1
	}
	if it.unit&(none|inch|letterC) == 0 || it.value < 12 || it.value > 700 || i > 0 && r.isJoint(i-1, "x/") {
		return nil, 0
	}
	name = r.digits(nil, i)
	next = i + 1
	if it.unit == none && (it.value == 27 || it.value == 12) {
		at := next
		if r.isJoint(at, "-") && r.glued(at) && r.glued(at+1) { // "12-1/2"
			at++
		}
		if above, below, to, ok := r.fraction(at); ok && above == 1 && below == 2 {
			name, next = append(name, ".5"...), to
		}
	}
	if it.unit&letterC != 0 {
		name = append(name, 'c')
	} else if next < len(r.items) && r.glued(next) && (r.isWord(next, "a") || r.isWord(next, "b")) {
		name = append(name, r.lower(&r.tokens[r.items[next].first])...)
		next++
	}
	if next < len(r.items) && r.isJoint(next, "\"'") {
		next++
	}
	return name, next
}

// widthAt reads a width at item i and asks for the tyre of that name.
func (r *reading) widthAt(wheel []byte, i int) (standard.Tyre, int, bool) {
	if !r.isFigure(i) || r.items[i].unit&(none|inch|mm|letterC|bolts) == 0 {
		return standard.Tyre{}, 0, false
	}
	key := r.digits(append(r.key[:0], wheel...), i)
	end := i + 1
	if r.pointedMixed(i) { // "1.1/4" is one and a quarter
		key[bytes.LastIndexByte(key, '.')] = ' '
		key = r.digits(append(key, '/'), end+1)
		r.key = key
		t, ok := tyres.of(key)
		return t, end + 2, ok
	}
	if r.items[i].unit&bolts != 0 { // elsewhere "5B" is five bolts; here "42B" is the letter of a 650B
		key = append(key, 'b')
	}
	if r.items[i].decimals == 0 && r.items[i].value <= 3 {
		j := end
		if r.isJoint(j, "-.") && r.glued(j) {
			j++
		}
		if _, _, to, ok := r.fraction(j); ok {
			key = append(key, ' ')
			key = r.digits(append(r.digits(key, j), '/'), j+2)
			end = to
		}
	} else if end < len(r.items) && r.glued(end) && (r.isWord(end, "b") || r.isWord(end, "a")) {
		key = append(key, r.lower(&r.tokens[r.items[end].first])...)
		end++
	}
	r.key = key
	t, ok := tyres.of(key)
	return t, end, ok
}

// pointedMixed reports whether a mixed number is written with a full stop: "1.1/4", "1.3/8".
func (r *reading) pointedMixed(i int) bool {
	it := &r.items[i]
	if it.decimals != 1 || !r.isJoint(i+1, "/") || !r.glued(i+1) || !r.isFigure(i+2) || !r.glued(i+2) || r.items[i+2].decimals > 0 {
		return false
	}
	above, below := math.Round((it.value-math.Trunc(it.value))*10), r.items[i+2].value
	return above < below && int(above)%2 == 1 && (below == 2 || below == 4 || below == 8)
}

// sizes reads every size in the text and checks them against each other: one bead seat, or none.
func (r *reading) sizes(ranges bool) (best wheelSize, ok bool) {
	clash := false
	for i := 0; i < len(r.items); i++ {
		size, found := r.sizeAt(i, ranges)
		if !found {
			continue
		}
		r.claim(size.first, size.last)
		switch {
		case !ok:
			best, ok = size, true
		case size.bead != best.bead, size.iso == best.iso && (size.from != best.from || size.to != best.to):
			clash = true
			r.findings = append(r.findings, finding{dim: "bead_mm", value: substitution.Count(size.bead), strength: plain, from: size.first, to: size.last, bad: true})
		case size.iso:
			best = size
		}
		i = size.last - 1
	}
	if clash {
		r.findings = append(r.findings, finding{dim: "bead_mm", value: substitution.Count(best.bead), strength: plain, from: best.first, to: best.last, bad: true})
	}
	return best, ok && !clash
}

// readTyre reads a tyre's size.
func readTyre(r *reading) {
	if size, ok := r.sizes(false); ok {
		r.give("bead_mm", substitution.Count(size.bead), plain, size.first, size.last)
		r.give("width_mm", substitution.Count(size.from), plain, size.first, size.last)
		return
	}
	if !r.has("bead_mm") {
		r.readWheelAlone()
	}
	if r.has("tubular") && !r.has("width_mm") {
		r.readTubularWidth()
	}
}

// readTubularWidth reads the one width of a tubular, which has no other figure in millimetres: "28" 23mm".
func (r *reading) readTubularWidth() {
	at := -1
	for i := range r.items {
		if it := &r.items[i]; r.isFigure(i) && it.unit&mm != 0 && it.value >= 18 && it.value <= 45 {
			if at >= 0 {
				return
			}
			at = i
		}
	}
	if at >= 0 {
		r.give("width_mm", substitution.Num(r.items[at].value), plain, at, at+1)
	}
}

// readTube reads a tube's wheel and the widths it serves, and its valve.
func readTube(r *reading) {
	r.readSclaverand()
	size, ok := r.sizes(true)
	if ok {
		r.give("bead_mm", substitution.Count(size.bead), plain, size.first, size.last)
		r.give("width_min_mm", substitution.Num(float64(size.from)), plain, size.first, size.last)
		r.give("width_max_mm", substitution.Num(float64(size.to)), plain, size.first, size.last)
		return
	}
	if r.has("bead_mm") {
		return
	}
	r.readWheelAlone()
	for i := range r.items {
		if it := &r.items[i]; it.kind == phrase && it.sense.labels&widthLabel != 0 {
			r.readTubeWidths(i)
		}
	}
}

var (
	widthLabel = labelOf("width")
	wheelLabel = labelOf("wheel")
	erdLabel   = labelOf("erd")
)

// readTubeWidths reads "width: 2.1-2.4"" behind its label.
func (r *reading) readTubeWidths(i int) {
	j := i + 1
	for r.isJoint(j, ":=") {
		j++
	}
	if !r.isFigure(j) || !r.isJoint(j+1, "-/>") || !r.isFigure(j+2) {
		return
	}
	low, high := &r.items[j], &r.items[j+2]
	width := func(it *item) (float64, bool) {
		v := it.value
		if high.unit&inch != 0 || high.unit == none && v < 5 {
			v = math.Round(v * 25.4)
		}
		return v, v >= 16 && v <= 130 && high.unit&(none|inch|mm|letterC) != 0
	}
	a, ok1 := width(low)
	b, ok2 := width(high)
	if ok1 && ok2 && a <= b {
		r.give("width_min_mm", substitution.Num(a), plain, j, j+3)
		r.give("width_max_mm", substitution.Num(b), plain, j, j+3)
	}
}

// readWheelAlone reads a wheel size without a width: "700C", "29 inch", "wheel: 27.5", "622".
func (r *reading) readWheelAlone() {
	for i := range r.items {
		if !r.isFigure(i) {
			continue
		}
		name, end := r.wheelName(i)
		if name == nil || r.isJoint(end, "x") {
			continue
		}
		it := &r.items[i]
		plainName := it.unit&(inch|letterC) != 0 || it.value == 650 && end > i+1 || end == i+1 && it.value >= 203 && it.decimals == 0
		if !plainName && !r.near(i, wheelLabel) {
			continue
		}
		if b, ok := beads.of(name); ok && !r.near(i, erdLabel) {
			r.give("bead_mm", substitution.Count(b.MM), plain, i, end)
		}
	}
}

// readRim reads "622x19C", "559X19", "700C", "29 inch".
func readRim(r *reading) {
	for i := range r.items {
		if !r.isFigure(i) || !r.isJoint(i+1, "x-") || !r.isFigure(i+2) || r.items[i].decimals > 0 || r.items[i].unit != none {
			continue
		}
		bead, inner := int(r.items[i].value), &r.items[i+2]
		if _, known := standard.BeadSeatByMM(bead); !known || inner.unit&(none|mm|letterC) == 0 || inner.value < 11 || inner.value > 60 {
			continue
		}
		r.give("bead_mm", substitution.Count(bead), plain, i, i+3)
		if r.isJoint(i+1, "x") || r.isInnerWidth(i+2) {
			r.give("inner_width_mm", substitution.Num(inner.value), plain, i, i+3)
		}
	}
	if !r.has("bead_mm") {
		r.readWheelAlone()
		return
	}
	r.passWheelName()
}

// isInnerWidth reports whether the figure behind a rim's bead seat and a dash is how wide it is: "559-21". In "622-36"
// it may be how many holes there are, unless those are named.
func (r *reading) isInnerWidth(i int) bool {
	switch it := &r.items[i]; it.value {
	case 12, 16, 18, 20, 24, 28, 32, 36, 40, 48:
		for k := range r.items {
			if other := &r.items[k]; k != i && other.kind == figure && other.unit&(holes|teeth) != 0 {
				return true
			}
		}
		return it.unit&(mm|letterC) != 0
	}
	return true
}

// passWheelName passes over the inch name beside an ISO size ("28" 622x17"): the ISO figures are taken.
func (r *reading) passWheelName() {
	for i := range r.items {
		if it := &r.items[i]; r.isFigure(i) && (it.unit&inch != 0 && it.value >= 12 || it.value == 700 && it.unit&letterC != 0 || it.value == 27.5 || it.value == 650) {
			r.claim(i, i+1)
		}
	}
}

// readRimTape reads a rim tape's wheel: "16 mm x 622", "22MM 700C", "700C x 18".
func readRimTape(r *reading) {
	for i := range r.items {
		if !r.isFigure(i) || !r.isJoint(i+1, "x-") || !r.isFigure(i+2) {
			continue
		}
		for _, at := range []int{i, i + 2} {
			other := &r.items[2*i+2-at]
			if _, known := standard.BeadSeatByMM(int(r.items[at].value)); known && r.items[at].unit&(none|mm) != 0 && r.items[at].decimals == 0 &&
				other.value >= 9 && other.value <= 80 && other.unit&(none|mm) != 0 {
				r.give("bead_mm", substitution.Count(int(r.items[at].value)), plain, at, at+1)
				r.give("width_mm", substitution.Num(other.value), plain, 2*i+2-at, 2*i+3-at)
			}
		}
	}
	if !r.has("bead_mm") {
		r.readWheelAlone()
	}
}

// readSpokeWire reads a spoke's wire: "14G", "2.0/1.8/2.0", "2.0-1.8-2.0".
func readSpokeWire(r *reading) {
	for i := 0; i < len(r.items); i++ {
		if !r.isFigure(i) || !r.isWire(i) {
			continue
		}
		end := i + 1
		key := r.digits(r.key[:0], i)
		for r.isJoint(end, "/-") && r.isFigure(end+1) && r.isWire(end+1) && r.items[end-1].unit == none {
			key = r.digits(append(key, '/'), end+1)
			end += 2
		}
		last := &r.items[end-1]
		isGauge := last.unit&gaugeUnit != 0
		if isGauge {
			key = append(key, 'g')
		}
		r.key = key
		if !isGauge && end == i+1 {
			continue // one figure in millimetres: the slot reads it
		}
		if w, ok := wires.of(key); ok {
			r.give("gauge_mm", substitution.Num(w.ElbowMM), plain, i, end)
			if end > i+1 {
				r.give("butted", substitution.Yes(w.Butted()), plain, i, end)
			}
		}
		i = end - 1
	}
}

// readNippleWire reads a nipple's thread from the wire that it is for: "14G", "2.0 x 12 mm".
func readNippleWire(r *reading) {
	for i := range r.items {
		if !r.isFigure(i) || !r.isWire(i) {
			continue
		}
		it := &r.items[i]
		r.key = r.digits(r.key[:0], i)
		switch {
		case it.unit&gaugeUnit != 0:
			r.key = append(r.key, 'g')
		case it.decimals != 1 || it.value > 2 || r.isJoint(i-1, "/x") || r.isJoint(i+1, "/"): // two wires are a butted spoke's or two nipples'; 2.3 is a wire, and the thread of a thinner one
			continue
		}
		if w, ok := wires.of(r.key); ok {
			if t, known := standard.SpokeThread(w.EndMM); known {
				r.give("thread", substitution.Text(t.String()), plain, i, i+1)
			}
		}
	}
}

func (r *reading) isWire(i int) bool {
	it := &r.items[i]
	if it.unit&gaugeUnit != 0 || it.decimals == 0 && it.unit == none && it.value >= 12 && it.value <= 17 {
		return it.value >= 12 && it.value <= 17
	}
	return it.unit&(none|mm) != 0 && it.value >= 1.4 && it.value <= 3
}

// readSclaverand reads "SV", which is a Sclaverand valve where the tube has a German or a Dutch name. In English lists
// it may as well be Schrader's, and is left unread.
func (r *reading) readSclaverand() {
	if r.has("valve") || !r.hints(aSclaverand, "", "") {
		return
	}
	for i := range r.items {
		if r.isWord(i, "sv") {
			r.give("valve", substitution.Text("presta"), plain, i, i+1)
		}
	}
}
