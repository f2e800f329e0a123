package pricelist

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"iter"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// textForm is how a text file is written.
type textForm struct {
	separator rune              // between cells
	wide      encoding.Encoding // UTF-16, or nil
	wideName  string
	skip      int64    // bytes before the text: a byte order mark
	sepLine   bool     // the first line is "sep=;", for spreadsheets
	spaced    *spacing // of columns that stand apart by blanks, without a separator; else nil
}

func (t *textForm) String() string {
	name := map[rune]string{',': "commas", ';': "semicolons", '\t': "tabs", '|': "bars"}[t.separator]
	if t.spaced != nil {
		name = "columns apart by blanks"
	}
	if t.wide != nil {
		return "text, " + name + ", " + t.wideName
	}
	return "text, " + name
}

// recogniseText finds out encoding and separator from the first bytes of a file.
func recogniseText(head []byte) (*textForm, error) {
	t := &textForm{}
	switch {
	case bytes.HasPrefix(head, []byte{0xef, 0xbb, 0xbf}):
		t.skip = 3
	case bytes.HasPrefix(head, []byte{0xff, 0xfe}):
		t.skip, t.wide, t.wideName = 2, unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM), "UTF-16"
	case bytes.HasPrefix(head, []byte{0xfe, 0xff}):
		t.skip, t.wide, t.wideName = 2, unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM), "UTF-16"
	default:
		even, odd := zeros(head)
		switch half := len(head) / 2; {
		case half > 4 && odd > half/2:
			t.wide, t.wideName = unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM), "UTF-16"
		case half > 4 && even > half/2:
			t.wide, t.wideName = unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM), "UTF-16"
		case even+odd > 0:
			return nil, errors.New("it is not text: a price list is a CSV or XLSX file")
		}
	}
	sample := head[min(int(t.skip), len(head)):]
	if t.wide != nil {
		sample, _ = t.wide.NewDecoder().Bytes(sample[:len(sample)&^1])
	}
	sample = bytes.ReplaceAll(bytes.ReplaceAll(sample, []byte("\r\n"), []byte{'\n'}), []byte{'\r'}, []byte{'\n'})
	if first, _, ok := bytes.Cut(sample, []byte{'\n'}); ok && len(bytes.TrimSpace(first)) == 5 && bytes.HasPrefix(first, []byte("sep=")) {
		t.sepLine, t.separator = true, rune(first[4])
		if t.separator == ',' || t.separator == ';' || t.separator == '\t' || t.separator == '|' {
			return t, nil
		}
	}
	t.separator = findSeparator(sample)
	t.spaced = spacingOf(asUTF8(sample), t.separator)
	if t.separator == 0 && t.spaced == nil {
		return nil, errors.New("it has no columns: a price list has commas, semicolons, tabs, bars or blanks between its cells")
	}
	return t, nil
}

func zeros(head []byte) (even, odd int) {
	for i, b := range head {
		if b == 0 && i%2 == 0 {
			even++
		} else if b == 0 {
			odd++
		}
	}
	return even, odd
}

// findSeparator is the separator that gives the most lines the same number of cells. A decimal comma among semicolons,
// or a comma in a description, does not come out so even.
func findSeparator(sample []byte) rune {
	best, bestScore := rune(0), 0.0
	for _, sep := range []rune{'\t', ';', '|', ','} {
		r := csv.NewReader(bytes.NewReader(sample))
		r.Comma, r.LazyQuotes, r.FieldsPerRecord = sep, true, -1
		counts, lines := map[int]int{}, 0
		for lines < 200 {
			cells, err := r.Read()
			if err != nil {
				break
			}
			lines++
			if len(cells) > 1 {
				counts[len(cells)]++
			}
		}
		if lines > 2 && len(sample) >= 60<<10 {
			lines-- // the sample may end within a line
		}
		for columns, n := range counts {
			score := float64(n) / float64(max(lines, 1)) * (1 + 0.02*float64(min(columns, 10)))
			if columns < 3 {
				score *= 0.7
			}
			if score > bestScore+1e-9 {
				best, bestScore = sep, score
			}
		}
	}
	return best
}

// cappedReader ends a line that grows without end, as one with a quotation mark that is never closed does.
type cappedReader struct {
	inner io.Reader
	left  int
}

var errLineTooLong = errors.New("line too long")

func (c *cappedReader) Read(p []byte) (int, error) {
	if c.left <= 0 {
		return 0, errLineTooLong
	}
	n, err := c.inner.Read(p)
	c.left -= n
	return n, err
}

// lineEnds makes a line feed of every line end there is: both signs, or either alone, as a list that was put together from
// several has them.
type lineEnds struct {
	inner    io.Reader
	returned bool // the last sign was a carriage return
}

func (l *lineEnds) Read(p []byte) (int, error) {
	n, err := l.inner.Read(p)
	kept := 0
	for _, c := range p[:n] {
		if c == '\n' && l.returned {
			l.returned = false
			continue
		}
		if l.returned = c == '\r'; l.returned {
			c = '\n'
		}
		p[kept] = c
		kept++
	}
	return kept, err
}

// textLines reads a text file line by line.
func (f *File) textLines() iter.Seq2[Line, error] {
	return func(yield func(Line, error) bool) {
		end := &lastByte{inner: &lineEnds{inner: f.decoded()}}
		capped := &cappedReader{inner: end, left: mostLine}
		r := csv.NewReader(bufio.NewReaderSize(capped, 32<<10))
		r.Comma, r.LazyQuotes, r.FieldsPerRecord = f.text.separator, true, -1
		reader := textReader{file: f, csv: r, capped: capped, widths: map[int]int{}}
		line, err := reader.next()
		for err == nil {
			next, nextErr := reader.next()
			if errors.Is(nextErr, io.EOF) {
				line.Cut = reader.isCut(line, end.last)
			}
			if !line.blank() && !yield(line, nil) {
				return
			}
			line, err = next, nextErr
		}
		if !errors.Is(err, io.EOF) {
			yield(Line{}, err)
		}
	}
}

// lastByte remembers the last byte that was read.
type lastByte struct {
	inner io.Reader
	last  byte
}

func (l *lastByte) Read(p []byte) (int, error) {
	n, err := l.inner.Read(p)
	if n > 0 {
		l.last = p[n-1]
	}
	return n, err
}

// textReader makes lines of records and watches the encoding.
type textReader struct {
	file   *File
	csv    *csv.Reader
	capped *cappedReader
	widths map[int]int // how many lines have how many cells
	utf8   bool        // letters beyond ASCII came as UTF-8
	narrow bool        // and as Windows-1252
	begun  bool
	last   int // the number of the last line that was read; 0 for none
}

func (r *textReader) next() (Line, error) {
	r.capped.left = mostLine
	cells, err := r.csv.Read()
	switch {
	case errors.Is(err, io.EOF):
		return Line{}, io.EOF
	case errors.Is(err, errLineTooLong):
		// Of a line in which no cell has come to an end the reader does not say where it began.
		where := fmt.Sprintf("the line after line %d", r.last)
		if len(cells) > 0 {
			at, _ := r.csv.FieldPos(0)
			where = fmt.Sprintf("line %d", at)
		}
		return Line{}, r.file.refuse(where, "the line is longer than 1 MB: perhaps a quotation mark in it is never closed")
	case err != nil:
		return Line{}, fmt.Errorf("read %s: %w", r.file.name, err)
	}
	at, _ := r.csv.FieldPos(0)
	r.last = at
	if first := !r.begun; first {
		r.begun = true
		if r.file.text.sepLine {
			return r.next()
		}
	}
	if last, _ := r.csv.FieldPos(len(cells) - 1); last-at > mostSpan || bytes.Count([]byte(cells[len(cells)-1]), []byte{'\n'}) > mostSpan {
		return Line{}, r.file.refuse(fmt.Sprintf("line %d", at), "a quotation mark is opened here and not closed for 200 lines: close it, or take it out")
	}
	if len(cells) > mostColumns {
		return Line{}, r.file.refuse(fmt.Sprintf("line %d", at), fmt.Sprintf("it has more than %d columns: that is no price list", mostColumns))
	}
	line := Line{Number: at}
	for i, c := range cells {
		decoded, mixed := r.decode(c)
		cells[i] = decoded
		if mixed && line.Mixed == 0 {
			line.Mixed = i + 1
		}
	}
	line.Cells = cleanCells(cells)
	if len(r.widths) < 1000 {
		r.widths[len(cells)]++
	}
	return line, nil
}

// decode makes UTF-8 of a cell. What is no UTF-8 is Windows-1252; a file with both is mixed, from the second kind on.
func (r *textReader) decode(cell string) (text string, mixed bool) {
	ascii := true
	for i := range len(cell) {
		if cell[i] >= utf8.RuneSelf {
			ascii = false
			break
		}
	}
	if ascii {
		return cell, false
	}
	if utf8.ValidString(cell) {
		r.utf8 = true
		return cell, r.narrow
	}
	r.narrow = true
	decoded, err := charmap.Windows1252.NewDecoder().String(cell)
	if err != nil {
		return cell, true
	}
	return decoded, r.utf8
}

// isCut reports whether the last line was cut off: no line end, and fewer cells than the lines before.
func (r *textReader) isCut(line Line, last byte) bool {
	usual, most := 0, 0
	for width, n := range r.widths {
		if n > most {
			usual, most = width, n
		}
	}
	return last != '\n' && most > 1 && len(line.Cells) < usual-1
}
