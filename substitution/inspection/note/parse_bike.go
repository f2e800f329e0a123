package note

import "strings"

// longestBike is how many words before a kind of bike may say whose it is.
const longestBike = 6

// pastBike is where a sentence from item from begins that says first what bike the note is of: "student's old racer
// freewheel skips".
func (p *parser) pastBike(from int) int {
	for i := from; i < min(from+longestBike, len(p.items)); i++ {
		s := p.items[i].s
		switch {
		case s.is(bikeKind):
			if p.tellsOfBike(i) {
				return from
			}
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

// tellsOfBike reports that a kind of bike at item i is what a sentence tells of, and is told from the one at hand: "her
// commuter needs new tyres", "that hybrid wants a headset".
func (p *parser) tellsOfBike(i int) bool {
	next := p.at(i + 1)
	if !next.s.is(want) && !next.s.is(copula) {
		return false
	}
	for k := i - 1; k >= 0 && k > i-longestBike && p.items[k].sep == noSep; k-- {
		switch text := p.items[k].text; {
		case text == "that", text == "those", possessives[text], text == "'s" && p.at(k-1).s == nil, strings.HasPrefix(text, "other"):
			return true
		}
	}
	return false
}
