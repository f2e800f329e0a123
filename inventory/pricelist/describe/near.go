package describe

import (
	"reflect"
	"slices"
	"strings"
	"unicode/utf8"
)

// The fewest letters of a word that may be a known one written otherwise. A full stop says that it is cut short;
// without one it takes more of it, as a name that nobody knows may begin like a word.
const (
	shortestStem    = 5 // of a word without its ending
	shortestCut     = 4 // before a full stop
	shortestCutBare = 8
	mostCutBare     = 4
	shortestBones   = 3 // consonants, before a full stop
	shortestBare    = 4
)

// near finds the known word that a list writes otherwise: with another ending ("idrauliche" for "idraulica"), cut short
// ("Kurbelgarn." for "Kurbelgarnitur") or without its vowels ("Btl." for "Beutel"). Where two words of different
// meaning may be meant, neither is.
type near struct {
	stems map[string]int32 // by the word without its ending; 0 where several meanings share one
	bones map[string]int32 // by its consonants; likewise
	words []spelled        // in alphabetical order
	pairs []pair           // parts' names that are compounds
}

// pair is a part's name that two words make: "buiten" and "band".
type pair struct {
	first, head string
	whole       *spelled
}

// spelled is a word that means something by itself.
type spelled struct {
	text  string
	id    int32
	sense *sense
}

// newNear takes every word of the lexicon that means something by itself.
func newNear(l *lexicon) near {
	n := near{stems: map[string]int32{}, bones: map[string]int32{}}
	for text, id := range l.ids {
		if sense := l.senses[l.firsts[id]]; sense != nil && len(text) >= shortestStem && isPlainWord(text) {
			n.words = append(n.words, spelled{text, id, sense})
		}
	}
	slices.SortFunc(n.words, func(a, b spelled) int { return strings.Compare(a.text, b.text) })
	stems, bones := map[string]*sense{}, map[string]*sense{}
	for _, w := range n.words {
		if stem := stemOf([]byte(w.text), false); len(stem) >= shortestStem {
			keep(n.stems, stems, string(stem), w)
		}
		if b := bonesOf(nil, []byte(w.text)); len(b) >= shortestBones {
			keep(n.bones, bones, string(b), w)
		}
	}
	for i := range n.words {
		if w := &n.words[i]; w.sense.family != "" && !w.sense.none && !w.sense.not {
			if at := l.partsAt([]byte(w.text)); at > 0 {
				n.pairs = append(n.pairs, pair{w.text[:at], w.text[at:], w})
			}
		}
	}
	return n
}

// partsAt is where the second word of a compound begins, both being words of the trade, or else the first; 0 if it is none.
func (l *lexicon) partsAt(text []byte) int {
	for at := shortestBefore; at+shortestBefore <= len(text); at++ {
		if l.alone(l.ids[string(text[at:])]) != nil && l.firstOf(text[:at]) != 0 {
			return at
		}
	}
	for at := len(text) - shortestBefore; at >= shortestBefore; at-- {
		if l.firstOf(text[:at]) != 0 {
			return at
		}
	}
	return 0
}

// mayShorten are the compounds of which a word is the beginnings of both their words: "buib" is a "buitenband".
func (n *near) mayShorten(text []byte) []*spelled {
	if isVowel(text[len(text)-1]) {
		return nil
	}
	var may []*spelled
	for i := range n.pairs {
		p := &n.pairs[i]
		for at := shortestOfFirst; at < len(text); at++ {
			if strings.HasPrefix(p.first, string(text[:at])) && strings.HasPrefix(p.head, string(text[at:])) {
				may = append(may, p.whole)
				break
			}
		}
	}
	return may
}

// keep notes a word under a key, and 0 where a word of another meaning is there.
func keep(ids map[string]int32, senses map[string]*sense, key string, w spelled) {
	switch known := senses[key]; {
	case known == nil:
		ids[key], senses[key] = w.id, w.sense
	case !known.means(w.sense):
		ids[key] = 0
	}
}

func isPlainWord(text string) bool {
	return !strings.ContainsFunc(text, func(r rune) bool { return r < utf8.RuneSelf && !isLetter(byte(r)) })
}

// means reports whether two words mean the same. That one is noise as well makes no difference.
func (s *sense) means(t *sense) bool {
	a, b := *s, *t
	a.says, b.says, a.noise, b.noise = nil, nil, false, false
	return reflect.DeepEqual(a, b) && saysAll(s.says, t.says) && saysAll(t.says, s.says)
}

// saysAll reports whether everything in one list is in the other.
func saysAll(list, other []says) bool {
	for _, x := range list {
		if !slices.ContainsFunc(other, func(y says) bool {
			return x.dimension == y.dimension && x.value.Equal(y.value) && slices.Equal(x.in, y.in)
		}) {
			return false
		}
	}
	return true
}

// of is the number of the known word, 0 if there is none; stopped says that a full stop stands behind.
func (n *near) of(text []byte, stopped bool) int32 {
	if stem := stemOf(text, true); len(stem) >= shortestStem {
		if id := n.stems[string(stem)]; id != 0 {
			return id
		}
	}
	if stopped && len(text) >= shortestCut || len(text) >= shortestCutBare {
		if id := n.cutShort(text, stopped); id != 0 {
			return id
		}
	}
	if stopped && len(text) >= shortestBones || len(text) >= shortestBare {
		if !slices.ContainsFunc(text, isVowel) {
			return n.bones[string(text)]
		}
	}
	return 0
}

// cutShort is the word that begins so, if all that do mean the same.
func (n *near) cutShort(text []byte, stopped bool) int32 {
	if may := n.mayBe(text, stopped); len(may) == 1 {
		return may[0].id
	}
	return 0
}

// mayBe are the words that begin so, one of each meaning, without their compounds: "spatb." is a "spatbord", though
// there are "spatbordstangen". Words are cut between a consonant and a vowel, or within a doubled consonant:
// "Schutzbl.", "guarn." and "Walzennip.", while "system" is no cut "Systemträger". Where no stop says so, little is cut
// off, and no "er": "break" is no breaker.
func (n *near) mayBe(text []byte, stopped bool) []*spelled {
	if isVowel(text[len(text)-1]) {
		return nil
	}
	at, _ := slices.BinarySearchFunc(n.words, text, func(w spelled, text []byte) int { return strings.Compare(w.text, string(text)) })
	var may []*spelled
	stem := ""
	for i := at; i < len(n.words) && strings.HasPrefix(n.words[i].text, string(text)); i++ {
		w := &n.words[i]
		if stem != "" && strings.HasPrefix(w.text, stem) {
			continue
		}
		rest := w.text[len(text):]
		if rest == "" {
			return nil
		}
		if !isVowel(rest[0]) && rest[0] != text[len(text)-1] || !stopped && (len(rest) > mostCutBare || rest == "er" || rest == "ers") {
			continue
		}
		stem = string(stemOf([]byte(w.text), true))
		if !slices.ContainsFunc(may, func(known *spelled) bool { return known.sense.means(w.sense) || known.sense.namesLike(w.sense) }) {
			may = append(may, w)
		}
	}
	return may
}

// mayBeTool reports whether a word that is cut short may be a tool.
func (n *near) mayBeTool(text []byte) bool {
	if len(text) < fewestOfCut {
		return false
	}
	at, _ := slices.BinarySearchFunc(n.words, text, func(w spelled, text []byte) int { return strings.Compare(w.text, string(text)) })
	for i := at; i < len(n.words) && strings.HasPrefix(n.words[i].text, string(text)); i++ {
		if w := &n.words[i]; w.sense.not && len(w.text) > len(text) {
			return true
		}
	}
	return false
}

// namesLike reports whether two words name the same part and neither gives what the other gives otherwise: a plural may
// say less.
func (s *sense) namesLike(t *sense) bool {
	if s.family == "" || s.family != t.family || s.none != t.none || s.not != t.not {
		return false
	}
	for _, x := range s.says {
		for _, y := range t.says {
			if x.dimension == y.dimension && !x.value.Equal(y.value) {
				return false
			}
		}
	}
	return true
}

// endings are those of number, gender and case in the five languages, the longer before the shorter.
var endings = []string{"er", "es", "en", "em", "he", "hi", "ee", "e", "s", "x", "o", "a", "i"}

// stemOf is a word without its ending. A consonant that Dutch doubles before an ending is single again. Of a known word
// "er" is no ending, for it makes a tool of an act: "breaks" is no breaker, though "schwarzer" is "schwarz".
func stemOf(text []byte, declined bool) []byte {
	for _, ending := range endings {
		stem := text[:max(0, len(text)-len(ending))]
		if len(stem) < shortestStem || string(text[len(stem):]) != ending || ending == "er" && !declined {
			continue
		}
		if last := len(stem) - 1; ending == "en" && stem[last] == stem[last-1] && !isVowel(stem[last]) {
			return stem[:last]
		}
		return stem
	}
	return text
}

func isVowel(c byte) bool {
	switch c {
	case 'a', 'e', 'i', 'o', 'u', 'y':
		return true
	}
	return false
}

// bonesOf appends a word's first letter and the consonants behind it.
func bonesOf(out, text []byte) []byte {
	for i, c := range text {
		if i == 0 || !isVowel(c) {
			out = append(out, c)
		}
	}
	return out
}

// spellOut gives a word that no table has the number of the known word that it is, and so for one that means nothing
// where it stands: "distanziali" begins phrases, but is a "distanziale" alone. It reports whether it found one.
func (s *scratch) spellOut(i int, alone bool) bool {
	t := &s.tokens[i]
	if t.kind != word || t.id != 0 && (!alone || base().alone(t.id) != nil) {
		return false
	}
	id := s.taken.id
	if id == 0 || t.start != s.taken.start {
		id = base().near.of(s.lower(t), s.stopped(i))
	}
	if id == 0 {
		return false
	}
	t.id = id
	return true
}

// spellInPhrase gives a word that is cut short at a full stop the number of the known word that it is, where the tables
// have it cut so in another phrase only: "att. manub." is there, and "nastro manub." is not.
func (s *scratch) spellInPhrase(i int) {
	t := &s.tokens[i]
	if t.kind != word || t.id == 0 || !s.stopped(i) || base().alone(t.id) != nil {
		return
	}
	for j := max(0, i-mostBefore); j <= i; j++ {
		if _, end := base().find(s, j); end > i {
			return
		}
	}
	if id := base().near.of(s.lower(t), true); id != 0 {
		t.id = id
	}
}

// mostBefore is how many tokens of a phrase are looked at before a word of it.
const mostBefore = 4

// stopped reports whether a full stop stands right behind the token.
func (s *scratch) stopped(i int) bool {
	return i+1 < len(s.tokens) && s.tokens[i+1].kind == mark && s.tokens[i+1].mark == '.' && s.tokens[i+1].glued
}
