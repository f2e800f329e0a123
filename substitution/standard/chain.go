package standard

import (
	"math"
	"regexp"
)

// ChainWidth is a nominal chain width: the room between the inner plates, which must take the sprocket's tooth.
type ChainWidth struct {
	Name    string  `json:"chain_width"` // inches, as the trade names it: 1/8, 3/32, 11/128
	InnerMM float64 `json:"inner_mm"`
	Speeds  []int   `json:"speeds"`
	Reference
}

var refChainPage = Reference{"a chain reference page", Practice}

var chainWidths = []ChainWidth{
	{"5/32", 3.97, []int{1}, refChainPage},
	{"1/8", 3.175, []int{1}, refChainPage},
	{"3/32", 2.38, []int{1, 5, 6, 7, 8}, refChainPage},
	{"11/128", 2.18, []int{9, 10, 11, 12}, refChainPage},
}

// ChainWidths are all nominal widths, widest first; the slice is the caller's own.
func ChainWidths() []ChainWidth { return append([]ChainWidth(nil), chainWidths...) }

// String is the name with its inch mark: `3/32"`; [ParseChainWidth] reads it back.
func (w ChainWidth) String() string { return w.Name + `"` }

var chainWidthForm = regexp.MustCompile(`^(?:1/2 ?"? ?(?:in)? ?x ?)?(5/32|1/8|3/32|11/128|\d*\.\d+) ?("|in|inch|mm)?$`)

// ParseChainWidth reads "3/32", `1/2" x 1/8"`, `11/128"` or the inner width in millimetres, "2.38 mm".
func ParseChainWidth(s string) (ChainWidth, error) {
	const what = "a chain width"
	if err := checkText(what, s); err != nil {
		return ChainWidth{}, err
	}
	if form := chainWidthForm.FindStringSubmatch(plain(s)); form != nil {
		mm, _ := number(form[1])
		if form[2] != "mm" && mm < 1 {
			mm *= Inch
		}
		for _, w := range chainWidths {
			if w.Name == form[1] || math.Abs(w.InnerMM-mm) < 0.06 {
				return w, nil
			}
		}
	}
	return ChainWidth{}, &ReadingError{What: what, Input: s, Problem: "chains are 1/8, 3/32 or 11/128 inch wide inside (5/32 on cargo bikes)"}
}

// PinWidth is the outside width of a chain over its pins, which must clear the neighbouring sprocket.
type PinWidth struct {
	Speed int     `json:"speed"`
	MinMM float64 `json:"min_mm"`
	MaxMM float64 `json:"max_mm"`
	Note  string  `json:"note,omitempty"`
	Reference
}

var refPinWidth = Reference{"two chain reference pages", Practice}

var pinWidths = []PinWidth{
	{5, 7.1, 7.8, "usually 7.8; one chain for 5 to 8 speeds is 7.1", refPinWidth},
	{6, 7.1, 7.8, "usually 7.8; one chain for 5 to 8 speeds is 7.1", refPinWidth},
	{7, 7.1, 7.3, "usually 7.3; one chain for 5 to 8 speeds is 7.1", refPinWidth},
	{8, 7.0, 7.3, "usually 7.1", refPinWidth},
	{9, 6.5, 6.8, "usually 6.6", refPinWidth},
	{10, 5.84, 6.2, "usually 5.9; an early system 6.1 to 6.2", refPinWidth},
	{11, 5.46, 5.74, "usually 5.5", refPinWidth},
	{12, 5.15, 5.25, "", refPinWidth},
	{13, 4.9, 4.9, "", refPinWidth},
}

// PinWidths are all rows, by speed; the slice is the caller's own.
func PinWidths() []PinWidth { return append([]PinWidth(nil), pinWidths...) }

// WearLimit is the elongation at which a chain for these speeds should go, in per cent.
type WearLimit struct {
	Speeds  []int   `json:"speeds"`
	Percent float64 `json:"replace_at_percent"`
	Reference
}

var refWear = Reference{"a chain wear page that cites a tool maker", Practice}

// ChainWearLimit is the limit for a number of speeds (1 for single speed). Opinion differs, and a maker's own figure wins.
func ChainWearLimit(speeds int) (WearLimit, bool) {
	switch {
	case speeds >= 11 && speeds <= 13:
		return WearLimit{[]int{11, 12, 13}, 0.5, refWear}, true
	case speeds >= 5 && speeds <= 10:
		return WearLimit{[]int{5, 6, 7, 8, 9, 10}, 0.75, refWear}, true
	case speeds == 1:
		return WearLimit{[]int{1}, 1.0, refWear}, true
	}
	return WearLimit{}, false
}

// ChainWearPercent is how much longer a length over so many pitches is than new: 24 half-links are 304.8 mm.
func ChainWearPercent(lengthMM float64, pitches int) float64 {
	fresh := float64(pitches) * PitchMM
	return (lengthMM - fresh) / fresh * 100
}
