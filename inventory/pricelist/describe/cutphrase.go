package describe

import (
	"slices"
	"strings"
)

// A name of two words or more of which some are cut short at a stop, "Coll.reggis.", "Rond. anti-rot.", "Kit entr.
// fourche", and a compound that is cut within, "Br.leitg.", "Stsz.-Lager": whoever reads them knows which names begin
// so.

// cutPhrase is the name of several words that the tokens from i on are the beginnings of, and the token behind it; nil
// where there is none, or where parts of several families begin so.
func (s *scratch) cutPhrase(i int) (*sense, int) {
	if s.tokens[i].kind != word {
		return nil, i
	}
	var found cutFound
	s.followCut(&found, 0, cutAt{from: i, at: i})
	if found.several {
		return nil, i
	}
	return found.sense, found.end
}

// isNamed reports whether an item names a part already.
func (s *scratch) isNamed() bool {
	return slices.ContainsFunc(s.items, func(it item) bool { return it.kind == phrase && it.sense.family != "" })
}

// cutFound is the longest name found, and whether names of another family are as long.
type cutFound struct {
	sense   *sense
	end     int
	several bool
}

func (f *cutFound) take(found *sense, end int) {
	switch {
	case f.sense == nil || end > f.end:
		*f = cutFound{sense: found, end: end}
	case end == f.end && !f.sense.namesLike(found):
		f.several = true
	}
}

// cutAt is how far a name is read that began at a token.
type cutAt struct {
	from, at, words int
	cut             bool // a word of it is cut short
	letters         int  // of its longest word
}

// past is the same behind a word of so many letters.
func (c cutAt) past(letters int, short bool) cutAt {
	return cutAt{c.from, c.at + 1, c.words + 1, c.cut || short, max(c.letters, letters)}
}

// isName reports whether so much of several words was read, one of them cut, that it may be a name.
func (c cutAt) isName() bool { return c.words > 1 && c.cut && c.letters >= fewestOfCut }

// pastStops is behind the hyphens and full stops that follow a word of the name.
func (s *scratch) pastStops(c cutAt) int {
	for c.at < len(s.tokens) && c.at > c.from && s.tokens[c.at].kind == mark && (s.tokens[c.at].mark == '-' || s.tokens[c.at].mark == '.') {
		c.at++
	}
	return c.at
}

// followCut goes on from a node of the lexicon.
func (s *scratch) followCut(found *cutFound, node int32, c cutAt) {
	l := base()
	c.at = s.pastStops(c)
	if c.at >= len(s.tokens) || s.tokens[c.at].kind != word {
		return
	}
	t := &s.tokens[c.at]
	if c.words > 0 && t.id != 0 && l.links[t.id] {
		c.at++
		s.followCut(found, node, c)
		return
	}
	text := string(s.lower(t))
	step := func(next int32, short bool) {
		behind := c.past(len(text), short)
		if sense := l.senses[next]; sense != nil && behind.isName() && sense.family != "" && !sense.none && !sense.not {
			found.take(sense, behind.at)
		}
		if len(l.edges[next]) > 0 {
			s.followCut(found, next, behind)
		}
	}
	if next := l.next(node, t.id, false); t.id != 0 && next != 0 {
		step(next, false)
	}
	if !s.stopped(c.at) {
		return
	}
	if node == 0 {
		for _, w := range l.leads[text[0]] {
			if shortFor(l.texts[w], text) {
				step(l.firsts[w], true)
			}
		}
		return
	}
	for _, e := range l.edges[node] {
		if !e.glued && shortFor(l.texts[e.word], text) {
			step(e.node, true)
		}
	}
}

// The fewest letters of the longest word of a name that is cut, and of a word of which some are left out within.
const (
	fewestOfCut         = 3
	fewestOfContraction = 4
)

// shortFor reports whether a list may write a word so short: its beginning, or letters of it in their order from the
// first to the last, "leitg." for "leitung".
func shortFor(word, cut string) bool {
	if len(cut) >= len(word) {
		return false
	}
	if strings.HasPrefix(word, cut) {
		return true
	}
	if len(cut) < fewestOfContraction || word[:2] != cut[:2] || word[len(word)-1] != cut[len(cut)-1] {
		return false
	}
	k := 0
	for j := 0; j < len(word) && k < len(cut); j++ {
		if word[j] == cut[k] {
			k++
		}
	}
	return k == len(cut)
}

// joinCompounds makes one word of a compound that is cut within: "Br.leitg.", "Kett.beschermer", "Stsz.-Lager".
func (s *scratch) joinCompounds() {
	for i := 0; i+2 < len(s.tokens); i++ {
		if s.tokens[i].kind != word || !s.stopped(i) || s.tokens[i].norm[1]-s.tokens[i].norm[0] < shortestOfFirst {
			continue
		}
		j := i + 2
		if s.tokens[j].kind == mark && s.tokens[j].mark == '-' && s.tokens[j].glued && j+1 < len(s.tokens) {
			j++
		}
		if s.tokens[j].kind != word || !s.tokens[j].glued {
			continue
		}
		if id := base().near.cutWithin(string(s.lower(&s.tokens[i])), string(s.lower(&s.tokens[j])), s.stopped(j)); id != 0 {
			s.tokens[i].id, s.tokens[i].end, s.tokens[i].norm[1] = id, s.tokens[j].end, s.tokens[j].norm[1]
			s.tokens = append(s.tokens[:i+1], s.tokens[j+1:]...)
		}
	}
}

// cutWithin is the compound of which the first word begins so and the second is this, or begins so where a stop says
// it; 0 where there is none, or parts of several families.
func (n *near) cutWithin(first, head string, stopped bool) int32 {
	var found *spelled
	for i := range n.pairs {
		p := &n.pairs[i]
		if !shortFor(p.first, first) || head != p.head && !(stopped && shortFor(p.head, head)) {
			continue
		}
		if found != nil && !found.sense.namesLike(p.whole.sense) {
			return 0
		}
		if found == nil {
			found = p.whole
		}
	}
	if found == nil {
		return 0
	}
	return found.id
}
