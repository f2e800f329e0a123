package invented

import (
	"math/rand/v2"

	"stead/substitution"
)

// maker makes parts one after another.
type maker struct {
	random *rand.Rand
	tables []*substitution.Table
	first  []substitution.Part
	like   map[substitution.Family][]substitution.Part // the same, by family
}

func newMaker(random *rand.Rand, like []substitution.Part) *maker {
	m := &maker{random: random, first: like, like: map[substitution.Family][]substitution.Part{}}
	for _, f := range substitution.Families() {
		if table, err := substitution.TableOf(f); err == nil && !table.NeverSold {
			m.tables = append(m.tables, table)
		}
	}
	for _, p := range like {
		m.like[p.Family] = append(m.like[p.Family], p)
	}
	return m
}

// part is the i-th part of the catalogue; they are asked for in order.
func (m *maker) part(i int) (substitution.Family, substitution.Spec) {
	if i < len(m.first) {
		return m.first[i].Family, m.first[i].Spec
	}
	table := m.tables[m.random.IntN(len(m.tables))]
	if like := m.like[table.Family]; len(like) > 0 && m.random.IntN(4) > 0 {
		return table.Family, m.variant(table, like[m.random.IntN(len(like))])
	}
	return table.Family, m.any(table)
}

// known says of nine dimensions in ten that a list gives them.
func (m *maker) known() bool { return m.random.IntN(10) > 0 }

// any is a spec of a family with possible values.
func (m *maker) any(table *substitution.Table) substitution.Spec {
	s, random := substitution.Spec{}, m.random
	for _, name := range table.DimensionNames() {
		d, _ := table.Dimension(name)
		if !m.known() {
			continue
		}
		var v substitution.Value
		switch d.Form {
		case substitution.Number:
			v = substitution.Num(d.Low + float64(int((d.High-d.Low)*random.Float64()*10))/10)
		case substitution.Int:
			v = substitution.Count(int(d.Low) + random.IntN(min(60, int(d.High-d.Low)+1)))
		case substitution.Word:
			v = m.word(d)
		case substitution.Flag:
			v = substitution.Yes(random.IntN(2) == 0)
		case substitution.Ints:
			first := 6 + random.IntN(6)
			v = substitution.List(first, first+random.IntN(2))
		}
		s[name] = substitution.Fact{Value: v, Origin: substitution.FromSupplier}
	}
	for _, pair := range table.Ordered {
		if _, known := s[pair[0]]; known {
			delete(s, pair[1]) // or the first might exceed it
		}
	}
	return s
}

// variant is another part's spec in a finish of its own and with counts, of teeth or links, that differ by a few.
func (m *maker) variant(table *substitution.Table, p substitution.Part) substitution.Spec {
	s := substitution.Spec{}
	for _, name := range table.DimensionNames() { // in this order, so that chance falls the same every time
		fact, known := p.Spec[name]
		if !known || !m.known() {
			continue
		}
		d, _ := table.Dimension(name)
		switch {
		case name == "colour" || name == "treatment":
			fact.Value = m.word(d)
		case d.Form == substitution.Int && name != "bolts" && m.random.IntN(2) == 0:
			fact.Value = substitution.Count(int(fact.Value.Float()) + m.random.IntN(5) - 2)
		}
		s[name] = substitution.Fact{Value: fact.Value, Origin: substitution.FromSupplier}
	}
	if checked, err := (substitution.Part{Family: p.Family, Name: "variant", Spec: s}).Check(); err == nil {
		return checked.Spec
	}
	return p.Spec
}

func (m *maker) word(d substitution.Dimension) substitution.Value {
	words := d.Words
	if len(words) == 0 {
		words = []string{"black", "silver", "grey", "red", "blue"}
	}
	return substitution.Text(words[m.random.IntN(len(words))])
}
