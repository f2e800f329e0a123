package solver

import (
	"maps"
	"slices"

	"stead/substitution"
	"stead/substitution/solver/choose"
)

// binding is a rule where it applies, bound to the needs whose places it looks at. To it, candidates that agree in all
// that it reads are one: they have one mark, and the engine is asked once for each combination of marks.
type binding struct {
	instance substitution.Instance
	needs    []int
	marks    [][]int                // by need, by candidate
	stand    [][]*substitution.Part // by need, by mark: a part that stands for all of the mark
	places   [][]substitution.Place // by need: those of its places that the rule looks at
	scene    substitution.Scene
	found    map[string]substitution.Judgement
}

// bindRules finds the rules that look at the needs' places.
func (m *model) bindRules() {
	m.binding = nil
	var places []substitution.Place
	for _, n := range m.needs {
		places = append(places, n.Places...)
		parts := make([]*substitution.Part, len(n.Candidates))
		for c, id := range n.Candidates {
			parts[c] = m.p.Parts[id].Part
		}
		m.looks = append(m.looks, substitution.LooksOf(parts))
	}
	for _, in := range substitution.Instances(places...) {
		b := &binding{instance: in, scene: substitution.Scene{Was: m.p.Was, Now: maps.Clone(m.now), Waived: m.p.Waived}, found: map[string]substitution.Judgement{}}
		if b.scene.Now == nil {
			b.scene.Now = substitution.Build{}
		}
		for _, p := range in.Places() {
			i, open := m.needAt[p]
			if !open {
				continue
			}
			k := slices.Index(b.needs, i)
			if k < 0 {
				k = len(b.needs)
				b.needs = append(b.needs, i)
				b.places = append(b.places, nil)
			}
			b.places[k] = append(b.places[k], p)
		}
		for k := range b.needs {
			b.mark(m, k)
		}
		m.binding = append(m.binding, b)
	}
}

// mark sorts a need's candidates by what the rule reads of them.
func (b *binding) mark(m *model, k int) {
	looks := m.looks[b.needs[k]]
	kinds := looks.Kinds(b.instance.ReadsAt(b.places[k]...)...)
	for _, p := range b.places[k] {
		kinds = kinds.And(looks.Very(m.p.Was[p])) // the very part that was there counts as kept
	}
	stand := make([]*substitution.Part, len(kinds.First))
	for mark, c := range kinds.First {
		stand[mark] = m.p.Parts[m.needs[b.needs[k]].Candidates[c]].Part
	}
	b.marks, b.stand = append(b.marks, kinds.Of), append(b.stand, stand)
}

// judge asks the engine about a combination of marks, once.
func (b *binding) judge(m *model, marks []int) substitution.Judgement {
	var buf [32]byte
	name := buf[:0]
	for _, mark := range marks {
		name = append(name, byte(mark), byte(mark>>8), byte(mark>>16))
	}
	if j, ok := b.found[string(name)]; ok {
		return j
	}
	for k, mark := range marks {
		for _, p := range b.places[k] {
			b.scene.Now[p] = b.stand[k][mark]
		}
	}
	j := b.scene.Judge(b.instance)
	b.found[string(name)] = j
	return j
}

func (b *binding) looksAt(p substitution.Place) bool {
	return p != "" && slices.Contains(b.instance.Places(), p)
}

// ruling turns what a rule finds into what the core counts.
func (m *model) ruling(b *binding, j substitution.Judgement, w wishes) choose.Ruling {
	r := choose.Ruling{Brings: m.brings(j.Brings)}
	rule := b.instance.Rule()
	bad := j.Answer == substitution.Breaks || j.Answer == substitution.CantTell
	switch {
	case rule.Severity.Stops():
		r.Stops = bad
	case bad && w.asksSame(m, rule.Severity, b.instance.At()):
		r.Stops = true
	case j.Answer == substitution.Breaks:
		r.Deviation = m.weight(rule)
	}
	return r
}

func (m *model) weight(rule *substitution.Rule) int64 {
	if w, ok := m.weights.Rules[rule.ID]; ok {
		return w
	}
	if rule.Severity == substitution.Function {
		return m.weights.Function
	}
	return m.weights.Finish
}

// alone is what the rules say of one candidate of a need beside the kept parts only.
func (m *model) alone(need, candidate int, w wishes, without substitution.Place) choose.Ruling {
	var sum choose.Ruling
	for _, b := range m.binding {
		if len(b.needs) != 1 || b.needs[0] != need || b.looksAt(without) {
			continue
		}
		r := m.ruling(b, b.judge(m, []int{b.marks[0][candidate]}), w)
		sum.Stops = sum.Stops || r.Stops
		sum.Deviation += r.Deviation
		sum.Brings = append(sum.Brings, r.Brings...)
	}
	return sum
}
