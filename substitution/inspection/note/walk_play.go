package note

import "stead/substitution"

// playWord reads the play of a bearing: with its degree, none, or of no stated degree, which is nothing.
func (w *walk) playWord(i int) int {
	pr := &predicate{spans: []span{{i, i + 1}}}
	next := i + 1
	degree := w.degree
	if degree != noRole {
		pr.spans = []span{{w.degSpan.first, i + 1}}
	} else {
		j := next
		for w.itemAt(j).s.is(copula) || w.itemAt(j).sep == colon || w.itemAt(j).sep == comma && w.itemAt(j).text == "," {
			j++
		}
		if s := w.itemAt(j).s; s.is(slight) || s.is(marked) {
			k := j + 1
			if w.endsHere(k) {
				degree, next = s.role, k
				pr.spans = []span{{i, k}}
			}
		}
	}
	switch {
	case w.negated && degree != noRole:
		pr.void = true
	case w.negated:
		pr.readings = []fact{{"play", substitution.Text("none")}}
		pr.spans = append([]span{w.negSpan}, pr.spans...)
		w.negated = false
		defer func() { w.keepNeg = true }()
	case degree == slight:
		pr.readings = []fact{{"play", substitution.Text("slight")}}
	case degree == marked:
		pr.readings = []fact{{"play", substitution.Text("marked")}}
	default:
		pr.void = true
	}
	if n, after := w.partAfter(next); n != nil && !w.seg().part && !w.seg().said && w.endsHere(after) {
		w.part(n, i) // "loads of play rear hub"
		w.say(pr)
		return after
	}
	w.say(pr)
	return next
}

// playThere reads "none in the bottom bracket, a touch in the hub" after the play of another part.
func (w *walk) playThere(i int) int {
	degree, known := degrees[w.items[i].text]
	if !known || !w.itemAt(i+1).s.is(at) && !(beginsAt(w.itemAt(i+1).text) && w.modAt(i+1)) || w.sep == noSep && w.join == noRole || w.negated || len(w.units) == 0 {
		return i
	}
	had := w.units[len(w.units)-1].says
	if len(had) > 0 && degree == "none" && had[len(had)-1].negated && len(had[len(had)-1].readings) > 0 {
		again := *had[len(had)-1] // "no cracks in the frame, none in the fork"
		again.spans = append([]span{{i, i + 1}}, again.spans...)
		again.spans[0], again.spans[len(again.spans)-1] = again.spans[len(again.spans)-1], span{i, i + 1}
		w.say(&again)
		w.cur.marks = append(w.cur.marks, span{i, i + 1})
		return i + 1
	}
	if len(had) == 0 || len(had[len(had)-1].readings) != 1 || had[len(had)-1].readings[0].name != "play" {
		return i
	}
	pr := &predicate{spans: []span{{i, i + 1}}, readings: []fact{{"play", substitution.Text(degree)}}}
	if !w.partIn(pr) {
		return i
	}
	w.say(pr)
	return i + 1
}

// degrees are those of play, where the play itself is not said again.
var degrees = map[string]string{"none": "none", "a touch": "slight", "a bit": "slight", "a little": "slight", "a hint": "slight", "lots": "marked", "loads": "marked", "a lot": "marked", "plenty": "marked"}
