package solver

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"stead/substitution"
	"stead/substitution/solver/choose"
	"stead/substitution/supply"
)

// model is a problem with its IDs resolved and its rules bound to its needs. Wishes are applied by under.
type model struct {
	p       *Problem
	now     substitution.Build
	weights Weights
	offers  []supply.Offer // of all parts
	offerOf []source       // by index of offers
	sources [][]int        // offers by part
	needAt  map[substitution.Place]int
	needs   []Need
	looks   []*substitution.Looks // by need: of its candidates
	brought map[string]int
	binding []*binding
}

// source tells of an offer's index whose it is.
type source struct{ part, offer int }

// read resolves a problem's IDs and refuses what cannot be meant.
func read(p *Problem) (*model, error) {
	m := &model{p: p, now: p.Now, weights: p.Weights, sources: make([][]int, len(p.Parts)), brought: map[string]int{}}
	if m.now == nil {
		m.now = p.Was
	}
	if m.weights.Function == 0 && m.weights.Finish == 0 {
		m.weights.Function, m.weights.Finish = DefaultWeights.Function, DefaultWeights.Finish
	}
	if err := m.checkWeights(); err != nil {
		return nil, err
	}
	if err := m.readParts(); err != nil {
		return nil, err
	}
	for i, b := range p.Brought {
		k := key(b.Family, b.Spec)
		if _, twice := m.brought[k]; twice {
			return nil, fault(Malformed, "", "candidates for a brought %s are given twice", k)
		}
		m.brought[k] = i
	}
	if err := m.bind(); err != nil {
		return nil, err
	}
	return m, m.checkWishes()
}

func (m *model) checkWeights() error {
	all := []int64{m.weights.Function, m.weights.Finish}
	for _, w := range m.weights.Rules {
		all = append(all, w)
	}
	if slices.Min(all) < 0 || slices.Max(all) > 1_000_000 {
		return fault(Malformed, "", "the weight of a deviation lies between 0 and 1000000")
	}
	return nil
}

func (m *model) readParts() error {
	for i, part := range m.p.Parts {
		if part.Part == nil {
			return fault(Malformed, "", "part %d is nothing", i)
		}
		for k, o := range part.Offers {
			if err := o.Check(len(m.p.Suppliers)); err != nil {
				return fault(Malformed, "", "offer %d of part %s: %v", k, m.name(i), err)
			}
			m.sources[i] = append(m.sources[i], len(m.offers))
			m.offers = append(m.offers, o)
			m.offerOf = append(m.offerOf, source{i, k})
		}
	}
	return nil
}

// name is what a part is called in an error.
func (m *model) name(part int) string {
	if part < 0 || part >= len(m.p.Parts) || m.p.Parts[part].Part.Name == "" {
		return strconv.Itoa(part)
	}
	return fmt.Sprintf("%d (%s)", part, m.p.Parts[part].Part.Name)
}

// bind takes the needs, and binds the rules to them.
func (m *model) bind() error {
	m.needs, m.needAt = m.p.Needs, map[substitution.Place]int{}
	ids := map[string]bool{}
	for i, n := range m.needs {
		if ids[n.ID] || n.ID == "" {
			return fault(Malformed, n.ID, "it is given twice or has no ID")
		}
		ids[n.ID] = true
		if n.Pieces < 1 {
			return fault(Malformed, n.ID, "a quantity of %d cannot be meant", n.Pieces)
		}
		for _, p := range n.Places {
			if err := m.checkPlace(n, p); err != nil {
				return err
			}
			if _, twice := m.needAt[p]; twice {
				return fault(Malformed, n.ID, "the %s is asked for twice", p)
			}
			m.needAt[p] = i
		}
		if err := m.checkCandidates(n.ID, n.Family, n.Candidates); err != nil {
			return err
		}
	}
	for _, b := range m.p.Brought {
		if err := m.checkBrought(b); err != nil {
			return err
		}
	}
	m.bindRules()
	return nil
}

// checkPlace refuses a place that the bike does not have. The bench is no part of a bike: what is used there needs no
// record.
func (m *model) checkPlace(n Need, p substitution.Place) error {
	site, err := substitution.SiteOf(p)
	if err != nil {
		return fault(NoSuchPlace, n.ID, "%v", err)
	}
	_, was := m.p.Was[p]
	_, now := m.now[p]
	if !was && !now && !strings.HasPrefix(string(p), "bench.") {
		return fault(NoSuchPlace, n.ID, "this bike has no %s on record: record it, even if nothing is known of it", site.Words)
	}
	if site.Family != n.Family {
		return fault(Malformed, n.ID, "a %s goes to the %s, not a %s", site.Family, site.Words, n.Family)
	}
	return nil
}

func (m *model) checkCandidates(need string, f substitution.Family, parts []int) error {
	offered := 0
	seen := map[int]bool{}
	for _, i := range parts {
		switch {
		case i < 0 || i >= len(m.p.Parts):
			return fault(Malformed, need, "there is no part %d", i)
		case seen[i]:
			return fault(Malformed, need, "part %s is a candidate twice", m.name(i))
		case m.p.Parts[i].Part.Family != f:
			return fault(Malformed, need, "part %s is a %s, not a %s", m.name(i), m.p.Parts[i].Part.Family, f)
		}
		seen[i] = true
		offered += len(m.p.Parts[i].Offers)
	}
	if offered == 0 {
		return fault(NoCandidates, need, "nothing is offered for it: widen the search or ask for another part")
	}
	return nil
}

func (m *model) checkBrought(b Brought) error {
	name := key(b.Family, b.Spec)
	if err := m.checkCandidates(name, b.Family, b.Candidates); err != nil {
		return err
	}
	for _, i := range b.Candidates {
		if !(substitution.Bring{Spec: b.Spec, Over: b.Over}).Meets(m.p.Parts[i].Part) {
			return fault(Malformed, name, "part %s is not as it is asked for", m.name(i))
		}
	}
	return nil
}

// key names a brought thing by what it is.
func key(f substitution.Family, s substitution.Spec) string {
	return strings.TrimSpace(string(f) + " " + s.String())
}

// brings turns what rules and parts bring into extras. What nothing is offered for is the last extra, which has no
// options.
func (m *model) brings(list []substitution.Bring) []choose.Bring {
	var out []choose.Bring
	for _, b := range list {
		e, known := m.brought[key(b.Family, b.Spec)]
		if !known {
			e = len(m.p.Brought)
		}
		out = append(out, choose.Bring{Extra: e, Pieces: b.Quantity})
	}
	return out
}

// fit is a problem for the core with the way back from its options to parts and offers.
type fit struct {
	*choose.Problem
	m *model
}

// under is the problem as it stands when the wishes that are kept apply and, if given, the part at one place binds
// nothing.
func (m *model) under(kept func(wish int) bool, without substitution.Place) *fit {
	c := &choose.Problem{Offers: m.offers, Suppliers: slices.Clone(m.p.Suppliers)}
	w := m.wishes(kept)
	c.MostCost, c.LatestDay, c.MostSuppliers = w.mostCost, w.latestDay, w.mostSuppliers
	candidates := make([][]int, len(m.needs)) // by need: the candidate of each option
	for i, n := range m.needs {
		need := choose.Need{Name: n.ID, Pieces: n.Pieces}
		for k, id := range n.Candidates {
			part := m.p.Parts[id]
			alone := m.alone(i, k, w, without)
			if alone.Stops || !w.admitsPart(n.ID, id) {
				continue
			}
			brings := slices.Concat(m.brings(n.Brings), m.brings(part.Brings), alone.Brings)
			for _, way := range m.ways(i, id) {
				if !w.admitsWay(n, way, m) {
					continue
				}
				need.Options = append(need.Options, choose.Option{Offer: way.offer, First: way.first, Deviation: alone.Deviation, Brings: brings})
				candidates[i] = append(candidates[i], k)
			}
		}
		c.Needs = append(c.Needs, need)
	}
	for _, b := range m.p.Brought {
		need := choose.Need{Name: key(b.Family, b.Spec)}
		for _, id := range b.Candidates {
			for _, o := range m.sources[id] {
				if w.admitsSource("", m.offers[o].Supplier) {
					need.Options = append(need.Options, choose.Option{Offer: o, Brings: m.brings(m.p.Parts[id].Brings)})
				}
			}
		}
		c.Extras = append(c.Extras, need)
	}
	c.Extras = append(c.Extras, choose.Need{Name: "what nothing is offered for"})
	for _, b := range m.binding {
		if len(b.needs) < 2 || b.looksAt(without) {
			continue
		}
		rule := choose.Rule{Needs: b.needs, Judge: func(marks []int) choose.Ruling { return m.ruling(b, b.judge(m, marks), w) }}
		for k, i := range b.needs {
			marks := make([]int, len(candidates[i]))
			for o, candidate := range candidates[i] {
				marks[o] = b.marks[k][candidate]
			}
			rule.Marks = append(rule.Marks, marks)
		}
		c.Rules = append(c.Rules, rule)
	}
	return &fit{c, m}
}

// coreError gives a fault that the core found the need's name and kind.
func coreError(err error) error {
	var e *choose.Error
	if !errors.As(err, &e) {
		return fmt.Errorf("choosing parts: %w", err)
	}
	f := Malformed
	switch {
	case errors.Is(err, choose.ErrCircle):
		f = Circle
	case errors.Is(err, choose.ErrTooLarge):
		f = TooLarge
	}
	return &ProblemError{Fault: f, Need: e.Need, Reason: e.Reason}
}

// keptPlaces are the places whose parts stay, in the order of an inspection.
func (m *model) keptPlaces() []substitution.Place {
	var out []substitution.Place
	for _, p := range m.now.Places() {
		if _, open := m.needAt[p]; !open {
			out = append(out, p)
		}
	}
	return out
}
