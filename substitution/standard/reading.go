package standard

import (
	"fmt"
	"strings"
)

// maxInput is longer than any designation; what is longer is a description, and is refused before it is parsed.
const maxInput = 80

// ReadingError says that a text is not the size or designation it should be, and what it might have meant.
type ReadingError struct {
	What    string   // what was expected, with its article: "a bearing designation"
	Input   string   // what was written
	Problem string   // why it cannot be read, as the rest of a sentence
	Nearest []string // sensible readings near it, best first; may be empty
}

func (e *ReadingError) Error() string {
	text := fmt.Sprintf("%q is not %s: %s", shorten(e.Input), e.What, e.Problem)
	if len(e.Nearest) > 0 {
		text += "; nearest: " + strings.Join(e.Nearest[:min(len(e.Nearest), 5)], ", ")
	}
	return text
}

// AmbiguousError says that a text has several readings and what would settle it. It is not a fault of the writer:
// the trade uses one name for several things.
type AmbiguousError struct {
	What     string   // what was read, with its article
	Input    string   // what was written
	Readings []string // every reading in canonical form, likeliest first
	Ask      string   // the question or measurement that settles it
}

func (e *AmbiguousError) Error() string {
	return fmt.Sprintf("%q could be %s: %s", shorten(e.Input), strings.Join(e.Readings, " or "), e.Ask)
}

// only returns the one reading, or an AmbiguousError listing them all.
func only[T fmt.Stringer](what, input, ask string, readings []T) (T, error) {
	if len(readings) == 1 {
		return readings[0], nil
	}
	names := make([]string, len(readings))
	for i, r := range readings {
		names[i] = r.String()
	}
	var none T
	return none, &AmbiguousError{What: what, Input: input, Readings: names, Ask: ask}
}

// checkText refuses what cannot be a designation at all: nothing, or a whole description.
func checkText(what, input string) error {
	switch {
	case strings.TrimSpace(input) == "":
		return &ReadingError{What: what, Input: input, Problem: "nothing is written"}
	case len(input) > maxInput:
		return &ReadingError{What: what, Input: input, Problem: "it is a description; give the size alone"}
	}
	return nil
}

func shorten(s string) string {
	runes := []rune(s)
	if len(runes) <= 40 {
		return s
	}
	return string(runes[:40]) + "…"
}
