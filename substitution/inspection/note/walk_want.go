package note

import (
	"strings"

	"stead/substitution/inspection"
)

// wantings are what "needs", "wants" and "to be" lead to; the first that takes a word decides.
var wantings = []func(*walk, int) int{
	(*walk).wantsDone, (*walk).neededAfter, (*walk).wantsNot, (*walk).wantsNew, (*walk).wantsItDone, (*walk).wantsParts, (*walk).wantsUnknown,
}

// wants reads "needs", "wants", "to be", and what they lead to.
func (w *walk) wants(i int) int {
	if s := w.seg(); s.kinds[person] {
		s.kinds[speech] = true // "he wants thirty-fives"
	}
	for _, read := range wantings {
		if next := read(w, i); next > i {
			return next
		}
	}
	return i
}

// wantsDone reads what is to be done to what was named: "needs replacing", "to be cleaned".
func (w *walk) wantsDone(i int) int {
	j := w.pastWants(i + 1)
	next := w.itemAt(j).s
	if j >= w.end || next == nil || next.action == "" {
		next = &sense{}
	}
	switch {
	case next.action != "" && w.itIs(j):
		return j // "it is necessary to change it"
	case next.form&(noun|done) != 0:
		w.want, w.wanting = span{i, j}, true
		return j
	case w.items[i].s.role == toBe:
		if next.form&verb != 0 {
			return j
		}
		return i + 1
	case next.form&verb != 0:
		w.want, w.wanting = span{i, j}, !w.prefixes(j+1)
		return j
	case next.form == after:
		w.say(&predicate{spans: []span{{i, j + 1}}, void: true})
		return j + 1
	}
	return i
}

// itIs reports that the verb at item j is of "it".
func (w *walk) itIs(j int) bool {
	text := w.itemAt(j).text
	return strings.HasSuffix(text, " it") || strings.HasSuffix(text, " them") || w.itemAt(j+1).s.is(it)
}

// pastWants steps over more words of wanting, and small ones.
func (w *walk) pastWants(j int) int {
	for {
		it := w.itemAt(j)
		s := it.s
		article := determiner(it.text)
		if !s.is(toBe) && !s.is(want) && !(s.is(filler) && s.action == "" && !article) && !(article && w.itemAt(j+1).s != nil && w.itemAt(j+1).s.action != "") {
			return j
		}
		j++
	}
}

// neededAfter reads "needed" after a list, and "parts wanted:" before one.
func (w *walk) neededAfter(i int) int {
	text := w.items[i].text
	switch {
	case !strings.HasSuffix(text, "needed") && !strings.HasSuffix(text, "required") && !(text == "wanted" && w.endsHere(i+1)):
		return i
	case w.cur != nil && w.cur.verb != nil:
		return w.neededAt(i)
	case w.itemAt(i+1).sep == colon && len(w.units) == 0:
		return w.prefix(i, i+1, inspection.Replace)
	}
	w.seg().dirty = true
	return i + 1
}

// neededAt steps over where what was listed is needed, "new cable required at the back brake": what it is of then is not known.
func (w *walk) neededAt(i int) int {
	j := i + 1
	if !w.itemAt(j).s.is(at) && w.itemAt(j).text != "for" && !beginsAt(w.itemAt(j).text) || !w.namesWhere(j) {
		return j
	}
	for w.seg().dirty = true; j < w.end && !w.endsHere(j); j++ {
	}
	return j
}

// namesWhere reports that a part, an end or a side is named right after item j, or with it.
func (w *walk) namesWhere(j int) bool {
	if w.modAt(j) {
		return true
	}
	n, _ := w.nounPhraseAt(w.pastDeterminers(j + 1))
	return j+1 < w.end && n != nil
}

// wantsNot leaves what is not wanted.
func (w *walk) wantsNot(i int) int {
	if !w.negated {
		return i
	}
	w.negated = false
	w.seg().dirty, w.stray = true, true
	if s := w.itemAt(w.pastWants(i + 1)).s; s != nil && !w.seg().hasKind() {
		w.spared = s.action
	}
	return i + 1
}

// someoneWants reports "wants", which may also be said of a person.
func (w *walk) someoneWants(i int) bool {
	return w.items[i].text == "wants" || w.items[i].text == "want"
}

// wantsNew reads "needs a new one" in its shorter forms: "needs new". Where nothing was named, it is not sure who wants.
func (w *walk) wantsNew(i int) int {
	idle := w.cur == nil || len(w.cur.parts) == 0 && !w.cur.pronoun
	if w.someoneWants(i) && !w.seg().part && idle {
		w.seg().dirty = true
	}
	if k := w.pastNew(i + 1); w.itemAt(k-1).s.is(fresh) && w.endsHere(k) && (w.seg().part || !idle && !w.someoneWants(i)) {
		w.say(&predicate{spans: []span{{i, k}}, action: inspection.Replace})
		return k
	}
	return i
}

// pastNew steps over "just a new" before what is wanted.
func (w *walk) pastNew(k int) int {
	for w.itemAt(k).s.is(filler) && !determiner(w.itemAt(k).text) || w.itemAt(k).sep == colon {
		k++
	}
	if determiner(w.itemAt(k).text) && w.itemAt(k+1).s.is(fresh) {
		k++
	}
	if w.itemAt(k).s.is(fresh) {
		k++
	}
	return k
}

// wantsItDone reads "needs the headset servicing".
func (w *walk) wantsItDone(i int) int {
	k := i + 1
	if w.itemAt(k).text == "its" {
		k++
	}
	n, end := w.nounPhraseAt(w.pastDeterminers(k))
	if n == nil || n.head == nil || w.seg().part || w.someoneWants(i) || end >= w.end {
		return i
	}
	if s := w.itemAt(end).s; s == nil || s.action == "" || s.form&noun == 0 || !w.endsHere(end+1) {
		return i
	}
	w.part(n, i)
	w.want, w.wanting = span{i, i + 1}, true
	return end
}

// wantsParts reads the list of "needs a new chain and tyres".
func (w *walk) wantsParts(i int) int {
	k := w.pastNew(i + 1)
	switch {
	case !w.prefixes(i+1) && (k == i+1 || !w.prefixes(k)):
		return i
	case k > i+1:
		return w.prefix(i, k, inspection.Replace)
	}
	return w.prefix(i, i+1, inspection.Replace)
}

// wantsUnknown leaves a wish for something that is not known.
func (w *walk) wantsUnknown(i int) int {
	w.seg().dirty = true
	w.stray = true
	w.wished, w.seg().wish = i+1, !w.seg().kinds[speech] || !w.endsHere(i+1) // "new tyres, he wants"
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
	asked := w.itemAt(i+1).text == "please" || w.cur != nil && len(w.cur.parts) > 0 && w.cur.parts[len(w.cur.parts)-1].counted > 0
	if asked && w.seg().part && !w.seg().said && !w.itemAt(i-1).s.is(copula) && w.sep == noSep {
		w.say(&predicate{spans: []span{{i, i + 1}}, action: inspection.Replace}) // "grips new please", "two tyres new"
		return i + 1
	}
	w.say(&predicate{spans: []span{{i, i + 1}}, void: true})
	return i + 1
}
