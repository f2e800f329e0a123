package note

// bearingByNumber takes a bearing that is named by its number.
func (w *walk) bearingByNumber(i int) int {
	n, next := w.bearingNamed(i)
	if n == nil {
		return i
	}
	return w.take(n, i, next)
}

// ballsByFigures takes "ten three-sixteenths out of each side", after something else of the hub was spoken of, as its balls.
func (w *walk) ballsByFigures(i int) int {
	m, next := ballsInside(w.parser, i)
	if next == 0 || len(m.facts) == 0 || !w.itemAt(next).s.is(eachSide) || w.seg().part {
		return i
	}
	said := span{i, next}
	if w.wished > 0 {
		w.say(&predicate{spans: []span{said}, void: true}) // "new balls, ten 3/16 a side"
		return next
	}
	n := &nounPhrase{head: w.l.phrase("balls").head, spans: []span{said}, before: []*predicate{{spans: []span{said}, readings: m.readings, facts: m.facts}}}
	return w.take(n, i, w.afterHead(n, next))
}

// partByTeeth takes a crankset or block that is named by its teeth.
func (w *walk) partByTeeth(i int) int {
	n, next := w.teethNamed(i)
	if n == nil {
		return i
	}
	return w.take(n, i, next)
}

// bearingNamed reads a bearing's number as the name of a bearing: "sixty-eight oh three on the drive side".
func (w *walk) bearingNamed(i int) (*nounPhrase, int) {
	m, next := bearingNumber(w.parser, i)
	if next == 0 || w.claimed(next) {
		return nil, i
	}
	bearing := w.l.phrase("bearing").head
	for k := i; k < next; k++ {
		if plural(w.itemAt(k).text) || w.unit(k, "s") {
			bearing = w.l.phrase("bearings").head
		}
	}
	said := span{i, next}
	n := &nounPhrase{head: bearing, spans: []span{said}, before: []*predicate{{spans: []span{said}, facts: m.facts}}}
	return n, w.afterHead(n, next)
}

// teethNamed reads what only a crankset or a block can have, where none is named: "fifty thirty-four on a one-ten
// five-bolt", "11-28 ten speed".
func (w *walk) teethNamed(i int) (*nounPhrase, int) {
	if m, next := ringSet(w.parser, i); next > 0 {
		j := next
		for w.itemAt(j).s.is(at) || determiner(w.itemAt(j).text) || w.itemAt(j).sep == comma {
			j++
		}
		if circle, end := boltCircle(w.parser, j); end > 0 {
			return w.impliedBy("crankset", i, end, append(m.facts, circle.facts...)), end
		}
	}
	m, next := teethPair(w.parser, i)
	if next == 0 {
		return nil, i
	}
	j := next
	if w.itemAt(j).sep == comma {
		j++
	}
	if n, end := speeds(w.parser, j); end > 0 {
		return w.impliedBy("block", i, end, append(m.facts, n.facts...)), end
	}
	return nil, i
}

// impliedBy is a part that its figures name.
func (w *walk) impliedBy(word string, i, end int, facts []fact) *nounPhrase {
	said := span{i, end}
	return &nounPhrase{head: w.l.phrase(word).head, spans: []span{said}, before: []*predicate{{spans: []span{said}, facts: facts}}}
}
