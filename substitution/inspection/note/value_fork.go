package note

import "stead/substitution"

// leastRun is how many hours of use are worth a word; fewer are of work.
const leastRun = 20

// hoursRun reads "120 hours" of what is serviced by the hour.
func hoursRun(p *parser, i int) (measured, int) {
	for _, w := range p.wholes(i) {
		switch p.at(p.skipJoint(w.next)).text {
		case "hours", "hour", "hrs", "hr":
			if b := p.at(i - 1); w.v >= leastRun && !b.s.is(every) && !b.s.is(want) && b.text != "every" && b.text != "after" {
				return measured{readings: num("hours", w.v)}, p.skipJoint(w.next) + 1
			}
		}
	}
	return measured{}, 0
}

// oilWeight reads "ten weight" and "5W" of suspension oil.
func oilWeight(p *parser, i int) (measured, int) {
	for _, w := range p.decimals(i) {
		switch p.at(p.skipJoint(w.next)).text {
		case "w", "wt", "weight":
			return measured{facts: []fact{{"weight", substitution.Text(figure(w.v) + "W")}}}, p.skipJoint(w.next) + 1
		}
	}
	return measured{}, 0
}
