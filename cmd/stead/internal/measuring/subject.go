// Package measuring is what can be measured: one subject a kind of part, with the readings that name it. The command
// `stead measure` has the readings as flags, the page as fields; both take and answer them here.
package measuring

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"stead/substitution/measure"
	"stead/substitution/standard"
)

// Subjects are all kinds of part that are measured, nothing read on them yet.
func Subjects() []*Subject {
	return []*Subject{bearing(), balls(), chainring(), thread(), tyre(), rim(), chain(), fork(), seatpost(), handlebar(), spoke(), spokes(), shell(),
		freehub(), lever(), cable()}
}

// Subject is a kind of part with what is read on it. Its readings are set by their names in Flags.
type Subject struct {
	Name    string // one word
	Short   string // what is found out
	Example string // as commands
	Flags   *pflag.FlagSet

	identify func() (measure.Result, error)
	lengths  []*length
	tool     string
	errorMM  float64
}

// newSubject makes a subject without readings; identify is asked when all of them are in place.
func newSubject(name, short, example string, identify func() (measure.Result, error)) *Subject {
	s := &Subject{Name: name, Short: short, Example: example, Flags: pflag.NewFlagSet(name, pflag.ContinueOnError), identify: identify}
	s.Flags.SortFlags = false
	s.Flags.StringVar(&s.tool, "tool", "", "what the lengths were read with: caliper, ruler or tape (default caliper; a length round a wheel: tape)")
	s.Flags.Float64Var(&s.errorMM, "error", 0, "how far a reading may be off, in mm (default caliper 0.05, ruler 0.5, tape 2)")
	return s
}

// Identify names the part from the readings that were set.
func (s *Subject) Identify() (measure.Result, error) {
	if err := s.take(); err != nil {
		return measure.Result{}, err
	}
	return s.identify()
}

// Tools are what lengths are read with.
var Tools = []string{"caliper", "ruler", "tape"}

// OfTool reports whether a flag is about the tool and not a reading.
func OfTool(flag string) bool { return flag == "tool" || flag == "error" }

// length adds a reading of a length.
func (s *Subject) length(into **measure.Reading, name, meaning string) {
	s.lengths = append(s.lengths, &length{name: name, into: into, usual: measure.Caliper})
	s.Flags.Var(s.lengths[len(s.lengths)-1], name, meaning)
}

// round adds a length that is taken with a tape unless it is said otherwise.
func (s *Subject) round(into **measure.Reading, name, meaning string) {
	s.length(into, name, meaning)
	s.lengths[len(s.lengths)-1].usual = measure.Tape
}

// take puts the lengths where identify looks for them, each with its tool and error.
func (s *Subject) take() error {
	tools := map[string]func(float64) *measure.Reading{"caliper": measure.Caliper, "ruler": measure.Ruler, "tape": measure.Tape}
	tool, known := tools[s.tool]
	if s.tool != "" && !known {
		return fmt.Errorf("the tool is caliper, ruler or tape, not %q", s.tool)
	}
	for _, l := range s.lengths {
		if l.text == "" {
			continue
		}
		read := tool
		if read == nil {
			read = l.usual
		}
		*l.into = read(l.mm)
		if s.Flags.Changed("error") {
			(*l.into).ErrorMM = s.errorMM
		}
	}
	return nil
}

// length is a length as it is typed.
type length struct {
	name  string
	text  string
	mm    float64
	into  **measure.Reading
	usual func(mm float64) *measure.Reading
}

func (l *length) String() string { return l.text }
func (l *length) Type() string   { return "length" }

func (l *length) Set(text string) error {
	if strings.HasPrefix(text, "-") {
		return fmt.Errorf("a length is never below nothing: %q", text)
	}
	value, unit, err := standard.ParseLength(text)
	if err != nil {
		return err
	}
	if unit == standard.UnitInch {
		value = math.Round(value*standard.Inch*100) / 100 // no tool here shows more than hundredths of a millimetre
	}
	l.text, l.mm = text, value
	return nil
}

// Word is a reading that is one of a few words.
type Word[T ~string] struct {
	into  *T
	words []T
}

func (w Word[T]) String() string {
	if w.into == nil {
		return ""
	}
	return string(*w.into)
}

func (w Word[T]) Type() string { return "word" }

func (w Word[T]) Set(text string) error {
	if !slices.Contains(w.words, T(text)) {
		return fmt.Errorf("write one of %s, not %q", w.List(), text)
	}
	*w.into = T(text)
	return nil
}

// List are the words in a row: "right, left".
func (w Word[T]) List() string { return strings.Join(w.Choices(), ", ") }

// Choices are the words.
func (w Word[T]) Choices() (out []string) {
	for _, word := range w.words {
		out = append(out, string(word))
	}
	return out
}
