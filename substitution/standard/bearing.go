package standard

import "strings"

// Seal says what closes a bearing, in the words of the vocabulary.
type Seal string

const (
	SealUnsaid Seal = ""     // the name does not say
	SealOpen   Seal = "open" // balls visible from both sides
	SealZ      Seal = "z"    // one metal shield
	SealZZ     Seal = "zz"   // two metal shields
	SealRS     Seal = "rs"   // one rubber seal
	Seal2RS    Seal = "2rs"  // two rubber seals
)

// Closed reports whether a shield or seal is fitted, on one side or both.
func (s Seal) Closed() bool { return s != SealUnsaid && s != SealOpen }

// BearingKind tells bearings of one envelope apart when they carry load differently.
type BearingKind string

const (
	DeepGroove BearingKind = "deep groove"
	DoubleRow  BearingKind = "double-row angular contact"
)

// BearingSize is one row of the size table: an envelope and the names it goes by.
type BearingSize struct {
	Name     string      `json:"name"`              // canonical: the short ISO series name (6902, not 61902)
	Aliases  []string    `json:"aliases,omitempty"` // other names of the same envelope
	Kind     BearingKind `json:"kind"`
	BoreMM   float64     `json:"bore_mm"`
	OuterMM  float64     `json:"outer_mm"`
	OpenMM   float64     `json:"open_width_mm"`   // width without shields or seals
	ClosedMM float64     `json:"closed_width_mm"` // width with them; differs under 10 mm bore and in inch sizes
	ISO      bool        `json:"iso"`             // false: a bicycle trade size with no ISO name
	Note     string      `json:"note,omitempty"`
	Reference
}

// Bearing is a designation as read: a size and what the marks around the number say.
type Bearing struct {
	BearingSize
	Seal           Seal   `json:"seal,omitempty"`
	Contact        string `json:"seal_contact,omitempty"` // "contact", "non-contact" or "low-friction" where the mark says
	Clearance      string `json:"clearance,omitempty"`    // c2, cn, c3, c4; absent when not written (then normal is usual)
	Stainless      bool   `json:"stainless,omitempty"`
	Flanged        bool   `json:"flanged,omitempty"`
	SnapRing       bool   `json:"snap_ring,omitempty"`       // groove or ring: measure the plain outside
	FullComplement bool   `json:"full_complement,omitempty"` // no cage: more balls, lower speed
	Precision      string `json:"precision,omitempty"`       // p0, p6, p5
}

// WidthMM is the width that the name settles. It reports false when the open and the closed bearing differ in width
// and the name does not say which it is: then the width must be measured.
func (b Bearing) WidthMM() (float64, bool) {
	switch {
	case b.Seal.Closed():
		return b.ClosedMM, true
	case b.Seal == SealOpen, b.OpenMM == b.ClosedMM:
		return b.OpenMM, true
	}
	return 0, false
}

// String is the canonical designation, which [ParseBearing] reads back to the same bearing: "6902-2RS/C3".
func (b Bearing) String() string {
	var s strings.Builder
	if b.Stainless {
		s.WriteString("SS ")
	}
	if b.Flanged {
		s.WriteString("FL ")
	}
	s.WriteString(b.Name)
	if b.Seal != SealUnsaid {
		s.WriteString("-" + canonicalSealMark(b.Seal, b.Contact))
	}
	if b.SnapRing {
		s.WriteString("-NR")
	}
	if b.Clearance != "" {
		s.WriteString("/" + strings.ToUpper(b.Clearance))
	}
	if b.Precision != "" {
		s.WriteString("/" + strings.ToUpper(b.Precision))
	}
	if b.FullComplement {
		s.WriteString(" MAX")
	}
	return s.String()
}

// Envelope writes bore × outer × width, with both widths where open and closed differ.
func (s BearingSize) Envelope() string {
	text := trim(s.BoreMM) + " × " + trim(s.OuterMM) + " × " + trim(s.OpenMM)
	if s.ClosedMM != s.OpenMM {
		text += ", closed " + trim(s.ClosedMM)
	}
	return text
}

// BearingSizes returns every size in the table, ISO series first. The slice is the caller's own.
func BearingSizes() []BearingSize { return append([]BearingSize(nil), bearingSizes...) }

// BearingByName finds a size by its number alone, without prefix or suffix: "6902", "61902", "628/8", "R8", "15267".
func BearingByName(name string) (BearingSize, bool) {
	i, ok := bearingIndex[name]
	if !ok {
		return BearingSize{}, false
	}
	return bearingSizes[i], true
}
