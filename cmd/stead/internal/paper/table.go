package paper

import "strings"

const (
	between = 3  // millimetres from column to column
	slim    = 30 // a column of words that is slimmer reads badly
)

// Table sets rows under heads; a head that begins with ">" is of a column of figures, set to the right and never broken.
// The widest column of words takes what is left. On a page too narrow for that, each row is set as its words and its
// figures, beside their last line or under it. Without any head none is set.
func (s *Sheet) Table(heads []string, rows [][]string) {
	figures, words, named := make([]bool, len(heads)), make([]string, len(heads)), false
	for i, h := range heads {
		words[i], figures[i] = strings.CutPrefix(h, ">")
		named = named || words[i] != ""
	}
	widths := s.widths(words, rows)
	widest := -1
	left := s.size.inner() - between*float64(len(heads)-1)
	for i, w := range widths {
		if left -= w; !figures[i] && (widest < 0 || w > widths[widest]) {
			widest = i
		}
	}
	if left < 0 && widest >= 0 {
		if widths[widest]+left < slim {
			s.stack(words, figures, rows)
			return
		}
		widths[widest] += left
		left = 0
	}
	if widest >= 0 {
		widths[widest] += left // figures stand at the right margin
	}
	if named {
		s.row(words, figures, widths, style{bold: true}, true)
	}
	for _, r := range rows {
		s.row(r, figures, widths, style{}, false)
	}
}

// widths are what the columns would like to have.
func (s *Sheet) widths(heads []string, rows [][]string) []float64 {
	out := make([]float64, len(heads))
	for i, h := range heads {
		out[i] = s.wide(h, style{bold: true})
		for _, r := range rows {
			out[i] = max(out[i], s.wide(s.setter.clean(r[i]), style{})+0.1)
		}
	}
	return out
}

// row sets one row, as high as its highest cell.
func (s *Sheet) row(cells []string, figures []bool, widths []float64, as style, joined bool) {
	folded, deep := make([][]string, len(cells)), 1
	for i, c := range cells {
		folded[i] = s.fold(c, widths[i], as)
		deep = max(deep, len(folded[i]))
	}
	for n := range deep {
		s.lines = append(s.lines, line{s.high(as), joined || n+1 < deep, func(y float64) {
			x := s.size.margin()
			for i, lines := range folded {
				if n < len(lines) {
					at := x
					if figures[i] {
						at += widths[i] - s.wide(lines[n], as)
					}
					s.put(at, y, lines[n], as)
				}
				x += widths[i] + between
			}
		}})
	}
}

// stack sets each row as its words and, to the right of their last line or under it, its figures, each named by its head.
func (s *Sheet) stack(heads []string, figures []bool, rows [][]string) {
	for _, r := range rows {
		var words, sums []string
		for i, cell := range r {
			switch {
			case strings.TrimSpace(cell) == "":
			case !figures[i]:
				words = append(words, cell)
			case heads[i] == "":
				sums = append(sums, cell)
			default:
				sums = append(sums, strings.ToLower(heads[i])+" "+cell)
			}
		}
		text := strings.Join(sums, "   ")
		if len(words) > 0 {
			s.block(strings.Join(words, ", "), 0, style{}, text != "")
		}
		if text == "" || len(words) > 0 && s.beside(strings.Join(words, ", "), text) {
			continue
		}
		for _, part := range s.fold(text, s.size.inner(), style{}) {
			s.lines = append(s.lines, line{s.high(style{}), false, func(y float64) {
				s.put(s.size.margin()+s.size.inner()-s.wide(part, style{}), y, part, style{})
			}})
		}
	}
}

// Total sets what a table comes to, under a rule.
func (s *Sheet) Total(words, sum string) {
	s.lines = append(s.lines, line{1, true, func(y float64) {
		s.pdf.Line(s.size.margin(), y, s.size.margin()+s.size.inner(), y)
	}})
	widths := s.widths([]string{"", sum}, nil)
	s.row([]string{words, sum}, []bool{false, true}, []float64{s.size.inner() - between - widths[1] - 0.1, widths[1] + 0.1}, style{bold: true}, false)
}

// beside sets figures at the end of the last line of the words that were just set, and says whether there was room.
func (s *Sheet) beside(words, figures string) bool {
	lines, parts := s.fold(words, s.size.inner(), style{}), s.fold(figures, s.size.inner(), style{})
	wide := s.wide(parts[0], style{})
	if len(parts) > 1 || s.wide(lines[len(lines)-1], style{})+between+wide > s.size.inner() {
		return false
	}
	last := &s.lines[len(s.lines)-1]
	text := last.draw
	last.joined, last.draw = false, func(y float64) {
		text(y)
		s.put(s.size.margin()+s.size.inner()-wide, y, parts[0], style{})
	}
	return true
}
