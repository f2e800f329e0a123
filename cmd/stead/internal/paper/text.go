package paper

import (
	"strings"

	"stead/cmd/stead/internal/linebreak"
)

// style is how words are set; its zero value is running text.
type style struct {
	bold   bool
	larger float64 // points above the running text
}

func (s *Sheet) font(as style) {
	weight := ""
	if as.bold {
		weight = "B"
	}
	s.pdf.SetFont(family, weight, s.size.points()+as.larger)
}

// high is the height of a line.
func (s *Sheet) high(as style) float64 { return (s.size.points() + as.larger) * perPoint * leading }

// put sets words that fit, from x on, on the line whose top is y.
func (s *Sheet) put(x, y float64, words string, as style) {
	s.font(as)
	s.pdf.Text(x, y+s.high(as)*0.75, words)
}

// wide is how wide words are.
func (s *Sheet) wide(words string, as style) float64 {
	s.font(as)
	return s.pdf.GetStringWidth(words)
}

// fold breaks words into lines of a width, between words where it can.
func (s *Sheet) fold(words string, width float64, as style) []string {
	words = s.setter.clean(words)
	var out []string
	now := ""
	for _, word := range s.words(words, width, as) {
		longer := strings.TrimPrefix(now+" "+word, " ")
		if s.wide(longer, as) <= width {
			now = longer
			continue
		}
		if now != "" {
			out = append(out, now)
		}
		for now = word; s.wide(now, as) > width; { // a word wider than the line is broken where the line ends
			fits := 0
			for i := range now {
				if s.wide(now[:i], as) > width {
					break
				}
				fits = i
			}
			if fits == 0 {
				s.fail(&SmallError{s.size, "“" + words + "”"})
				return out
			}
			if at := strings.LastIndexAny(now[:fits], "-/"); at > 0 { // a code reads on best behind a hyphen
				fits = at + 1
			}
			out, now = append(out, now[:fits]), now[fits:]
		}
	}
	if now != "" || len(out) == 0 {
		out = append(out, now)
	}
	return out
}

// words are the words of a text, those that belong together as one, where a line is wide enough for them.
func (s *Sheet) words(text string, width float64, as style) []string {
	var all []string
	for _, word := range linebreak.Words(text) {
		if s.wide(word, as) > width {
			all = append(all, strings.Fields(word)...)
			continue
		}
		all = append(all, word)
	}
	return all
}

// block adds words as wide as the page, under an indent; all of it stays with the next block where joined.
func (s *Sheet) block(words string, indent float64, as style, joined bool) {
	lines := s.fold(words, s.size.inner()-indent, as)
	for i, text := range lines {
		s.lines = append(s.lines, line{s.high(as), joined || i == 0 && len(lines) > 1, func(y float64) {
			s.put(s.size.margin()+indent, y, text, as)
		}})
	}
}

// Title says what paper it is.
func (s *Sheet) Title(words string) { s.block(words, 0, style{bold: true, larger: 4}, true); s.Gap() }

// Head begins a part of the paper; it is never the last of a page.
func (s *Sheet) Head(words string) { s.Gap(); s.block(words, 0, style{bold: true}, true) }

// Say sets a sentence.
func (s *Sheet) Say(words string) { s.block(words, 0, style{}, false) }

// Strong sets a sentence that must not be overlooked.
func (s *Sheet) Strong(words string) { s.block(words, 0, style{bold: true}, false) }

// Points sets sentences under a head, each indented.
func (s *Sheet) Points(sentences []string) {
	for _, words := range sentences {
		s.block(words, 3, style{}, false)
	}
}

// Tick sets a sentence with a box before it, to be ticked by hand.
func (s *Sheet) Tick(words string) {
	first, side := len(s.lines), s.high(style{})*0.7
	s.block(words, side+2, style{}, false)
	if len(s.lines) > first {
		text := s.lines[first].draw
		s.lines[first].draw = func(y float64) {
			s.pdf.Rect(s.size.margin(), y+s.high(style{})*0.12, side, side, "D")
			text(y)
		}
	}
}

// Gap leaves half a line, and stays with what follows.
func (s *Sheet) Gap() {
	s.lines = append(s.lines, line{s.high(style{}) / 2, true, func(float64) {}})
}

// Sign leaves a line to write on, with what is written there.
func (s *Sheet) Sign(words string) {
	s.lines = append(s.lines, line{s.high(style{}) * 2.5, true, func(y float64) {
		at := y + s.high(style{})*2.4
		s.pdf.Line(s.size.margin(), at, s.size.margin()+min(80, s.size.inner()), at)
	}})
	s.block(words, 0, style{}, false)
}
