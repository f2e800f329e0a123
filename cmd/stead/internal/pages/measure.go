package pages

import (
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"stead/cmd/stead/internal/measuring"
	"stead/inventory"
	"stead/substitution/measure"
)

// measurePage names what is in the hand from what a tool reads on it.
type measurePage struct {
	Subjects []*measuring.Subject
	Of       *measuring.Subject // what is measured; nil: not chosen yet
	Readings []Field
	Tool     []Field
	Result   *measure.Result
	Sorry    string
}

func showMeasure(v *visit) (string, any, error) {
	p := measurePage{Subjects: measuring.Subjects()}
	of := v.asked("of")
	if of == "" {
		return "What is in your hand?", p, nil
	}
	i := slices.IndexFunc(p.Subjects, func(s *measuring.Subject) bool { return s.Name == of })
	if i < 0 {
		return "", nil, &inventory.UnknownError{Kind: "kind of measuring", Name: of}
	}
	p.Of = p.Subjects[i]
	read, wrong := false, false
	p.Of.Flags.VisitAll(func(flag *pflag.Flag) {
		field := readingField(flag, v.asked(flag.Name))
		if text := v.asked(flag.Name); text != "" && !(flag.Value.Type() == "bool" && text == "no") {
			if flag.Value.Type() == "bool" {
				text = "true"
			}
			if err := p.Of.Flags.Set(flag.Name, text); err != nil {
				wrong, field.Wrong = true, wrongReading(flag, text, err)
			}
			read = read || !measuring.OfTool(flag.Name)
		}
		if measuring.OfTool(flag.Name) {
			p.Tool = append(p.Tool, field)
			return
		}
		p.Readings = append(p.Readings, field)
	})
	if read && !wrong {
		result, err := p.Of.Identify()
		if err != nil {
			p.Sorry = err.Error()
		} else {
			p.Result = &result
		}
	}
	return p.Of.Short, p, nil
}

// Capital begins a subject's name as a line does.
func (p measurePage) Capital(s *measuring.Subject) string {
	return sentence(s.Name)
}

// readingField is the field of a reading, of the kind that its flag is.
func readingField(flag *pflag.Flag, typed string) Field {
	f := Field{Kind: "amount", Name: flag.Name, ID: "m-" + flag.Name, Label: sentence(flag.Usage), Value: typed}
	choices := []string{}
	switch word, isWord := flag.Value.(interface{ Choices() []string }); {
	case isWord:
		choices = word.Choices()
	case flag.Name == "tool":
		choices = measuring.Tools
	case flag.Value.Type() == "int":
		f.Kind = "number"
	case flag.Value.Type() == "bool":
		f.Kind = "tick"
	}
	if flag.Value.Type() == "length" {
		f.Jaws = jawsFor(flag.Usage, true)
	}
	if len(choices) > 0 {
		f.Kind = "choice"
		for i, c := range append([]string{""}, choices...) {
			label := c
			if c == "" {
				label = "not said"
			}
			f.Choices = append(f.Choices, Choice{c, label, f.ID + "-" + string(rune('a'+i)), c == typed})
		}
	}
	return f
}

// wrongReading says what is wrong with a reading; pflag's own frame around it, which names a flag, is left out.
func wrongReading(flag *pflag.Flag, text string, err error) string {
	switch flag.Value.Type() {
	case "int":
		return "this is a whole number, not " + strings.ToValidUTF8(text, "�")
	case "float64":
		return "this is a number, not " + strings.ToValidUTF8(text, "�")
	}
	if again := flag.Value.Set(text); again != nil {
		return again.Error()
	}
	return err.Error()
}

// ToolSaid reports whether it was said what the lengths were read with.
func (p measurePage) ToolSaid() bool {
	return slices.ContainsFunc(p.Tool, func(f Field) bool { return f.Value != "" })
}
