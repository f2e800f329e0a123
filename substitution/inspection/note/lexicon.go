package note

import (
	"embed"
	"fmt"
	"strings"
	"sync"
)

// The words, one table a family and a few for what is said of any part. A line is a meaning, a colon, and the phrases that
// mean it, longest first when the note is read:
//
//	place crank.outer-ring: big ring          one place of the bike
//	place *.tyre: tyre                        a place at either end; the note says which
//	places *.tyre two: tyres                  a plural; every bike has two of them
//	set *.pads *.rim-pads record: pads        a plural word for one place; the record decides which
//	no place: brake lever                     a thing without a place of its own
//	action replace: shot                      what is to be done, said after the part
//	verb replace: renew                       the same, said before or after it
//	noun clean: service, cleaning             the same, after "needs"
//	done replace: replaced                    done already, unless "needs" or "to be" stands before it
//	reading feel=rough: gritty                a reading, of the families that have it
//	fact colour=black: black                  a dimension of what is fitted
//	mod front: front, fr                      an end, side or level
//	void: worn, squeals                       understood, and neither reading nor action
//	hedge: might                              and the other ways of not saying that it is so
//	number 20: twenty                         a figure in words
//	unit mm: mil                              after a figure
//	measure width_mm: wide                    what a figure before or after it is of
//	like tyre: tire                           another spelling of one word
//	itself: gripping                          no slip of the keys for "ripping"
//	mark stop: full stop                      a mark that is said aloud
//	bike: hybrid, brake job                   what stands at the head of a note
//	filler: the, is
//
// {a|b} in a phrase stands for either; {a|} for a or nothing.
//
//go:embed words/*.txt
var tables embed.FS

// lexicon finds the longest phrase that begins at a token.
type lexicon struct {
	base   *lexicon         // the trade's, under a shop's own
	next   []map[string]int // a tree of phrases: from a node, a word leads on
	senses []*sense         // by node; nil where no phrase ends
	like   map[string]string
	short  map[string]string // a word without its vowels, by what is left; "" where two words of one initial are left alike
	near   map[string]string // a word with one letter lost, by what is left; "" where two words are left alike
	words  map[string]bool
	named  map[string]bool // those in the names of parts
}

func newLexicon() *lexicon {
	return &lexicon{next: []map[string]int{{}}, senses: []*sense{nil}, like: map[string]string{}, near: map[string]string{}, short: map[string]string{}, words: map[string]bool{}, named: map[string]bool{}}
}

// trade is the trade's own lexicon, made when it is first needed.
var trade = sync.OnceValue(func() *lexicon {
	l := newLexicon()
	files, err := tables.ReadDir("words")
	if err != nil {
		panic(err)
	}
	for _, f := range files {
		text, err := tables.ReadFile("words/" + f.Name())
		if err != nil {
			panic(err)
		}
		if err := l.readTable(string(text)); err != nil {
			panic("words/" + f.Name() + ": " + err.Error())
		}
	}
	l.findNear()
	l.findShort()
	return l
})

func (l *lexicon) readTable(text string) error {
	for i, line := range strings.Split(text, "\n") {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		meaning, phrases, ok := strings.Cut(line, ": ")
		if !ok {
			return fmt.Errorf("line %d has no colon: %q", i+1, line)
		}
		for phrase := range strings.SplitSeq(phrases, ", ") {
			for _, one := range expand(strings.TrimSpace(phrase)) {
				if err := l.add(one, meaning); err != nil {
					return fmt.Errorf("line %d: %q: %w", i+1, one, err)
				}
			}
		}
	}
	return nil
}

// expand writes out {a|b}.
func expand(phrase string) []string {
	open := strings.IndexByte(phrase, '{')
	if open < 0 {
		return []string{strings.Join(strings.Fields(phrase), " ")}
	}
	length := strings.IndexByte(phrase[open:], '}')
	var out []string
	for choice := range strings.SplitSeq(phrase[open+1:open+length], "|") {
		out = append(out, expand(phrase[:open]+choice+phrase[open+length+1:])...)
	}
	return out
}

// add gives a phrase one more meaning.
func (l *lexicon) add(phrase, meaning string) error {
	kind, rest, _ := strings.Cut(meaning, " ")
	switch kind {
	case "like":
		l.like[phrase] = rest
		return nil
	case "itself":
		l.like[phrase] = phrase
		return nil
	}
	node := l.grow(phrase)
	if node == 0 {
		return fmt.Errorf("%q holds no word", phrase)
	}
	if l.senses[node] == nil {
		l.senses[node] = &sense{}
	}
	if kind == "place" || kind == "places" || kind == "set" {
		for _, t := range tokens(phrase) {
			l.named[t.text] = true
		}
	}
	return l.senses[node].mean(meaning, kind, rest)
}

// grow makes the way to a phrase and gives its end.
func (l *lexicon) grow(phrase string) int {
	words := tokens(phrase)
	if phrase[0] == '\'' {
		words = []token{{text: phrase}} // what is left of "it's"
	}
	return l.growTokens(words)
}

// growTokens makes the way along the words of a phrase.
func (l *lexicon) growTokens(words []token) int {
	node := 0
	for _, t := range words {
		if t.text == "-" {
			continue
		}
		to, ok := l.next[node][t.text]
		if !ok {
			to = len(l.next)
			l.next, l.senses = append(l.next, map[string]int{}), append(l.senses, nil)
			l.next[node][t.text] = to
		}
		l.words[t.text] = true
		node = to
	}
	return node
}

// phrase is what a phrase of the tables means.
func (l *lexicon) phrase(text string) *sense {
	s, _ := l.find(tokens(text), 0)
	return s
}

// find is the longest phrase at token i, and the token after it. A shop's own comes before the trade's.
func (l *lexicon) find(ts []token, i int) (*sense, int) {
	s, end := l.longest(ts, i)
	if l.base != nil {
		if known, to := l.base.find(ts, i); s == nil || to > end {
			return known, to
		}
	}
	return s, end
}

func (l *lexicon) longest(ts []token, i int) (*sense, int) {
	var best *sense
	end := i + 1
	node := 0
	for j := i; j < len(ts) && j < i+12; j++ {
		t := ts[j]
		if t.mark && j > i && t.glued && j+1 < len(ts) && ts[j+1].glued && (t.text == "-" || t.text == "/" && ts[j+1].text == "h") {
			continue
		}
		to, ok := l.next[node][l.spelt(t.text)]
		if !ok {
			to, ok = l.next[node][t.text]
		}
		if !ok {
			break
		}
		node = to
		if s := l.senses[node]; s != nil {
			best, end = s, j+1
		}
	}
	return best, end
}
