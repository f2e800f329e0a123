package substitution

import "slices"

// Without calls f while one rule is taken out of the tables.
func Without(rule *Rule, f func()) {
	wereInstances, wereJoints, wereAcross := instances, joints, across
	defer func() { instances, joints, across = wereInstances, wereJoints, wereAcross }()
	instances, joints, across = map[Place][]*instance{}, map[[2]Family][]joint{}, map[[2]Family][]*Rule{}
	for p, list := range wereInstances {
		instances[p] = slices.DeleteFunc(slices.Clone(list), func(in *instance) bool { return in.rule == rule })
	}
	for pair, list := range wereJoints {
		joints[pair] = slices.DeleteFunc(slices.Clone(list), func(j joint) bool { return j.in.rule == rule })
	}
	for pair, list := range wereAcross {
		across[pair] = slices.DeleteFunc(slices.Clone(list), func(r *Rule) bool { return r == rule })
	}
	f()
}

// Whole is the verdict of all rules, not of the case's own alone, on the case's bike. Of the parts in it the dimension of a
// family named is not known; an empty one leaves all.
func (c Case) Whole(family Family, unknown string) (Verdict, error) {
	was, err := buildOf(c.Bike)
	if err != nil {
		return Verdict{}, err
	}
	chosen, err := buildOf(c.New)
	if err != nil {
		return Verdict{}, err
	}
	for _, build := range []Build{was, chosen} {
		for _, p := range build {
			if p != nil && p.Family == family {
				delete(p.Spec, unknown)
			}
		}
	}
	rule, err := RuleByID(c.Rule)
	if err != nil {
		return Verdict{}, err
	}
	return rule.verdictOn(was, chosen), nil
}

// Decides tells whether a rule reads a dimension of a family.
func (r *Rule) Decides(family Family, dimension string) bool {
	for _, at := range r.Places() {
		for _, ref := range (Instance{newInstance(r, at)}).Reads() {
			if site, err := SiteOf(ref.Place); err == nil && site.Family == family && ref.Dimension == dimension {
				return true
			}
		}
	}
	return false
}
