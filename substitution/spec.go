package substitution

import (
	"encoding/json"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
)

// Origin says where a dimension came from.
type Origin string

const (
	Measured     Origin = "measured"      // by the shop, on the part
	FromMaker    Origin = "maker"         // the maker's drawing or label
	FromSupplier Origin = "supplier-text" // read out of a supplier's description
	FromStandard Origin = "standard"      // follows from a standard designation
	Assumed      Origin = "assumed"       // by the shop, with a note
)

var origins = []Origin{Measured, FromMaker, FromSupplier, FromStandard, Assumed}

// Fact is a dimension's value with where it came from.
type Fact struct {
	Value  Value
	Origin Origin
	Note   string
}

// Spec is what is known of a part: facts by dimension name.
type Spec map[string]Fact

// Part is a part as far as fit is concerned.
type Part struct {
	Family Family
	Name   string // what a mechanic would call it; used in words only
	Spec   Spec
}

// Get is the value of a dimension, and whether it is known. A nil part knows nothing.
func (p *Part) Get(dimension string) (Value, bool) {
	if p == nil {
		return Value{}, false
	}
	f, ok := p.Spec[dimension]
	return f.Value, ok
}

// With is a copy of the spec with one fact more.
func (s Spec) With(dimension string, v Value, o Origin) Spec {
	c := maps.Clone(s)
	if c == nil {
		c = Spec{}
	}
	c[dimension] = Fact{Value: v, Origin: o}
	return c
}

// Names are the known dimensions in alphabetical order.
func (s Spec) Names() []string { return slices.Sorted(maps.Keys(s)) }

// Values is the spec without origins: what the catalogue indexes and the screens show.
func (s Spec) Values() map[string]Value {
	m := make(map[string]Value, len(s))
	for name, f := range s {
		m[name] = f.Value
	}
	return m
}

// String lists the known dimensions: "bcd_mm 110, bolts 5, teeth 50".
func (s Spec) String() string {
	var b strings.Builder
	for i, name := range s.Names() {
		if i > 0 {
			b.WriteString(", ")
		}
		fmt.Fprintf(&b, "%s %s", name, s[name].Value)
	}
	return b.String()
}

// Check returns the part with every value in its dimension's own form, or an error that names the first dimension
// that the family does not have or whose value cannot be meant.
func (p Part) Check() (Part, error) {
	checked := maps.Clone(p.Spec)
	if checked == nil {
		checked = Spec{}
	}
	p.Spec = checked
	if err := p.settle(); err != nil {
		return Part{}, err
	}
	return p, nil
}

// CheckOwn is Check for a part whose spec is the caller's own: the values take their form in it.
func (p Part) CheckOwn() error { return p.settle() }

// settle gives every value of the part's own spec its dimension's form; see Check.
func (p Part) settle() error {
	t, err := TableOf(p.Family)
	if err != nil {
		return err
	}
	bad := ""
	for name, f := range p.Spec {
		checked, wrong := t.check(name, f)
		if wrong == nil {
			p.Spec[name] = checked
		} else if err == nil || name < bad {
			bad, err = name, wrong
		}
	}
	if err != nil {
		return err
	}
	if err := t.agree(&p); err != nil {
		return err
	}
	for _, pair := range t.Ordered {
		low, okLow := p.Spec[pair[0]]
		high, okHigh := p.Spec[pair[1]]
		if okLow && okHigh && low.Value.number > high.Value.number {
			return fmt.Errorf("%s: %s %s is more than %s %s: one of the two is wrong", p.Family, pair[0], low.Value, pair[1], high.Value)
		}
	}
	return nil
}

// Recorded is the part as a record made by an older vocabulary holds it: values that can be read have their form and
// spelling, and what can't be read any more stays as it was, for a person to see. Nothing is refused.
func (p Part) Recorded() (Part, error) {
	t, err := TableOf(p.Family)
	if err != nil {
		return Part{}, err
	}
	spec := make(Spec, len(p.Spec))
	for name, f := range p.Spec {
		if d, known := t.Dimension(name); known {
			var of bool
			if f.Value, of = d.Recorded(f.Value); !of {
				continue
			}
		}
		spec[name] = f
	}
	p.Spec = spec
	_ = t.agree(&p) // what follows is filled in; an older record that contradicts itself stays for a person to see
	return p, nil
}

// Type adds a dimension to the spec of a part of the table's family as a person types it. A dimension that is there
// already, one that the family does not have and a value that cannot be meant are errors. A size that holds several
// dimensions gives all of them: "size=28-622" of a tyre, "teeth=11-32" of a cassette.
func (t *Table) Type(spec Spec, name, text string, from Origin) error {
	return t.Put(spec, name, Text(text), from)
}

// Put adds a dimension as Type does, with a value that may have its form already.
func (t *Table) Put(spec Spec, name string, value Value, from Origin) error {
	value, err := t.putFigure(spec, name, value, from)
	if err != nil {
		return err
	}
	for _, part := range t.parts(name) {
		d, ok := t.Dimension(part)
		if !ok {
			return fmt.Errorf("a %s has no dimension %q: it has %s", t.Family, name, Among(name, t.DimensionNames()))
		}
		v, err := d.Check(value)
		if err != nil {
			return fmt.Errorf("%s: %w", t.Family, err)
		}
		if had, twice := spec[part]; twice && !had.Value.Equal(v) {
			return fmt.Errorf("%s: %s is given twice, as %s and as %s: one of the two is wrong", t.Family, part, had.Value, v)
		}
		spec[part] = Fact{Value: v, Origin: from}
	}
	return nil
}

// withFigure are words that the trade writes with a figure of another dimension behind: "BSA 68", "presta 48 mm".
var (
	withFigure = map[string]string{"shell": "shell_mm", "valve": "valve_mm"}
	figureEnd  = regexp.MustCompile(`(?i)^(.*[a-z]) ?(\d{2,3}(?:[.,]\d)?) ?(?:mm)?$`)
)

// putFigure puts the figure behind a word where it belongs, and gives the word alone.
func (t *Table) putFigure(spec Spec, name string, value Value, from Origin) (Value, error) {
	other, both := withFigure[name]
	d, ok := t.Dimension(name)
	if !both || !ok || value.form != Word {
		return value, nil
	}
	if _, err := d.Check(value); err == nil {
		return value, nil
	}
	form := figureEnd.FindStringSubmatch(strings.TrimSpace(value.word))
	if form == nil {
		return value, nil
	}
	if _, err := d.Check(Text(form[1])); err != nil {
		return value, nil
	}
	return Text(form[1]), t.Put(spec, other, Text(form[2]), from)
}

// parts are the dimensions that one name stands for.
func (t *Table) parts(name string) []string {
	for _, size := range sizes {
		if _, own := t.Dimension(name); !own && size.name == name && t.has(size.parts) {
			return size.parts
		}
	}
	return []string{name}
}

// sizes are the names under which the trade writes two dimensions in one.
var sizes = []struct {
	name  string
	parts []string
}{
	{"teeth", []string{"teeth_min", "teeth_max"}},
	{"width", []string{"width_min_mm", "width_max_mm"}},
	{"size", []string{"width_mm", "bead_mm"}},
	{"size", []string{"inner_width_mm", "bead_mm"}},
}

func (t *Table) has(names []string) bool {
	for _, name := range names {
		if _, ok := t.Dimension(name); !ok {
			return false
		}
	}
	return true
}

// check is a fact of a part of the family with its value in the dimension's form.
func (t *Table) check(name string, f Fact) (Fact, error) {
	d, ok := t.Dimension(name)
	if !ok {
		return f, fmt.Errorf("a %s has no dimension %q: it has %s", t.Family, name, Among(name, t.DimensionNames()))
	}
	var err error
	if f.Value, err = d.Check(f.Value); err != nil {
		return f, fmt.Errorf("%s: %w", t.Family, err)
	}
	if !slices.Contains(origins, f.Origin) {
		return f, fmt.Errorf("%s: %s comes from %q, which is not an origin: say measured, maker, supplier-text, standard or assumed", t.Family, name, f.Origin)
	}
	return f, nil
}

// partJSON is how a part is written: plain values, origins beside them.
type partJSON struct {
	Family  Family            `json:"family"`
	Name    string            `json:"name,omitempty"`
	Spec    map[string]Value  `json:"spec"`
	Origins map[string]Origin `json:"origins,omitempty"`
	Notes   map[string]string `json:"notes,omitempty"`
}

// MarshalJSON writes the part with plain values in "spec" and their origins in "origins".
func (p Part) MarshalJSON() ([]byte, error) {
	out := partJSON{Family: p.Family, Name: p.Name, Spec: p.Spec.Values(), Origins: p.Spec.Origins(), Notes: p.Spec.Notes()}
	return json.Marshal(out)
}

// UnmarshalJSON reads a part and checks it against the vocabulary. A value without an origin is the shop's assumption.
func (p *Part) UnmarshalJSON(data []byte) error {
	var in partJSON
	dec := json.NewDecoder(strings.NewReader(string(data)))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&in); err != nil {
		return err
	}
	part, err := Part{Family: in.Family, Name: in.Name, Spec: MakeSpec(in.Spec, in.Origins, in.Notes)}.Check()
	if err != nil {
		return err
	}
	*p = part
	return nil
}

// MakeSpec joins plain values with their origins and notes; a value without an origin is Assumed.
func MakeSpec(values map[string]Value, from map[string]Origin, notes map[string]string) Spec {
	s := make(Spec, len(values))
	for name, v := range values {
		s[name] = factOf(v, from[name], notes[name])
	}
	return s
}

func factOf(v Value, from Origin, note string) Fact {
	if from == "" {
		from = Assumed
	}
	return Fact{Value: v, Origin: from, Note: note}
}

// Origins are where the facts came from, by dimension.
func (s Spec) Origins() map[string]Origin {
	m := make(map[string]Origin, len(s))
	for name, f := range s {
		m[name] = f.Origin
	}
	return m
}

// Notes are the remarks beside facts, by dimension; most have none.
func (s Spec) Notes() map[string]string {
	m := map[string]string{}
	for name, f := range s {
		if f.Note != "" {
			m[name] = f.Note
		}
	}
	return m
}
