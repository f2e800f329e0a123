// Package barcode reads what a scanner hands on: a label of the workshop's own, the GTIN of an article, or any other code.
//
// A scanner types its code like a keyboard, so nothing tells apart what it was printed as. A GTIN has its check digit, a
// label of ours begins with the kind of thing that it sticks on, and all else is looked for as it is.
package barcode

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"
)

// Code is what was scanned.
type Code struct {
	Text  string // as it was read, tidied
	Label *Label // of the workshop's own; nil: it is none
	GTIN  string // of the article, as thirteen digits; empty: it is none
	Box   bool   // the GTIN is on a box of several of the article (an indicator of 1 to 8), or of its weight (9)
}

// Label is what is stuck on a thing: "part 71", "bin D2".
type Label struct {
	Kind Kind
	ID   int64  // of all but a bin
	Name string // of a bin
}

// Kind is what a label of the workshop's own is stuck on.
type Kind string

const (
	OnBin  Kind = "bin"
	OnPart Kind = "part"
	OnBike Kind = "bike"
	OnJob  Kind = "job"
)

// String is what a label's bars and its QR code say.
func (l Label) String() string {
	if l.Kind == OnBin {
		return "bin " + l.Name
	}
	return fmt.Sprintf("%s %d", l.Kind, l.ID)
}

// longest bounds a code, in bytes; what a QR code can hold beyond it names no part.
const longest = 200

var (
	ours      = regexp.MustCompile(`(?i)^(part|bike|job) ([0-9]{1,18})$`)
	bin       = regexp.MustCompile(`(?i)^bin (.+)$`)
	symbology = regexp.MustCompile(`^\][A-Za-z][0-9A-Za-z]`)                       // ISO/IEC 15424 lets a scanner say first as what it was printed
	element   = regexp.MustCompile(`^(?:\(01\)|01)([0-9]{14})(?:[^0-9]|[0-9(]|$)`) // GS1 application identifier 01: a GTIN of 14 digits
	link      = regexp.MustCompile(`(?i)^https?://.*/01/([0-9]{8}|[0-9]{12,14})(?:[/?#]|$)`)
	digits    = regexp.MustCompile(`^[0-9]+$`)
)

// Read reads a code. One that holds nothing, or more than any code of a part, is an error.
func Read(scanned string) (Code, error) {
	text := strings.TrimSpace(symbology.ReplaceAllString(strings.TrimSpace(scanned), ""))
	plain := strings.TrimLeft(text, "\x1d") // a GS1 symbol begins with a sign that some scanners hand on
	text = strings.Join(strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) || unicode.IsControl(r) || r == unicode.ReplacementChar }), " ")
	switch {
	case text == "":
		return Code{}, errors.New("nothing was scanned: try again, or type what stands under the bars")
	case len(text) > longest:
		return Code{}, fmt.Errorf("a code of %d characters is of no part, bin, bike or job: at most %d can be", len(text), longest)
	}
	c := Code{Text: text}
	if m := ours.FindStringSubmatch(text); m != nil {
		id, err := strconv.ParseInt(m[2], 10, 64)
		if err == nil && id > 0 {
			c.Label = &Label{Kind: Kind(strings.ToLower(m[1])), ID: id}
		}
		return c, nil
	}
	if m := bin.FindStringSubmatch(text); m != nil {
		c.Label = &Label{Kind: OnBin, Name: m[1]}
		return c, nil
	}
	for _, pattern := range []*regexp.Regexp{element, link} {
		if m := pattern.FindStringSubmatch(plain); m != nil {
			if c.gtin(m[1]); c.GTIN != "" {
				return c, nil
			}
		}
	}
	if digits.MatchString(text) {
		c.gtin(text)
	}
	return c, nil
}

// gtin takes digits for a GTIN where their check digit is right. Those of 8 and 12 digits are of 13 with zeros in front; one
// of 14 whose indicator is not 0 is on a box, and the article in it has the same digits with a check digit of its own
// (GS1 General Specifications, section 2.1.6).
func (c *Code) gtin(number string) {
	switch len(number) {
	case 8, 12, 13, 14:
	default:
		return
	}
	if CheckDigit(number[:len(number)-1]) != number[len(number)-1] {
		return
	}
	all := strings.Repeat("0", 14-len(number)) + number
	if strings.Trim(all, "0") == "" {
		return
	}
	if all[0] == '0' {
		c.GTIN = all[1:]
		return
	}
	c.Box, c.GTIN = true, all[1:13]+string(CheckDigit(all[1:13]))
}

// CheckDigit is the digit that follows others in a GTIN: from the right they weigh 3, 1, 3, 1, …, and it makes the sum a
// multiple of ten (GS1 General Specifications, section 7.9.1). The text is of digits only.
func CheckDigit(before string) byte {
	sum := 0
	for i := range len(before) {
		sum += int(before[len(before)-1-i]-'0') * (3 - i%2*2)
	}
	return byte('0' + (10-sum%10)%10)
}

// Misread tells where digits of a GTIN's length end in the wrong check digit: what should come. 0 says that nothing can be
// told.
func (c Code) Misread() byte {
	n := len(c.Text)
	if c.GTIN != "" || !digits.MatchString(c.Text) || n != 8 && n != 12 && n != 13 && n != 14 {
		return 0
	}
	if want := CheckDigit(c.Text[:n-1]); want != c.Text[n-1] {
		return want
	}
	return 0
}
