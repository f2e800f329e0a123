package substitution

import (
	"fmt"
	"slices"
)

// Family is a kind of part, in the trade's own term: "chain", "chainring".
type Family string

// Table is all there is to say of a family: what to know of it, where it sits and what decides its fit. To add a family,
// write one Table in a file family_*.go, name it to families there, and put its published cases into cases/.
type Table struct {
	Family     Family
	Plural     string
	Sites      []Site      // where a part of the family sits; none: nowhere
	Dimensions []Dimension // besides the shared ones
	Ordered    [][2]string // pairs of dimensions of which the first never exceeds the second
	Agrees     []Agreement // what a spec says twice, and what follows from the rest
	Rules      []Rule
	Readings   []Reading // what a mechanic reads off such a part where it sits, and what the answers propose
	Pieces     int       // how many pieces a place takes where the place tells; zero: one
	ByMetre    bool      // it comes off a roll as well: a piece of what is kept by the metre is one metre
	Counted    bool      // the place does not tell how many pieces: it is asked
	Work       []Work    // what is done to such a part, in the words of a quote
	NeverSold  bool      // frame and fork: kept on the bike, part of no catalogue

	dimensions map[string]Dimension // its own and the shared ones, by name
	decides    bool                 // it has rules that can stop a part
}

// tables lists every family in the order in which a walk round the bike meets them.
var tables []*Table

// tableOf finds a family's table.
var tableOf = map[Family]*Table{}

// families takes tables into the vocabulary; every family file calls it once.
func families(list ...*Table) bool {
	tables = append(tables, list...)
	return true
}

func init() {
	for _, t := range tables {
		tableOf[t.Family] = t
		if tightened[t.Family] {
			t.Readings = append(slices.Clip(t.Readings), torqueDone)
		}
		t.name()
		t.dimensions = map[string]Dimension{}
		for _, list := range [][]Dimension{shared, t.Dimensions} {
			for _, d := range list {
				t.dimensions[d.Name] = d
			}
		}
	}
	for _, t := range tables {
		t.decides = slices.ContainsFunc(t.Rules, func(r Rule) bool { return r.Severity.Stops() })
	}
	layOut()
	for i, rule := range Rules() {
		ranks[rule] = i
	}
	across = acrossOf(tables)
	instances = instancesOf(tables)
	joints = jointsOf(instances)
}

// name tells the dimensions whose they are, and gives those without a list the one of the vocabulary.
func (t *Table) name() {
	t.Dimensions = slices.Clone(t.Dimensions)
	for i := range t.Dimensions {
		d := &t.Dimensions[i]
		d.of = t.Family
		if d.Form != Word || len(d.Words) > 0 {
			continue
		}
		if d.Words = vocabulary[string(t.Family)+"."+d.Name]; d.Words == nil {
			d.Words = vocabulary[d.Name]
		}
	}
}

// Families are all families of the vocabulary.
func Families() []Family {
	out := make([]Family, len(tables))
	for i, t := range tables {
		out[i] = t.Family
	}
	return out
}

// TableOf is a family's table, or an error that names the family and the nearest ones there are, by the alphabet.
func TableOf(f Family) (*Table, error) {
	if t, known := tableOf[f]; known {
		return t, nil
	}
	var names []string
	for _, t := range tables {
		names = append(names, string(t.Family))
	}
	return nil, fmt.Errorf("there is no part family %q: it is one of %s", f, amongSorted(string(f), names))
}

// Dimension finds a dimension of the family by its name.
func (t *Table) Dimension(name string) (Dimension, bool) {
	d, known := t.dimensions[name]
	return d, known
}

// DimensionNames are the family's own dimensions, then those that every family has.
func (t *Table) DimensionNames() []string {
	var names []string
	for _, list := range [][]Dimension{t.Dimensions, shared} {
		for _, d := range list {
			names = append(names, d.Name)
		}
	}
	return names
}

// shared are the dimensions that every family has. Colour, material and treatment together are the finish.
var shared = []Dimension{
	{Name: "colour", Form: Word, Words: vocabulary["colour"], Means: "colour", Measure: "look"},
	{Name: "material", Form: Word, Words: vocabulary["material"], Means: "material", Measure: "a magnet tells steel from alloy"},
	{Name: "treatment", Form: Word, Words: []string{"anodised", "polished", "chromed", "nickel-plated", "zinc-plated", "painted", "raw"}, Means: "surface", Measure: "look"},
	{Name: "pack", Form: Int, Low: 1, High: 100000, Means: "pieces in a pack", Measure: "read the label"},
	{Name: "torque_nm", Form: Number, Low: 0.1, High: 250, Means: "torque marked on it", Measure: "read the mark beside its bolt: N·m"},
}

// millimetres is a length of a part that one takes with a caliper.
func millimetres(name, means string, low, high float64, measure string) Dimension {
	return Dimension{Name: name, Form: Number, Low: low, High: high, Means: means, Measure: measure}
}

// count is a whole number that one counts on the part.
func count(name, means string, low, high float64, measure string) Dimension {
	return Dimension{Name: name, Form: Int, Low: low, High: high, Means: means, Measure: measure}
}

// word is a term of the trade; without a list any word will do.
func word(name, means, measure string, words ...string) Dimension {
	return Dimension{Name: name, Form: Word, Words: words, Means: means, Measure: measure}
}

// speeds is the list of sprocket counts that a part serves.
var speeds = Dimension{Name: "speeds", Form: Ints, Low: 1, High: 14, Means: "speeds", Measure: "count the sprockets at the rear wheel"}
