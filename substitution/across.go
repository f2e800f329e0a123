package substitution

// A place takes parts of one family. Where parts of two families stand in for one another all the same, rules of one of the
// two say how ([Rule.Across]). [Instead] alone asks them: on a bike each family has places of its own.

// across are those rules, by the families of the old part and of the new one.
var across map[[2]Family][]*Rule

func acrossOf(tables []*Table) map[[2]Family][]*Rule {
	m := map[[2]Family][]*Rule{}
	for _, t := range tables {
		for i := range t.Rules {
			if r := &t.Rules[i]; r.Across != "" {
				m[[2]Family{t.Family, r.Across}] = append(m[[2]Family{t.Family, r.Across}], r)
				m[[2]Family{r.Across, t.Family}] = append(m[[2]Family{r.Across, t.Family}], r)
			}
		}
	}
	return m
}

// insteadAcross judges a part in the stead of one of another family; false where no rule joins the two families.
func insteadAcross(was, now *Part) (Verdict, bool) {
	rules := across[[2]Family{was.Family, now.Family}]
	if len(rules) == 0 {
		return Verdict{}, false
	}
	at := placesFor(now)[0]
	s, v := Scene{Was: Build{at: was}, Now: Build{at: now}}, Verdict{At: at}
	for _, r := range rules {
		if j := r.Test.judge(s, at); j.Answer != 0 {
			v.add(Finding{r, at, j})
		}
	}
	return v, true
}
