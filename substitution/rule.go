package substitution

import (
	"fmt"
	"slices"
	"strings"
)

// Severity says what a broken rule means.
type Severity int

const (
	Mating   Severity = iota + 1 // the parts will not go together
	Safety                       // they must not be used together
	Function                     // it works, and rides or shifts differently
	Finish                       // it looks different
)

func (s Severity) String() string {
	switch s {
	case Mating:
		return "mating"
	case Safety:
		return "safety"
	case Function:
		return "function"
	case Finish:
		return "finish"
	}
	panic(fmt.Sprintf("substitution: no such severity: %d", s))
}

// Stops reports whether a part that breaks such a rule does not fit.
func (s Severity) Stops() bool { return s == Mating || s == Safety }

// Confidence says how sure a source is.
type Confidence int

const (
	Standard   Confidence = iota + 1 // the text or table of a published standard
	Catalogue                        // a maker's published drawing or table
	Handbook                         // a technical handbook or reference page
	TradePage                        // a page of a workshop, a seller or riders: what the trade does, told in public
	Practice                         // common practice in the trade, no published source
	Memory                           // not confirmed anywhere: never grounds for a confident verdict
	Arithmetic                       // follows by geometry or arithmetic from the dimensions themselves
)

func (c Confidence) String() string {
	switch c {
	case Standard:
		return "published standard"
	case Catalogue:
		return "maker's catalogue"
	case Handbook:
		return "handbook"
	case TradePage:
		return "trade page"
	case Practice:
		return "common practice, no source"
	case Memory:
		return "from memory, not confirmed"
	case Arithmetic:
		return "arithmetic"
	}
	panic(fmt.Sprintf("substitution: no such confidence: %d", c))
}

// Source is on whose authority a rule stands.
type Source struct {
	Text       string
	Confidence Confidence
}

func (s Source) String() string {
	if s.Text == "" {
		return s.Confidence.String()
	}
	return s.Text + " (" + s.Confidence.String() + ")"
}

// Rule is one thing that must be true of a part of a family where it sits.
//
// A mating or safety rule that rests on memory alone never gives a confident answer: Check turns it into a can't-tell.
type Rule struct {
	ID       string // family and subject: "chainring.bcd"
	Severity Severity
	Says     string  // the rule as one sentence
	At       []Place // where it applies; none listed: wherever the family sits
	Presumed bool    // the bike has such a part even where it was not recorded: every derailleur has its shifter
	Unless   []Place // a bike that has one of these places has no use for the rule
	Aside    bool    // asked of two parts held side by side only, never on a bike
	Across   Family  // asked only where a part stands in for one of this other family, or one of that for it; never on a bike
	Against  []Place // where the other side of the joint is, where only the old part can tell of it: a pair with what is there asks
	When     []When  // what must be so for it to be asked
	Test     Test
	Source   Source
}

// ranks are the places of the rules in the order of Rules.
var ranks = map[*Rule]int{}

// Rules are all rules, family by family.
func Rules() []*Rule {
	var out []*Rule
	for _, t := range tables {
		for i := range t.Rules {
			out = append(out, &t.Rules[i])
		}
	}
	return out
}

// RuleByID is the rule of that name, or an error that names the rules of the same family.
func RuleByID(id string) (*Rule, error) {
	family, _, _ := strings.Cut(id, ".")
	var alike []string
	for _, r := range Rules() {
		if r.ID == id {
			return r, nil
		}
		if strings.HasPrefix(r.ID, family+".") {
			alike = append(alike, r.ID)
		}
	}
	return nil, &UnknownRuleError{id, alike}
}

// UnknownRuleError says that there is no such rule.
type UnknownRuleError struct {
	ID   string
	Near []string // the rules of its family, if there is one
}

func (e *UnknownRuleError) Error() string {
	if len(e.Near) == 0 {
		return fmt.Sprintf("there is no rule %q", e.ID)
	}
	return fmt.Sprintf("there is no rule %q: that family has %s", e.ID, Among(e.ID, e.Near))
}

// Family is the family that the rule belongs to.
func (r *Rule) Family() Family {
	family, _, _ := strings.Cut(r.ID, ".")
	return Family(family)
}

// Places are where the rule applies.
func (r *Rule) Places() []Place {
	if len(r.At) > 0 {
		return r.At
	}
	return PlacesOf(r.Family())
}

// Reads are the dimensions on which the rule depends at the first of its places; see Instance.Reads.
func (r *Rule) Reads() []Ref { return Instance{newInstance(r, r.Places()[0])}.Reads() }

// MayBring reports whether a choice may bring something by this rule: a rule that only compares never does.
func (r *Rule) MayBring() bool {
	switch t := r.Test.(type) {
	case Lookup:
		return slices.ContainsFunc(t.Rows, func(row Row) bool { return len(row.Brings) > 0 })
	case Is:
		return len(t.Brings) > 0
	case Match:
		return t.Fill != nil
	case Custom:
		return true
	}
	return false
}

// Ref names a dimension of the part at a place. An empty place is the part that the rule belongs to;
// "~." stands for the same end of the bike, so that one rule serves front and rear.
type Ref struct {
	Place     Place
	Dimension string
	Old       bool // of the part that was there, of which a kept part says nothing
}

func mine(dimension string) Ref             { return Ref{Dimension: dimension} }
func old(dimension string) Ref              { return Ref{Dimension: dimension, Old: true} }
func theirs(p Place, dimension string) Ref  { return Ref{Place: p, Dimension: dimension} }
func (r Ref) at(self Place) (Place, string) { return resolve(r.Place, self), r.Dimension }

// within stands for the place that a place is part of: "front.hub" of "front.hub.cone-left".
const within Place = "^"

func resolve(p, self Place) Place {
	if p == "" {
		return self
	}
	if p == within {
		return self[:max(0, strings.LastIndexByte(string(self), '.'))]
	}
	if rest, ok := strings.CutPrefix(string(p), "~."); ok {
		return Place(self.end() + "." + rest)
	}
	return p
}

// instance is a rule where it applies.
type instance struct {
	rule *Rule
	at   Place
	// scope lists the places that the rule looks at, its own first. A rule that looks at a ring looks at the crankset
	// too, because a new crankset brings its rings.
	scope   []Place
	byRings bool // the crankset is in the scope for that reason alone
	asOld   bool // the rule compares with the old part alone, so it is silent where the part is kept
}

// instances are all rules at all their places, found from the places that they touch.
var instances map[Place][]*instance

func instancesOf(tables []*Table) map[Place][]*instance {
	m := map[Place][]*instance{}
	for _, t := range tables {
		for i := range t.Rules {
			if t.Rules[i].Across != "" {
				continue
			}
			for _, p := range t.Rules[i].Places() {
				in := newInstance(&t.Rules[i], p)
				for _, q := range in.scope {
					m[q] = append(m[q], in)
				}
			}
		}
	}
	return m
}

func newInstance(r *Rule, at Place) *instance {
	in := &instance{rule: r, at: at, scope: slices.Clone(r.Test.scope(at))}
	for _, w := range r.When {
		for _, p := range w.places(at) {
			if !slices.Contains(in.scope, p) {
				in.scope = append(in.scope, p)
			}
		}
	}
	in.asOld = slices.ContainsFunc(r.refs(), func(ref Ref) bool { return ref.Old })
	if !slices.Contains(in.scope, "crank") && slices.ContainsFunc(ringPlaces, func(r ringPlace) bool { return slices.Contains(in.scope, r.place) }) {
		in.scope = append(slices.Clip(in.scope), "crank")
		in.byRings = true
	}
	return in
}
