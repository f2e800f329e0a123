package substitution

// Answer is what a rule says in a scene.
type Answer int

const (
	Holds Answer = iota + 1
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
	return "does not apply"
}

// Missing is a dimension that would settle a can't-tell.
type Missing struct {
	Place     Place
	Dimension string
	Measure   string // how, and with what tool
}

// Judgement is what a test finds in a scene. The zero Answer says that the rule does not apply there.
type Judgement struct {
	Answer  Answer
	Words   string // the finding as one clause, for a mechanic
	Wanted  string // what would fit
	Found   string // what is there
	Before  bool   // holds because it asks no more than the old part did
	Missing []Missing
	Brings  []Bring
}

// Bring is something that the choice needs beside it: a spacer, two more chain links.
type Bring struct {
	Family   Family
	Spec     Spec
	Quantity int
	Words    string
}

// Finding is a rule's judgement in a scene.
type Finding struct {
	Rule *Rule
	At   Place
	Judgement
}

// Verdict gathers what the rules say of the places that were asked about.
type Verdict struct {
	Fits     Answer // of mating and safety rules: the worst answer
	Findings []Finding
}

// Check judges every rule that touches one of the places and no open place.
func (s Scene) Check(places ...Place) Verdict {
	v := Verdict{Fits: Holds}
	seen := map[instance]bool{}
	for _, p := range places {
		for _, in := range instances[p] {
			if seen[in] || s.waits(in) {
				continue
			}
			seen[in] = true
			j := in.rule.Test.judge(s, in.at)
			if j.Answer == 0 {
				continue
			}
			if in.rule.Severity.Stops() {
				v.Fits = max(v.Fits, j.Answer)
			}
			v.Findings = append(v.Findings, Finding{in.rule, in.at, j})
		}
	}
	return v
}

// waits reports whether a rule must wait for an open place or does not apply because the bike has no such part.
func (s Scene) waits(in instance) bool {
	if _, fitted := s.Now[in.at]; !fitted || s.Open[in.at] {
		return true
	}
	for _, p := range in.rule.Test.scope(in.at) {
		if s.Open[p] {
			return true
		}
	}
	return false
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
