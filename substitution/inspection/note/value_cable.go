package note

// diameterByLength reads "one point six by two metres".
func diameterByLength(p *parser, i int) (measured, int) {
	for _, d := range p.decimals(i) {
		j := p.between(p.maybeUnit(d.next, "mm"), "x", "by", "×")
		if j == d.next {
			continue
		}
		for _, l := range p.decimals(j) {
			next := p.maybeUnit(l.next, "mm", "metre")
			times := p.scale(l.next, "length_mm")
			if next > l.next || l.v >= leastCable {
				return measured{facts: append(num("diameter_mm", d.v), num("length_mm", exact(l.v*times))...)}, next
			}
		}
	}
	return measured{}, 0
}

// leastCable is the shortest cable that is sold, so that a bare figure is its length.
const leastCable = 300
