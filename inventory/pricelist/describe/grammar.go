package describe

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync"

	"stead/substitution"
)

// grammar says how one family's descriptions become dimensions. It is data: the same steps read every family.
type grammar struct {
	slots      []slot
	forms      []string // figures in a fixed order: "shell_mm x spindle_mm", "[bcd] bcd_mm / bcd_inner_mm"
	words      string   // the dimensions that words give ("position bolt_pattern"); finish and pack go without saying
	unfinished bool     // nothing of it has a colour or a material: what is said of either is of what it is for
	also       []reader // designations and lists that need more than a figure, read first

	of      substitution.Family // the family of a small part's grammar; empty in a family's own
	purpose string              // which of that family's small parts it is

	table      *substitution.Table
	sized      bool // one of [sized]
	compiled   [][]element
	dimensions map[string]*dimension // from the family's table
	ordered    [][2]string
}

// dimension is one of the family's own.
type dimension struct {
	substitution.Dimension
	byWords bool // words of its descriptions may give it
}

// slot is one dimension that figures give.
type slot struct {
	dim    string
	labels string // the words that name it
	units  string // the units it takes; "none" for a bare figure behind a label
	within string // what can be meant, in the dimension's own unit: "20..62", "110|130|144"
	alone  string // what a figure with its unit alone may mean; the same as within if empty, "never" for nothing
	bare   string // what a figure without unit and label may mean; empty for nothing
	joined string // the same, but only for a figure joined to its neighbours by a dash or ×, as in terse codes
	word   string // makes the figure a word: "mm" turns 24 into "24mm"

	has    labels
	takes  unit
	ranges struct{ within, alone, bare, joined span }
	form   substitution.Form
}

// reader reads designations out of the items and claims what it read.
type reader func(*reading)

// span is a set of numbers: an interval, or a list.
type span struct {
	low, high float64
	list      []float64
}

func (s span) has(v float64) bool {
	if s.list == nil {
		return v >= s.low && v <= s.high && s.high > 0
	}
	for _, x := range s.list {
		if v > x-1e-6 && v < x+1e-6 {
			return true
		}
	}
	return false
}

// parseSpan reads "20..62", "110|130", "never" and "".
func parseSpan(text string) (span, error) {
	if text == "" || text == "never" {
		return span{}, nil
	}
	if low, high, ok := strings.Cut(text, ".."); ok {
		a, err1 := strconv.ParseFloat(low, 64)
		b, err2 := strconv.ParseFloat(high, 64)
		if err1 != nil || err2 != nil || a > b {
			return span{}, fmt.Errorf("%q is no interval", text)
		}
		return span{low: a, high: b}, nil
	}
	var s span
	for part := range strings.SplitSeq(text, "|") {
		v, err := strconv.ParseFloat(part, 64)
		if err != nil {
			return span{}, fmt.Errorf("%q is no list of figures", text)
		}
		s.list = append(s.list, v)
	}
	return s, nil
}

// element is one step of a form: a figure for a slot, a figure that is read past, a label, or a joint between figures.
type element struct {
	slot  int // -1 for none
	label labels
	joint string // "x", "/", "-", "~" (a dash or "to")
	past  span   // a figure that is no dimension
	isGap bool
}

// grammars are all families' grammars, made ready when a description is first read: most commands read none.
var grammars = sync.OnceValue(buildGrammars)

func buildGrammars() map[substitution.Family]*grammar {
	all := map[substitution.Family]*grammar{}
	for _, some := range []map[substitution.Family]*grammar{
		drivetrainGrammars(), bearingGrammars(), brakeGrammars(), wheelGrammars(), cockpitGrammars(), smallGrammars(), fittingGrammars(), equipmentGrammars(),
	} {
		maps.Copy(all, some)
	}
	for f, g := range all {
		g.compile(f)
	}
	return all
}

// compile checks a grammar and makes its tables ready. A mistake in it is a mistake in the program.
func (g *grammar) compile(f substitution.Family) {
	g.sized = slices.Contains(sized, f)
	if g.of != "" {
		f = g.of
	}
	table, err := substitution.TableOf(f)
	if err != nil {
		panic(fmt.Sprintf("describe: %v", err))
	}
	g.table, g.dimensions, g.ordered = table, map[string]*dimension{}, table.Ordered
	for _, name := range table.DimensionNames() {
		d, _ := table.Dimension(name)
		g.dimensions[name] = &dimension{d, g.gives(name)}
	}
	for i := range g.slots {
		s := &g.slots[i]
		for l := range strings.FieldsSeq(s.labels) {
			s.has |= labelOf(l)
		}
		for u := range strings.FieldsSeq(s.units) {
			if u == "none" {
				s.takes |= none
				continue
			}
			bit, ok := unitNames[u]
			if !ok {
				panic(fmt.Sprintf("describe: %s: %s: there is no unit %q", f, s.dim, u))
			}
			s.takes |= bit
		}
		alone := s.alone
		if alone == "" {
			alone = s.within
		}
		for _, part := range []struct {
			text string
			into *span
		}{{s.within, &s.ranges.within}, {alone, &s.ranges.alone}, {s.bare, &s.ranges.bare}, {s.joined, &s.ranges.joined}} {
			parsed, err := parseSpan(part.text)
			if err != nil {
				panic(fmt.Sprintf("describe: %s: %s: %v", f, s.dim, err))
			}
			*part.into = parsed
		}
		s.form = forms()[s.dim]
		if d, ok := g.dimensions[s.dim]; ok {
			s.form = d.Form
		}
		if s.form == 0 {
			panic(fmt.Sprintf("describe: %s: there is no dimension %q", f, s.dim))
		}
	}
	for _, text := range g.forms {
		g.compiled = append(g.compiled, g.compileForm(f, text))
	}
}

func (g *grammar) compileForm(f substitution.Family, text string) []element {
	var out []element
	for part := range strings.FieldsSeq(text) {
		e := element{slot: -1}
		switch {
		case part[0] == '[':
			e.label = labelOf(strings.Trim(part, "[]"))
		case part == "x" || part == "/" || part == "-" || part == "~":
			e.joint = part
		case part[0] == '#':
			past, err := parseSpan(part[1:])
			if err != nil {
				panic(fmt.Sprintf("describe: %s: %v", f, err))
			}
			e.past, e.isGap = past, true
		default:
			e.slot = slices.IndexFunc(g.slots, func(s slot) bool { return s.dim == part })
			if e.slot < 0 {
				panic(fmt.Sprintf("describe: %s: the form %q has no slot %q", f, text, part))
			}
		}
		out = append(out, e)
	}
	return out
}

// gives reports whether words of the family's descriptions may give the dimension.
func (g *grammar) gives(dimension string) bool {
	switch dimension {
	case "colour", "material", "treatment":
		return !g.unfinished
	case "pack":
		return true
	}
	return slices.Contains(strings.Fields(g.words), dimension)
}

// forms are the dimensions of all families' tables and the form each one's value has. Of a width that is a whole number
// in one family and not in another the freer form is taken; the family's own table settles it.
var forms = sync.OnceValue(func() map[string]substitution.Form {
	m := map[string]substitution.Form{}
	for _, f := range substitution.Families() {
		table, err := substitution.TableOf(f)
		if err != nil {
			panic(err) // it has just named the family
		}
		for _, name := range table.DimensionNames() {
			d, _ := table.Dimension(name)
			if m[name] == 0 || d.Form == substitution.Number {
				m[name] = d.Form
			}
		}
	}
	return m
})

// valueOf is a dimension's value as a table or a shop writes it.
func valueOf(name, text string) (substitution.Value, error) {
	if text == "" {
		return substitution.Value{}, fmt.Errorf("%s has no value", name)
	}
	form := forms()[name]
	switch form {
	case substitution.Number, substitution.Int:
		v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
		if err != nil || v != v || v > 1e6 || v < -1e6 {
			return substitution.Value{}, fmt.Errorf("%s is a number, not %q", name, text)
		}
		if form == substitution.Int {
			return substitution.Count(int(v)), nil
		}
		return substitution.Num(v), nil
	case substitution.Flag:
		if text != "true" && text != "false" {
			return substitution.Value{}, fmt.Errorf("%s is true or false, not %q", name, text)
		}
		return substitution.Yes(text == "true"), nil
	case substitution.Ints:
		var ns []int
		for part := range strings.SplitSeq(text, "/") {
			n, err := strconv.Atoi(part)
			if err != nil || n < 1 || n > 999 {
				return substitution.Value{}, fmt.Errorf("%s is whole numbers with strokes between them (9/10), not %q", name, text)
			}
			ns = append(ns, n)
		}
		return substitution.List(ns...), nil
	case substitution.Word:
		return substitution.Text(text), nil
	}
	return substitution.Value{}, fmt.Errorf("there is no dimension %q", name)
}

// tidy takes the dust of binary arithmetic off a decimal figure.
func tidy(v float64) float64 {
	const scale = 1e6
	n := v * scale
	if n > 0 {
		n += 0.5
	} else {
		n -= 0.5
	}
	return float64(int64(n)) / scale
}
