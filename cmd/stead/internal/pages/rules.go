package pages

import (
	"stead/cmd/stead/internal/desk"
	"stead/substitution"
)

// rulesPage are the rules of a family, with what each is called and on whose word it stands.
type rulesPage struct {
	Families []desk.Kind
	Family   substitution.Family
	Rules    []*substitution.Rule
}

func showRules(v *visit) (string, any, error) {
	p := rulesPage{Families: desk.Kinds(), Family: substitution.Family(v.asked("family"))}
	if p.Family == "" {
		return "By which rules it fits", p, nil
	}
	if _, err := substitution.TableOf(p.Family); err != nil {
		return "", nil, &statusError{404, err.Error()}
	}
	for _, r := range substitution.Rules() {
		if r.Family() == p.Family {
			p.Rules = append(p.Rules, r)
		}
	}
	return "By which rules " + desk.KindWords(p.Family) + " fit", p, nil
}

// rulePage is a rule with its source and worked examples.
type rulePage struct {
	*substitution.Rule
	Groups []exampleGroup
}

// exampleGroup are the examples of one answer.
type exampleGroup struct {
	Title    string
	Examples []substitution.Case
}

func showRule(v *visit) (string, any, error) {
	rule, err := substitution.RuleByID(v.r.PathValue("rule"))
	if err != nil {
		return "", nil, err
	}
	p := rulePage{Rule: rule}
	all, err := substitution.ExamplesOf(rule)
	for _, answer := range []substitution.Answer{substitution.Holds, substitution.Breaks, substitution.CantTell} {
		group := exampleGroup{Title: sentence(answer.String())}
		for _, c := range all {
			if c.Answer == answer.String() {
				group.Examples = append(group.Examples, c)
			}
		}
		if len(group.Examples) > 0 {
			p.Groups = append(p.Groups, group)
		}
	}
	return rule.ID, p, err
}

// Means is what it comes to where the rule is broken.
func (p rulePage) Means() string { return desk.BrokenWords(p.Severity) }

// Where are the places at which it is asked.
func (p rulePage) Where() (out []string) {
	for _, place := range p.Places() {
		out = append(out, desk.SiteWords(place))
	}
	return out
}

// Parts are the parts of an example, place by place.
func (p rulePage) Parts(parts map[substitution.Place]string) string { return desk.ExampleParts(parts) }

// torquesPage are how tight joints are put on, by published lists.
type torquesPage struct{ Torques []substitution.Torque }

func showTorques(*visit) (string, any, error) {
	return "How tight", torquesPage{substitution.Torques()}, nil
}

// At are the places that have a joint.
func (p torquesPage) At(t substitution.Torque) []string {
	var out []string
	for _, place := range t.Places() {
		out = append(out, desk.SiteWords(place))
	}
	return out
}
