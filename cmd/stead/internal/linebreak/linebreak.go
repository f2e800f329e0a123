// Package linebreak says where a line of text may end: a figure stays with its unit, a day with its month, what is to be
// filled in with its blank, and a chance is one word. The terminal, paper and the pages fold their lines by it.
package linebreak

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// noBreak is the space at which no line ends.
const noBreak = '\u00a0'

// Tie gives a text whose spaces at which no line may end are noBreak.
func Tie(s string) string {
	if !strings.ContainsFunc(s, func(r rune) bool { return unicode.IsDigit(r) || r == '_' }) {
		return s
	}
	var out strings.Builder
	earlier, before := "", "" // the two words before a space
	for {
		at := strings.IndexByte(s, ' ')
		if at < 0 {
			out.WriteString(s)
			return out.String()
		}
		out.WriteString(s[:at])
		if at > 0 {
			earlier, before = before, s[:at]
		}
		s = s[at+1:]
		after := s
		if end := strings.IndexFunc(s, unicode.IsSpace); end >= 0 {
			after = s[:end]
		}
		if at > 0 && tied(earlier, before, after) {
			out.WriteRune(noBreak)
		} else {
			out.WriteByte(' ')
		}
	}
}

// Words are the words of a text; what a line's end must not part is one word, with a plain space in it.
func Words(s string) []string {
	all := strings.FieldsFunc(Tie(s), func(r rune) bool { return r != noBreak && unicode.IsSpace(r) })
	for i, w := range all {
		all[i] = strings.ReplaceAll(w, string(noBreak), " ")
	}
	return all
}

// longest is how many letters and figures a line of the narrowest telephone or roll takes together.
const longest = 18

// Whole reports whether no line may end within a word, though it has hyphens: a part's code, a size, “9-speed”. Where one is
// longer than a narrow line it ends where it must.
func Whole(word string) bool {
	return strings.ContainsAny(word, "-–") && strings.ContainsFunc(word, unicode.IsDigit) && utf8.RuneCountInString(word) <= longest
}

// tied reports whether no line may end between two words; the one before them tells the chance "9 in 10" from "in 10 days".
func tied(earlier, before, after string) bool {
	figure, counted := endsInFigure(before), beginsWithFigure(after)
	word := strings.TrimRight(after, ".,;:)]}”’'\"")
	switch {
	case figure && (units[word] || months[word]):
		return true
	case strings.Trim(word, "_") == "" && word != "":
		return true
	case before == "×" || before == "±":
		return counted
	case before == "in" || before == "of":
		return counted && endsInFigure(earlier)
	}
	return false
}

func endsInFigure(word string) bool {
	last, _ := utf8.DecodeLastRuneInString(word)
	return unicode.IsNumber(last)
}

func beginsWithFigure(word string) bool {
	first, _ := utf8.DecodeRuneInString(word)
	return unicode.IsNumber(first)
}

// units are what may follow a figure: signs of units, and what stands between the figures of a size or a chance.
var units = set("% ‰ mm cm m km in ft g kg ml cl l s min h T N N·m Nm lb·in lb V A Ah Wh W bar psi MB kB ° °C × ± in of")

var months = set("January February March April May June July August September October November December Jan Feb Mar Apr Jun Jul Aug Sep Oct Nov Dec")

func set(words string) map[string]bool {
	all := map[string]bool{}
	for _, w := range strings.Fields(words) {
		all[w] = true
	}
	return all
}
