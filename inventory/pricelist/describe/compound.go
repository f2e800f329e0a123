package describe

import "slices"

// The fewest letters of a word that is taken apart, of what stands before its head, and of a head that is not listed as one.
const (
	shortest       = 7
	shortestBefore = 3
	shortestName   = 5
)

// partCompounds takes German and Dutch compounds apart that nobody wrote down: "Hohlkammerfelge" is a rim, "ALUNIPPEL"
// an alloy nipple. The last word names the thing; only those listed as heads do, for a "Tretlagerachse" is no axle of a
// hub. What stands before is read where it is a word of the trade, and passed over where it is not.
func (s *scratch) partCompounds() {
	for i := 0; i < len(s.tokens); i++ {
		t := &s.tokens[i]
		if t.kind != word || t.id != 0 {
			continue
		}
		text := s.lower(t)
		if at := base().phraseInOne(text); at > 0 {
			s.part(i, at, base().ids[string(text[:at])], base().ids[string(text[at:])])
			i++
			continue
		}
		if len(text) < shortest {
			continue
		}
		at := base().compoundHead(text)
		if set := setHead(text); set > 0 {
			at = set
		}
		if at < 0 {
			continue
		}
		id := base().firstOf(text[:at])
		if id == 0 {
			t.id = base().ids[string(text[at:])]
			t.norm[0] += at
			continue
		}
		if base().alone(id).opens != mainClause { // a Dutch "voorspatbord" is in front, and not for a mudguard
			id = base().ids["vooraan"]
		}
		s.part(i, at, id, base().ids[string(text[at:])])
		i++
	}
}

// part makes two of the token at i, of which the second begins at a letter.
func (s *scratch) part(i, at int, first, second int32) {
	before := s.tokens[i]
	middle := before.norm[0] + at
	s.tokens[i].id, s.tokens[i].norm[0], s.tokens[i].glued = second, middle, true
	before.id, before.norm[1] = first, middle
	s.tokens = slices.Insert(s.tokens, i, before)
}

// The fewest letters of a name of two words that is written as one, and of its first.
const (
	shortestInOne   = 5
	shortestOfFirst = 2
)

// phraseInOne is where the second word of a part's name begins that is written in one: "DISCPADS", "AXLENUT"; 0 if it
// is none.
func (l *lexicon) phraseInOne(text []byte) int {
	if len(text) < shortestInOne {
		return 0
	}
	for at := shortestOfFirst; at+shortestOfFirst < len(text); at++ {
		first := l.ids[string(text[:at])]
		if first == 0 || l.firsts[first] == 0 {
			continue
		}
		second := l.ids[string(text[at:])]
		if second == 0 {
			continue
		}
		if node := l.next(l.firsts[first], second, false); node != 0 && l.senses[node] != nil && l.senses[node].namesThing() {
			return at
		}
	}
	return 0
}

// setHead is where the word for several together begins that a compound ends on, "Schalthebelpaar", "remgreepset", if
// what stands before is a word of the trade; 0 if not.
func setHead(text []byte) int {
	for _, set := range []string{"paar", "satz", "set"} {
		at := len(text) - len(set)
		if at > shortestBefore && string(text[at:]) == set && base().firstOf(text[:at]) != 0 {
			return at
		}
	}
	return 0
}

// compoundHead is where the head of a compound begins: the longest that is listed, else a part's name behind a word
// that only describes one, "Flachlenker", "Lederpedal"; -1 if the word has none.
func (l *lexicon) compoundHead(text []byte) int {
	for at := shortestBefore; at+3 <= len(text); at++ {
		if l.heads[string(text[at:])] {
			return at
		}
	}
	for at := shortestBefore; at+shortestName <= len(text); at++ {
		if head := l.alone(l.ids[string(text[at:])]); head == nil || head.family == "" || isKind(head.family) {
			continue
		}
		if first := l.alone(l.firstOf(text[:at])); first != nil && first.isAttribute() {
			return at
		}
	}
	return -1
}

// alone is what a word says by itself; nil if it says nothing.
func (l *lexicon) alone(id int32) *sense { return l.senses[l.firsts[id]] }

// isAttribute reports whether a word says how or where a part is, and names none.
func (s *sense) isAttribute() bool {
	return s.family == "" && !s.none && !s.not && s.opens == mainClause && (len(s.says) > 0 || s.noise)
}

// compoundLinks stand between the words of a German or Dutch compound: "Sicherheitskette", "Speichennippel",
// "Kinderpedal". An e may be left out there: "Bremsgriff".
var compoundLinks = []string{"s", "n", "en", "er", "e"}

// firstOf is the number of the word that a compound begins with, without what joins it to the next; 0 if it is not known.
func (l *lexicon) firstOf(before []byte) int32 {
	if id := l.ids[string(before)]; l.alone(id) != nil {
		return id
	}
	for _, link := range compoundLinks {
		cut := len(before) - len(link)
		if cut >= shortestBefore && string(before[cut:]) == link {
			if id := l.ids[string(before[:cut])]; l.alone(id) != nil {
				return id
			}
		}
	}
	if id := l.ids[string(before)+"e"]; l.alone(id) != nil {
		return id
	}
	return 0
}
