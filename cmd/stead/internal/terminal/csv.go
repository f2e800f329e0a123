package terminal

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// CSV writes lists of our own as CSV, in UTF-8 with a byte order mark so that spreadsheets read the letters right. Text
// that a spreadsheet would run as a formula is written as text.
type CSV struct{ csv *csv.Writer }

// NewCSV begins a list.
func NewCSV(w io.Writer) (*CSV, error) {
	if _, err := io.WriteString(w, "\ufeff"); err != nil {
		return nil, fmt.Errorf("write the list: %w", err)
	}
	c := csv.NewWriter(w)
	c.UseCRLF = true
	return &CSV{c}, nil
}

// Write adds a line. The cells are written as they are, but for what a spreadsheet or a terminal would obey.
func (w *CSV) Write(cells ...string) error {
	safe := make([]string, len(cells))
	for i, c := range cells {
		safe[i] = safeCell(Visible(c))
	}
	return w.csv.Write(safe)
}

// Close writes what is still held back.
func (w *CSV) Close() error {
	w.csv.Flush()
	return w.csv.Error()
}

// safeCell is a cell that no spreadsheet takes for a formula: text that begins with =, +, -, @, a tab or a line end gets an
// apostrophe before it. A plain number keeps its sign.
func safeCell(cell string) string {
	if cell == "" {
		return cell
	}
	if first, _ := utf8.DecodeRuneInString(cell); strings.ContainsRune("＝＋－＠", first) { // their wide forms, which some programs read alike
		return "'" + cell
	}
	switch cell[0] {
	case '=', '@', '\t', '\r', '\n':
		return "'" + cell
	case '+', '-':
		if isNumber(cell[1:]) {
			return cell
		}
		return "'" + cell
	}
	return cell
}

func isNumber(s string) bool {
	points, digits := 0, 0
	for _, r := range s {
		switch {
		case r >= '0' && r <= '9':
			digits++
		case r == '.':
			points++
		default:
			return false
		}
	}
	return digits > 0 && points <= 1
}
