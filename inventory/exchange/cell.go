package exchange

import (
	"regexp"
	"strings"
)

var (
	// runs is what a spreadsheet runs as a formula: a field that begins so, in the wide forms too, which some programs
	// take for the narrow ones. Apostrophes before it may be ours from before.
	runs = regexp.MustCompile(`^'*[=+\-@\t\n＝＋－＠]`)
	// plain is a number, which is what it looks like.
	plain = regexp.MustCompile(`^[+-]?[0-9]+(\.[0-9]+)?$`)

	lineEnds = strings.NewReplacer("\r\n", "\n", "\r", "\n")
)

// Cell is a text as it stands in a table: one that a spreadsheet would run as a formula gets an apostrophe before it, and so
// does one that looks as if it had got one. A plain number keeps its sign. Ends of lines are one character.
func Cell(text string) string {
	text = lineEnds.Replace(text)
	if runs.MatchString(text) && !plain.MatchString(text) {
		return "'" + text
	}
	return text
}

// Text is what a cell says: the apostrophe that [Cell] puts before a formula is taken off, and no other.
func Text(cell string) string {
	if strings.HasPrefix(cell, "'") && runs.MatchString(cell) {
		return cell[1:]
	}
	return cell
}
