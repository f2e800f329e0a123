package note

// boundWord reads "under", "about": the figure after it is none, nor the one before.
func (w *walk) boundWord(i int) int {
	j := i + 1
	for {
		s := w.itemAt(j).s
		if s == nil || w.startsNumber(j) || !s.is(filler) && !s.is(at) && !s.is(copula) && !s.is(bound) {
			break
		}
		j++
	}
	next := i + 1
	if w.startsNumber(j) {
		next = w.skipNumbers(j)
		if s := w.itemAt(next); (s.text == "and" || rangeWord(s.text)) && w.startsNumber(next+1) {
			next = w.skipNumbers(next + 1)
		}
		if w.namesPart(next) {
			w.seg().dirty, w.stray = true, true // "at least one rim is cracked"
			return next
		}
	} else if s := w.itemAt(j).s; j < w.end && s != nil && (s.reading != "" || s.bend || s.action != "" && s.form&after != 0 && s.head == nil) {
		next = j + 1 // "nearly at the wear line"
	} else if w.lastSaid != nil && len(w.lastSaid.readings)+len(w.lastSaid.facts) > 0 && w.sep == noSep {
		w.lastSaid.void = true
	}
	w.say(&predicate{spans: []span{{i, next}}, void: true})
	return next
}

// rangeWord reports a word between the ends of a range: "one point six to one point seven".
func rangeWord(text string) bool { return text == "to" || text == "or" || text == "-" || text == "–" }

// rangeEnd is where a range ends of which a reading at item i would be the lower end; i if it is none. A range is no figure.
func (w *walk) rangeEnd(i int, m measured) int {
	if len(m.readings) != 1 || m.balls || !rangeWord(w.itemAt(i).text) {
		return i
	}
	if more, next := w.measure(w.family, i+1); next > i+1 && len(more.readings) == 1 && more.readings[0].name == m.readings[0].name {
		return next
	}
	return i
}
