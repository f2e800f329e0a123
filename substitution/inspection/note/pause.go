package note

import (
	"slices"
	"strings"

	"stead/substitution/inspection"
)

// A note that was dictated has no marks, and a word that is in no table would take all of it with it. pauses puts a comma
// where a clause can only begin: in a language whose verbs stand last, after one and before the next part, "Kette tauschen
// Bremse einstellen"; after a word that is not known and says how a part is, before a part that is named with its article or its end and
// has something said of it, "the chain is kiboshed the saddle's torn", and before a verb with what it is to be done to,
// "… kiboshed replace it". A word that may be half of a part's name, "kibosh brake", parts nothing.
func (p *parser) pauses() {
	var at []int
	for i := 1; i < len(p.items); i++ {
		if p.endsWithStrange(i) && (p.beginsAnew(i) || p.ordersAt(i)) || p.endsWithVerb(i) || p.endsDenied(i) {
			at = append(at, i)
		}
	}
	for _, i := range slices.Backward(at) {
		first := p.items[i].first
		p.items = slices.Insert(p.items, i, item{first: first, last: first, text: ",", sep: comma})
	}
}

// endsWithVerb reports that before item i it is said what is to be done to a part before it, in a language in which that
// stands last, and that at item i a part is named.
func (p *parser) endsWithVerb(i int) bool {
	if p.tongue == nil || !p.tongue.last || !p.acts(i-1) {
		return false
	}
	if n, _ := p.nounPhraseAt(p.pastDeterminers(i)); n == nil || n.head == nil && n.mod == 0 && !n.wheel {
		return false
	}
	for k := i - 2; k >= 0 && p.items[k].sep <= joint; k-- {
		if s := p.items[k].s; s != nil && (s.head != nil || s.noPlace || s.is(wheel)) {
			return true
		} else if p.acts(k) {
			return false
		}
	}
	return false
}

// endsDenied reports that before item i it is denied of a part what was said of another, "front rotor wobbles rear rotor doesn't
// headset fine", and that at item i a part is named of which something is said.
func (p *parser) endsDenied(i int) bool {
	switch p.items[i-1].text {
	case "isn't", "doesn't", "hasn't", "aren't", "don't", "haven't":
	default:
		return false
	}
	if s := p.at(i - 2).s; s == nil || s.head == nil && s.mod == 0 {
		return false
	}
	n, next := p.nounPhraseAt(p.pastDeterminers(i))
	return n != nil && n.head != nil && !beginsAt(p.items[i].text) && p.at(next).s.says()
}

// endsWithStrange reports that before item i a part is said to be what no table knows: "the chain is kiboshed …". Any other
// such word may be a verb, of which what follows is only told: "she texted …", "the chain is kiboshed meaning …".
func (p *parser) endsWithStrange(i int) bool {
	if !p.strangeAt(i - 1) {
		return false
	}
	k := i - 2
	for k >= 0 && (p.items[k].s == nil && adverb(p.items[k].text) || p.items[k].s.is(filler)) {
		k--
	}
	if k < 0 || !p.items[k].s.is(copula) {
		return false
	}
	before := p.at(k - 1).s
	return before != nil && (before.head != nil || before.noPlace || before.mod != 0 || before.is(wheel) || before.is(onePronoun))
}

// acts reports a word of what is to be done, whatever stands before or after it.
func (p *parser) acts(i int) bool {
	s := p.items[i].s
	return s != nil && s.action != "" && s.form&(verb|noun) != 0
}

// strangeAt reports a word that no table has, and that is not one of those that lead on to what follows them.
func (p *parser) strangeAt(i int) bool {
	it := p.items[i]
	return it.s == nil && !it.figure && it.sep == noSep && !adverb(it.text) && !determiner(it.text) && !prepositions[it.text] && !goesOnAfter(it.text)
}

// goesOnAfter reports a word of no table after which a clause goes on: one of leadsOn, or a verb that is denied.
func goesOnAfter(word string) bool { return leadsOn[word] || strings.HasSuffix(word, "n't") }

// leadsOn are words of no table after which a clause goes on, whatever follows.
var leadsOn = map[string]bool{"via": true, "per": true, "towards": true, "toward": true, "onto": true, "upon": true, "amid": true, "among": true, "amongst": true,
	"that": true, "never": true, "nor": true, "than": true, "until": true, "till": true, "avoid": true, "postpone": true, "defer": true, "delay": true, "skip": true,
	"cancel": true, "decline": true, "refuse": true, "resist": true, "refused": true, "declined": true, "certain": true, "positive": true, "confident": true, "sure": true,
	"fear": true, "worried": true, "gather": true, "bet": true, "swear": true, "assume": true, "assuming": true, "presume": true, "figure": true, "against": true, "nae": true, "versus": true}

// beginsAnew reports that at item i a part is named with its article or its end, and something is said of it.
func (p *parser) beginsAnew(i int) bool {
	n, next := p.nounPhraseAt(p.pastDeterminers(i))
	if n == nil || n.noPlace || n.head == nil && !n.ones && n.mod == 0 {
		return false
	}
	after := p.at(next).s
	if after.is(copula) && n.mod != 0 && !beginsAt(p.items[i].text) {
		return true // "… front is alright"
	}
	named := n.head != nil && (determiner(p.items[i].text) || n.mod != 0) || n.ones
	if copied := p.at(i - 2).s; n.head != nil && !named {
		named = after.is(copula) && copied.is(copula) // "the chain is kiboshed cassette is fine"
	}
	return named && after.says() && !beginsAt(p.items[i].text)
}

// says reports a word that begins what is said of a part before it.
func (s *sense) says() bool {
	return s != nil && s.head == nil && s.mod == 0 && (s.is(copula) || s.is(want) || s.is(not) || s.is(play) || s.is(void) || s.is(slight) || s.is(marked) ||
		s.reading != "" || s.bend || s.form&after != 0)
}

// ordersAt reports that at item i it is said what is to be done to a part, or to "it".
func (p *parser) ordersAt(i int) bool {
	s := p.items[i].s
	if s == nil || s.action == "" || s.action == inspection.Keep {
		return false
	}
	if text := p.items[i].text; strings.HasSuffix(text, " it") || strings.HasSuffix(text, " them") {
		return true
	}
	return s.form&verb != 0 && (p.at(i+1).s.is(it) || determiner(p.at(i+1).text) && p.headAt(i+1) != nil)
}

// harmless reports a word of no table that changes nothing where it stands: between "is" or "a" and a fault of a part that was
// named, "the headset is minging rough", "has a honking split", and at the end of what was said outright, "the tyre is cut guv".
func (w *walk) harmless(i int) bool {
	it, u := w.items[i], w.cur
	if goesOnAfter(it.text) || turning[it.text] || w.negated || w.wanting || w.sep != noSep || w.join != noRole || !w.seg().part || w.seg().dirty || u == nil || len(u.parts) == 0 || u.parts[len(u.parts)-1].head == nil {
		return false
	}
	before, next := w.itemAt(i-1), w.itemAt(i+1)
	switch {
	case before.s.is(copula) && before.text != "with", before.text == "a", before.text == "an":
		s := next.s
		return !w.seg().said && s != nil && s.head == nil && s.mod == 0 && (s.reading != "" || s.bend || s.form == after && s.action == inspection.Replace)
	case w.endsHere(i + 1):
		return w.seg().said && !resists(it.text) && w.saidOutright(u)
	}
	return false
}

// turning are words of no table that make of what follows them, or stands before them, something else.
var turning = map[string]bool{"never": true, "nowt": true, "less": true, "least": true, "far": true, "ever": true, "once": true, "minus": true, "nil": true,
	"non": true, "un": true, "nae": true, "isnae": true, "superficial": true, "surface": true, "hairline": true, "fixed": true, "healed": true, "filled": true,
	"imaginary": true, "supposed": true, "old": true, "prior": true, "instead": true, "tomorrow": true, "tandem": true, strangeWord: true,
	"joking": true, "jk": true, "psych": true, "query": true, "doubtful": true, "unconfirmed": true, "disputed": true, "unverified": true, "untrue": true, "false": true,
	"perchance": true, "elsewhere": true, "designed": true, "factory": true, "bald": true, "paint": true, "lacquer": true, "varnish": true, "sticker": true, "decal": true, "label": true}

// resists reports a word that makes of the fault before it what a part is proof against: "cut resistant".
func resists(word string) bool {
	return strings.HasSuffix(word, "proof") || strings.HasSuffix(word, "resistant") || word == "free"
}

// saidOutright reports that the last thing said of a part is a fault, and that there is an "is" between the two. After a "has"
// whatever follows the fault may be what has it: "the lamp has a cracked lens".
func (w *walk) saidOutright(u *unit) bool {
	last, n := w.lastSaid, u.parts[len(u.parts)-1]
	if last == nil || len(last.readings) != 1 || last.negated || !(claim{value: last.readings[0]}).isFault() {
		return false
	}
	for i := n.spans[len(n.spans)-1].last; i < last.spans[0].first; i++ {
		if w.items[i].s.is(copula) {
			return isIs(w.items[i].text) || strings.HasSuffix(w.items[w.end-2].text, "it") || strings.HasSuffix(w.items[w.end-2].text, "them")
		}
	}
	return false
}

// isIs reports an "is", after which how the part itself is follows.
func isIs(text string) bool {
	switch text {
	case "is", "are", "'s", "'re", "looks", "look", "feels", "feel", "runs", "run":
		return true
	}
	return false
}
