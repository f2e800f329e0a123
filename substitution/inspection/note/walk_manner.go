package note

import (
	"slices"
	"strings"

	"stead/substitution"
	"stead/substitution/inspection"
)

// manners read the words that say how a thing is meant, each by its role.
var manners = [bikeKind + 1]func(*walk, int) int{
	filler: (*walk).smallWord, copula: (*walk).smallWord, onePronoun: (*walk).oneWord, teeth: (*walk).nothingNew,
	and: (*walk).conjunction, or: (*walk).conjunction, but: (*walk).conjunction,
	not: (*walk).notWord, no: (*walk).noWord, slight: (*walk).degreeWord, marked: (*walk).degreeWord, bound: (*walk).boundWord,
	at: (*walk).atWord, it: (*walk).pronoun, same: (*walk).sameWord, wayRound: (*walk).exchangeWord,
	correction: (*walk).correctionWord, scratch: (*walk).correctionWord, forgets: (*walk).forgetWord, apart: (*walk).exceptive,
	want: (*walk).wants, toBe: (*walk).wants, fresh: (*walk).newPart, nothingWith: (*walk).nothingWithWord,
	hedge: (*walk).notOutright, question: (*walk).notOutright, condition: (*walk).conditionWord, plan: (*walk).notOutright,
	history: (*walk).notOutright, speech: (*walk).notOutright, person: (*walk).personWord, finding: (*walk).findingWord,
	handling: (*walk).handlingWord, otherBike: (*walk).notOutright, stock: (*walk).notOutright,
	inQuestion: (*walk).askingWord, bikeKind: (*walk).bikeWord,
}

// manner takes the words that say how a thing is meant. Those that may mean anything here are strange.
func (w *walk) manner(i int) int {
	if read := manners[w.items[i].s.role]; read != nil {
		return read(w, i)
	}
	return w.strange(i)
}

// nothingNew steps over "teeth".
func (w *walk) nothingNew(i int) int { return i + 1 }

// oneWord reads "one".
func (w *walk) oneWord(i int) int {
	if w.bikeWith(i) {
		w.seg().kinds[otherBike] = true
	}
	return i + 1
}

// smallWord reads a word that says nothing of its own, or begins something that does not.
func (w *walk) smallWord(i int) int {
	if w.items[i].text == "already" && w.doneBefore(i) {
		return i + 1
	}
	if next := w.newOn(i); next > i {
		return next
	}
	if next := w.whereLonger(i); next > i {
		return next
	}
	if next := w.simile(i); next > i {
		return next
	}
	if goesBack(w.items[i].text) && (w.sep != noSep || w.itemAt(i+1).sep == comma) && w.othersSpoke() {
		return w.findingWord(i)
	}
	if hesitates(w.items[i].text) && w.stray {
		w.newSegment(i+1, true) // "this is the hybrid, um, chain …"
		w.cur = nil
	}
	if text := w.items[i].text; (text == "rubber" || text == "plastic" || text == "metal") && w.itemAt(i+1).text == "of" {
		return w.strange(i) // "rubber of the right pedal": a thing of its own, and no word for how a part is made
	}
	if w.items[i].text == "even" && w.evenHere(i) {
		w.say(&predicate{spans: []span{{i, i + 1}}, readings: []fact{{"tension", substitution.Text("even")}}})
		return i + 1
	}
	if w.otherBikes(i) || w.bikeWith(i) {
		w.seg().kinds[otherBike] = true
	}
	if w.items[i].s.role == copula && w.opensQuestion(i) {
		w.seg().kinds[question] = true
	}
	if w.items[i].text == "gone" && w.endsHere(i+1) && w.seg().part && !w.seg().said {
		w.say(&predicate{spans: []span{{i, i + 1}}, void: true}) // "rear tyre gone, saddle fine": worn out, or not there
	}
	return i + 1
}

// evenHere reports that "even" is said of the tension of spokes.
func (w *walk) evenHere(i int) bool {
	ends := w.endsHere(w.pastEachSide(i+1)) || w.family == "spoke" && w.modAfterAt(i+1) > 0 && w.seg().first == i // "even on the right"
	return ends && (w.itemAt(i-1).s.is(copula) || w.family == "spoke") || w.family == "spoke" && w.itemAt(i-1).s.is(copula)
}

// pastEachSide steps over "both sides".
func (w *walk) pastEachSide(i int) int {
	if w.itemAt(i).s.is(eachSide) {
		return i + 1
	}
	return i
}

// notWord reads "not".
func (w *walk) notWord(i int) int {
	if next := w.neither(i); next > i {
		return next
	}
	for _, read := range []func(*walk, int) int{(*walk).notThis, (*walk).notThat} {
		if next := read(w, i); next > i {
			return next
		}
	}
	if w.itemAt(i+1).text == "the" && seen(w.items[i].text) {
		return w.strange(i) // "couldn't find the crack in the frame"
	}
	if w.notOfPart(i) {
		return w.strange(i)
	}
	w.negated, w.negSpan = true, span{i, i + 1}
	return i + 1
}

// notOfPart reports a "not" that denies which part is meant, where another is named right after it: "not the left pedal the
// right has play". What is said then is not denied.
func (w *walk) notOfPart(i int) bool {
	if w.items[i].text != "not" || !determiner(w.itemAt(i+1).text) {
		return false
	}
	had, next := w.nounPhraseAt(w.pastDeterminers(i + 1))
	if had == nil || had.noPlace || had.head == nil && had.mod == 0 {
		return false
	}
	n, _ := w.nounPhraseAt(w.pastDeterminers(next))
	return n != nil && next < w.end
}

// seen reports a denial that ends with what was not found: "couldn't find".
func seen(text string) bool {
	for _, word := range []string{"see", "find", "feel", "spot", "detect", "seen", "found", "felt"} {
		if strings.HasSuffix(text, " "+word) {
			return true
		}
	}
	return false
}

// degreeWord reads "a bit of" and "loads of".
func (w *walk) degreeWord(i int) int {
	if w.degreeInstead(i) {
		return i + 1
	}
	if w.correct && w.endsHere(i+1) {
		w.newUnit() // "rough, no, make that marked": of what, is open
	}
	if !w.playHas(i) {
		w.degree, w.degSpan = w.items[i].s.role, span{i, i + 1}
	}
	return i + 1
}

// degreeInstead reads "slight play, no, make that marked".
func (w *walk) degreeInstead(i int) bool {
	if !w.correct || !w.endsHere(i+1) {
		return false
	}
	said := w.last
	if len(w.units) > 0 {
		said = &statement{says: w.units[len(w.units)-1].says}
	}
	if said == nil || len(said.says) == 0 {
		return false
	}
	if last := said.says[len(said.says)-1]; len(last.readings) != 1 || last.readings[0].name != "play" {
		return false
	}
	degree := "slight"
	if w.items[i].s.role == marked {
		degree = "marked"
	}
	w.say(&predicate{spans: []span{{i, i + 1}}, readings: []fact{{"play", substitution.Text(degree)}}})
	return true
}

// atWord reads "on", "in", "to".
func (w *walk) atWord(i int) int {
	w.at = true
	if next := w.newOn(i); next > i {
		return next
	}
	if !w.movesTo(i) {
		return i + 1
	}
	w.cur.verb.void = true
	w.newUnit().parts = []*nounPhrase{{noPlace: true, spans: []span{{i, i + 1}}, segment: len(w.segments) - 1}}
	w.family = ""
	return w.strange(i)
}

// newOn reads "new tyres on" and "the new chain's on": they are fitted already.
func (w *walk) newOn(i int) int {
	u := w.cur
	switch w.items[i].text {
	case "on", "in", "is on", "are on":
	default:
		return i
	}
	if !w.endsHere(i+1) || u == nil || u.verb == nil || !u.wanted || len(u.says) > 0 || len(u.parts) == 0 || !w.items[u.verb.spans[0].first].s.is(fresh) {
		return i
	}
	u.verb.void, w.at = true, false
	w.seg().kinds[history] = true
	return i + 1
}

// exchangeWord reads "the other way round".
func (w *walk) exchangeWord(i int) int {
	if w.seg().part || w.seg().said {
		return w.strange(i)
	}
	u := w.newUnit()
	u.exchange, w.seg().said = true, true
	u.marks = []span{{i, i + 1}}
	w.settled()
	return i + 1
}

// correctionWord reads "sorry" and "scratch that".
func (w *walk) correctionWord(i int) int {
	if w.inPassing(i) {
		return i + 1
	}
	return w.correcting(i, w.items[i].s.role)
}

// forgetWord reads "forget the": what was said of what it names is taken back.
func (w *walk) forgetWord(i int) int {
	if w.seg().part || w.seg().said {
		w.newSegment(i, true)
	}
	u := w.newUnit()
	u.forget, u.verb = true, &predicate{spans: []span{{i, i + 1}}, void: true, segment: len(w.segments) - 1}
	w.settled()
	if next := w.pastNew(w.pastDeterminers(i + 1)); w.itemAt(next - 1).s.is(fresh) {
		return next // "skip the new chain" wants none
	}
	return i + 1
}

// nothingWithWord reads "nothing wrong with": a list follows.
func (w *walk) nothingWithWord(i int) int { return w.prefix(i, i+1, inspection.Keep) }

// conditionWord reads "if", and "while" where it only sets one part against another.
func (w *walk) conditionWord(i int) int {
	if !w.contrasts(i) {
		return w.notOutright(i)
	}
	i = w.conjunction(i)
	w.join = but
	return i
}

// notOutright reads a word by which something is not said outright: a hedge, a plan, another's words.
func (w *walk) notOutright(i int) int {
	if next := w.exaggerated(i); next > i {
		return next
	}
	r := w.items[i].s.role
	if w.asksNothing(i) || r == otherBike && w.seg().likes && strings.HasSuffix(w.items[i].text, " one") {
		return i + 1 // "he'd like the silver one"
	}
	if r = w.mannerOf(i, r); w.begins(i, r) {
		w.newSegment(i, true)
	}
	if s := w.seg(); r == speech {
		s.likes = s.likes || wishes(w.items[i].text) && !w.endsHere(i+1)
		s.theirs = possessives[w.items[i].text] && s.kinds[person] && (s.theirs || !s.kinds[speech])
	}
	w.seg().kinds[r] = true
	w.seg().governed = w.seg().governed || (r == hedge || r == plan) && !w.seg().order && !w.seg().action && !w.seg().said
	w.maybe = r == hedge
	w.seg().did = w.seg().did || r == history && !w.seg().part && !w.seg().said
	if r == stock {
		w.wished = i + 1 // "order 44 cm bars, black tape"
	}
	w.negated = false
	return i + 1
}

// exaggerated steps over how large a fault is: "a cut in it you could lose a finger in".
func (w *walk) exaggerated(i int) int {
	if !strings.HasPrefix(w.items[i].text, "you could") || w.sep != noSep || w.join != noRole || w.lastSaid == nil || len(w.lastSaid.readings) != 1 || !(claim{value: w.lastSaid.readings[0]}).isFault() {
		return i
	}
	j := i + 1
	for ; j < w.end && !w.endsHere(j); j++ {
		if s := w.itemAt(j).s; j > i+longestSimile || s != nil && (s.head != nil || s.noPlace || s.reading != "" || s.action != "") {
			return i
		}
	}
	return j
}

// mannerOf is a word's role where it stands: of "cracked according to the owner" only so much is his.
func (w *walk) mannerOf(i int, r role) role {
	if w.items[i].text == "according to" && w.seg().said && w.sep == noSep && w.join == noRole {
		return hedge
	}
	return r
}

// begins reports that a word by which something is not said outright begins a clause of its own: "tyres are thirty-twos he
// wants …", "point five might want brakes", "the chain and possibly the cassette".
func (w *walk) begins(i int, r role) bool {
	s := w.seg()
	switch {
	case w.sep != noSep || w.join != noRole:
		return s.part || s.said
	case !s.said:
		return false
	}
	return r == speech || r == person || r == hedge && w.itemAt(i+1).s.is(want) && w.prefixes(i+2)
}

// wishes reports a word for what somebody would have: "he'd like the silver one" says no other's finding.
func wishes(text string) bool {
	for _, word := range []string{"like", "prefer", "rather", "wish", "fancies", "after"} {
		if strings.Contains(text, word) {
			return true
		}
	}
	return false
}

// possessives are the words for what is somebody's.
var possessives = map[string]bool{"his": true, "her": true, "hers": true, "their": true, "theirs": true}

// personWord reads somebody. "Headset he has small play" goes on about the headset.
func (w *walk) personWord(i int) int {
	if u := w.cur; w.seg().part && !w.seg().said && u != nil && len(u.parts) > 0 && w.endsAt(u.parts[len(u.parts)-1], i) && w.itemAt(i+1).s.is(copula) {
		return i + 1
	}
	return w.notOutright(i)
}

// findingWord reads "I found": what follows is the mechanic's own, whatever was told before.
func (w *walk) findingWord(i int) int {
	if w.seg().hasKind() || w.seg().dirty || w.seg().part || w.seg().said {
		w.newSegment(i+1, true)
	}
	w.seg().own = true
	return i + 1
}

// handlingWord steps over what is done while looking: "hanger, put the gauge on it, bent".
func (w *walk) handlingWord(i int) int {
	if w.sep == noSep && i != w.segments[0].first {
		return w.strange(i)
	}
	first, _, _ := strings.Cut(w.items[i].text, " ")
	felt := first == "spun" || first == "shook" || strings.HasSuffix(first, "ed")
	for i < w.end && !w.endsHere(i) {
		if n, _ := w.nounPhraseAt(w.pastDeterminers(i + 1)); felt && n != nil && n.head != nil && w.cur == nil {
			w.part(n, i) // "spun the pedals: they're smooth"
		}
		i++
	}
	return i
}

// askingWord reads a word that asks when it begins a clause, and goes on about a part when it stands after one.
func (w *walk) askingWord(i int) int {
	s := w.seg()
	text := w.items[i].text
	first, _, _ := strings.Cut(text, " ")
	bound := w.sep == noSep && w.join == noRole
	if w.asksNothing(i) {
		return i + 1
	}
	switch {
	case !s.part && !s.said:
		if !s.hasKind() {
			s.kinds[question] = !w.goesOn(text)
			return i + 1
		}
	case !s.said:
		if first == "which" && bound || w.endsHere(i+1) || first == "is" || first == "are" || first == "has" {
			return i + 1 // "the saddle which is torn", "the rear one does", "the cassette has the teeth hooked"
		}
	case text == "which" && bound:
		w.newSegment(i, true) // "a bit of play which I'll take out"
		return i + 1
	case first == "where" && bound:
		for i < w.end && !w.endsHere(i) {
			i++ // "frayed where it goes into the lever"
		}
		return i
	}
	return w.strange(i)
}

// asksNothing reports the "was" of "no, that was the headset", and the "would you" of "toe in the rear brake, would you", which
// ask nothing.
func (w *walk) asksNothing(i int) bool {
	switch w.items[i].text {
	case "do":
		s := w.itemAt(i + 1).s
		return w.itemAt(w.end).sep != asking && !w.seg().part && !w.seg().said && s != nil && s.form&verb != 0 && w.prefixes(i+2) // "but do change the chain"
	case "would you", "will you", "could you", "can you":
		return w.seg().action && w.endsSentence(i+1)
	case "was", "was the", "were the":
		return w.cur != nil && w.instead(w.cur) && w.namesPart(i+1)
	}
	return false
}

// goesOn reports that a word goes on about a part though a comma stands between: "the headset, which is notchy".
func (w *walk) goesOn(text string) bool {
	return (text == "which" || text == "whose") && w.sep == comma && w.cur != nil && len(w.cur.parts) > 0
}

// simile steps over what a fault is compared with: "rough as a bear's back".
func (w *walk) simile(i int) int {
	if w.items[i].text != "as" || !w.seg().said || w.lastSaid == nil || w.sep != noSep || w.join != noRole || w.endsHere(i+1) {
		return i
	}
	j := i + 1
	for ; j < min(i+longestSimile, w.end) && !w.endsHere(j); j++ {
		if s := w.itemAt(j).s; s != nil && (s.head != nil || s.noPlace || s.mod != 0 || s.is(not) || s.class != noNumber) {
			return i
		}
	}
	if !w.endsHere(j) {
		return i
	}
	return j
}

// longestSimile is how many words a comparison may have.
const longestSimile = 7

// goesBack reports a word with which a speaker comes back to the bike after what somebody said: "anyway, this chain …".
func goesBack(text string) bool {
	switch text {
	case "anyway", "anyhow", "anyways", "so anyway", "but anyway", "right", "right so":
		return true
	}
	return false
}

// othersSpoke reports that somebody's words, or what was thought, stand before in the sentence.
func (w *walk) othersSpoke() bool {
	return slices.ContainsFunc(w.segments, func(s segment) bool { return s.kinds[speech] || s.kinds[person] })
}

// hesitates reports a word with which a speaker begins anew.
func hesitates(text string) bool {
	switch text {
	case "um", "umm", "uh", "er", "erm", "hmm", "right then", "now then", "let's see", "let me see":
		return true
	}
	return false
}

// playHas gives a play that was named before its degree, "the play in the headset is slight".
func (w *walk) playHas(i int) bool {
	u := w.cur
	if k := len(w.units); k > 1 && u != nil && u.pronoun && len(u.says) == 0 && w.join == noRole {
		u = w.units[k-2] // "has play but it's only slight"
	}
	if u == nil || len(u.says) == 0 || !w.endsHere(i+1) || w.sep > comma || w.join != noRole && w.join != but {
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

// bikeWord reads a kind of bike that is named on the way: "the kids bike" is another.
func (w *walk) bikeWord(i int) int {
	if text := w.items[i].text; strings.HasPrefix(text, "kid") || strings.HasPrefix(text, "child") || w.tellsOfBike(i) {
		w.seg().kinds[otherBike] = true
	}
	return i + 1
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
