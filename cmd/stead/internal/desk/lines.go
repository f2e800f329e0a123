package desk

import "fmt"

// ScreenLines is how many lines of a long list a screen shows.
const ScreenLines = 40

// LinesAsked is which lines of a long list are looked at: most of them, the from-th of all first. Nobody reads a hundred
// thousand.
type LinesAsked struct{ From, Most int }

// Check says what cannot be meant.
func (a LinesAsked) Check() error {
	if a.From < 1 || a.Most < 1 {
		return fmt.Errorf("%s from line %d on cannot be meant: lines are counted from 1, and one is the fewest", Several(a.Most, "line"), a.From)
	}
	return nil
}

// linesOf are the lines of all that are asked for.
func linesOf[L any](a LinesAsked, all []L) []L {
	rest := all[min(a.From-1, len(all)):]
	return rest[:min(a.Most, len(rest))]
}

// shown are so many lines, the from-th first, of all.
type shown struct {
	from, lines, of int
	first           string // what comes first in the list: "what ties up most first"
}

// last is where the last of the lines stands among all.
func (s shown) last() int { return s.from + s.lines - 1 }

// words say which lines of how many are shown; empty where all are.
func (s shown) words() string {
	switch {
	case s.lines == s.of:
		return ""
	case s.lines == 0:
		return fmt.Sprintf("There is no line %d: %s in all.", s.from, Several(s.of, "line"))
	case s.lines == 1:
		return fmt.Sprintf("Line %d of %d, %s.", s.from, s.of, s.first)
	}
	return fmt.Sprintf("Lines %d to %d of %d, %s.", s.from, s.last(), s.of, s.first)
}

// next is where the lines begin that come after these; 0 where there are none.
func (s shown) next() int {
	if s.lines == 0 || s.last() >= s.of {
		return 0
	}
	return s.last() + 1
}
