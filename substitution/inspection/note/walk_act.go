package note

import (
	"stead/substitution"
	"stead/substitution/inspection"
)

// playWord reads the play of a bearing: with its degree, none, or of no stated degree, which is nothing.
func (w *walk) playWord(i int) int {
	pr := &predicate{spans: []span{{i, i + 1}}}
	next := i + 1
	degree := w.degree
	if degree != noRole {
		pr.spans = []span{{w.degSpan.first, i + 1}}
	} else {
		j := next
		for w.itemAt(j).s.is(copula) || w.itemAt(j).sep == colon {
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

// act reads a word of what is to be done.
func (w *walk) act(i int) int {
	s := w.items[i].s
	next := i + 1
	pr := &predicate{spans: []span{{i, next}}, action: s.action}
	if w.wanting {
		pr.spans = []span{{w.want.first, next}}
		if s.form&(noun|done|verb) == 0 {
			pr.void = true
		}
		w.wanting = false
		w.say(pr)
		if pr.action == inspection.Replace && !w.endsHere(next) {
			w.wished = next
		}
		return next
	}
	switch {
	case s.form == done || s.form == noun|done:
		w.seg().kinds[history] = true
		return next
	case s.form&verb != 0:
		if w.negated {
			w.negated = false
			pr.void, pr.action = true, ""
			pr.spans = []span{{w.negSpan.first, next}}
			w.say(pr)
			return next
		}
		if w.prefixes(next) {
			return w.prefix(i, next, s.action)
		}
		if w.itemAt(i-1).s.is(copula) && w.itemAt(i-1).text != "got" {
			pr.void, pr.action = true, ""
		}
	case s.form&after == 0:
		// "service" said alone
		if !w.seg().part && (w.cur == nil || len(w.cur.parts) == 0) {
			return w.strange(i)
		}
	case !w.seg().part && !w.seg().said && w.cur == nil && w.sep == noSep && s.action == inspection.Keep && w.partSoon(next):
		return next // "OK, the chain"
	}
	if s.action == inspection.Replace && s.form&verb != 0 && !w.endsHere(next) {
		w.wished = next // "swap for 80 mm"
	}
	if n, after := w.partAfter(next); n != nil && w.describes(i) && (determiner(w.itemAt(i - 1).text)) {
		w.part(n, i)
		w.say(pr)
		return after
	}
	w.say(pr)
	return next
}

// partSoon reports that a part is named next, so that a word before it was only said to begin.
func (w *walk) partSoon(i int) bool {
	for w.itemAt(i).sep == comma || w.itemAt(i).s.is(filler) {
		i++
	}
	s := w.itemAt(i).s
	return s != nil && (s.head != nil || s.mod != 0 || s.noPlace)
}

// prefixes reports that a part follows, past marks and small words, so that the verb before it takes it.
func (w *walk) prefixes(i int) bool {
	for j := i; j < i+4; j++ {
		it := w.itemAt(j)
		s := it.s
		switch {
		case j >= w.end:
			return false
		case it.sep == colon, it.sep == joint, it.sep == comma && it.text != ",":
		case it.sep != noSep || s == nil:
			return s == nil && it.sep == noSep && !it.figure || it.figure
		case s.head != nil, s.noPlace, s.mod != 0, s.role == quant, s.role == every, s.role == wheel, s.role == otherSide, s.role == fresh, len(s.facts) > 0, s.class != noNumber:
			return true
		case determiner(it.text), s.role == filler:
		default:
			return false
		}
	}
	return false
}

// prefix begins a list of parts under a verb.
func (w *walk) prefix(first, next int, action inspection.Action) int {
	u := w.cur
	pending := false
	parted := w.sep != noSep || w.join != noRole
	if u != nil && !parted && !w.correct && w.seg().part && len(u.says) == 0 && u.verb == nil && len(u.parts) > 0 && !u.parts[0].wheel && !u.parts[0].bare() && action != inspection.Replace {
		// "chain clean cassette fine"
		pending = true
	}
	if u != nil && len(u.says) > 0 && !parted && w.seg().part {
		pending = true
	}
	if w.seg().part || w.seg().said {
		w.newSegment(first, parted)
	}
	u = w.newUnit()
	u.verb = &predicate{spans: []span{{first, next}}, action: action, segment: len(w.segments) - 1}
	u.pending = pending
	u.wanted = action == inspection.Replace
	if u.wanted {
		w.wished, w.seg().wish = next, true
	}
	w.seg().action = true
	w.settled()
	return next
}

// wants reads "needs", "wants", "to be", and what they lead to.
func (w *walk) wants(i int) int {
	s := w.items[i].s
	j := i + 1
	for {
		t := w.itemAt(j).s
		if t.is(toBe) || t.is(want) || t.is(filler) && !determiner(w.itemAt(j).text) || determiner(w.itemAt(j).text) && w.itemAt(j+1).s != nil && w.itemAt(j+1).s.action != "" {
			j++
			continue
		}
		break
	}
	next := w.itemAt(j).s
	if j >= w.end {
		next = nil
	}
	switch {
	case next != nil && next.action != "" && next.form&(noun|done) != 0:
		w.want, w.wanting = span{i, j}, true
		return j
	case s.role == toBe:
		if next != nil && next.action != "" && next.form&verb != 0 {
			return j
		}
		return i + 1
	case next != nil && next.action != "" && next.form&verb != 0:
		w.want, w.wanting = span{i, j}, !w.prefixes(j+1)
		return j
	case next != nil && next.action != "" && next.form == after:
		w.say(&predicate{spans: []span{{i, j + 1}}, void: true})
		return j + 1
	}
	if w.items[i].text == "needed" || w.items[i].text == "required" {
		if w.cur != nil && w.cur.verb != nil {
			return i + 1
		}
		w.seg().dirty = true
		return i + 1
	}
	if w.negated {
		w.negated = false
		w.seg().dirty, w.stray = true, true
		return i + 1
	}
	begins := w.items[i].text == "wants" || w.items[i].text == "want"
	if begins && !w.seg().part && (w.cur == nil || len(w.cur.parts) == 0) {
		w.seg().dirty = true // who wants it?
	}
	k := i + 1
	for w.itemAt(k).s.is(filler) && !determiner(w.itemAt(k).text) || w.itemAt(k).sep == colon {
		k++
	}
	if determiner(w.itemAt(k).text) && w.itemAt(k+1).s.is(fresh) {
		k++
	}
	if w.itemAt(k).s.is(fresh) {
		k++
	}
	if w.prefixes(i+1) || k > i+1 && w.prefixes(k) {
		if k > i+1 {
			return w.prefix(i, k, inspection.Replace)
		}
		return w.prefix(i, i+1, inspection.Replace)
	}
	w.seg().dirty = true
	w.stray = true
	w.wished, w.seg().wish = i+1, true
	return i + 1
}

// newPart reads "new": a part follows that is wanted.
func (w *walk) newPart(i int) int {
	if w.cur != nil && w.cur.verb != nil && len(w.cur.says) == 0 && w.cur.verb.action == inspection.Replace && (len(w.cur.parts) == 0 || w.sep != noSep || w.join != noRole) {
		return i + 1 // "needs new chain and new tyres"
	}
	if w.prefixes(i + 1) {
		return w.prefix(i, i+1, inspection.Replace)
	}
	w.say(&predicate{spans: []span{{i, i + 1}}, void: true})
	return i + 1
}
