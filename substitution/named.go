package substitution

import "slices"

// AsNamed is the verdict on a choice for a place where a question names some parts of the bike and leaves out the rest: the
// pair of chosen part and neighbour, asked of a bike with just that neighbour, has the same answer. What the rules of
// other parts would ask of one that is not named, or a rule of an old part that nobody spoke of, is kept in aside; only
// where nothing else is known does it decide.
func (v Verdict) AsNamed(at Place, bike Build) (named Verdict, aside []Missing) {
	_, replaced := bike[at]
	for _, f := range v.Findings {
		_, recorded := bike[f.At]
		third := !recorded || slices.ContainsFunc(f.Missing, func(m Missing) bool {
			_, named := bike[m.Place]
			return m.Place != at && !named
		})
		ofOld := !replaced && !slices.ContainsFunc(f.Missing, func(m Missing) bool { return !m.Old })
		if f.Rule.Severity.Stops() && f.Answer == CantTell && len(f.Missing) > 0 && (f.At != at && third || ofOld) {
			aside = append(aside, f.Missing...)
			continue
		}
		named.add(f)
	}
	named.Cautions, named.At = v.Cautions, v.At
	if !slices.ContainsFunc(named.Findings, func(f Finding) bool { return f.Rule.Severity.Stops() }) {
		return v, nil
	}
	return named, aside
}
