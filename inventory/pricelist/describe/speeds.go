package describe

import (
	"math"

	"stead/substitution"
)

const (
	mostSpeeds = 14
	mostRings  = 3
)

// readSpeeds reads the list of speeds: "9/10SPD", "6-8 speed", "6,7 and 8 speed", "2x10", "speeds: 11".
func readSpeeds(r *reading) {
	for i := range r.items {
		it := &r.items[i]
		switch {
		case it.kind == figure && it.unit&speeds != 0 && !it.used:
			r.speedsEndingAt(i)
		case it.kind == figure && !it.used && i == r.named+1 && r.gluedSpeeds(i):
		case it.kind == phrase && it.sense.labels&speedLabel != 0:
			r.speedsAfter(i)
		case it.kind == figure && !it.used:
			r.ringsTimesSpeeds(i)
		}
	}
}

var speedLabel = labelOf("speeds")

// gluedSpeeds reads a number of speeds that is written onto the name of what it is of: "CASS8", "CHAIN10".
func (r *reading) gluedSpeeds(i int) bool {
	it := &r.items[i]
	switch r.family {
	case "chain", "cassette", "freewheel", "chain-joiner":
	default:
		return false
	}
	if i == 0 || !r.glued(i) || it.unit != none || it.decimals > 0 || it.value < 6 || it.value > 13 || r.isJoint(i+1, "/-x") {
		return false
	}
	r.give("speeds", substitution.List(int(it.value)), plain, i, i+1)
	return true
}

// speed is a figure as a number of speeds; a decimal comma in "9,10 speed" is a list.
func speed(it *item) ([]int, bool) {
	whole := math.Trunc(it.value)
	switch {
	case it.kind != figure || whole < 1 || whole > mostSpeeds:
		return nil, false
	case it.decimals == 0:
		return []int{int(whole)}, true
	case it.comma && it.decimals == 1:
		return []int{int(whole), int(math.Round((it.value - whole) * 10))}, true
	case it.comma && it.decimals == 2:
		if n := int(math.Round((it.value - whole) * 100)); n >= 10 && n <= mostSpeeds {
			return []int{int(whole), n}, true
		}
	}
	return nil, false
}

// speedsEndingAt reads backwards from the figure that carries the word: 6/7/8 speed.
func (r *reading) speedsEndingAt(i int) {
	list, ok := speed(&r.items[i])
	if !ok {
		return
	}
	if (r.family == "crankset" || r.family == "front-derailleur") && list[0] <= mostRings { // "3-fach": so many rings
		r.claim(i, i+1)
		return
	}
	if r.family == "chainring" && list[0] <= 5 && r.items[i].unit&holes != 0 { // "5F" are its holes
		return
	}
	from := i
	for from >= 2 && r.items[from-1].kind == joint && r.mayBeSpeeds(from-2) {
		if r.items[from-1].joint == 'x' {
			from = r.dropRings(from, &r.items[from-2], &list)
			break
		}
		more := r.speedsBefore(from, list[0])
		if more == nil {
			break
		}
		list = append(more, list...)
		from -= 2
	}
	if list != nil {
		r.give("speeds", substitution.List(list...), plain, from, i+1)
	} else {
		r.claim(from, i+1)
	}
}

// mayBeSpeeds reports whether the item is a figure that counts nothing else.
func (r *reading) mayBeSpeeds(i int) bool {
	it := &r.items[i]
	return it.kind == figure && !it.used && (it.unit == none || it.unit&speeds != 0)
}

// speedsBefore are the speeds that a list has before item from, whose first so far is next: those of the figure, and,
// where a dash makes a range of them, those between. Nil where the list begins at from.
func (r *reading) speedsBefore(from, next int) []int {
	f := &r.items[from-2]
	more, ok := speed(f)
	if !ok || !r.isJoint(from-1, "/->&,+") {
		return nil
	}
	if f.unit == none && r.isJoint(from-1, "-") && r.glued(from) && r.isJoint(from-3, "/") {
		return nil // "1/8-9SPD": the eight is half of a fraction
	}
	if len(more) == 1 && r.isJoint(from-1, "->") {
		return upTo(more[0], next)
	}
	return more
}

// upTo are the whole numbers from low up to high, without it; nil where there are none.
func upTo(low, high int) []int {
	var all []int
	for n := low; n < high; n++ {
		all = append(all, n)
	}
	return all
}

// dropRings takes "2x" off "2x10 speed". A pair of shifters is for two different numbers, so nothing is left then.
func (r *reading) dropRings(from int, rings *item, list *[]int) int {
	if !rings.isWhole(1, mostRings) {
		return from
	}
	if r.family == "shifter" && !r.rightHand() {
		*list = nil
	}
	return from - 2
}

// rightHand reports whether the text says it is the right-hand one of the two shifters.
func (r *reading) rightHand() bool {
	right := false
	for i := range r.findings {
		if f := &r.findings[i]; f.dim == "side" {
			if f.value.Word() != "right" {
				return false
			}
			right = true
		}
	}
	return right
}

// speedsAfter reads "speeds: 9/10".
func (r *reading) speedsAfter(i int) {
	j := r.pastEquals(i + 1)
	if j == i+1 || j >= len(r.items) || r.items[j].used || r.items[j].unit != none {
		return
	}
	end := j
	for r.isJoint(end+1, "/->&,x") && end+2 < len(r.items) && r.items[end+2].kind == figure && r.items[end+2].unit == none {
		end += 2
	}
	r.items[end].unit |= speeds
	r.speedsEndingAt(end)
}

// ringsTimesSpeeds reads "2x11" and "3X8" without the word.
func (r *reading) ringsTimesSpeeds(i int) {
	switch r.family {
	case "chainring", "sprocket", "freewheel":
		return
	}
	if !r.isRingsTimesSpeeds(i) {
		return
	}
	rings, f := &r.items[i], &r.items[i+2]
	list := []int{int(f.value)}
	r.dropRings(i+2, rings, &list)
	if list == nil {
		r.claim(i, i+3)
		return
	}
	r.give("speeds", substitution.List(list...), plain, i, i+3)
}

// isRingsTimesSpeeds reports whether one to three rings times five to thirteen speeds stand at item i, and not in the
// midst of a longer run of figures, as in "2x10x30".
func (r *reading) isRingsTimesSpeeds(i int) bool {
	if !r.isJoint(i+1, "x") || i+2 >= len(r.items) {
		return false
	}
	rings, f := &r.items[i], &r.items[i+2]
	if !rings.isWhole(1, mostRings) || rings.unit != none || !f.isWhole(5, 13) || f.used || f.unit != none {
		return false
	}
	goesOn := i+4 < len(r.items) && r.items[i+3].kind == joint && r.items[i+4].kind == figure && r.glued(i+3)
	begun := i >= 2 && r.items[i-1].kind == joint && !r.isJoint(i-1, ",;") && r.items[i-2].kind == figure
	return !goesOn && !begun
}

// readSprocketList reads every sprocket written out: 13-14-15-16-17-19-21-23-25.
func readSprocketList(r *reading) {
	for i := 0; i < len(r.items); i++ {
		end := i
		for end+2 < len(r.items) && r.items[end].kind == figure && r.items[end+1].kind == joint &&
			(r.items[end+1].joint == '-' || r.items[end+1].joint == ',' || r.items[end+1].joint == '/') &&
			r.items[end+2].kind == figure && r.items[end+2].value > r.items[end].value && r.items[end].unit == none {
			end += 2
		}
		if (end-i)/2 >= 4 && r.items[i].value >= 9 && r.items[i].value <= 18 && r.items[end].value >= 18 && r.items[end].value <= 54 &&
			r.items[end].unit&(none|teeth) != 0 {
			r.give("teeth_min", substitution.Count(int(r.items[i].value)), plain, i, i+1)
			r.give("teeth_max", substitution.Count(int(r.items[end].value)), plain, end, end+1)
			r.claim(i, end+1)
		}
		i = max(i, end)
	}
}

// readOneSprocket reads a single-speed freewheel's teeth: its smallest and its largest sprocket are the same one.
func readOneSprocket(r *reading) {
	at := -1
	for i := range r.items {
		it := &r.items[i]
		byLabel := it.unit == none && r.namedTeeth(i)
		if it.kind != figure || it.used || it.unit&teeth == 0 && !byLabel || it.decimals > 0 || it.value < 11 || it.value > 24 {
			continue
		}
		if r.inRange(i) || at >= 0 {
			return
		}
		at = i
	}
	if at < 0 {
		return
	}
	for i := range r.findings {
		if f := &r.findings[i]; f.dim == "speeds" && !f.value.Equal(substitution.List(1)) {
			return
		}
	}
	n := substitution.Count(int(r.items[at].value))
	r.give("teeth_min", n, plain, at, at+1)
	r.give("teeth_max", n, plain, at, at+1)
}

var teethLabel = labelOf("teeth")

// namedTeeth reports whether "teeth:" stands before the figure.
func (r *reading) namedTeeth(i int) bool {
	return i >= 2 && r.items[i-1].isEquals() &&
		r.items[i-2].kind == phrase && r.items[i-2].sense.labels&teethLabel != 0
}

// inRange reports whether the figure is one end of "14-28" or "14 to 28".
func (r *reading) inRange(i int) bool {
	ranged := func(j, f int) bool {
		if j < 0 || f < 0 || j >= len(r.items) || f >= len(r.items) {
			return false
		}
		return r.items[j].kind == joint && (r.items[j].joint == '-' || r.items[j].joint == '/' || r.items[j].joint == '>') &&
			r.items[f].kind == figure && !r.items[f].used && r.items[f].unit&(none|teeth) != 0
	}
	return ranged(i-1, i-2) || ranged(i+1, i+2)
}

// doubtBodyLength leaves the spline out when a hub or body is said to be "HG" and for 11 or 12 speeds: there are two
// lengths of that body (hg and hg-l), and the trade writes HG for both.
func doubtBodyLength(r *reading) {
	for i := range r.items {
		if it := &r.items[i]; it.kind != figure || it.unit&speeds == 0 || it.value < 11 || it.value > mostSprockets { // an Italian "32F" counts holes
			continue
		}
		for k := range r.findings {
			if f := &r.findings[k]; f.dim == "freehub" && f.value.Word() == "hg" {
				f.bad = true
			}
		}
	}
}

// mostSprockets is how many a cassette has at most.
const mostSprockets = 13

// pullRatios are the families of cable pull that their ratio names: two makers' have 1.1, and two 1.4.
var pullRatios = map[float64]string{1.2: "R1.2", 1.3: "S1.3", 1.5: "C1.5", 1.7: "R1.7", 1.9: "R1.9"}

var pullLabel = labelOf("pull")

// readPullRatio reads the family of cable pull from its ratio: "shift ratio 1.7", "for 1.7 ratio mechs".
func readPullRatio(r *reading) {
	for i := range r.items {
		if family := pullRatios[r.items[i].value]; family != "" && r.isFigure(i) && r.items[i].decimals == 1 && r.items[i].unit == none && r.near(i, pullLabel) {
			r.give("pull_family", substitution.Text(family), plain, i, i+1)
		}
	}
}
