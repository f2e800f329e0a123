package note

// noun reads a part at item i.
func (w *walk) noun(i int) int {
	n, next := w.nounPhraseAt(i)
	if n == nil {
		return i
	}
	if i == w.seg().first && w.items[i].text == "right" && n.bare() && next == i+1 && (w.itemAt(next).sep == comma || w.headAt(next) != nil) {
		return next // "right, the chain"
	}
	return w.take(n, i, next)
}

// take puts a noun phrase where it belongs.
func (w *walk) take(n *nounPhrase, i, next int) int {
	s := w.seg()
	here := w.sep == noSep && w.join == noRole
	if n.wheel && n.head == nil && n.mod != 0 && (w.at || beginsAt(w.items[i].text)) && s.said && here {
		n.wheel = false // "on the drive side of the rear wheel"
	}
	atWord := w.at || w.items[i].s != nil && w.items[i].s.mod != 0 && beginsAt(w.items[i].text)
	switch {
	case n.noPlace && w.at && s.said && here:
		w.at = false
		return next // "frayed at the brake lever"
	case n.head != nil && atWord && s.said && here && w.cur != nil && len(w.cur.parts) == 0 && !w.cur.pronoun && !w.cur.same:
		// "no cracks in the rear rim"
		n.segment = len(w.segments) - 1
		w.cur.parts = append(w.cur.parts, n)
		s.part = true
		w.family = n.head.family
		w.settled()
		return next
	case n.bare() && n.mod == 0 && !n.other && s.part && !s.said && here && w.cur != nil && len(w.cur.parts) > 0:
		last := w.cur.parts[len(w.cur.parts)-1]
		last.sides, last.every = last.sides || n.sides, last.every || n.every
		last.spans = append(last.spans, n.spans...)
		return next
	case n.bare() && here && w.lastSaid != nil && w.lastSaid.balls && len(w.cur.parts) > 0 && n.mod&ends == 0:
		last := w.cur.parts[len(w.cur.parts)-1]
		last.balls, last.sides = last.balls|n.mod, last.sides || n.sides
		w.lastSaid.spans = append(w.lastSaid.spans, n.spans...)
		return next
	case n.head != nil && w.at && s.said && here && s.part:
		s.dirty = true
		w.stray = true
		w.part(n, i)
		w.stray = false
		return next
	case n.bare() && here && s.said && w.cur != nil && len(w.cur.parts) == 1 && w.cur.parts[0].head != nil && n.mod&ends != 0 && w.cur.parts[0].mod&ends == 0 &&
		(w.cur.parts[0].head.many || w.cur.parts[0].head.set) && !atWord && !w.endsHere(next) && !w.partFollows(next) && w.cur.parts[0].takes(n.mod):
		if !w.startsNumber(next) || len(w.cur.says) != 1 {
			s.dirty, w.stray = true, true // "pads shot rear fine": which is it?
			w.part(n, i)
			w.seg().dirty = true
			return next
		}
		// "tyres 32c front 35c rear"
		last := w.cur.parts[0]
		last.mod |= n.mod
		last.spans = append(last.spans, n.spans...)
		w.newSegment(next, true)
		w.settled()
		return next
	case n.bare() && here && s.said && w.cur != nil && len(w.cur.parts) == 1 && w.cur.parts[0].head != nil && (atWord || w.endsHere(next)) &&
		!sameKind(w.cur.parts[0].mod, n.mod) && w.cur.parts[0].takes(n.mod) && !w.partFollows(next):
		last := w.cur.parts[0]
		last.mod |= n.mod
		last.sides = last.sides || n.sides
		last.every = last.every || n.every
		last.spans = append(last.spans, n.spans...)
		w.settled()
		return next
	case n.bare() && n.mod == 0 && !n.other && s.said && here:
		if n.sides || n.every {
			if w.cur != nil && len(w.cur.parts) > 0 {
				last := w.cur.parts[len(w.cur.parts)-1]
				last.sides, last.every = last.sides || n.sides, last.every || n.every
				if w.lastSaid != nil {
					w.lastSaid.spans = append(w.lastSaid.spans, n.spans...)
				}
			} else if w.lastSaid != nil {
				w.lastSaid.spans = append(w.lastSaid.spans, n.spans...)
				w.cur.marks = append(w.cur.marks, n.spans...)
			}
			return next
		}
	}
	if u := w.cur; n.bare() && both(n.mod&ends) && (w.sep == comma || w.join == and) && u != nil && len(u.says) > 0 && len(u.parts) == 1 &&
		u.parts[0].mod&ends == 0 && u.parts[0].head != nil && w.endsHere(next) && u.parts[0].takes(n.mod) {
		// "tyres cut, front and rear"
		last := u.parts[0]
		last.mod |= n.mod
		last.either = n.either
		last.spans = append(last.spans, n.spans...)
		w.settled()
		return next
	}
	if u := w.cur; n.bare() && n.mod&ends != 0 && here && s.said && !s.part && u != nil && len(u.parts) == 1 && w.endsHere(next) && sameKind(u.parts[0].mod, n.mod) {
		w.sayOf(n) // "pads 1.4 front, 0.7 rear"
		return next
	}
	if u := w.cur; n.bare() && !both(n.mod&ends) && n.mod&ends != 0 && here && s.said && u != nil && len(u.parts) == 1 && w.endsHere(next) &&
		sameKind(u.parts[0].mod, n.mod) && len(u.says) > 1 && u.says[len(u.says)-1] == w.lastSaid && w.startsNumber(w.lastSaid.spans[0].first) {
		w.lastOf(n) // "quarter inch at the front, nine at the back"
		return next
	}
	if u := w.cur; n.bare() && n.mod == outer && w.join == and && u != nil && len(u.parts) > 0 && len(u.says) == 0 {
		if last := u.parts[len(u.parts)-1]; last.head != nil && last.head.family == "cable-inner" {
			n.head, n.mod = w.l.phrase("housing").head, 0 // "cable and outer"
		}
	}
	w.part(n, i)
	return next
}

// sayOf makes what was said in this segment be of the other end, which is named after it.
func (w *walk) sayOf(n *nounPhrase) {
	had, here := w.cur, len(w.segments)-1
	u := w.newUnit()
	n.segment = here
	u.parts = []*nounPhrase{n}
	for k, pr := range had.says {
		if pr.segment == here {
			u.says = append(u.says, had.says[k:]...)
			had.says = had.says[:k:k]
			break
		}
	}
	w.seg().part = true
	w.settled()
}

// lastOf makes the figure that was said last be of the other end, which is named after it.
func (w *walk) lastOf(n *nounPhrase) {
	had, last := w.cur, w.lastSaid
	had.says = had.says[:len(had.says)-1]
	w.newSegment(n.spans[0].first, true)
	w.newUnit().says = []*predicate{last}
	n.segment, n.sides = len(w.segments)-1, had.parts[0].sides
	last.segment = n.segment
	w.cur.parts = []*nounPhrase{n}
	w.seg().part, w.seg().said = true, true
	w.settled()
}

func beginsAt(text string) bool {
	for _, word := range []string{"at ", "on ", "in ", "out ", "up ", "of ", "for "} {
		if len(text) > len(word) && text[:len(word)] == word {
			return true
		}
	}
	return false
}

// endsHere reports that nothing more is said before the next mark.
func (w *walk) endsHere(i int) bool {
	it := w.itemAt(i)
	return i >= w.end || it.sep > joint || it.s.is(and) || it.s.is(but)
}

func (w *walk) partFollows(i int) bool { return i < w.end && (w.headAt(i) != nil || w.noPlaceAt(i)) }

// said reads what is said of a part at item i.
func (w *walk) said(i int) int {
	it := w.items[i]
	s := it.s
	pr := &predicate{spans: []span{{i, i + 1}}}
	next := i + 1
	switch {
	case s.role == play:
		return w.playWord(i)
	case s.action != "" && (s.reading == "" || w.prefixes(next)):
		return w.act(i)
	case s.bend:
		pr.bend = true
	case s.reading == "runs_out":
		pr.straight = true
	case s.reading != "":
		pr.readings = []fact{{s.reading, s.value}}
	case len(s.facts) > 0:
		if w.headSoon(i) && !(w.seg().part && w.sep == noSep && w.join == noRole) {
			if next := w.noun(i); next > i {
				return next
			}
		}
		pr.facts = s.facts
		if w.family != "" && !w.possible(w.family, measured{facts: s.facts}) {
			if s.role != noRole || s.mod != 0 {
				return i
			}
			w.strange(i)
			return next
		}
	case s.role == void:
		pr.void = true
	}
	if w.degree != noRole {
		pr.spans = append([]span{w.degSpan}, pr.spans...)
	}
	// "a snapped spoke": said before its part
	if n, after := w.partAfter(next); n != nil && w.describes(i) {
		w.part(n, i)
		w.say(pr)
		return after
	}
	w.say(pr)
	return next
}

// describes reports that a word at item i stands before the part it is said of.
func (w *walk) describes(i int) bool {
	if determiner(w.itemAt(i-1).text) && w.itemAt(i-1).text != "that" && w.itemAt(i-1).text != "this" {
		return true
	}
	return !w.seg().said && (!w.seg().part || w.cur == nil) || w.sep != noSep || w.join != noRole
}

// partAfter is the part that begins right at item i.
func (w *walk) partAfter(i int) (*nounPhrase, int) {
	it := w.itemAt(i)
	if i >= w.end || it.s == nil || it.s.head == nil && it.s.mod == 0 && !it.s.noPlace || beginsAt(it.text) {
		return nil, i
	}
	n, next := w.nounPhraseAt(i)
	if n == nil || n.bare() {
		return nil, i
	}
	return n, next
}
