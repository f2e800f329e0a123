package note

import "strings"

// longestBike is how many words before a kind of bike may say whose it is.
const longestBike = 9

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
			return p.pastOwner(i)
		case p.items[i].sep > joint, s != nil && (s.head != nil || s.noPlace || s.mod != 0 || s.action != "" || s.reading != "" || s.role > bound && s.role != person && s.role != speech && !p.presents(i)):
			return from
		}
	}
	return from
}

// presents reports the "is the" of "this is the blue hybrid", which asks nothing.
func (p *parser) presents(i int) bool {
	return p.at(i).text == "is the" && p.at(i-1).text == "this"
}

// pastOwner steps over whose the bike is: "the blue hybrid for Mrs Okafor".
func (p *parser) pastOwner(i int) int {
	if p.at(i).text != "for" || !p.at(i+1).s.is(person) {
		return i
	}
	j := i + 2
	for j < i+2+longestName && p.at(j).s == nil && p.at(j).sep == noSep && !p.at(j).figure {
		j++
	}
	return j
}

// longestName is how many words a name may have.
const longestName = 2

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
