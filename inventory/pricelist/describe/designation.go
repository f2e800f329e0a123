package describe

import (
	"math"
	"sync"

	"stead/substitution"
	"stead/substitution/standard"
)

// memo remembers what a designation reader said: the same sizes come again and again in a list. It holds a bounded
// number of them, and then starts afresh.
type memo[T any] struct {
	mu    sync.RWMutex
	known map[string]T
	read  func(string) (T, bool)
	wrong map[string]bool
}

const mostRemembered = 20000

func remember[T any](read func(string) (T, bool)) *memo[T] {
	return &memo[T]{known: map[string]T{}, wrong: map[string]bool{}, read: read}
}

// of is the designation's reading; ok is false when the reader refuses it or finds it ambiguous.
func (m *memo[T]) of(key []byte) (T, bool) {
	m.mu.RLock()
	v, ok := m.known[string(key)]
	wrong := !ok && m.wrong[string(key)]
	m.mu.RUnlock()
	if ok || wrong {
		return v, ok
	}
	text := string(key)
	v, ok = m.read(text)
	m.mu.Lock()
	defer m.mu.Unlock()
	if len(m.known)+len(m.wrong) > mostRemembered {
		clear(m.known)
		clear(m.wrong)
	}
	if ok {
		m.known[text] = v
	} else {
		m.wrong[text] = true
	}
	return v, ok
}

var (
	tyres     = remember(func(s string) (standard.Tyre, bool) { t, err := standard.ParseTyre(s); return t, err == nil })
	beads     = remember(func(s string) (standard.BeadSeat, bool) { b, err := standard.ParseBead(s); return b, err == nil })
	threads   = remember(func(s string) (string, bool) { t, err := standard.ParseThread(s); return t.String(), err == nil })
	ballSizes = remember(func(s string) (float64, bool) { b, err := standard.ParseBall(s); return b.MM, err == nil })
	bearings  = remember(func(s string) (standard.Bearing, bool) { b, err := standard.ParseBearing(s); return b, err == nil })
	headEnds  = remember(func(s string) (standard.HeadsetEnd, bool) {
		e, err := standard.ParseHeadsetEnd(s)
		return e, err == nil
	})
	wires = remember(func(s string) (standard.Spoke, bool) { w, err := standard.ParseSpoke(s); return w, err == nil })
	nlgis = remember(func(s string) (string, bool) { g, err := standard.ParseNLGI(s); return g.Grade, err == nil })
)

// digits appends a figure as it is written, with a decimal point.
func (r *reading) digits(key []byte, i int) []byte {
	it := &r.items[i]
	for k := it.first; k < it.figureEnd; k++ {
		for _, c := range r.lower(&r.tokens[k]) {
			if c == ',' {
				c = '.'
			}
			key = append(key, c)
		}
	}
	return key
}

// isWord reports whether item i is the word, known or not.
func (r *reading) isWord(i int, text string) bool {
	if i < 0 || i >= len(r.items) {
		return false
	}
	it := &r.items[i]
	return (it.kind == unknown || it.kind == phrase) && it.last == it.first+1 && string(r.lower(&r.tokens[it.first])) == text
}

func (r *reading) isJoint(i int, marks string) bool {
	if i < 0 || i >= len(r.items) || r.items[i].kind != joint {
		return false
	}
	for k := range len(marks) {
		if r.items[i].joint == marks[k] {
			return true
		}
	}
	return false
}

func (r *reading) isFigure(i int) bool {
	return i >= 0 && i < len(r.items) && r.items[i].kind == figure && !r.items[i].used
}

// fraction reads "5/32" or "1/2" at item i: above and below the line, and the item after it.
func (r *reading) fraction(i int) (above, below, end int, ok bool) {
	if !r.isFigure(i) || !r.isJoint(i+1, "/") || !r.isFigure(i+2) || !r.glued(i+1) || !r.glued(i+2) || r.items[i].unit != none {
		return 0, 0, 0, false
	}
	a, b := &r.items[i], &r.items[i+2]
	if a.decimals > 0 || b.decimals > 0 || a.value < 1 || a.value >= b.value || b.unit&(none|inch) == 0 {
		return 0, 0, 0, false
	}
	switch b.value {
	case 2, 4, 8, 16, 32, 64, 128:
	default:
		return 0, 0, 0, false
	}
	if int(a.value)%2 == 0 || r.isJoint(i+3, "/") && r.glued(i+3) || r.isJoint(i-1, "/") && r.glued(i) {
		return 0, 0, 0, false
	}
	return int(a.value), int(b.value), i + 3, true
}

// readChainWidth reads the roller width: "1/2 x 3/32" or "1/8" alone. The half inch is the pitch of every bicycle chain.
func readChainWidth(r *reading) {
	for i := range r.items {
		above, below, end, ok := r.fraction(i)
		if !ok {
			continue
		}
		width := ""
		switch {
		case above == 1 && below == 8:
			width = "1/8"
		case above == 3 && below == 32:
			width = "3/32"
		case above == 11 && below == 128:
			width = "11/128"
		default:
			continue
		}
		from := i
		if r.isJoint(i-1, "x") {
			if a, b, to, ok := r.fraction(i - 4); ok && a == 1 && b == 2 && to == i-1 {
				from = i - 4
			}
		}
		r.give("chain_width", substitution.Text(width), plain, from, end)
		if r.isJoint(end, "x") && r.isFigure(end+1) && r.family == "chain" {
			if n := r.items[end+1]; n.unit&(none|links) != 0 && n.value >= 80 && n.value <= 200 && n.decimals == 0 {
				r.give("links", substitution.Count(int(n.value)), plain, end+1, end+2)
			}
		}
	}
}

// Which threads a family's parts have.
type threadKinds uint8

const (
	inchThreads   threadKinds = 1 << iota // 1.37x24, 3/8x26
	metricThreads                         // M10x1, M5
	spokeThreads                          // FG 2.3
	axleThreads   = inchThreads | metricThreads
)

// readThread reads a screw thread into a dimension.
func readThread(dim string, kinds threadKinds) reader {
	return func(r *reading) {
		for i := range r.items {
			if !r.isFigure(i) {
				continue
			}
			switch {
			case kinds&metricThreads != 0 && r.isWord(i-1, "m") && r.glued(i):
				r.metricThread(dim, i)
			case kinds&spokeThreads != 0 && r.isWord(i-1, "fg"):
				key := r.digits(append(r.key[:0], "fg "...), i)
				if t, ok := threads.of(key); ok {
					r.give(dim, substitution.Text(t), plain, i-1, i+1)
				}
				r.key = key
			case kinds == axleThreads && r.bareMetric(dim, i):
			case kinds&inchThreads != 0:
				r.inchThread(dim, i)
			}
		}
	}
}

// bareMetric reads an axle's thread that is written without its M: "9x1", "10 x 1", and the "14 x 1" of small wheels.
func (r *reading) bareMetric(dim string, i int) bool {
	d := &r.items[i]
	if !(d.value == 8 || d.value == 9 || d.value == 9.5 || d.value == 10 || d.value == 14) || d.unit&(none|mm) == 0 || r.isJoint(i-1, "x/") || !r.isJoint(i+1, "x") || !r.isFigure(i+2) ||
		r.items[i+2].value != 1 || r.items[i+2].unit&(none|mm) == 0 || r.isJoint(i+3, "/") {
		return false
	}
	key := r.digits(append(r.digits(append(r.key[:0], 'm'), i), 'x'), i+2)
	r.key = key
	t, ok := threads.of(key)
	if ok {
		r.give(dim, substitution.Text(t), plain, i, i+3)
	}
	return ok
}

// metricThread reads the figure behind an M: M10x1, M5. A length may follow in the pitch's place (M5 x 16).
func (r *reading) metricThread(dim string, i int) {
	key := r.digits(append(r.key[:0], 'm'), i)
	end := i + 1
	if r.isJoint(i+1, "x") && r.isFigure(i+2) && r.items[i+2].unit&(none|mm) != 0 && r.items[i+2].value < r.items[i].value/2 && r.items[i+2].value <= 2 {
		key = r.digits(append(key, 'x'), i+2)
		end = i + 3
	}
	r.key = key
	if t, ok := threads.of(key); ok {
		left, upTo := r.leftHand(i-1, end)
		if left {
			t += " left"
		}
		r.give(dim, substitution.Text(t), plain, i-1, end)
		r.claim(end, upTo)
		return
	}
	r.claim(i-1, end)
}

// readPitchApart reads a thru-axle's pitch that stands apart from its diameter: "M12 P1.5", "12x142 L172 P1.0".
func readPitchApart(r *reading) {
	diameter := -1
	for i := range r.items {
		it := &r.items[i]
		if !r.isFigure(i) || it.unit&(none|mm) == 0 {
			continue
		}
		if r.isWord(i-1, "m") { // the thread of a 15 mm axle may be M14
			diameter = i
			break
		}
		if diameter < 0 && (it.value == 12 || it.value == 15 || it.value == 20) && r.isJoint(i+1, "x") {
			diameter = i
		}
	}
	for i := range r.items {
		if it := &r.items[i]; diameter < 0 || !r.isFigure(i) || !r.isWord(i-1, "p") || it.unit&(none|mm) == 0 || it.value < 0.75 || it.value > 2 {
			continue
		}
		r.key = r.digits(append(r.digits(append(r.key[:0], 'm'), diameter), 'x'), i)
		if t, ok := threads.of(r.key); ok {
			r.give("thread", substitution.Text(t), plain, i-1, i+1)
			if r.isWord(diameter-1, "m") {
				r.claim(diameter-1, diameter)
			}
		}
	}
}

// inchThread reads 1.37x24, 3/8 x 26 tpi.
func (r *reading) inchThread(dim string, i int) {
	key, j := r.key[:0], i+1
	if _, _, end, ok := r.fraction(i); ok {
		key = r.digits(append(r.digits(key, i), '/'), i+2)
		j = end
	} else if r.items[i].decimals < 2 || r.items[i].value > 1.5 || r.items[i].unit&(none|inch) == 0 {
		return
	} else {
		key = r.digits(key, i)
	}
	if !r.isJoint(j, "x") || !r.isFigure(j+1) {
		return
	}
	pitch := &r.items[j+1]
	if pitch.unit&(none|tpi|teeth) == 0 || pitch.value < 18 || pitch.value > 56 {
		return
	}
	key = r.digits(append(key, " x "...), j+1)
	r.key = key
	t, ok := threads.of(key)
	if !ok {
		return
	}
	left, upTo := r.leftHand(i, j+2)
	if left {
		t += " left"
	}
	r.give(dim, substitution.Text(t), plain, i, j+2)
	r.claim(j+2, upTo)
}

// leftHand reports whether the text says the thread is a left-hand one.
func (r *reading) leftHand(from, to int) (left bool, upTo int) {
	if to < len(r.items) && r.items[to].kind == phrase && !(r.letters(to) == 1 && (to+1 < len(r.items) && r.items[to+1].isEquals() || r.namesFigure(to))) {
		for _, says := range r.items[to].sense.says {
			if says.dimension == "side" && says.value.Word() == "left" {
				return true, to + 1
			}
		}
	}
	return false, to
}

// namesFigure reports whether the item is short for the name of the figure behind it, "L.80", "L 6,5".
func (r *reading) namesFigure(i int) bool {
	if r.isJoint(i+1, ".") && r.glued(i+1) {
		i++
	}
	return i+1 < len(r.items) && r.items[i+1].kind == figure
}

// readPedalThread reads a pedal's thread, which its diameter names: 9/16 or 1/2 inch, both 20 to the inch.
func readPedalThread(r *reading) {
	dim := "thread"
	if r.family == "crank-arm" {
		dim = "pedal_thread"
	}
	for i := range r.items {
		above, below, end, ok := r.fraction(i)
		if !ok || !(above == 9 && below == 16 || above == 1 && below == 2) {
			continue
		}
		if r.isJoint(end, "x") && r.isFigure(end+1) {
			if r.items[end+1].value != 20 {
				continue
			}
			end += 2
		}
		text := "9/16x20"
		if below == 2 {
			text = "1/2x20"
		}
		r.give(dim, substitution.Text(text), plain, i, end)
	}
}

// readShape reads a pad's shape code: "shape B05", "form: S11".
func readShape(r *reading) {
	for i := range r.items {
		it := &r.items[i]
		if it.kind != phrase || it.sense.labels&shapeLabel == 0 {
			continue
		}
		j := i + 1
		for r.isJoint(j, ":=.") {
			j++
		}
		if r.isJoint(j, "-") {
			continue // "SHAPE-A1" may be the whole code
		}
		end, figures := j, false
		for end < len(r.items) && (end == j || r.glued(end)) && !r.isJoint(end, ",;:()|") {
			figures = figures || r.items[end].kind == figure
			end++
		}
		if end == j+1 && r.saysNothing(j) {
			r.unread = append(r.unread, r.wholeWord(j)) // "shape D": nearly a code, so a person is asked
			continue
		}
		if end == j || !figures || r.items[end-1].kind == joint {
			continue
		}
		start, _ := r.span(&r.items[j])
		_, stop := r.span(&r.items[end-1])
		if r.items[end-1].kind == figure && r.items[end-1].unit&^none&(mm|cm|inch|speeds) != 0 {
			continue
		}
		if stop-start <= 12 {
			r.give("pad_shape", substitution.Text(r.text[start:stop]), plain, j, end)
		}
	}
}

// saysNothing reports whether the item is a single letter that the tables know for something else: a label, or nothing
// of fit.
func (r *reading) saysNothing(i int) bool {
	it := &r.items[i]
	return it.kind == phrase && !it.used && it.last == it.first+1 && r.letters(i) == 1 &&
		len(it.sense.says) == 0 && it.sense.hint == "" && it.sense.opens == mainClause
}

var shapeLabel = labelOf("shape")

// readReach reads a rim-brake caliper's reach: "47-57 mm" is the 57 mm one, as the trade calls it.
func readReach(r *reading) {
	for i := range r.items {
		it := &r.items[i]
		ranged := r.isJoint(i-1, "->/") && !r.isJoint(i-3, "x") && r.isFigure(i-2) && r.items[i-2].value >= 35 && r.items[i-2].value < it.value
		if ranged && it.unit == none { // "47-57", without a unit: no reach is adjusted by more than some 20 mm
			ranged = it.value-r.items[i-2].value >= 8 && it.value-r.items[i-2].value <= 20 && r.saysKind("rim")
		}
		if !r.isFigure(i) || it.unit&mm == 0 && !(it.unit == none && ranged) || it.value < 41 || it.value > 80 || it.decimals > 0 {
			continue
		}
		from := i
		if ranged {
			from = i - 2
		} else if !r.near(i, reachLabel) {
			continue
		}
		r.give("mount", substitution.Text(trim(it.value)+"mm"), plain, from, i+1)
	}
}

var reachLabel = labelOf("reach")

// near reports whether a word with the label stands right before or behind the figure.
func (r *reading) near(i int, label labels) bool {
	if i+1 < len(r.items) && r.items[i+1].kind == phrase && r.items[i+1].sense.labels&label != 0 {
		return true
	}
	j := i - 1
	for r.isJoint(j, ":=") {
		j--
	}
	return j >= 0 && r.items[j].kind == phrase && r.items[j].sense.labels&label != 0
}

// readThruAxle reads a thru-axle's diameter and the width over its ends: 12x142.
func readThruAxle(r *reading) {
	for i := range r.items {
		if !r.isFigure(i) || !r.isJoint(i+1, "x") || !r.isFigure(i+2) || r.isJoint(i+3, "x") {
			continue
		}
		d, w := &r.items[i], &r.items[i+2]
		if d.value > w.value { // "142x12"
			d, w = w, d
		}
		if d.unit&(none|mm) == 0 || w.unit&(none|mm) == 0 || w.decimals > 0 {
			continue
		}
		if !(d.value == 12 || d.value == 15 || d.value == 20) || !isOLN(w.value) {
			continue
		}
		if r.family == "axle" {
			r.give("diameter_mm", substitution.Num(d.value), plain, i, i+3)
			continue
		}
		r.give("axle", substitution.Text(trim(d.value)+"x"+trim(w.value)), plain, i, i+3)
		r.give("oln_mm", substitution.Num(w.value), plain, i, i+3)
	}
}

func isOLN(v float64) bool {
	switch v {
	case 100, 110, 130, 135, 142, 148, 150, 157, 177, 190, 197:
		return true
	}
	return false
}

// readPairsWith reads the ring that a chainring is cut to shift with: "pairs with: 39", "to work with a 34 tooth inner".
func readPairsWith(r *reading) {
	for i := range r.items {
		it := &r.items[i]
		if it.kind != phrase || it.sense.labels&pairsLabel == 0 && !r.isForRing(i) {
			continue
		}
		for j := i + 1; j < len(r.items) && j < i+4; j++ {
			f := &r.items[j]
			if f.kind == joint && !r.isJoint(j, ":=") {
				break
			}
			if f.kind != figure {
				continue
			}
			if !f.isRing() {
				break
			}
			end := j + 1
			if end < len(r.items) && r.items[end].kind == phrase && r.says(end, "position") {
				end++
				r.drop("position", j+1, end)
			}
			r.drop("pack", j, j+1)
			r.give("pairs_with", substitution.Count(int(f.value)), plain, j, end)
			break
		}
	}
}

// isForRing reports whether the item is a "for" with the teeth of one ring right behind it: "corona 34D per 50".
func (r *reading) isForRing(i int) bool {
	if !r.items[i].opens(forClause) && !r.isWord(i, "per") || i+1 >= len(r.items) {
		return false
	}
	return r.items[i+1].isRing() && !r.isJoint(i+2, "/-x+>&")
}

// isRing reports whether a figure may be the teeth of a ring: "39", "39T", or "39er" as German calls it, which elsewhere may
// be a pack of so many or a wheel of so many inches.
func (it *item) isRing() bool {
	return it.isWhole(20, 62) && (it.unit&(none|teeth) != 0 || it.unit&pieces != 0 && it.unit&inch != 0)
}

var pairsLabel = labelOf("pairs")

func (r *reading) says(i int, dim string) bool {
	for _, s := range r.items[i].sense.says {
		if s.dimension == dim {
			return true
		}
	}
	return false
}

// drop takes back what words between two items said of a dimension: they were about another part.
func (r *reading) drop(dim string, from, to int) {
	kept := r.findings[:0]
	for _, f := range r.findings {
		if f.dim != dim || f.from < from || f.to > to {
			kept = append(kept, f)
		}
	}
	r.findings = kept
}

// readShellThread reads the thread of a bottom-bracket shell: 1.37 x 24 is English, 36 x 24 Italian.
func readShellThread(r *reading) {
	for i := range r.items {
		if !r.isFigure(i) || !r.isJoint(i+1, "x") || !r.isFigure(i+2) || r.items[i+2].value != 24 {
			continue
		}
		switch v := r.items[i].value; {
		case v == 1.37 || v == 1.375:
			r.give("shell", substitution.Text("bsa"), plain, i, i+3)
		case v == 36:
			r.give("shell", substitution.Text("italian"), plain, i, i+3)
		}
	}
}

// readPressFit41 reads a press-fit shell of 41 mm by its width: 86.5 is the road one, 91.5 or 92 the mountain one.
func readPressFit41(r *reading) {
	for i := range r.items {
		it := &r.items[i]
		if !r.isFigure(i) || it.value != 41 || !(r.isWord(i-1, "pf") && r.glued(i)) {
			continue
		}
		for k := range r.items {
			shell := map[float64]string{86.5: "bb86", 91.5: "bb92", 92: "bb92"}[r.items[k].value]
			if shell != "" && r.isFigure(k) && r.items[k].unit&(none|mm) != 0 {
				r.give("shell", substitution.Text(shell), plain, i-1, i+1)
			}
		}
	}
}

// readNLGI reads a grease's consistency: "NLGI 2", "NLGI grade 00".
func readNLGI(r *reading) {
	for i := range r.items {
		it := &r.items[i]
		if it.kind != phrase || it.sense.labels&nlgiLabel == 0 {
			continue
		}
		j := i + 1
		for r.isJoint(j, ":=-.") || j < len(r.items) && r.items[j].kind == phrase && r.items[j].sense.labels&gradeLabel != 0 {
			j++
		}
		if !r.isFigure(j) {
			continue
		}
		r.key = r.digits(append(r.key[:0], "nlgi "...), j)
		if g, ok := nlgis.of(r.key); ok && r.items[j].value == math.Trunc(r.items[j].value) {
			r.give("nlgi", substitution.Text(g), plain, j, j+1)
		}
	}
}

var (
	nlgiLabel  = labelOf("nlgi")
	gradeLabel = labelOf("grade")
)
