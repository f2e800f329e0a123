package substitution

import "fmt"

// Tests by the old part alone, where a plain Match would ask too much: parts that are cut to length, and spokes.

// longEnough is the rule of what is cut or adjusted to length: the new part has at least the old one's. Where the old
// one was not measured the rule is silent: such parts are sold longer than any bike needs.
func longEnough(id, dimension string, severity Severity, says string, source Source) Rule {
	return Rule{
		ID: id, Severity: severity, Says: says,
		When:   []When{{Of: []Ref{old(dimension)}, Known: true}},
		Test:   Limit{Sum: []Term{plus(mine(dimension))}, AtLeast: []Ref{old(dimension)}, Optional: true},
		Source: source,
	}
}

// besideOld is the judgement of a dimension whose old and new value are both known, with the words for it.
func (d side) besideOld(answer Answer) Judgement {
	show := d.dimension().Show
	return Judgement{Answer: answer, Before: answer == Holds, Wanted: show(d.was), Found: show(d.now), Words: d.words() + ", and " + show(d.was) + " was there"}
}

const (
	spokeSlack = 0.5 // mm of spoke that rounding may take (a wheel builder's page)
	spokeMost  = 1.0 // mm beyond which thread is missing
	spokeLimit = 2.0 // mm beyond which no nipple makes it good
)

// spokesOff judges a change that leaves spokes so many millimetres off their length.
func (d side) spokesOff(mm float64) Judgement {
	j := d.besideOld(Holds)
	j.Words += fmt.Sprintf(": the spoke is %s mm off", figure(mm))
	switch {
	case mm > spokeLimit:
		j.Answer, j.Before = Breaks, false
	case mm > spokeSlack:
		j.Answer, j.Before = CantTell, false
		j.Words += "; a millimetre may do: look how far the old ones stood in their nipples"
		j.Missing = []Missing{d.missing()}
	}
	return j
}

func length(low, high float64, measure string) Dimension {
	return millimetres("length_mm", "length", low, high, measure)
}

// small is a little part that another calls for.
func small(purpose, words string, quantity int) Bring {
	return Bring{Family: "consumable", Quantity: quantity, Words: words, Spec: Spec{"purpose": {Value: Text(purpose), Origin: FromStandard}}}
}
