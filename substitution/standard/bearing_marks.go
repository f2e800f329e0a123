package standard

import (
	"sort"
	"strings"
)

// mark is one suffix of a bearing number. Makers write the same seal in different letters; what matters to the
// workshop is open, shielded or sealed, on one side or two, and whether the lip touches.
type mark struct {
	text    string
	seal    Seal
	contact string
	apply   func(*Bearing)
}

const (
	touching   = "contact"
	clear      = "non-contact"
	lowDrag    = "low-friction"
	unknownLip = "" // the catalogue lists the mark without saying which it is
)

// bearingMarks are the suffixes that bearing makers' catalogues define. Sorted longest first when read.
var bearingMarks = sortedMarks([]mark{
	{text: "OPEN", seal: SealOpen},
	{text: "Z", seal: SealZ}, {text: "ZZ", seal: SealZZ}, {text: "2Z", seal: SealZZ},
	{text: "RS", seal: SealRS, contact: touching}, {text: "2RS", seal: Seal2RS, contact: touching},
	{text: "RS1", seal: SealRS, contact: touching}, {text: "2RS1", seal: Seal2RS, contact: touching},
	{text: "RS2", seal: SealRS, contact: touching}, {text: "2RS2", seal: Seal2RS, contact: touching},
	{text: "RSH", seal: SealRS, contact: touching}, {text: "2RSH", seal: Seal2RS, contact: touching},
	{text: "2RSR", seal: Seal2RS, contact: touching},
	{text: "RSL", seal: SealRS, contact: lowDrag}, {text: "2RSL", seal: Seal2RS, contact: lowDrag},
	{text: "RST", seal: SealRS, contact: lowDrag}, {text: "2RST", seal: Seal2RS, contact: lowDrag},
	{text: "RZ", seal: SealRS, contact: clear}, {text: "2RZ", seal: Seal2RS, contact: clear},
	{text: "LU", seal: SealRS, contact: touching}, {text: "LLU", seal: Seal2RS, contact: touching},
	{text: "LB", seal: SealRS, contact: clear}, {text: "LLB", seal: Seal2RS, contact: clear},
	{text: "LLH", seal: Seal2RS, contact: lowDrag}, {text: "LLF", seal: Seal2RS, contact: clear},
	{text: "DU", seal: SealRS, contact: touching}, {text: "DDU", seal: Seal2RS, contact: touching},
	{text: "VV", seal: Seal2RS, contact: clear}, {text: "DD", seal: Seal2RS, contact: touching},
	{text: "NSE", seal: SealRS}, {text: "2NSE", seal: Seal2RS, contact: unknownLip},
	{text: "NSL", seal: SealRS}, {text: "2NSL", seal: Seal2RS, contact: unknownLip},
	{text: "NK", seal: SealRS}, {text: "2NK", seal: Seal2RS, contact: unknownLip},
	{text: "N", apply: func(b *Bearing) { b.SnapRing = true }}, {text: "NR", apply: func(b *Bearing) { b.SnapRing = true }},
	{text: "C2", apply: clearance("c2")}, {text: "CN", apply: clearance("cn")}, {text: "C0", apply: clearance("cn")},
	{text: "C3", apply: clearance("c3")}, {text: "C4", apply: clearance("c4")},
	{text: "P0", apply: precision("p0")}, {text: "P6", apply: precision("p6")}, {text: "P5", apply: precision("p5")},
	{text: "ABEC1", apply: precision("p0")}, {text: "ABEC3", apply: precision("p6")}, {text: "ABEC5", apply: precision("p5")},
	{text: "MAX", apply: fullComplement}, {text: "V", apply: fullComplement},
	{text: "VRS", seal: SealRS, apply: fullComplement}, {text: "V2RS", seal: Seal2RS, apply: fullComplement},
})

func fullComplement(b *Bearing) { b.FullComplement = true }

func clearance(class string) func(*Bearing) { return func(b *Bearing) { b.Clearance = class } }
func precision(class string) func(*Bearing) { return func(b *Bearing) { b.Precision = class } }

func sortedMarks(marks []mark) []mark {
	sort.SliceStable(marks, func(i, j int) bool { return len(marks[i].text) > len(marks[j].text) })
	return marks
}

// canonicalSealMark is one mark for each seal and lip, so that a bearing writes back to itself.
func canonicalSealMark(seal Seal, contact string) string {
	switch {
	case contact == clear && seal == Seal2RS:
		return "2RZ"
	case contact == clear && seal == SealRS:
		return "RZ"
	case contact == lowDrag && seal == Seal2RS:
		return "2RSL"
	case contact == lowDrag && seal == SealRS:
		return "RSL"
	case contact == unknownLip && seal == Seal2RS:
		return "2NSE"
	case contact == unknownLip && seal == SealRS:
		return "NSE"
	}
	return strings.ToUpper(string(seal))
}

// readMarks applies every suffix in rest, or returns what it could not read. Two marks that say different things of
// the same property ("ZZ 2RS") are unreadable: only one of them can be true.
func readMarks(rest string, b *Bearing) (unread string) {
	for {
		rest = strings.TrimLeft(rest, " -/.,")
		if rest == "" {
			return ""
		}
		before := rest
		for _, m := range bearingMarks {
			if !strings.HasPrefix(rest, m.text) {
				continue
			}
			was := *b
			if m.apply != nil {
				m.apply(b)
			} else {
				b.Seal, b.Contact = m.seal, m.contact
			}
			if contradicts(was, *b) {
				return rest
			}
			rest = rest[len(m.text):]
			break
		}
		if rest == before {
			return rest
		}
	}
}

func contradicts(was, is Bearing) bool {
	differ := func(a, b string) bool { return a != "" && a != b }
	return differ(string(was.Seal), string(is.Seal)) || differ(was.Contact, is.Contact) ||
		differ(was.Clearance, is.Clearance) || differ(was.Precision, is.Precision)
}
