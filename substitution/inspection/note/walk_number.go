package note

// skipNumbers steps over figures and their units.
func (w *walk) skipNumbers(i int) int {
	for i < w.end {
		it := w.items[i]
		s := it.s
		if !it.figure && it.sep != joint && (s == nil || s.class == noNumber && s.unit == "" && s.role != voidUnit && it.text != "a") {
			break
		}
		i++
	}
	return i
}

// number reads the figure at item i.
func (w *walk) number(i int) int {
	if ws := w.wholes(i); len(ws) > 0 && ws[0].v <= 12 {
		if s := w.itemAt(ws[0].next).s; s != nil && s.reading != "" && ws[0].v > 1 && plural(w.itemAt(ws[0].next).text) {
			return ws[0].next // "two cuts"
		}
	}
	if next := w.noneOfOurs(i); next > i {
		if w.cur != nil && w.cur.verb != nil && w.cur.wanted && w.seg().part && w.sep == noSep && w.join == noRole {
			w.cur.verb.void = true // "a new cassette is forty quid"
		}
		w.say(&predicate{spans: []span{{i, next}}, void: true})
		return next
	}
	if next := w.sizeBefore(i); next > i {
		return next
	}
	if w.family != "" {
		if m, next := w.measure(w.family, i); next > i {
			w.say(&predicate{spans: []span{{i, next}}, readings: m.readings, facts: m.facts, balls: m.balls, void: w.negated})
			return next
		}
	}
	if n, next := w.bearingNamed(i); n != nil {
		return w.take(n, i, next)
	}
	s := w.items[i].s
	if s != nil && !w.items[i].figure {
		switch {
		case s.reading != "" || s.action != "" || len(s.facts) > 0:
			if next := w.said(i); next > i {
				return next
			}
		case s.role == onePronoun && !w.startsNumber(i+1) && !w.unitAt(i+1) && (w.modAt(i+1) || w.seg().said):
			return i + 1
		}
	}
	next := max(i+1, w.skipNumbers(i))
	w.strange(i)
	return next
}

// bearingNamed reads a bearing's number as the name of a bearing: "sixty-eight oh three on the drive side".
func (w *walk) bearingNamed(i int) (*nounPhrase, int) {
	m, next := bearingNumber(w.parser, i)
	if next == 0 || w.claimed(next) {
		return nil, i
	}
	bearing := w.l.phrase("bearing").head
	if plural(w.itemAt(next-1).text) || w.unit(next-1, "s") {
		bearing = w.l.phrase("bearings").head
	}
	said := span{i, next}
	n := &nounPhrase{head: bearing, spans: []span{said}, before: []*predicate{{spans: []span{said}, facts: m.facts}}}
	return n, w.afterHead(n, next)
}

// noneOfOurs steps over a price, a time, a torque or a pressure.
func (w *walk) noneOfOurs(i int) int {
	for _, n := range w.decimals(i) {
		if !w.isVoidUnit(n.next) {
			continue
		}
		if t := w.itemAt(n.next).text; t == "min" && (w.startsNumber(n.next+1) || w.family == "disc-rotor" && n.broken) {
			continue
		}
		if t := w.itemAt(n.next).text; (t == "nd" || t == "st" || t == "rd" || t == "th" || t == "k" || t == "p" || t == "n") && !w.itemAt(n.next).glued {
			continue
		}
		next := n.next + 1
		for w.isVoidUnit(next) {
			next++
		}
		for _, more := range w.decimals(next) {
			if !w.itemAt(i).figure || w.itemAt(next).figure {
				if w.isVoidUnit(more.next) {
					return more.next + 1
				}
			}
		}
		return next
	}
	return i
}

// sizeBefore reads figures that a part follows: "a 28 mm tyre", "fifty tooth big ring".
func (w *walk) sizeBefore(i int) int {
	j := i
	for j < i+14 && j < w.end {
		it := w.items[j]
		s := it.s
		if s != nil && (s.head != nil || s.mod != 0 || s.is(at) && j > i && (it.text == "on" || it.text == "for") || s.is(eachSide) || s.is(quant) || determiner(it.text) && j > i) && !it.figure {
			break
		}
		if !it.figure && it.sep != joint && it.text != "/" && !numberJoint(it.text) && (s == nil || s.class == noNumber && s.unit == "" && s.label == "" && len(s.facts) == 0) {
			return i
		}
		j++
	}
	if j == i || j >= w.end || j >= i+14 {
		return i
	}
	on := j
	if t := w.itemAt(j).text; (t == "on" || t == "for") && j > i {
		on++ // "point eight on the chain"
	}
	n, next := w.nounPhraseAt(on)
	if n == nil || n.head == nil || on > j && (w.seg().part || w.seg().said) {
		return i
	}
	if ws := w.wholes(i); len(ws) > 0 && ws[0].next == j && (n.head.many || n.head.set || ws[0].v == 1) && ws[0].v < 20 {
		if _, end := w.measure(n.head.family, i); end != j {
			if n.head.family == "loose-balls" && ws[0].v > 2 {
				n.before = append(n.before, &predicate{spans: []span{{i, j}}, readings: []fact{count("balls", ws[0].v)}})
				return w.take(n, i, next)
			}
			n.counted = true
			n.spans = append([]span{{i, j}}, n.spans...)
			return w.take(n, i, next)
		}
	}
	var before []*predicate
	for k := i; k < j; {
		if w.items[k].sep == joint {
			k++
			continue
		}
		if s := w.items[k].s; s != nil && len(s.facts) > 0 {
			before = append(before, &predicate{spans: []span{{k, k + 1}}, facts: s.facts})
			k++
			continue
		}
		m, end := w.measure(n.head.family, k)
		if end <= k || end > j {
			return i
		}
		before = append(before, &predicate{spans: []span{{k, end}}, readings: m.readings, facts: m.facts, balls: m.balls})
		k = end
	}
	// said right after another part that could have the figure: it is that part's
	if w.sep == noSep && w.join == noRole && w.seg().part && w.family != "" && !determiner(w.itemAt(i-1).text) {
		if _, end := w.measure(w.family, i); end > i && !w.seg().said {
			return i
		}
		if _, end := w.measure(w.family, i); end > i {
			return i
		}
	}
	n.before = append(before, n.before...)
	return w.take(n, i, next)
}

func numberJoint(text string) bool {
	switch text {
	case "x", "by", "to", "and", "a", "of", "×":
		return true
	}
	return false
}
