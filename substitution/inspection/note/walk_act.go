package note

import (
	"slices"
	"strings"

	"stead/substitution/inspection"
)

// acts are the ways in which a word of what is to be done is meant; the first that takes it decides.
var acts = []func(*walk, int, *predicate) int{(*walk).noAct, (*walk).wantedAct, (*walk).actByForm, (*walk).actOfNext}

// act reads a word of what is to be done.
func (w *walk) act(i int) int {
	pr := &predicate{spans: []span{{i, i + 1}}, action: w.items[i].s.action}
	if w.items[i].s.form&verb != 0 {
		w.stillGoverned(i)
	}
	for _, read := range acts {
		if next := read(w, i, pr); next > i {
			return next
		}
	}
	w.newOneIs(i, pr)
	if w.putsBack(i) {
		return w.strange(i)
	}
	w.say(pr)
	return i + 1
}

// putsBack reports a "replace" that may only put back what something else was done to: "oil the chain and replace".
func (w *walk) putsBack(i int) bool {
	if w.items[i].text != "replace" || w.join != and || w.sep != noSep || !w.endsHere(i+1) {
		return false
	}
	u, k := w.cur, len(w.segments)-2
	return k >= 0 && !w.seg().part && w.segments[k].dirty || u != nil && u.verb == nil && len(u.parts) > 0 && u.nothingBetween()
}

// nothingBetween reports that what was said of the parts, if anything, stands before them: "oil the chain".
func (u *unit) nothingBetween() bool {
	last := u.parts[len(u.parts)-1]
	return len(last.spans) > 0 && !slices.ContainsFunc(u.says, func(pr *predicate) bool { return !pr.void || pr.spans[0].first > last.spans[0].first })
}

// noAct leaves a word that orders nothing: a thing, "stay's snapped", or what something else was done for, "split the
// chain to clean it".
func (w *walk) noAct(i int, pr *predicate) int {
	switch {
	case w.isThing(i), w.goesSomewhere(i), w.newOneElsewhere(i):
		return w.strange(i)
	case w.itIs(i) && w.itemAt(i-1).text == "to" && w.seg().part && !w.wanting:
		pr.action, pr.void = "", true
		w.say(pr)
		return i + 1
	}
	return i
}

// actByForm reads the word as it is used: done already, before its part, after it.
func (w *walk) actByForm(i int, pr *predicate) int {
	s := w.items[i].s
	next := i
	switch {
	case s.form == done || s.form == noun|done:
		return w.doneAlready(i)
	case s.form&verb != 0:
		next = w.actVerb(i, pr)
	case s.is(fresh) && w.prefixes(i+1):
		return w.newPart(i) // "replacement chain"
	case s.form&after == 0 && w.idleNoun(i):
		return w.strange(i)
	case s.form&after == 0:
	case s.action == inspection.Keep:
		next = w.praise(i, pr)
	case w.theBike(i + 1):
		return w.strange(i) // "wash the bike"
	}
	if next == i && s.action == inspection.Replace && s.form&verb != 0 && !w.endsHere(i+1) {
		w.wished = i + 1 // "swap for 80 mm"
	}
	return next
}

// idleNoun reports "service" said alone, and "the shifter's indexing has gone".
func (w *walk) idleNoun(i int) bool {
	if !w.seg().part && (w.cur == nil || len(w.cur.parts) == 0 && !w.cur.pronoun) {
		return true
	}
	return w.items[i].s.form == noun && w.itemAt(i+1).s.is(copula)
}

// actOfNext says the word of the part right after it: "a shot chain", "knackered saddle, good post".
func (w *walk) actOfNext(i int, pr *predicate) int {
	n, next := w.partAfter(i + 1)
	if n == nil || !w.describes(i) || !determiner(w.itemAt(i-1).text) && !(w.items[i].s.form == after && w.opensClause(i) && w.endsHere(next)) {
		return i
	}
	w.part(n, i)
	w.say(pr)
	return next
}

// goesSomewhere reports a part that "has to go up" or back, and not away.
func (w *walk) goesSomewhere(i int) bool {
	return strings.HasSuffix(w.items[i].text, "to go") && whither[w.itemAt(i+1).text] || strings.HasSuffix(w.items[i].text, "must go") && whither[w.itemAt(i+1).text]
}

// newOneElsewhere reports that "put new one" names where, so that it may be of another than the part at hand: "rear tyre cut put
// new one on front".
func (w *walk) newOneElsewhere(i int) bool {
	return strings.HasSuffix(w.items[i].text, "t new one") && (w.modAt(i+1) || w.itemAt(i+1).s.is(at))
}

// whither are the words for where to something goes.
var whither = map[string]bool{"up": true, "down": true, "back": true, "back on": true, "back in": true, "forward": true, "forwards": true, "on": true, "in": true, "onto": true,
	"into": true, "over": true, "under": true, "to": true, "through": true, "higher": true, "lower": true, "round": true, "around": true, "along": true, "inside": true,
	"further": true, "a": true, "at": true, "there": true, "here": true, "again": true, "straight": true, "off": true}

// isThing reports that a word for what is to be done names a thing: "stay's snapped".
func (w *walk) isThing(i int) bool {
	after := w.itemAt(i + 1)
	return after.text == "'s" || w.items[i].text == "stay" && w.opensClause(i) && !w.endsHere(i+1) && after.text != "on" && after.text != "put"
}

// opensClause reports that item i begins what stands between two marks: "knackered saddle, good post".
func (w *walk) opensClause(i int) bool {
	return i == w.segments[0].first || w.itemAt(i-1).sep > joint || w.itemAt(i-1).s.is(and)
}

// newOneIs takes the wish from "a new one is 28 quid".
func (w *walk) newOneIs(i int, pr *predicate) {
	if strings.Contains(w.items[i].text, "new one") && w.itemAt(i+1).s.is(copula) && !w.itemAt(i+2).s.is(want) {
		pr.action, pr.void = "", true
	}
}

// wantedAct reads what is wanted: "needs … replacing".
func (w *walk) wantedAct(i int, pr *predicate) int {
	if !w.wanting {
		return i
	}
	pr.spans = []span{{w.want.first, i + 1}}
	pr.void = w.items[i].s.form&(noun|done|verb) == 0
	if w.negated && !w.seg().hasKind() {
		w.spared = pr.action
	}
	w.wanting = false
	w.say(pr)
	if pr.action == inspection.Replace && !w.endsHere(i+1) {
		w.wished = i + 1
	}
	return i + 1
}

// doneAlready reads "replaced": it was, unless it should be.
func (w *walk) doneAlready(i int) int {
	if u := w.cur; u != nil && w.sep == comma && len(u.says) > 0 && u.says[len(u.says)-1].action == w.items[i].s.action && w.items[u.says[len(u.says)-1].spans[0].first].s.is(toBe) {
		return i + 1 // "to be stripped, cleaned and greased"
	}
	if u := w.cur; u != nil && u.verb == nil && len(u.parts) == 1 && len(u.says) == 0 && len(u.parts[0].spans) > 0 && w.itemAt(u.parts[0].spans[0].first-1).text == "get" && !w.seg().hasKind() {
		w.say(&predicate{spans: []span{{i, i + 1}}, action: w.items[i].s.action}) // "get the saddle changed"
		return i + 1
	}
	if w.seg().kinds[hedge] {
		w.seg().action = true // "should be replaced"
	} else if !w.headsFacts(i) {
		w.seg().kinds[history] = true
	}
	return i + 1
}

// tickedOff reports the "done" with which an entry of a list ends: "replace chain - done" was done.
func (w *walk) tickedOff(i int) bool {
	s, u := w.seg(), w.cur
	if text := w.items[i].text; text != "done" && text != "completed" || w.itemAt(i-1).text == "job" || !w.endsHere(i+1) || u == nil || w.itemAt(i-1).s.is(copula) || w.itemAt(i-1).s.is(toBe) || w.itemAt(i-1).s.is(not) {
		return false
	}
	ordered := u.verb != nil && len(u.parts) > 0 || slices.ContainsFunc(u.says, func(pr *predicate) bool { return pr.action != "" })
	if !ordered || s.dirty || s.hasKind() {
		return false
	}
	s.kinds[history] = true
	return true
}

// doneBefore reports an "already" at the end, after a word for what is done to a part: "rear tyre in the bin already". What is
// "shot already" is so now.
func (w *walk) doneBefore(i int) bool {
	u, s := w.cur, w.seg()
	if !w.endsHere(i+1) || u == nil || s.dirty || s.hasKind() || !s.action {
		return false
	}
	said := u.verb
	if said == nil {
		said = w.lastSaid
	}
	if said == nil || said.action == "" || w.items[said.spans[0].first].s.form == after && !strings.Contains(w.items[said.spans[0].first].text, "bin") {
		return false
	}
	s.kinds[history] = true
	return true
}

// headsFacts reports "fitted:" before what is on the bike, and not before what was put on.
func (w *walk) headsFacts(i int) bool {
	if w.items[i].text != "fitted" || w.itemAt(i+1).sep != colon {
		return false
	}
	for j := i; j < w.end; j++ {
		if w.items[j].s.is(fresh) {
			return false
		}
	}
	return true
}

// actVerb reads a verb before what it is to be done to. Where it takes no word, it is said of what stands before it.
func (w *walk) actVerb(i int, pr *predicate) int {
	switch next := i + 1; {
	case determiner(w.itemAt(i-1).text) && w.itemAt(next).sep == colon:
		return next // "this service:"
	case w.negated:
		w.negated = false
		pr.void, pr.action = true, ""
		pr.spans = []span{{w.negSpan.first, next}}
		w.say(pr)
		return next
	case w.prefixes(next):
		return w.prefix(i, next, pr.action)
	case w.itemAt(i-1).s.is(copula) && w.itemAt(i-1).text != "got":
		pr.void, pr.action = true, ""
	}
	return i
}

// praise reads "fine" where it is not said of the part at hand. Where it takes no word, it is.
func (w *walk) praise(i int, pr *predicate) int {
	next := i + 1
	after := w.itemAt(next)
	switch {
	case w.itemAt(i-1).text == "otherwise" && w.cur != nil && len(w.cur.says) > 0: // "a stiff link, otherwise fine"
	case after.text == "otherwise" && w.endsHere(next+1): // "all fine otherwise"
		next++
	case w.allTheRest(i) || w.allOfBike(i):
	case w.praises(i):
		return next // "a great big gash"
	case reassures(w.items[i].text) && w.cur != nil && len(w.cur.says) > 0:
		return next // "buckled, no worries, bend it straight"
	case w.idlePraise(i), w.theBike(next):
		return w.strange(i) // "lovely old thing"
	case !w.seg().part && !w.seg().said && w.cur == nil && w.sep == noSep && w.partSoon(next) && !(plainPraise[w.items[i].text] && w.isOfNext(next)):
		return next // "OK, the chain"
	default:
		return i
	}
	pr.action, pr.void = "", true
	w.say(pr)
	return next
}

// reassures reports what comforts who listens, and says how a part is only where nothing else does.
func reassures(text string) bool {
	for _, word := range []string{"no worries", "no drama", "no bother", "nae bother", "no trouble", "no problem", "no big deal", "not to worry", "nothing to worry about"} {
		if strings.HasPrefix(text, word) {
			return true
		}
	}
	return false
}

// isOfNext reports that a part follows right at item i and nothing after it, so that a word before it is said of it.
func (w *walk) isOfNext(i int) bool {
	n, next := w.partAfter(i)
	return n != nil && w.endsHere(next)
}

// plainPraise are the words that say of a part after them that it is fit, and not how it looks: "good saddle", but "nice
// saddle".
var plainPraise = map[string]bool{"fine": true, "good": true, "ok": true, "okay": true, "sound": true, "decent": true}

// idlePraise reports praise of nothing that was named, nor is named next.
func (w *walk) idlePraise(i int) bool {
	text := w.items[i].text
	return len(w.units) == 0 && !w.seg().part && !strings.HasSuffix(text, "it") && !strings.HasSuffix(text, "them") &&
		!w.endsHere(i+1) && !w.partSoon(i+1) && !w.itemAt(i+1).s.is(void)
}

// praises reports that "a good" or "a great" belongs to the fault that follows: "a good deep cut".
func (w *walk) praises(i int) bool {
	if t := w.itemAt(i - 1).text; t != "a" && t != "an" {
		return false
	}
	for j := i + 1; j < min(i+4, w.end); j++ {
		s := w.itemAt(j).s
		switch {
		case s == nil:
			return false
		case s.reading != "", s.bend, s.is(play), s.is(void):
			return true
		case !s.is(filler) && !s.is(slight) && !s.is(marked):
			return false
		}
	}
	return false
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
			return s == nil && it.sep == noSep && !it.figure || it.figure && w.figuresEnd(j) > j // not "cassette replace 11-34"
		case s.head != nil, s.noPlace, s.mod != 0, s.role == quant, s.role == every, s.role == wheel, s.role == otherSide, s.role == fresh, len(s.facts) > 0, s.class != noNumber:
			return true
		case determiner(it.text), s.role == filler, it.text == "its" && w.headSoon(j+1):
		default:
			return false
		}
	}
	return false
}

// saidOfNext reports that one part is named at item i and something is said of it right after: a verb before it may be
// of another.
func (w *walk) saidOfNext(i int) bool {
	n, end := w.nounPhraseAt(w.pastDeterminers(i))
	if n == nil || n.head == nil || end >= w.end {
		return false
	}
	s := w.itemAt(end).s
	return s != nil && (s.reading != "" || s.bend || s.form&after != 0 && s.form&verb == 0)
}

// stillGoverned puts a verb under the "might" or "we'll" that stands before a verb joined to it: "next winter we'll overhaul
// the hub and change the tyres".
func (w *walk) stillGoverned(i int) {
	s, k := w.seg(), len(w.segments)-2
	if k < 0 || s.part || s.said || s.hasKind() || s.joined == but || w.sep > comma || w.join == but {
		return
	}
	had := w.segments[k]
	switch {
	case had.governed && (had.order || had.action):
		s.kinds, s.governed = had.kinds, true
	case had.did && s.joined == and && w.items[i].s.is(fresh):
		s.kinds, s.did = had.kinds, true // "I've put a new chain on and new pads in"
	}
}

// prefix begins a list of parts under a verb.
func (w *walk) prefix(first, next int, action inspection.Action) int {
	u := w.cur
	pending := false
	parted := w.sep != noSep || w.join != noRole
	if u != nil && !parted && !w.correct && w.seg().part && len(u.says) == 0 && u.verb == nil && len(u.parts) > 0 && !u.parts[0].wheel && !u.parts[0].bare() && (action != inspection.Replace || w.saidOfNext(next)) {
		// "chain clean cassette fine"
		pending = true
	}
	if u != nil && len(u.says) > 0 && !parted && w.seg().part {
		pending = true
	}
	if w.seg().part || w.seg().said {
		w.newSegment(first, parted)
	}
	w.stillGoverned(first)
	u = w.newUnit()
	u.verb = &predicate{spans: []span{{first, next}}, action: action, segment: len(w.segments) - 1}
	u.pending = pending
	u.wanted = action == inspection.Replace
	if u.wanted {
		w.wished, w.seg().wish = next, true
	}
	w.seg().action, w.seg().order = true, true
	w.settled()
	return next
}
