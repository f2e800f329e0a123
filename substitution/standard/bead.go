package standard

import (
	"regexp"
	"sort"
	"strconv"
	"strings"
)

// BeadSeat is an ISO 5775 bead seat diameter and the names that wheels of it go by. A tyre fits a rim only when the
// two are equal: the inch size on its own does not say.
type BeadSeat struct {
	MM    int      `json:"bead_mm"`
	Names []string `json:"names"`
	Reference
}

// String is the figure alone, "622"; [ParseBead] reads it back.
func (b BeadSeat) String() string { return strconv.Itoa(b.MM) }

// wheelName is one line of the trade's naming: a wheel size with a width or a letter, and the bead seat it means.
type wheelName struct {
	wheel  string   // "26", "700", "27.5"
	widths []string // the fractions that mean this bead, or "decimal" for any decimal, or a letter A, B, C
	bead   int
	ref    Reference
}

var (
	refSizes    = Reference{"ISO 5775 bead seats, tyre size tables of three reference pages", Practice}
	refSizesOne = Reference{"ISO 5775 bead seats, one reference page", Practice}
	refSizesMem = fromMemory("name of the tyre size")
)

// wheelNames are in order of likelihood within a wheel.
var wheelNames = []wheelName{
	{"29", []string{"decimal"}, 622, refSizes},
	{"700", []string{"c", ""}, 622, refSizes},
	{"28", []string{"1 1/2"}, 635, refSizes},
	{"28", []string{"decimal"}, 622, refSizesMem},
	{"27", []string{"1 1/4", "1 1/8", "1"}, 630, refSizes},
	{"27", []string{"1 1/2"}, 609, refSizesOne},
	{"27.5", []string{"decimal"}, 584, refSizes},
	{"650", []string{"b"}, 584, refSizes},
	{"650", []string{"a"}, 590, refSizesOne},
	{"650", []string{"c"}, 571, refSizesOne},
	{"26", []string{"decimal"}, 559, refSizes},
	{"26", []string{"1 3/8"}, 590, refSizes},
	{"26", []string{"1 1/4"}, 597, refSizes},
	{"26", []string{"1"}, 571, refSizes},
	{"26", []string{"1.25"}, 599, refSizesMem},
	{"26", []string{"1 1/2"}, 584, refSizesMem},
	{"26", []string{"1 3/4"}, 571, refSizesMem},
	{"600", []string{"a"}, 541, refSizesOne},
	{"24", []string{"decimal"}, 507, refSizes},
	{"24", []string{"1"}, 520, refSizesOne},
	{"24", []string{"1 3/8", "1"}, 540, refSizesOne},
	{"24", []string{"1 1/4"}, 547, refSizesOne},
	{"22", []string{"1 3/4"}, 501, refSizesOne},
	{"22", []string{"1"}, 489, refSizesOne},
	{"22", []string{"decimal"}, 457, refSizesMem},
	{"20", []string{"decimal"}, 406, refSizes},
	{"20", []string{"1 3/8", "1 1/8", "1 3/4"}, 451, refSizes},
	{"20", []string{"1 3/4"}, 419, refSizesOne},
	{"20", []string{"2"}, 428, refSizesOne},
	{"20", []string{"2"}, 406, refSizesOne},
	{"18", []string{"decimal"}, 355, refSizesOne},
	{"17", []string{"1 1/4"}, 369, refSizesMem},
	{"16", []string{"1 3/8", "1 1/4"}, 349, refSizes},
	{"16", []string{"decimal"}, 305, refSizesOne},
	{"14", []string{"1 1/4"}, 298, refSizesOne},
	{"14", []string{"decimal"}, 254, refSizesOne},
	{"12.5", []string{"2 1/4"}, 203, refSizesOne},
	{"400", []string{"a"}, 340, refSizesOne},
	{"350", []string{"a"}, 288, refSizesOne},
	{"300", []string{"a"}, 239, refSizesOne},
}

// bareWheels are the sizes that workshops give without a width and mean one bead seat by.
var bareWheels = map[string]int{"29": 622, "700": 622, "27": 630, "27.5": 584}

var beadSeats = buildBeads()

func buildBeads() []BeadSeat {
	byMM := map[int]*BeadSeat{}
	var order []int
	for _, w := range wheelNames {
		b := byMM[w.bead]
		if b == nil {
			b = &BeadSeat{MM: w.bead, Reference: w.ref}
			byMM[w.bead] = b
			order = append(order, w.bead)
		}
		for _, width := range w.widths {
			b.Names = append(b.Names, nameOfWheel(w.wheel, width))
		}
		if w.ref.Confidence > b.Confidence {
			b.Reference = w.ref
		}
	}
	sort.Sort(sort.Reverse(sort.IntSlice(order)))
	beads := make([]BeadSeat, len(order))
	for i, mm := range order {
		beads[i] = *byMM[mm]
	}
	return beads
}

func nameOfWheel(wheel, width string) string {
	switch width {
	case "":
		return wheel
	case "a", "b", "c":
		return wheel + strings.ToUpper(width)
	case "decimal":
		return wheel + " × decimal"
	}
	return wheel + " × " + width
}

// BeadSeats are all bead seats in the table, largest first; the slice is the caller's own.
func BeadSeats() []BeadSeat { return append([]BeadSeat(nil), beadSeats...) }

// BeadSeatByMM finds a bead seat by its figure.
func BeadSeatByMM(mm int) (BeadSeat, bool) {
	for _, b := range beadSeats {
		if b.MM == mm {
			return b, true
		}
	}
	return BeadSeat{}, false
}

var (
	beadForm  = regexp.MustCompile(`^(?:etrto |iso )?(\d{3})(?: ?mm)?$`)
	wheelForm = regexp.MustCompile(`^(\d{2,3}(?:\.5)?|27 1/2)(?: ?(?:in|inch|"))? ?([abc])?(?:er| wheel)?$`)
)

// ParseBead reads a wheel or rim size without a width: "622", "700C", "650B", "29", "27.5\"". A bare 26, 24, 20 or 16 is an
// [AmbiguousError]: each has several bead seats.
func ParseBead(s string) (BeadSeat, error) {
	const what = "a wheel size"
	if err := checkText(what, s); err != nil {
		return BeadSeat{}, err
	}
	text := plain(s)
	if form := beadForm.FindStringSubmatch(text); form != nil {
		mm, _ := strconv.Atoi(form[1])
		if b, ok := BeadSeatByMM(mm); ok {
			return b, nil
		}
	}
	form := wheelForm.FindStringSubmatch(text)
	if form == nil {
		return BeadSeat{}, &ReadingError{What: what, Input: s, Problem: "write the bead seat (622) or a name such as 700C, 650B or 29"}
	}
	wheel, letter := strings.Replace(form[1], " 1/2", ".5", 1), form[2]
	if mm, ok := bareWheels[wheel]; ok && (letter == "" || wheel == "700" && letter == "c") {
		b, _ := BeadSeatByMM(mm)
		return b, nil
	}
	var readings []BeadSeat
	seen := map[int]bool{}
	for _, w := range wheelNames {
		if w.wheel != wheel || seen[w.bead] || (letter != "" && w.widths[0] != letter) {
			continue
		}
		seen[w.bead] = true
		b, _ := BeadSeatByMM(w.bead)
		readings = append(readings, b)
	}
	if len(readings) == 0 {
		return BeadSeat{}, &ReadingError{What: what, Input: s, Problem: "no bead seat of the table goes by that name", Nearest: beadsNear(wheel)}
	}
	return only(what, s, askSidewall, readings)
}

const askSidewall = "read the two figures joined by a dash on the tyre's sidewall (28-622), or the figure on the rim; the second is the bead seat"

// beadsNear names the bead seats within six millimetres of a figure.
func beadsNear(figure string) []string {
	mm, err := strconv.Atoi(figure)
	if err != nil {
		return nil
	}
	var near []string
	for _, b := range beadSeats {
		if b.MM-mm <= 6 && mm-b.MM <= 6 {
			near = append(near, b.String()+" ("+strings.Join(b.Names, ", ")+")")
		}
	}
	return near
}
