package substitution

// longEnough is the rule of parts that are cut to length: the new one is at least as long as the old. Where the old
// length was not taken the rule is silent: such parts are sold longer than any bike needs.
func longEnough(f Family, severity Severity, source Source) Rule {
	return Rule{
		ID: string(f) + ".length", Severity: severity,
		Says: "it is at least as long as what was there; the rest is cut off",
		Test: Custom{Of: []Ref{mine("length_mm")}, Judge: func(s Scene, at Place) Judgement {
			d := s.side(mine("length_mm"), at)
			if !d.changed || !d.wasKnown {
				return Judgement{}
			}
			if !d.known {
				return untold(d)
			}
			show := d.dimension().Show
			j := Judgement{Answer: Holds, Wanted: "at least " + show(d.was), Found: show(d.now), Words: d.words() + ", and " + show(d.was) + " was there"}
			if d.now.number < d.was.number {
				j.Answer = Breaks
			}
			return j
		}},
		Source: source,
	}
}

func length(low, high float64, measure string) Dimension {
	return millimetres("length_mm", "length", low, high, measure)
}

// small is a little part that another calls for.
func small(purpose, words string, quantity int) Bring {
	return Bring{Family: "consumable", Quantity: quantity, Words: words, Spec: Spec{"purpose": {Value: Text(purpose), Origin: FromStandard}}}
}
