package note

// noWord reads "no": not any, or a correction.
func (w *walk) noWord(i int) int {
	j := i + 1
	if w.itemAt(j).figure && i == w.seg().first {
		w.seg().kinds[otherBike] = true // "no 8: chain shot": which bike that is, is not sure
		return j
	}
	for j < w.end {
		s := w.items[j].s
		if s == nil || s.role != filler && s.role != slight && s.role != marked && s.role != teeth {
			break
		}
		j++
	}
	if s := w.itemAt(j).s; s != nil && (s.reading != "" || s.bend || s.role == play || s.role == void) {
		w.negated, w.negSpan = true, span{i, i + 1}
		return i + 1
	}
	if s := w.itemAt(j).s; s.is(fresh) || s.is(want) || i == w.seg().first && w.itemAt(i+1).sep == noSep && w.headSoon(j) {
		w.seg().dirty, w.stray = true, true // "no new chain"
		return i + 1
	}
	return w.correcting(i, correction)
}

func (w *walk) correcting(i int, r role) int {
	w.leaveNegation()
	if w.seg().part || w.seg().said || w.seg().dirty || w.seg().hasKind() {
		w.newSegment(i, true)
	}
	w.correct = true
	w.marks = append(w.marks, span{i, i + 1})
	w.sep, w.join = comma, noRole
	follows := i + 1
	for follows < w.end && w.items[follows].sep != noSep {
		follows++
	}
	if r == scratch && follows >= w.end {
		u := w.newUnit()
		u.scratch, u.correct = true, true
		w.correct, w.marks = true, []span{{i, i + 1}}
	}
	return i + 1
}

// pronoun reads "it" and "they": they name no part anew.
func (w *walk) pronoun(i int) int {
	text := w.items[i].text
	if determiner(text) && w.headSoon(i+1) {
		return i + 1
	}
	if w.cur != nil && w.cur.verb != nil && len(w.cur.parts) == 0 && !w.seg().part {
		// "replace it"
		pr := w.cur.verb
		w.cur.verb = nil
		w.cur.says = append(w.cur.says, pr)
		w.cur.pronoun = true
		w.seg().said = true
		return i + 1
	}
	if !w.seg().part && !w.seg().said && (w.cur == nil || w.sep != noSep || w.join != noRole || w.correct || w.same) {
		u := w.newUnit()
		u.pronoun = true
		switch text {
		case "they", "them", "these", "those", "theyre", "they're":
			u.many = true
		}
		u.marks = append(u.marks, span{i, i + 1})
	} else if w.seg().said && w.sep == noSep && w.join == noRole {
		// "chain fine it's at point nine": the same part goes on
		return i + 1
	}
	return i + 1
}

// sameWord reads "the same", "the same size" and "the same as the front in size".
func (w *walk) sameWord(i int) int {
	next, size, as := w.sameAfter(i)
	if w.seg().said {
		if w.partFollows(i+1) || w.modAt(i+1) {
			w.same, w.sameAt, w.join = true, span{i, i + 1}, and
		}
		return i + 1 // "hooked as well"
	}
	if w.cur != nil && len(w.cur.parts) > 0 && len(w.cur.says) == 0 && w.cur.verb == nil && w.seg().part {
		w.cur.same, w.cur.sameAt, w.cur.sameSize, w.cur.sameAs = true, span{i, next}, size, as
		w.seg().said = true
		w.sep, w.join = noSep, noRole
		return next
	}
	w.same, w.sameAt, w.sameSize, w.sameAs = true, span{i, next}, size, as
	return next
}

// sameAfter reads what the same is said of, "size", and as what, "as the front".
func (w *walk) sameAfter(i int) (next int, size bool, as *nounPhrase) {
	next = i + 1
	for j := next; j < w.end; j++ {
		switch text := w.items[j].text; {
		case ofSize(text):
			size, next = true, j+1
		case text == "as":
			n, end := w.nounPhraseAt(w.pastDeterminers(j + 1))
			if as != nil {
				return
			}
			if n == nil {
				return next, size, &nounPhrase{noPlace: true} // "as the old one"
			}
			as, next = n, end
			j = end - 1
		case text != "in" && text != "for":
			return
		}
	}
	return
}

func (w *walk) pastDeterminers(i int) int {
	for determiner(w.itemAt(i).text) {
		i++
	}
	return i
}

func ofSize(text string) bool {
	switch text {
	case "size", "sized", "width", "length", "diameter", "spoke length":
		return true
	}
	return false
}

// boundWord reads "under", "about": the figure after it is none, nor the one before.
func (w *walk) boundWord(i int) int {
	j := i + 1
	for {
		s := w.itemAt(j).s
		if s == nil || !s.is(filler) && !s.is(at) && !s.is(copula) && !s.is(bound) {
			break
		}
		j++
	}
	next := i + 1
	if w.startsNumber(j) {
		next = w.skipNumbers(j)
		if s := w.itemAt(next); s.text == "and" && w.startsNumber(next+1) {
			next = w.skipNumbers(next + 1)
		}
	} else if w.lastSaid != nil && len(w.lastSaid.readings)+len(w.lastSaid.facts) > 0 && w.sep == noSep {
		w.lastSaid.void = true
	}
	w.say(&predicate{spans: []span{{i, next}}, void: true})
	return next
}
