package terminal

import (
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Visible writes out what a terminal would obey rather than show: control characters, and those that turn the direction of
// text or hide in it, so that what a supplier's list says is read as it stands there. The form is that of JSON, in which
// it means the same. Line ends and tabs stay.
func Visible(s string) string {
	if strings.IndexFunc(s, obeyed) < 0 {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case !obeyed(r):
			b.WriteRune(r)
		case r > 0xffff: // a pair, as in JSON
			r -= 0x10000
			fmt.Fprintf(&b, `\u%04x\u%04x`, 0xd800+r>>10, 0xdc00+r&0x3ff)
		default:
			fmt.Fprintf(&b, `\u%04x`, r)
		}
	}
	return b.String()
}

// obeyed are the characters that are not shown. The joiners that some scripts need (U+200C, U+200D) are.
func obeyed(r rune) bool {
	switch {
	case r == '\n', r == '\t':
		return false
	case unicode.IsControl(r), unicode.Is(unicode.Bidi_Control, r):
		return true
	case r == '\u200b', r == '\u2028', r == '\u2029', r == '\ufeff':
		return true
	}
	return r >= 0xe0000 && r < 0xe1000 // tags and the like, which no terminal shows
}

// NewWriter makes Visible all that is written through it: the last wall before a terminal, whoever wrote what.
func NewWriter(to io.Writer) io.Writer { return &visible{to: to} }

type visible struct {
	to     io.Writer
	left   []byte // of a letter of which the rest is still to come
	failed error
}

// Failed is why something could not be written to a writer of [NewWriter]; nil where all was. Who prints a table line by
// line asks once, at the end.
func Failed(w io.Writer) error {
	if v, is := w.(*visible); is {
		return v.failed
	}
	return nil
}

func (v *visible) Write(p []byte) (int, error) {
	text := append(v.left, p...)
	whole := len(text)
	for back := 1; back < utf8.UTFMax && back <= len(text); back++ {
		if utf8.RuneStart(text[len(text)-back]) {
			if !utf8.FullRune(text[len(text)-back:]) {
				whole = len(text) - back
			}
			break
		}
	}
	said := Visible(strings.ToValidUTF8(string(text[:whole]), "\ufffd"))
	v.left = append([]byte{}, text[whole:]...)
	if _, err := io.WriteString(v.to, said); err != nil {
		if v.failed == nil {
			v.failed = err
		}
		return 0, err
	}
	return len(p), nil
}
