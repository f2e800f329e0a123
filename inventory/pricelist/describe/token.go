package describe

import (
	"unicode"
	"unicode/utf8"
)

// kind is what a token is made of.
type kind uint8

const (
	word kind = iota + 1
	number
	mark // one character: - / , ; : . ( ) " ° + = # | & and the currency signs
)

// token is a word, a number or a mark, with where it stands in the text.
type token struct {
	kind       kind
	glued      bool // nothing stands between it and the token before
	mark       byte // the mark itself; '$' for every currency sign, 'd' for a degree sign
	decimals   uint8
	comma      bool  // the decimal mark was a comma
	id         int32 // its number in the trade's lexicon; 0 if it is not there
	start, end int
	norm       [2]int // its lower-case text in scratch.norm
	value      float64
}

// longest is how much of a text is read: no description is longer, and what is longer is no description.
const longest = 2000

// fractions are the characters for vulgar fractions, as above and below the line.
var fractions = map[rune][2]byte{
	'½': {'1', '2'}, '¼': {'1', '4'}, '¾': {'3', '4'}, '⅛': {'1', '8'}, '⅜': {'3', '8'}, '⅝': {'5', '8'}, '⅞': {'7', '8'},
}

// lex cuts the text into tokens. Lower case, one kind of quote, dash and times sign: what looks alike is alike from here on.
func (s *scratch) lex(text string) {
	s.tokens, s.norm = s.tokens[:0], s.norm[:0]
	glued := false
	for i := 0; i < len(text); {
		c := text[i]
		switch {
		case c >= '0' && c <= '9':
			i = s.lexNumber(text, i, glued)
		case c < utf8.RuneSelf && isLetter(c):
			i = s.lexWord(text, i, glued)
		case c <= ' ':
			i++
			glued = false
			continue
		case c == '+' && i+2 < len(text) && text[i+1] == '/' && text[i+2] == '-':
			s.addMark('~', i, i+3, glued)
			i += 3
		case c < utf8.RuneSelf:
			s.addMark(asciiMark(c), i, i+1, glued)
			i++
		default:
			r, size := utf8.DecodeRuneInString(text[i:])
			if parts, ok := fractions[r]; ok {
				s.addDigit(parts[0], i, i+size, false)
				s.addMark('/', i, i+size, true)
				s.addDigit(parts[1], i, i+size, true)
				i += size
				break
			}
			if unicode.IsSpace(r) || r == '\u200b' || r == '\ufeff' {
				i += size
				glued = false
				continue
			}
			if m := wideMark(r); m != 0 {
				s.addMark(m, i, i+size, glued)
				i += size
				break
			}
			i = s.lexWord(text, i, glued)
		}
		glued = true
	}
}

func isLetter(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }

func asciiMark(c byte) byte {
	if c == '`' {
		return '\''
	}
	if c == '*' {
		return 'x'
	}
	return c
}

// wideMark is the plain mark that a character outside ASCII stands for, or 0 for a letter.
func wideMark(r rune) byte {
	switch r {
	case '×', '✕', '✖':
		return 'x'
	case 'Ø', 'ø', '⌀', 'Φ':
		return 'o'
	case '°', 'º':
		return 'd'
	case '±':
		return '~'
	case '€', '£', '¥':
		return '$'
	case '″', '”', '“', '„', '»', '«':
		return '"'
	case '′', '’', '‘', '´':
		return '\''
	case '–', '—', '‐', '‑', '−':
		return '-'
	}
	if unicode.IsLetter(r) {
		return 0
	}
	return '?'
}

// plainLetter adds a letter without its accent: lists in capitals leave accents out ("CHAINE"), and some leave them out
// throughout.
func plainLetter(b []byte, r rune) []byte {
	switch r {
	case 'à', 'á', 'â', 'ä', 'å':
		r = 'a'
	case 'è', 'é', 'ê', 'ë':
		r = 'e'
	case 'ì', 'í', 'î', 'ï':
		r = 'i'
	case 'ò', 'ó', 'ô', 'ö':
		r = 'o'
	case 'ù', 'ú', 'û', 'ü':
		r = 'u'
	case 'ç':
		r = 'c'
	case 'ñ':
		r = 'n'
	case 'ß':
		return append(b, 's', 's')
	case 'œ':
		return append(b, 'o', 'e')
	}
	return utf8.AppendRune(b, r)
}

func (s *scratch) lexWord(text string, at int, glued bool) int {
	begin := len(s.norm)
	i := at
	for i < len(text) {
		c := text[i]
		if c < utf8.RuneSelf {
			if !isLetter(c) {
				break
			}
			s.norm = append(s.norm, c|0x20)
			i++
			continue
		}
		r, size := utf8.DecodeRuneInString(text[i:])
		if r == utf8.RuneError || !unicode.IsLetter(r) || wideMark(r) != 0 {
			if i == at { // a letter that is none: a byte of another encoding
				i += size
			}
			break
		}
		s.norm = plainLetter(s.norm, unicode.ToLower(r))
		i += size
	}
	if times := i == at+1 && s.norm[begin] == 'x'; times {
		s.tokens = append(s.tokens, token{kind: mark, mark: 'x', glued: glued, start: at, end: i, norm: [2]int{begin, len(s.norm)}})
		return i
	}
	s.tokens = append(s.tokens, token{kind: word, glued: glued, start: at, end: i, norm: [2]int{begin, len(s.norm)}})
	return i
}

// lexNumber reads digits with at most one decimal mark. "1.375" and "27,2" are one number; "6,7,8" are three.
func (s *scratch) lexNumber(text string, at int, glued bool) int {
	i, value := at, 0.0
	for i < len(text) && text[i] >= '0' && text[i] <= '9' {
		value = value*10 + float64(text[i]-'0')
		i++
	}
	t := token{kind: number, glued: glued, start: at}
	if i+1 < len(text) && (text[i] == '.' || text[i] == ',') && text[i+1] >= '0' && text[i+1] <= '9' && !s.listed(text, at, i) {
		t.comma = text[i] == ','
		scale := 0.1
		for i++; i < len(text) && text[i] >= '0' && text[i] <= '9'; i++ {
			value += float64(text[i]-'0') * scale
			scale /= 10
			if t.decimals < 9 {
				t.decimals++
			}
		}
		value = tidy(value)
	}
	begin := len(s.norm)
	for _, c := range []byte(text[at:i]) {
		if c == ',' { // a decimal comma, so that "7,5W" is looked up as "7.5w"
			c = '.'
		}
		s.norm = append(s.norm, c)
	}
	t.end, t.value, t.norm = i, value, [2]int{begin, len(s.norm)}
	s.tokens = append(s.tokens, t)
	return i
}

// listed reports whether the comma at i is one of several in a run of whole numbers ("6,7,8"), and so no decimal mark.
func (s *scratch) listed(text string, at, i int) bool {
	if text[i] != ',' {
		return false
	}
	if belowFraction(text, at, i) { // "1/8,112L": nothing is parted into 8.112
		return true
	}
	if at > 1 && text[at-1] == ',' && text[at-2] >= '0' && text[at-2] <= '9' {
		return true
	}
	j := i + 1
	for j < len(text) && text[j] >= '0' && text[j] <= '9' {
		j++
	}
	return j+1 < len(text) && text[j] == ',' && text[j+1] >= '0' && text[j+1] <= '9'
}

// belowFraction reports whether the digits [at, i) stand under the line of a fraction, as in "1/8", and not behind a
// stroke between two widths, as in "1,75/2".
func belowFraction(text string, at, i int) bool {
	switch text[at:i] {
	case "2", "4", "8", "16", "32", "64":
	default:
		return false
	}
	if at < 2 || text[at-1] != '/' {
		return false
	}
	j := at - 1
	for j > 0 && text[j-1] >= '0' && text[j-1] <= '9' {
		j--
	}
	above := text[j : at-1]
	return above != "" && (len(above) < i-at || len(above) == i-at && above < text[at:i]) && !(j > 1 && (text[j-1] == ',' || text[j-1] == '.') && text[j-2] >= '0' && text[j-2] <= '9')
}

func (s *scratch) addMark(m byte, start, end int, glued bool) {
	begin := len(s.norm)
	s.norm = append(s.norm, m)
	s.tokens = append(s.tokens, token{kind: mark, mark: m, glued: glued, start: start, end: end, norm: [2]int{begin, begin + 1}})
}

func (s *scratch) addDigit(d byte, start, end int, glued bool) {
	begin := len(s.norm)
	s.norm = append(s.norm, d)
	s.tokens = append(s.tokens, token{kind: number, value: float64(d - '0'), glued: glued, start: start, end: end, norm: [2]int{begin, begin + 1}})
}

// lower is the token's text in lower case with plain marks.
func (s *scratch) lower(t *token) []byte { return s.norm[t.norm[0]:t.norm[1]] }
