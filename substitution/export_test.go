package substitution

import (
	"maps"
	"slices"
)

// Without calls f while one rule is taken out of the tables.
func Without(rule *Rule, f func()) {
	wereInstances, wereJoints := instances, joints
	defer func() { instances, joints = wereInstances, wereJoints }()
	instances, joints = map[Place][]*instance{}, map[[2]Family][]joint{}
	for p, list := range wereInstances {
		instances[p] = slices.DeleteFunc(slices.Clone(list), func(in *instance) bool { return in.rule == rule })
	}
	for pair, list := range wereJoints {
		joints[pair] = slices.DeleteFunc(slices.Clone(list), func(j joint) bool { return j.in.rule == rule })
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
	now := maps.Clone(was)
	chosen, err := buildOf(c.New)
	if err != nil {
		return Verdict{}, err
	}
	maps.Copy(now, chosen)
	for _, build := range []Build{was, now} {
		for _, p := range build {
			if p != nil && p.Family == family {
				delete(p.Spec, unknown)
			}
		}
	}
	return Scene{Was: was, Now: now}.Check(chosen.Places()...), nil
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
