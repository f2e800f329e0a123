package exchange

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"stead/inventory/calendar"
)

// Table is the layout of one file.
type Table struct {
	File    string
	Columns []string
	Must    []string // of these, without which nothing can be taken in
}

// The mark of UTF-8 at the head of a file, by which spreadsheets know it.
const mark = "\ufeff"

// Write writes a table with its heading.
func (t Table) Write(out io.Writer, rows [][]string) error {
	if _, err := io.WriteString(out, mark); err != nil {
		return fmt.Errorf("write %s: %w", t.File, err)
	}
	w := csv.NewWriter(out)
	w.UseCRLF = true
	lines := append([][]string{t.Columns}, rows...)
	for _, row := range lines {
		cells := make([]string, len(row))
		for i, c := range row {
			cells[i] = Cell(c)
		}
		if err := w.Write(cells); err != nil {
			return fmt.Errorf("write %s: %w", t.File, err)
		}
	}
	w.Flush()
	if err := w.Error(); err != nil {
		return fmt.Errorf("write %s: %w", t.File, err)
	}
	return nil
}

// WrongError says what in a file cannot be taken in.
type WrongError struct {
	File  string
	Line  int    // 0: the file as a whole
	Field string // empty: the line as a whole
	Says  string
}

func (e *WrongError) Error() string {
	words := e.File
	if e.Line > 0 {
		words += fmt.Sprintf(", line %d", e.Line)
	}
	if e.Field != "" {
		words += ", " + e.Field
	}
	return words + ": " + e.Says
}

// Row is a line of a table that is read. The methods that read a field note the first thing that is wrong and go on;
// [Row.Wrong] tells at the end.
type Row struct {
	file  string
	line  int
	cells map[string]string
	wrong *WrongError
}

// Refuse notes what is wrong with a field.
func (r *Row) Refuse(field, format string, args ...any) {
	if r.wrong == nil {
		r.wrong = &WrongError{r.file, r.line, field, fmt.Sprintf(format, args...)}
	}
}

// Wrong is the first thing that is wrong with what was read of the row.
func (r *Row) Wrong() error {
	if r.wrong == nil {
		return nil
	}
	return r.wrong
}

// Text is a field; empty where the file has no such column.
func (r *Row) Text(field string) string { return r.cells[field] }

// Needed is a field that must not be empty.
func (r *Row) Needed(field string) string {
	text := r.Text(field)
	if strings.TrimSpace(text) == "" {
		r.Refuse(field, "is missing")
	}
	return text
}

// Number is a whole number; a field without one is refused.
func (r *Row) Number(field string) int64 {
	n, err := strconv.ParseInt(r.Text(field), 10, 64)
	if err != nil {
		r.Refuse(field, "is a whole number, not %q", r.Text(field))
	}
	return n
}

// ID is the number of a thing, from 1 on.
func (r *Row) ID(field string) int64 {
	n := r.Number(field)
	if r.wrong == nil && n < 1 || n > 1<<40 {
		r.Refuse(field, "is a number from 1 on, not %q", r.Text(field))
	}
	return n
}

// Maybe is the number of a thing, nil where the field is empty.
func (r *Row) Maybe(field string) *int64 {
	if r.Text(field) == "" {
		return nil
	}
	n := r.ID(field)
	return &n
}

// Amount is a decimal number.
func (r *Row) Amount(field string) decimal.Decimal {
	text := r.Text(field)
	d, err := decimal.NewFromString(text)
	if err != nil || strings.ContainsAny(text, "eE") {
		r.Refuse(field, "is an amount such as 5.95, not %q", text)
		return decimal.Zero
	}
	return d
}

// Moment is a time to the microsecond, with its zone (RFC 3339).
func (r *Row) Moment(field string) time.Time {
	at, err := time.Parse(time.RFC3339Nano, r.Text(field))
	if err != nil || at.Year() < 1900 || at.Year() > 9999 {
		r.Refuse(field, "is a moment such as 2026-11-25T09:30:00Z, not %q", r.Text(field))
		return time.Time{}
	}
	return at
}

// Day is a day, nil where the field is empty.
func (r *Row) Day(field string) *calendar.Day {
	if r.Text(field) == "" {
		return nil
	}
	d, err := calendar.ParseDay(r.Text(field))
	if err != nil {
		r.Refuse(field, "%s", err)
		return nil
	}
	return &d
}

// Moment writes a time as a table holds it.
func Moment(t time.Time) string { return t.UTC().Format(time.RFC3339Nano) }

// Maybe writes a number that may be absent.
func Maybe(n *int64) string {
	if n == nil {
		return ""
	}
	return strconv.FormatInt(*n, 10)
}

// mostFile bounds a file that is taken in: a shop's books of many years are a hundredth of it.
const mostFile = 512 << 20

// Read reads a table. Its columns may stand in any order, and be separated by semicolons, as some spreadsheets write them; a
// column that is not of the layout is refused, because it would be lost.
func (t Table) Read(in io.Reader) ([]*Row, error) {
	wrong := func(line int, format string, args ...any) error {
		return &WrongError{File: t.File, Line: line, Says: fmt.Sprintf(format, args...)}
	}
	content, err := io.ReadAll(io.LimitReader(in, mostFile+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("read %s: %w", t.File, err)
	case len(content) > mostFile:
		return nil, wrong(0, "is larger than %d MB", mostFile>>20)
	case !utf8.Valid(content):
		return nil, wrong(0, "is not in UTF-8: save it as CSV in UTF-8")
	case bytes.IndexByte(content, 0) >= 0:
		return nil, wrong(0, "holds a zero byte: it is no table")
	}
	content = bytes.TrimPrefix(content, []byte(mark))
	r := csv.NewReader(bufio.NewReader(bytes.NewReader(content)))
	heading, _, _ := bytes.Cut(content, []byte("\n"))
	if bytes.Count(heading, []byte(";")) > bytes.Count(heading, []byte(",")) {
		r.Comma = ';'
	}
	columns, err := r.Read()
	if errors.Is(err, io.EOF) {
		return nil, wrong(0, "is empty: its first line names its columns")
	}
	if err != nil {
		return nil, wrong(1, "cannot be read as CSV")
	}
	for i, c := range columns {
		columns[i] = strings.ToLower(strings.TrimSpace(Text(c)))
		switch {
		case !slices.Contains(t.Columns, columns[i]):
			return nil, wrong(1, "there is no column %q here: the columns are %s", columns[i], strings.Join(t.Columns, ", "))
		case slices.Contains(columns[:i], columns[i]):
			return nil, wrong(1, "the column %s is there twice", columns[i])
		}
	}
	for _, c := range t.Must {
		if !slices.Contains(columns, c) {
			return nil, wrong(1, "the column %s is missing", c)
		}
	}
	var rows []*Row
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return rows, nil
		}
		if err != nil {
			line := 0
			if at := new(csv.ParseError); errors.As(err, &at) {
				line = at.StartLine
				if errors.Is(at.Err, csv.ErrFieldCount) {
					return nil, wrong(line, "has %d fields, and the heading names %d", len(cells), len(columns))
				}
			}
			return nil, wrong(line, "cannot be read as CSV: a quotation mark is missing or too many")
		}
		line, _ := r.FieldPos(0)
		row := &Row{file: t.File, line: line, cells: map[string]string{}}
		for i, c := range cells {
			row.cells[columns[i]] = Text(c)
		}
		rows = append(rows, row)
	}
}
