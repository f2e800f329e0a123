package pages

import (
	"strings"

	"stead/cmd/stead/internal/linebreak"
)

// tie keeps figures with their units in the text of a page, as the terminal and paper do. What is in a tag stays, and what a
// form sends back or the browser's own frame shows.
func tie(page string) string {
	var out strings.Builder
	out.Grow(len(page) + len(page)/64)
	for {
		text, rest, more := strings.Cut(page, "<")
		out.WriteString(linebreak.Tie(text))
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
		out.WriteByte('<')
		out.WriteString(rest[:end])
		page = rest[end:]
	}
}
