package note

import "stead/substitution"

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
