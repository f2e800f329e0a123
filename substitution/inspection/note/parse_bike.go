package note

// longestBike is how many words before a kind of bike may say whose it is.
const longestBike = 6

// pastBike is where a sentence from item from begins that says first what bike the note is of: "student's old racer
// freewheel skips".
func (p *parser) pastBike(from int) int {
	for i := from; i < min(from+longestBike, len(p.items)); i++ {
		s := p.items[i].s
		switch {
		case s.is(bikeKind):
			if i++; p.at(i).text == "in" || p.at(i).text == "in for" {
				i++
			}
			return i
		case p.items[i].sep > joint, s != nil && (s.head != nil || s.noPlace || s.mod != 0 || s.action != "" || s.reading != "" || s.role > bound && s.role != person && s.role != speech):
			return from
		}
	}
	return from
}
