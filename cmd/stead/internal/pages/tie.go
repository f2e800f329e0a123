package pages

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"stead/cmd/stead/internal/linebreak"
)

// tie keeps figures with their units in the text of a page, as the terminal and paper do, and codes whole, which a browser
// would part at their hyphens. What is in a tag stays, and what a form sends back or the browser's own frame shows.
func tie(page string) string {
	var out strings.Builder
	out.Grow(len(page) + len(page)/64)
	drawn := false // within a drawing no element may stand in a text
	for {
		text, rest, more := strings.Cut(page, "<")
		if text = apostrophes(linebreak.Tie(text)); !drawn {
			text = keepWhole(text)
		}
		out.WriteString(text)
		if !more {
			return out.String()
		}
		end := strings.IndexByte(rest, '>') + 1
		for _, kept := range []string{"textarea", "option", "title", "script", "style"} {
			if strings.HasPrefix(rest, kept) {
				end = strings.Index(rest, "</"+kept+">") + 1
			}
		}
		if end == 0 {
			end = len(rest)
		}
		if i := slices.IndexFunc([]string{"svg", "/svg>"}, func(tag string) bool { return strings.HasPrefix(rest, tag) }); i >= 0 {
			drawn = i == 0
		}
		out.WriteByte('<')
		out.WriteString(rest[:end])
		page = rest[end:]
	}
}

// typed apostrophes stand between letters, or end a word in s; as html/template writes them, or as a template has them.
var typedApostrophe = regexp.MustCompile(`(\pL)(?:'|&#39;)(\pL)|(s)(?:'|&#39;)( \pL)`)

// apostrophes are set as a book sets them, whoever typed them: the rules, the words of the bench and a customer.
func apostrophes(text string) string {
	if !strings.Contains(text, "'") && !strings.Contains(text, "&#39;") {
		return text
	}
	return typedApostrophe.ReplaceAllString(text, "$1$3’$2$4")
}

// keepWhole has no line of a text end within a code. The text stays one piece: where a button or a line sets its pieces side
// by side, it is one of them as before.
func keepWhole(text string) string {
	if !strings.ContainsAny(text, "-–") {
		return text
	}
	words := strings.TrimSpace(text)
	at := strings.Index(text, words)
	var out strings.Builder
	for rest := words; rest != ""; {
		end := strings.IndexFunc(rest, unicode.IsSpace)
		switch {
		case end < 0:
			end = len(rest)
		case end == 0:
			_, end = utf8.DecodeRuneInString(rest)
		}
		if linebreak.Whole(rest[:end]) {
			out.WriteString(`<span class="nowrap">` + rest[:end] + `</span>`)
		} else {
			out.WriteString(rest[:end])
		}
		rest = rest[end:]
	}
	if out.Len() == len(words) {
		return text
	}
	return text[:at] + "<span>" + out.String() + "</span>" + text[at+len(words):]
}
