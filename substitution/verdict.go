package substitution

import (
	"fmt"
	"slices"
)

// Answer is what a rule says in a scene.
type Answer int

const (
	// NoRule: nothing was asked. Of a rule, it does not apply; of a verdict, no rule decides, and nothing is known.
	NoRule Answer = iota
	Holds
	CantTell
	Breaks
)

func (a Answer) String() string {
	switch a {
	case Holds:
		return "holds"
	case CantTell:
		return "can't tell"
	case Breaks:
		return "breaks"
	}
	return "no rule"
}

// Missing is a dimension that would settle a can't-tell.
type Missing struct {
	Place     Place
	Dimension string
	Measure   string // how, and with what tool
	Old       bool   // on the part that was there, not on the new one
}

// Judgement is what a test finds in a scene. The zero Answer says that the rule does not apply there.
type Judgement struct {
	Answer  Answer
	Words   string // the finding as one clause, for a mechanic
	Wanted  string // what would fit
	Found   string // what is there
	Before  bool   // holds because it asks no more than the old part did
	Waived  bool   // it would break or cannot tell, and a person answers for it; Words and Missing say what it finds
	Missing []Missing
	Brings  []Bring
}

// Bring is something that the choice needs beside it: a spacer, two more chain links.
type Bring struct {
	Family   Family
	Spec     Spec
	Over     map[string]float64 // how far above the spec's figure a dimension may be; absent: not at all
	Quantity int
	Words    string
}

// Meets reports whether a part is what is brought.
func (b Bring) Meets(p *Part) bool {
	for dim, want := range b.Spec {
		v, known := p.Get(dim)
		if over := b.Over[dim]; over > 0 {
			if !known || v.number < want.Value.number-rounding || v.number > want.Value.number+over+rounding {
				return false
			}
			continue
		}
		if !known || !v.Equal(want.Value) {
			return false
		}
	}
	return true
}

// String tells it with the number, where more than one is needed: "2 × ferrules".
func (b Bring) String() string {
	if b.Quantity > 1 {
		return fmt.Sprintf("%d × %s", b.Quantity, b.Words)
	}
	return b.Words
}

// Finding is a rule's judgement in a scene.
type Finding struct {
	Rule *Rule
	At   Place
	Judgement
}

// Verdict gathers what the rules say of the places that were asked about.
type Verdict struct {
	Fits     Answer // the worst of the mating and safety rules; Holds where only function rules spoke, NoRule where none did
	At       Place  // where Instead found it
	Findings []Finding
	Cautions []string // for safety parts that are not like for like
}

// Check judges every rule that touches one of the places and no open place.
func (s Scene) Check(places ...Place) Verdict {
	s = s.withNewRings()
	var v Verdict
	seen := map[*instance]bool{}
	for _, p := range places {
		for _, in := range instances[p] {
			if seen[in] || s.waits(in) || p == "crank" && s.ringsStay(in) {
				continue
			}
			seen[in] = true
			v.add(Finding{in.rule, in.at, in.judge(s)})
		}
		if words := s.caution(p); words != "" && !slices.Contains(v.Cautions, words) {
			v.Cautions = append(v.Cautions, words)
		}
	}
	return v
}

// add takes a finding in, unless the rule does not apply.
func (v *Verdict) add(f Finding) {
	if f.Answer == 0 {
		return
	}
	switch {
	case f.Rule.Severity.Stops():
		v.Fits = max(v.Fits, f.Answer)
	case f.Rule.Severity == Function || !tableOf[f.Rule.Family()].decides:
		v.Fits = max(v.Fits, Holds)
	}
	v.Findings = append(v.Findings, f)
}

// judge asks the rule, and lets what a person answers for pass.
func (in *instance) judge(s Scene) Judgement {
	j := in.ask(s)
	if (j.Answer == CantTell || j.Answer == Breaks) && s.Waived[Waiver{in.rule.ID, in.at}] {
		j.Answer, j.Waived = Holds, true
	}
	return j
}

// ask asks the rule. What rests on memory alone is never a confident verdict.
func (in *instance) ask(s Scene) Judgement {
	j := in.rule.Test.judge(s, in.at)
	if d, open := in.rule.mayBeSilenced(s, in.at); open && j.Answer == Breaks {
		j = untold(d)
	}
	if j.Answer == CantTell && in.sameAgain(s) {
		return Judgement{Answer: Holds, Before: true, Words: "the same " + in.at.words() + " as was there", Found: j.Found}
	}
	if j.Answer == CantTell {
		switch again, read := in.asItWas(s, j.Missing); {
		case again && read:
			return Judgement{Answer: Holds, Before: true, Words: in.at.words() + ": what is new beside it is in this as it was", Found: j.Found}
		case again && s.kept(in.at): // the rule asks nothing of what is new, nor of where it sits
			return Judgement{}
		}
	}
	if j.Answer == CantTell && s.cameTogether(in) {
		return Judgement{Answer: Holds, Words: in.at.words() + ": it comes with the crankset", Found: j.Found}
	}
	if in.rule.Source.Confidence == Memory && in.rule.Severity.Stops() && !j.Before && j.Answer != 0 {
		j.Answer = CantTell
		j.Words += "; this rests on memory, not on a published source: check it with the maker"
	}
	return j
}

// sameAgain tells whether all that is new before the rule is the very same as what was there.
func (in *instance) sameAgain(s Scene) bool {
	again := false
	for _, p := range in.scope {
		if s.kept(p) {
			continue
		}
		if !identical(s.Was[p], s.Now[p]) {
			return false
		}
		again = true
	}
	return again
}

// asItWas tells whether all that is new before the rule is, in what the rule reads of it, what it was, so that what is
// not known is of parts that stay: a tyre of the old one's width goes under a mudguard that nobody measured as the old
// one did. Read is false where the rule reads nothing of what is new.
func (in *instance) asItWas(s Scene, missing []Missing) (again, read bool) {
	for _, p := range in.scope {
		if s.kept(p) {
			continue
		}
		was, now := s.Was[p], s.Now[p]
		if was == nil || now == nil || p == "crank" && in.byRings || slices.ContainsFunc(missing, func(m Missing) bool { return m.Place == p }) {
			return false, false
		}
		for _, ref := range in.rule.refs() {
			at, dim := ref.at(in.at)
			if at != p {
				continue
			}
			a, known := was.Get(dim)
			b, stillKnown := now.Get(dim)
			if known != stillKnown || known && !a.Equal(b) {
				return false, false
			}
			read = true
		}
		again = true
	}
	return again, read
}

// identical tells whether two parts are one: of one name, and described alike by everything known of them, of which at
// least one thing decides whether such a part fits. Two parts without a name are never known to be one.
func identical(was, now *Part) bool {
	return was != nil && now != nil && was.Name != "" && was.Name == now.Name && alikeInAll(was, now)
}

// alikeInAll tells whether two parts are described alike, by something that decides whether they fit.
func alikeInAll(was, now *Part) bool {
	if was.Family != now.Family || len(was.Spec) != len(now.Spec) {
		return false
	}
	decides := false
	for name, fact := range was.Spec {
		other, known := now.Spec[name]
		if !known || !fact.Value.Equal(other.Value) {
			return false
		}
		decides = decides || !slices.ContainsFunc(shared, func(d Dimension) bool { return d.Name == name })
	}
	return decides
}

// caution is what to print beside a safety part that is not like for like.
func (s Scene) caution(p Place) string {
	site, err := SiteOf(p)
	if err != nil || !site.Safety || s.kept(p) || s.Now[p] == nil || likeForLike(s.Was[p], s.Now[p]) {
		return ""
	}
	return "the " + site.Words + " is a safety part: the dimensions are compared here, the maker's approval is not implied; " +
		"follow the makers' instructions and torques, ISO 4210 and local rules, and have the work checked by a competent mechanic"
}

// likeForLike reports whether two parts are known to be alike in everything but looks and pack.
func likeForLike(was, now *Part) bool {
	if was == nil || now == nil || was.Family != now.Family {
		return false
	}
	compared := 0
	for _, spec := range []Spec{was.Spec, now.Spec} {
		for name := range spec {
			if name == "colour" || name == "treatment" || name == "pack" {
				continue
			}
			a, inWas := was.Get(name)
			b, inNow := now.Get(name)
			if !inWas || !inNow || !a.Equal(b) {
				return false
			}
			compared++
		}
	}
	return compared > 0
}

// waits reports whether a rule must wait for an open place or does not apply because the bike has no such part.
func (s Scene) waits(in *instance) bool {
	if _, fitted := s.Now[in.at]; !fitted && !in.rule.Presumed || in.rule.Aside && !s.aside {
		return true
	}
	for _, p := range in.scope {
		if s.Open[p] {
			return true
		}
	}
	if in.asOld && s.kept(in.at) || !in.rule.asks(s, in.at) {
		return true
	}
	for _, p := range in.rule.Unless {
		at := resolve(p, in.at)
		if _, fitted := s.Now[at]; fitted || s.Open[at] { // what is still to be chosen there will be there
			return true
		}
	}
	return false
}

// ringsStay reports whether a rule has the crankset in its scope for its rings alone, and none of them changes.
func (s Scene) ringsStay(in *instance) bool {
	return in.byRings && !slices.ContainsFunc(in.scope, func(p Place) bool { return !s.kept(p) && p != "crank" })
}

// Stops are the findings because of which the parts do not fit, broken ones before untold ones.
func (v Verdict) Stops() []Finding {
	var out []Finding
	for _, want := range []Answer{Breaks, CantTell} {
		for _, f := range v.Findings {
			if f.Answer == want && f.Rule.Severity.Stops() {
				out = append(out, f)
			}
		}
	}
	return out
}

// Deviations are the differences that still fit: broken function rules, then broken finish rules.
func (v Verdict) Deviations() []Finding {
	var out []Finding
	for _, want := range []Severity{Function, Finish} {
		for _, f := range v.Findings {
			if f.Rule.Severity == want && f.Answer == Breaks {
				out = append(out, f)
			}
		}
	}
	return out
}

// Acceptable reports whether nothing speaks against the choice: every rule holds, or there is none.
func (v Verdict) Acceptable() bool { return v.Fits == Holds || v.Fits == NoRule }

// Untold are the function rules that cannot tell: the part goes on, and how it will work is not known.
func (v Verdict) Untold() []Finding {
	var out []Finding
	for _, f := range v.Findings {
		if f.Rule.Severity == Function && f.Answer == CantTell {
			out = append(out, f)
		}
	}
	return out
}

// WorksAlike reports whether the part is known to fit and to work as what was there did: it may look otherwise.
func (v Verdict) WorksAlike() bool {
	if v.Fits != Holds || len(v.Untold()) > 0 {
		return false
	}
	for _, d := range v.Deviations() {
		if d.Rule.Severity == Function {
			return false
		}
	}
	return true
}

// Waived are the findings that a person answers for.
func (v Verdict) Waived() []Finding {
	var out []Finding
	for _, f := range v.Findings {
		if f.Waived {
			out = append(out, f)
		}
	}
	return out
}

// Brings are the things that the choice needs beside it.
func (v Verdict) Brings() []Bring {
	var out []Bring
	for _, f := range v.Findings {
		out = append(out, f.Brings...)
	}
	return out
}

// Missing are the dimensions that would settle the can't-tells, each once.
func (v Verdict) Missing() []Missing {
	var out []Missing
	seen := map[Missing]bool{}
	for _, f := range v.Stops() {
		for _, m := range f.Missing {
			if !seen[m] {
				seen[m] = true
				out = append(out, m)
			}
		}
	}
	return out
}
