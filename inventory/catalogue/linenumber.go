package catalogue

import (
	"fmt"

	"stead/inventory/pricelist"
)

// lineNumbers number the lines of a list of several sheets through, in the order in which they come: on the stage a line's
// number is its own.
type lineNumbers struct {
	sheets []numbered
	last   int
}

// numbered is a sheet and the number before its first line's.
type numbered struct {
	sheet  string
	before int
}

// of is a row's number.
func (l *lineNumbers) of(r pricelist.Row) int {
	if n := len(l.sheets); n == 0 || l.sheets[n-1].sheet != r.Sheet {
		l.sheets = append(l.sheets, numbered{r.Sheet, l.last})
	}
	l.last = max(l.last, l.sheets[len(l.sheets)-1].before+r.Line)
	return l.sheets[len(l.sheets)-1].before + r.Line
}

// place is where the line of a number stands.
func (l *lineNumbers) place(number int) (sheet string, line int) {
	at := numbered{}
	for _, s := range l.sheets {
		if s.before < number {
			at = s
		}
	}
	return at.sheet, number - at.before
}

// words are where the line of a number stands: "line 3", "line 3 of sheet Tyres".
func (l *lineNumbers) words(number int) string {
	sheet, line := l.place(number)
	if sheet == "" {
		return fmt.Sprintf("line %d", line)
	}
	return fmt.Sprintf("line %d of sheet %s", line, sheet)
}
