package pricelist

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"iter"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// What is pasted out of a letter or a printed list has no separators: its columns stand apart by runs of blanks. Where the
// cells stand under their headings an empty one is known by its place; where they do not, a line tells its columns only
// if it has a cell for each.

// piece is a stretch of a line between two runs of blanks, and where it stands.
type piece struct {
	text     string
	from, to int // letters from the line's beginning
}

// tabStop is how far apart tabulators are in plain text.
const tabStop = 8

// piecesOf parts a line at runs of two blanks and more, and at tabs.
func piecesOf(line string) []piece {
	var out []piece
	var text strings.Builder
	at, from, blanks, tab := 0, 0, 0, false
	end := func() {
		if text.Len() > 0 {
			out = append(out, piece{text.String(), from, from + utf8.RuneCountInString(text.String())})
			text.Reset()
		}
	}
	for _, r := range line {
		switch {
		case r == '\t':
			blanks, tab, at = blanks+1, true, (at/tabStop+1)*tabStop
			continue
		case unicode.IsSpace(r):
			blanks, at = blanks+1, at+1
			continue
		case blanks > 1 || tab:
			end()
		case blanks == 1 && text.Len() > 0:
			text.WriteByte(' ')
		}
		if text.Len() == 0 {
			from = at
		}
		text.WriteRune(r)
		blanks, tab, at = 0, false, at+1
	}
	end()
	return out
}

func textsOf(pieces []piece) []string {
	cells := make([]string, len(pieces))
	for i, p := range pieces {
		cells[i] = p.text
	}
	return cells
}

// spacing is how the columns of a pasted text stand apart.
type spacing struct {
	header int     // the line of the headings; 0: none was found
	heads  []piece // the headings
	under  bool    // the cells stand under them
	usual  int     // how many cells a line has, where there are no headings
}

// spacingOf finds out whether a text's columns stand apart by blanks, from its first lines; nil where they do not.
func spacingOf(sample []byte, separator rune) *spacing {
	lines := strings.Split(string(sample), "\n")
	if len(sample) >= 60<<10 {
		lines = lines[:len(lines)-1] // the last may be half a line
	}
	tabs := separator == '\t' && setWithTabs(lines)
	if tabs {
		separator = 0
	}
	if !standsApart(lines, separator) {
		return nil
	}
	s := &spacing{}
	most, counts := 1, map[int]int{}
	for i, line := range lines {
		pieces := piecesOf(line)
		if hits := hitsIn(textsOf(pieces)); i < searched && hits > most {
			s.header, s.heads, most = i+1, pieces, hits
		}
		if len(pieces) > 2 {
			counts[len(pieces)]++
		}
	}
	for n, times := range counts {
		if times > counts[s.usual] || times == counts[s.usual] && n > s.usual {
			s.usual = n
		}
	}
	if s.header > 0 {
		s.usual = len(s.heads)
		s.under = s.standUnder(lines[s.header:])
	}
	if tabs && !s.under {
		return nil
	}
	return s
}

// setWithTabs reports whether tabulators are there to set columns under each other, several where a cell is short, and not one
// between each two cells.
func setWithTabs(lines []string) bool {
	counts, doubled := map[int]int{}, false
	for _, line := range lines {
		n := strings.Count(strings.TrimRight(line, "\t "), "\t")
		if n == 0 {
			continue
		}
		counts[n]++
		doubled = doubled || hitsIn(textsOf(piecesOf(line))) > 1 && strings.Contains(line, "\t\t")
	}
	return doubled && len(counts) > 1
}

// standsApart reports whether most lines with a figure have cells that stand apart by blanks, and no separator between them.
func standsApart(lines []string, separator rune) bool {
	apart, all := 0, 0
	for _, line := range lines {
		if !strings.ContainsAny(line, "0123456789") {
			continue
		}
		all++
		pieces := piecesOf(line)
		clean := len(pieces) > 2
		for _, p := range pieces {
			clean = clean && strings.Trim(p.text, ",;|") == p.text
		}
		if clean && (separator == 0 || separator == ',' || !strings.ContainsRune(line, separator)) {
			apart++
		}
	}
	return apart > 1 && apart*10 >= all*6
}

// standUnder reports whether most lines have each cell under one heading.
func (s *spacing) standUnder(lines []string) bool {
	under, all := 0, 0
	for _, line := range lines {
		pieces := piecesOf(line)
		if len(pieces) < 3 {
			continue
		}
		all++
		if _, ok := s.place(pieces); ok {
			under++
		}
	}
	return under*10 >= all*8
}

// cells are a line's cells, each in its column. It is loose where that cannot be told.
func (s *spacing) cells(pieces []piece) (cells []string, loose bool) {
	if s.under {
		if placed, ok := s.place(pieces); ok {
			return placed, false
		}
	}
	return textsOf(pieces), len(pieces) > 1 && (s.under || len(pieces) != s.usual)
}

// place puts each piece under the one heading that it stands under; of a piece under none it is the one that is free between
// its neighbours'. It fails where a piece stands under two, or two under one.
func (s *spacing) place(pieces []piece) ([]string, bool) {
	cells := make([]string, len(s.heads))
	last := -1
	for i, p := range pieces {
		at, found := -1, 0
		for j, h := range s.heads {
			if p.from < h.to && h.from < p.to {
				at, found = j, found+1
			}
		}
		if found == 0 {
			at, found = s.between(pieces, i, last), 1
		}
		if found != 1 || at <= last {
			return nil, false
		}
		cells[at], last = p.text, at
	}
	return cells, true
}

// between is the column of a piece that stands under no heading: the only one that ends after the piece before and begins
// before the piece behind; -1 where it is not the only one.
func (s *spacing) between(pieces []piece, i, last int) int {
	next := len(s.heads)
	if i+1 < len(pieces) {
		for j := len(s.heads) - 1; j > last; j-- {
			if s.heads[j].to > pieces[i+1].from {
				next = j
			}
		}
	}
	if next-last != 2 {
		return -1
	}
	return last + 1
}

// spacedLines reads a pasted text line by line.
func (f *File) spacedLines() iter.Seq2[Line, error] {
	return func(yield func(Line, error) bool) {
		in := bufio.NewScanner(&lineEnds{inner: f.decoded()})
		in.Buffer(make([]byte, 0, headSize), mostLine)
		reader := textReader{file: f}
		for number := 1; in.Scan(); number++ {
			line, err := reader.spaced(number, in.Text())
			if err != nil {
				yield(Line{}, err)
				return
			}
			if !line.blank() && !yield(line, nil) {
				return
			}
		}
		switch err := in.Err(); {
		case errors.Is(err, bufio.ErrTooLong):
			yield(Line{}, f.refuse("", "one of its lines is longer than 1 MB: that is no price list"))
		case err != nil:
			yield(Line{}, fmt.Errorf("read %s: %w", f.name, err))
		}
	}
}

// decoded is the text behind its byte order mark, and as UTF-8 where every letter of it was two bytes.
func (f *File) decoded() io.Reader {
	source := io.Reader(io.NewSectionReader(f.source, f.text.skip, f.size-f.text.skip))
	if f.text.wide != nil {
		return f.text.wide.NewDecoder().Reader(source)
	}
	return source
}

// spaced is a line of a pasted text.
func (r *textReader) spaced(number int, text string) (Line, error) {
	text, mixed := r.decode(text)
	pieces := piecesOf(strings.ReplaceAll(text, "\u00a0", " "))
	if len(pieces) > mostColumns {
		return Line{}, r.file.refuse(fmt.Sprintf("line %d", number), fmt.Sprintf("it has more than %d columns: that is no price list", mostColumns))
	}
	line := Line{Number: number}
	if line.Cells = textsOf(pieces); number > r.file.text.spaced.header {
		line.Cells, line.Loose = r.file.text.spaced.cells(pieces)
	}
	if mixed {
		line.Mixed = 1
	}
	line.Cells = cleanCells(line.Cells)
	return line, nil
}

// asUTF8 is a sample as its lines will be read.
func asUTF8(sample []byte) []byte {
	sample = bytes.ReplaceAll(sample, []byte("\u00a0"), []byte{' '})
	if utf8.Valid(sample) {
		return sample
	}
	if decoded, err := charmap.Windows1252.NewDecoder().Bytes(sample); err == nil {
		return bytes.ReplaceAll(decoded, []byte("\u00a0"), []byte{' '})
	}
	return sample
}
