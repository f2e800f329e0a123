package pricelist

import (
	"strings"
	"unicode"
)

// Clean is a cell as it may be kept and shown: nothing in it steers a terminal or turns the direction of writing, and
// nothing in it is unseen. Line ends and tabs within it are blanks, and there are none around it.
func Clean(cell string) string {
	plain := true
	for i := range len(cell) {
		if cell[i] < ' ' || cell[i] >= 0x7f {
			plain = false
			break
		}
	}
	if !plain {
		cell = strings.Map(seen, cell)
	}
	return strings.Trim(cell, " \u00a0\u202f\u2009")
}

// seen is a letter or sign as it is, a blank for what parts lines, and nothing for what is never seen.
func seen(r rune) rune {
	switch {
	case r == '\n', r == '\r', r == '\t', r == '\v', r == '\f', r == '\u2028', r == '\u2029', r == '\u0085':
		return ' '
	case unicode.IsControl(r), unicode.Is(unicode.Cf, r):
		return -1
	}
	return r
}
