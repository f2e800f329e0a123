package note

// leaveNegation marks a "not" that found nothing to deny.
func (w *walk) leaveNegation() {
	if w.negated {
		w.seg().dirty = true
		w.negated = false
	}
	if w.wanting {
		w.seg().dirty = true
		w.wanting = false
	}
}

// elide reads "the rear is" and "the rear isn't", which end before item i.
func (w *walk) elide(i int) {
	u := w.cur
	if w.elidesIt(i) || u == nil || u.verb != nil || u.same || u.correct || len(u.parts) != 1 || len(u.says) > 0 || !w.seg().part || w.seg().said || w.seg().dirty || w.seg().hasKind() {
		return
	}
	switch w.itemAt(i - 1).text {
	case "is", "are", "has", "have", "does", "do":
		u.elided = is
	case "none", "isn't", "aren't", "hasn't", "haven't", "doesn't", "don't", "is not", "are not", "has not", "have not", "does not", "do not":
		u.elided = isNot
	case "not":
		if !w.itemAt(i - 2).s.is(copula) {
			return
		}
		u.elided = isNot // "rear's not"
	default:
		return
	}
	if w.negated {
		u.elided = isNot
	}
	w.negated = false
	w.seg().said = true
	w.seg().kinds[question] = false // "the rear does"
	u.marks = append(u.marks, span{i - 1, i})
}

// strange marks a word that is not understood.
func (w *walk) strange(i int) int {
	if w.passing(i) {
		return i + 1
	}
	if w.ownClause(i) {
		w.newSegment(i, true)
		w.cur = nil
	}
	s := w.seg()
	s.dirty = true
	if !s.part && !s.said || w.itemAt(i).s == nil && s.said {
		// it may be a part that is not known: nothing that follows is said of the one before
		u := w.newUnit()
		u.parts = []*nounPhrase{{noPlace: true, spans: []span{{i, i + 1}}, segment: len(w.segments) - 1}}
		s.part = true
		w.family = ""
	}
	if w.goesOnName(i) {
		last := w.cur.parts[len(w.cur.parts)-1]
		last.noPlace, last.head = true, nil // "saddle clamp": a word that goes on may make another part of it
	}
	w.stray = true
	w.lastSaid = nil
	w.negated = false
	w.sep, w.join, w.at = noSep, noRole, false
	return i + 1
}

// hasNone reports the "none" of "the front has a touch of play, the rear has none".
func (w *walk) hasNone(i int) bool {
	return w.items[i].text == "none" && w.endsHere(i+1) && w.itemAt(i-1).s.is(copula) && w.seg().part && !w.seg().said && w.cur != nil && len(w.cur.parts) == 1
}

// elidesIt reads "saddle torn, no it isn't".
func (w *walk) elidesIt(i int) bool {
	u := w.cur
	if u == nil || !u.correct || !u.pronoun || len(u.parts) > 0 || len(u.says) > 0 || u.verb != nil || !w.negated || i == 0 {
		return false
	}
	u.elided, w.negated = isNot, false
	u.marks = append(u.marks, w.negSpan)
	w.seg().said = true
	return true
}

// passing reports a word that changes nothing where it stands: "swap the chain out", "it's like rough", "needs a new chain
// fitting".
func (w *walk) passing(i int) bool {
	u := w.cur
	switch w.items[i].text {
	case "like":
		return w.endsHere(i+1) || w.likeSays(i)
	case "out":
		return w.endsHere(i+1) && w.verbWith("out")
	case "fitting", "putting on":
		return w.endsHere(i+1) && u != nil && u.wanted && len(u.parts) > 0 && len(u.says) == 0
	}
	return false
}

// goesOnName reports that a word of no table stands right after a part of which nothing was said yet.
func (w *walk) goesOnName(i int) bool {
	s, u := w.seg(), w.cur
	if !s.part || s.said || u == nil || len(u.parts) == 0 || len(u.says) > 0 || w.sep != noSep || w.join != noRole {
		return false
	}
	return w.items[i].s == nil && !w.items[i].figure && !w.itemAt(i+1).s.is(but) && w.endsAt(u.parts[len(u.parts)-1], i)
}

// ownClause reports that a word of no table begins a clause of its own right after what was said: "tyre cut
// kettle's had it".
func (w *walk) ownClause(i int) bool {
	if !w.items[i].s.inert() || w.items[i].figure || !w.seg().said || !w.seg().part || w.sep != noSep || w.join != noRole || w.negated || w.at {
		return false
	}
	switch w.itemAt(i + 1).text {
	case "'s", "is", "are", "has", "have":
		return !w.endsHere(i + 2)
	}
	s := w.itemAt(i + 1).s
	return i+1 < w.end && s != nil && s.head == nil && (s.reading != "" || s.form == after) // "post ok clamp cracked"
}

// likeSays reports a "like" that is only said in passing: "is like down to the wear bars", "it's like rough". "Feels
// like" compares.
func (w *walk) likeSays(i int) bool {
	if w.items[i].text != "like" {
		return false
	}
	switch w.itemAt(i - 1).text {
	case "is", "are", "'s", "'re", "it's", "it 's", "they 're", "theyre":
		s := w.itemAt(i + 1).s
		return s != nil && (s.reading != "" || s.bend || s.action != "" && s.form&verb == 0)
	}
	return false
}

// endsAt reports that the words of a part stand right before item i.
func (w *walk) endsAt(n *nounPhrase, i int) bool {
	return len(n.spans) > 0 && n.spans[len(n.spans)-1].last == i
}

// verbWith reports that a list of parts stands between a verb and a small word that belongs to it.
func (w *walk) verbWith(word string) bool {
	u := w.cur
	if u == nil || u.verb == nil || len(u.parts) == 0 || len(u.says) > 0 {
		return false
	}
	s := w.l.phrase(w.items[u.verb.spans[0].first].text + " " + word)
	return s != nil && s.action == u.verb.action
}

// mark takes a mark between words.
func (w *walk) mark(i int) int {
	if next := w.toldAside(i); next > i {
		return next
	}
	w.elide(i)
	w.leaveNegation()
	w.sep = w.items[i].sep
	if dash(w.items[i].text) && w.wheelLeads() {
		w.sep = colon
	}
	if w.sep == colon {
		w.colon()
	}
	w.keepNeg = false
	if w.items[i].text != "," {
		w.headCables()
	}
	if w.seg().part || w.seg().said || w.seg().hasKind() || w.seg().dirty {
		w.newSegment(i+1, true)
	}
	w.stray, w.maybe, w.at = false, false, false
	return i + 1
}

// toldAside steps over what is told of a part between two commas and is not said outright: "the chain, which he fitted in
// March, is at point eight".
func (w *walk) toldAside(i int) int {
	u := w.cur
	if w.items[i].text != "," || w.itemAt(i+1).text != "which" || u == nil || u.verb != nil || len(u.parts) != 1 || len(u.says) > 0 || w.seg().dirty || w.seg().hasKind() || !w.endsAt(u.parts[0], i) {
		return i
	}
	told := false
	for j := i + 2; j < min(i+longestAside, w.end); j++ {
		s := w.items[j].s
		switch {
		case s.is(person), s.is(history), s.is(speech), s.is(hedge):
			told = true
		case w.items[j].text == ",":
			if after := w.itemAt(j + 1).s; told && after.is(copula) {
				return j + 1
			}
			return i
		case w.items[j].sep > joint, s != nil && (s.head != nil || s.noPlace):
			return i
		}
	}
	return i
}

// longestAside is how many words such an aside may have.
const longestAside = 12

// wheelLeads reports that a wheel, or an end, is all that the sentence has named yet: "rear wheel - three spokes snapped".
func (w *walk) wheelLeads() bool {
	u := w.cur
	return u != nil && len(w.units) == 1 && len(u.parts) == 1 && u.parts[0].wheel && u.parts[0].head == nil && len(u.says) == 0 && u.verb == nil && !w.seg().said && !w.seg().dirty
}

// colon takes what stood before a colon as said of what follows it.
func (w *walk) colon() {
	s := w.seg()
	if s.part {
		return
	}
	s.kinds[question] = false // "to do:" asks nothing
	switch w.items[s.first].text {
	case "for now", "for the moment", "for the time being":
		s.kinds[plan] = false // it is of the day's work
	}
	s.heads = !s.said && (s.kinds[plan] || s.kinds[history] || s.kinds[stock] || s.kinds[hedge])
	if u := w.cur; u != nil && len(u.parts) == 0 && len(u.says) == 1 && u.verb == nil && !u.pronoun && !u.says[0].void {
		u.verb, u.says = u.says[0], nil // "fine: chain, cassette"
		s.said = false
	}
}

// headCables takes "cables" before a mark as the heading of those that follow.
func (w *walk) headCables() {
	u := w.cur
	if u == nil || len(u.parts) == 0 || len(u.parts) > 2 || len(u.says) > 0 || u.verb != nil {
		return
	}
	for _, n := range u.parts {
		if n.head == nil || n.head.family != "cable-inner" && n.head.family != "cable-outer" {
			return
		}
	}
	if h := u.parts[0].head; h.many {
		w.header = h // "cables and housing:" too
	}
}

// conjunction reads "and", "or" and "but"; "but no," begins the mechanic's own word.
func (w *walk) conjunction(i int) int {
	s := w.items[i].s
	if s.role == but && w.itemAt(i+1).s.is(no) && w.itemAt(i+2).text == "," && w.othersSpoke() {
		i = w.conjunctionOf(i)
		w.join = but
		return w.findingWord(i) // "I thought it was bad but no, it's smooth"
	}
	return w.conjunctionOf(i)
}

// conjunctionOf reads "and", "or" and "but".
func (w *walk) conjunctionOf(i int) int {
	s := w.items[i].s
	keep := w.keepNeg && (s.role == or)
	w.elide(i)
	w.leaveNegation()
	w.concludes(i)
	w.onlyThis(i)
	w.join = s.role
	if s.role == or && w.cur != nil && w.cur.inverted && w.namesPart(i+1) {
		keep = true // "no damage to the bars or the stem"
		w.join = and
	} else if s.role == or && w.nothingWrong() && w.namesPart(i+1) {
		keep = true // "nothing wrong with the chain or the cassette"
		w.join = and
	} else if s.role == or {
		if keep {
			w.negated, w.negSpan = true, span{i, i + 1}
		} else {
			w.seg().dirty = true
		}
		w.join = and
	}
	if w.seg().said || w.seg().part && (w.seg().dirty || w.seg().hasKind()) || w.seg().hasKind() {
		or := s.role == or && !keep
		w.newSegment(i+1, true)
		w.seg().dirty = or
	}
	w.seg().joined = s.role
	w.keepNeg = false
	w.stray, w.maybe, w.at = false, false, false
	return i + 1
}

// concludes ends the list before "so" or "because", of which nothing was said: what follows is of another part.
func (w *walk) concludes(i int) {
	u := w.cur
	if !conclusions[w.items[i].text] || u == nil || u.verb != nil || len(u.says) > 0 || len(u.parts) == 0 || u.correct || u.same || w.seg().said || !w.namesPart(i+1) {
		return
	}
	w.segments[u.parts[len(u.parts)-1].segment].dirty, w.cur = true, nil
}

// onlyThis takes from a list under a verb the part that is set against it: "leave the cassette, chain only".
func (w *walk) onlyThis(i int) {
	u := w.cur
	if w.items[i].text != "only" || u == nil || u.verb == nil || len(u.says) > 0 || len(u.parts) < 2 {
		return
	}
	switch last := u.parts[len(u.parts)-1]; {
	case !last.comma || !w.endsAt(last, i):
	case last.bare():
		u.verb.void = true // "adjust the brakes, rear only"
	default:
		w.segments[last.segment].dirty = true
	}
}

// conclusions are the words between two clauses of which each has its own part.
var conclusions = map[string]bool{"so": true, "so that": true, "because": true, "cos": true, "coz": true, "cuz": true, "therefore": true, "hence": true, "thus": true, "as a result": true, "consequently": true}

// neither reads "neither is bent", of two parts that were named: it stands for both, and denies.
func (w *walk) neither(i int) int {
	j := i + 1
	if w.itemAt(j).text == "of it" || w.itemAt(j).text == "of them" {
		j++
	}
	if next := w.neitherNor(i); next > i {
		return next
	}
	if w.items[i].text == "neither" && w.seg().part && !w.seg().said && w.itemAt(j).s != nil && w.itemAt(j).s.reading != "" {
		w.negated, w.negSpan = true, span{i, i + 1} // "neither stiff nor frayed"
		return j
	}
	if text := w.items[i].text; text != "neither" || !w.itemAt(j).s.is(copula) || w.seg().said {
		return i
	}
	w.part(&nounPhrase{every: true, spans: []span{{i, i + 1}}}, i)
	w.negated, w.negSpan = true, span{i, i + 1}
	return j
}

// neitherNor reads "neither the stem nor the seatpost is cracked": a list that is denied.
func (w *walk) neitherNor(i int) int {
	if w.items[i].text != "neither" || w.seg().part || w.seg().said {
		return i
	}
	var list []*nounPhrase
	j := i + 1
	for {
		n, next := w.nounPhraseAt(w.pastDeterminers(j))
		if n == nil || n.head == nil {
			return i
		}
		n.every = false
		list = append(list, n)
		if j = next; !w.itemAt(j).s.is(or) {
			break
		}
		j++
	}
	if len(list) < 2 {
		return i
	}
	for k, n := range list {
		if k > 0 {
			w.join = and
		}
		w.part(n, n.spans[0].first)
	}
	w.negated, w.negSpan = true, span{i, i + 1}
	return j
}

// nothingWrong reports that the list at hand stands under "nothing wrong with".
func (w *walk) nothingWrong() bool {
	u := w.cur
	return u != nil && u.verb != nil && len(u.says) == 0 && len(u.parts) > 0 && w.items[u.verb.spans[0].first].s.is(nothingWith)
}
