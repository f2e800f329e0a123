package note

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// token is a word, a number or a mark of the note. Its place in the text is kept: what is claimed is shown by its own words.
type token struct {
	start, end int
	text       string // lower case, in British spelling
	glued      bool   // nothing stands between it and the token before
	figure     bool   // digits, perhaps with a point
	mark       bool   // punctuation
}

// tokens cuts a note. "chain's" is two words, "28mm" a number and a word, "27.2" one number, "nine-speed" two words and
// a mark.
func tokens(text string) []token {
	out := make([]token, 0, len(text)/5+4)
	end := 0
	add := func(start, stop int, figure, mark bool) {
		t := token{start: start, end: stop, glued: start == end && start > 0, figure: figure, mark: mark}
		t.text = strings.ToLower(text[start:stop])
		if !mark && !figure {
			t.text = plainWord(t.text)
		}
		out = append(out, t)
		end = stop
	}
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		switch {
		case unicode.IsSpace(r) && r != '\n':
			i += size
		case isDigit(r) || r == '.' && i+1 < len(text) && isDigit(rune(text[i+1])) && !digitBefore(text, i):
			j := figureEnd(text, i)
			add(i, j, true, false)
			i = j
		case strings.ContainsRune("½¼¾⅛⅜", r):
			add(i, i+size, true, false)
			i += size
		case (r == '\'' || r == '’') && clipped(text, i, size):
			i += size // "swap 'em"
		case unicode.IsLetter(r):
			j := wordEnd(text, i)
			if k := possessive(text[i:j]); k > 0 {
				add(i, i+k, false, false)
				add(i+k, j, false, false)
			} else {
				add(i, j, false, false)
			}
			i = j
		default:
			add(i, i+size, false, true)
			i += size
		}
	}
	return out
}

// clipped reports that an apostrophe begins "'em".
func clipped(text string, i, size int) bool {
	before, _ := utf8.DecodeLastRuneInString(text[:i])
	j := wordEnd(text, i+size)
	return !unicode.IsLetter(before) && strings.EqualFold(text[i+size:j], "em")
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

func digitBefore(text string, i int) bool { return i > 0 && isDigit(rune(text[i-1])) }

func digitAt(text string, i int) bool { return i < len(text) && isDigit(rune(text[i])) }

// figureEnd is where a number ends. A point belongs to it where a digit follows, and so does a comma where no thousands
// can be meant: "1,6 mm".
func figureEnd(text string, i int) int {
	point := false
	for j := i; j < len(text); j++ {
		switch c := text[j]; {
		case isDigit(rune(c)):
		case !point && j+1 < len(text) && isDigit(rune(text[j+1])) && (c == '.' || c == ',' && j-i <= 3 && !digitAt(text, j+3)):
			point = true
		default:
			return j
		}
	}
	return len(text)
}

// wordEnd is where a word ends; an apostrophe inside belongs to it.
func wordEnd(text string, i int) int {
	for i < len(text) {
		r, size := utf8.DecodeRuneInString(text[i:])
		if !unicode.IsLetter(r) {
			next, _ := utf8.DecodeRuneInString(text[i+size:])
			if r != '\'' && r != '’' || !unicode.IsLetter(next) {
				return i
			}
		}
		i += size
	}
	return i
}

// possessive is where "'s", "'re" or "'ve" begins, or 0. Other contractions, such as "isn't", are words.
func possessive(word string) int {
	for _, mark := range []string{"'", "’"} {
		if k := strings.LastIndex(word, mark); k > 0 {
			switch strings.ToLower(word[k+len(mark):]) {
			case "s", "re", "ve", "ll":
				return k
			}
		}
	}
	return 0
}

// plainWord writes an apostrophe one way only.
func plainWord(word string) string { return strings.ReplaceAll(word, "’", "'") }
