package describe

import (
	"fmt"
	"strings"

	"stead/substitution"
)

// said is what a person has said of one line, against what its words say.
type said struct {
	family substitution.Family
	none   bool
	dims   map[string]substitution.Fact // an absent value leaves the dimension out
}

// ReadAs reads a description of which a person has said something: "family NAME", "none" (it is none of our parts),
// DIMENSION=VALUE, or DIMENSION=none (what the text says of it is not so). What was said wins, as long as it can be meant:
// [CheckSaid] tells.
func (r *Reader) ReadAs(text string, meanings []string) Reading {
	if s, err := saidOf(meanings); err == nil {
		return r.readAs(text, &s)
	}
	return r.Read(text)
}

// CheckSaid says what of a person's words on one line cannot be meant, if anything.
func CheckSaid(meanings []string) error {
	_, err := saidOf(meanings)
	return err
}

func saidOf(meanings []string) (said, error) {
	s := said{dims: map[string]substitution.Fact{}}
	for _, m := range meanings {
		name, value, assigned := strings.Cut(strings.TrimSpace(m), "=")
		verb, family, _ := strings.Cut(m, " ")
		switch {
		case m == "none":
			s.none = true
		case assigned && value == "none":
			if forms()[name] == 0 {
				return s, fmt.Errorf("there is no dimension %q", name)
			}
			s.dims[name] = substitution.Fact{}
		case assigned:
			v, err := valueOf(name, value)
			if err != nil {
				return s, err
			}
			s.dims[name] = substitution.Fact{Value: v, Origin: substitution.Assumed}
		case verb == "family":
			s.family = substitution.Family(strings.TrimSpace(family))
			if g := grammars()[s.family]; g == nil || g.of != "" {
				return s, fmt.Errorf("there is no part family %q", s.family)
			}
		default:
			return s, fmt.Errorf("%q says nothing of a line: write family NAME, DIMENSION=VALUE, DIMENSION=none, or none", m)
		}
	}
	if s.none && (s.family != "" || len(s.dims) > 0) {
		return s, fmt.Errorf("a line that is none of our parts has no family and no dimensions")
	}
	return s, nil
}

// apply puts what was said in the place of what was read. A value that the family's table says cannot be meant stays out.
func (s *said) apply(out *Reading) {
	for name, fact := range s.dims {
		delete(out.Spec, name)
		g := grammars()[out.Family]
		if fact.Origin == "" || g == nil {
			continue
		}
		if d, ok := g.dimensions[name]; ok {
			if v, err := d.Check(fact.Value); err == nil {
				out.Spec[name] = substitution.Fact{Value: v, Origin: fact.Origin}
			}
		}
	}
}

// Has reports whether a description has a word or phrase of the shop's own, however its marks and blanks are written.
func Has(text, phrase string) bool {
	own := newLexicon()
	if own.add(phrase, "noise") != nil {
		return false
	}
	var s scratch
	s.lex(text)
	for i := range s.tokens {
		if sense, _ := own.find(&s, i); sense != nil {
			return true
		}
	}
	return false
}
