package note

import (
	"stead/substitution"
	"stead/substitution/inspection"
)

// manner takes the words that say how a thing is meant.
func (w *walk) manner(i int) int {
	s := w.items[i].s
	switch s.role {
	case filler, copula:
		if w.otherBikes(i) {
			w.seg().kinds[otherBike] = true
		}
		if s.role == copula && w.opensQuestion(i) {
			w.seg().kinds[question] = true
		}
		return i + 1
	case and, or, but:
		return w.conjunction(i)
	case not:
		w.negated, w.negSpan = true, span{i, i + 1}
		return i + 1
	case no:
		return w.noWord(i)
	case slight, marked:
		if w.playHas(i) {
			return i + 1
		}
		w.degree, w.degSpan = s.role, span{i, i + 1}
		return i + 1
	case at:
		w.at = true
		if w.movesTo(i) {
			w.seg().dirty = true
		}
		return i + 1
	case it:
		return w.pronoun(i)
	case onePronoun:
		return i + 1
	case same:
		return w.sameWord(i)
	case correction, scratch:
		return w.correcting(i, s.role)
	case bound:
		return w.boundWord(i)
	case want, toBe:
		return w.wants(i)
	case fresh:
		return w.newPart(i)
	case nothingWith:
		return w.prefix(i, i+1, inspection.Keep)
	case teeth:
		return i + 1
	case hedge, question, condition, plan, history, speech, otherBike, stock:
		if s.role == speech && w.seg().said && w.sep == noSep && w.join == noRole {
			w.newSegment(i, true) // "tyres are thirty-twos he wants …"
		} else if (w.join != noRole || w.sep != noSep) && (w.seg().part || w.seg().said) {
			w.newSegment(i, true) // "the chain and possibly the cassette"
		}
		w.seg().kinds[s.role] = true
		w.maybe = s.role == hedge
		if s.role == stock {
			w.wished = i + 1 // "order 44 cm bars, black tape"
		}
		w.negated = false
		return i + 1
	case inQuestion:
		if !w.seg().part && !w.seg().said {
			w.seg().kinds[question] = true
			return i + 1
		}
	case noRole:
		if s.label != "" || s.unit == "" && s.class == noNumber {
			break
		}
	}
	return w.strange(i)
}

// playHas gives a play that was named before its degree, "the play in the headset is slight".
func (w *walk) playHas(i int) bool {
	u := w.cur
	if u == nil || len(u.says) == 0 || !w.endsHere(i+1) || w.sep != noSep || w.join != noRole {
		return false
	}
	last := u.says[len(u.says)-1]
	if !last.void || w.items[last.spans[0].first].s == nil || w.items[last.spans[0].first].s.role != play || last.negated {
		return false
	}
	degree := "slight"
	if w.items[i].s.role == marked {
		degree = "marked"
	}
	last.void, last.readings = false, []fact{{"play", substitution.Text(degree)}}
	last.spans = append(last.spans, span{i, i + 1})
	return true
}

// movesTo reports that a verb takes its part somewhere: "swap the front tyre to the rear".
func (w *walk) movesTo(i int) bool {
	switch w.items[i].text {
	case "to", "from", "into", "onto":
		return w.cur != nil && w.cur.verb != nil && len(w.cur.parts) > 0 && len(w.cur.says) == 0
	}
	return false
}

// otherBikes reports "bike 3" and somebody's bike: of which bike it is said is then not sure.
func (w *walk) otherBikes(i int) bool {
	if w.items[i].text != "bike" {
		return false
	}
	return w.startsNumber(i+1) || w.itemAt(i-1).text == "'s" && w.itemAt(i-2).s == nil
}

// opensQuestion reports that "is" or "are" begins the sentence before its subject.
func (w *walk) opensQuestion(i int) bool {
	t := w.items[i].text
	if w.seg().part || w.seg().said || t != "is" && t != "are" {
		return false
	}
	j := i + 1
	for determiner(w.itemAt(j).text) {
		j++
	}
	s := w.itemAt(j).s
	return s != nil && (s.head != nil || s.mod != 0 || s.noPlace)
}
