package note

import "strings"

// pronoun reads "it" and "they": they name no part anew.
func (w *walk) pronoun(i int) int {
	text := w.items[i].text
	if (determiner(text) || text == "its") && w.headSoon(i+1) {
		return i + 1
	}
	if w.bothOfThem(i) {
		return i + 2
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
		case "they", "them", "these", "those", "theyre", "they 're":
			u.many = true
		}
		u.marks = append(u.marks, span{i, i + 1})
	}
	return i + 1 // of "chain fine it's at point nine" the same part goes on
}

// bothOfThem reads "the jockey wheels, both of them, and …".
func (w *walk) bothOfThem(i int) bool {
	last := w.sole()
	if w.items[i].text != "both of them" || w.sep != comma || !w.endsHere(i+1) || last == nil || len(w.cur.says) > 0 {
		return false
	}
	last.every, last.spans = true, append(last.spans, span{i, i + 1})
	return true
}

// sameWord reads "the same", "the same size" and "the same as the front in size".
func (w *walk) sameWord(i int) int {
	next, of, as := w.sameAfter(i)
	of = append(of, sameNames[strings.TrimSuffix(w.items[i].text, " the same")]...) // "stamped the same"
	if w.seg().said {
		if w.partFollows(i+1) || w.modAt(i+1) {
			w.same, w.sameAt, w.join = true, span{i, i + 1}, and
		}
		return i + 1 // "hooked as well"
	}
	if w.cur != nil && len(w.cur.parts) > 0 && len(w.cur.says) == 0 && w.cur.verb == nil && (w.seg().part || w.sep == colon && w.endsHere(next)) {
		w.cur.same, w.cur.sameAt, w.cur.sameOf, w.cur.sameAs = true, span{i, next}, of, as
		w.seg().said = true
		w.sep, w.join = noSep, noRole
		return next
	}
	if u := w.cur; len(of) > 0 && u != nil && len(u.parts) == 1 && (len(u.says) > 0 && !u.same || len(u.sameOf) > 0) && u.verb == nil && w.endsHere(next) {
		if len(u.sameOf) == 0 {
			u.sameAt, u.sameAs = span{i, next}, as
		}
		u.marks = append(u.marks, span{i, next})
		u.same, u.sameOf = true, append(u.sameOf, of...) // "right bearing smooth, same size", "same thickness, same stamp"
		w.seg().said = true
		w.settled()
		return next
	}
	w.same, w.sameAt, w.sameOf, w.sameAs = true, span{i, next}, of, as
	return next
}

// sameAfter reads what the same is said of, "size", and as what, "as the front".
func (w *walk) sameAfter(i int) (next int, of []string, as *nounPhrase) {
	next = i + 1
	for j := next; j < w.end; j++ {
		text := w.items[j].text
		names := sameNames[text]
		switch {
		case len(names) > 0:
			of, next = append(of, names...), j+1
		case text == "as":
			n, end := w.nounPhraseAt(w.pastDeterminers(j + 1))
			if as != nil {
				return
			}
			if n == nil {
				return next, of, &nounPhrase{noPlace: true} // "as the old one"
			}
			as, next = n, end
			j = end - 1
		case text != "in" && text != "for":
			return
		}
	}
	return
}

func (p *parser) pastDeterminers(i int) int {
	for determiner(p.at(i).text) {
		i++
	}
	return i
}

// anySize stands for every size of a part.
const anySize = "size"

// sameNames are what only is the same where a word says so: "same size", "same stamp".
var sameNames = map[string][]string{
	"size": {anySize}, "sized": {anySize}, "sizes": {anySize}, "width": {anySize}, "length": {anySize}, "diameter": {anySize}, "spoke length": {anySize}, "number": {anySize}, "numbers": {anySize}, "bearing number": {anySize},
	"stamp": {"marked_minimum_mm"}, "stamped": {"marked_minimum_mm"}, "marked": {"marked_minimum_mm"}, "measures": {"thickness_mm", "lining_mm", "run_out_mm", "wall_mm"}, "mark": {"marked_minimum_mm"}, "minimum": {"marked_minimum_mm"}, "min": {"marked_minimum_mm"}, "stamped minimum": {"marked_minimum_mm"},
	"thickness": {"thickness_mm", "lining_mm"}, "lining": {"lining_mm"}, "count": {"balls"}, "wear": {"wear_percent"},
}
