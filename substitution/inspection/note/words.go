package note

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"stead/substitution"
)

// Words are a shop's own words and what each means: a place ("donk": "bottom-bracket"), a phrase that the trade's tables
// know ("clarty": "gritty"), or "ignore". They come before the trade's own meaning.
type Words map[string]string

// NewReader makes a reader that knows a shop's own words beside the trade's. A word without a clear meaning is an error
// that names it.
func NewReader(words Words) (*Reader, error) {
	l := newLexicon()
	l.base = trade()
	for _, word := range slices.Sorted(maps.Keys(words)) {
		if err := l.addOwn(word, strings.ToLower(strings.TrimSpace(words[word]))); err != nil {
			return nil, err
		}
	}
	return &Reader{l}, nil
}

func (l *lexicon) addOwn(word, meaning string) error {
	word = strings.ToLower(strings.Join(strings.Fields(word), " "))
	if len(tokens(word)) == 0 {
		return fmt.Errorf("a word is needed before its meaning %q", meaning)
	}
	if meaning == "ignore" {
		return l.add(word, "filler")
	}
	if site, err := substitution.SiteOf(substitution.Place(meaning)); err == nil {
		return l.add(word, "place "+string(site.Place))
	}
	ts := tokens(meaning)
	s, end := l.base.find(ts, 0)
	if s == nil || end != len(ts) {
		return fmt.Errorf("%q is no meaning for %q: give a place, a phrase that is known, such as gritty or big ring, or ignore", meaning, word)
	}
	node := l.grow(word)
	l.senses[node] = s
	return nil
}

// Ask is a question about words that were handed back: which part is meant.
type Ask struct {
	Words    string `json:"words"`
	Question string `json:"question"`
}

// ask keeps the question which of several places a part is.
func (p *parser) ask(n *nounPhrase) {
	if n.head == nil || len(n.spans) == 0 {
		return
	}
	places := within(n.head.places, p.letters(n))
	if len(places) < 2 {
		return
	}
	first, last := n.spans[0], n.spans[len(n.spans)-1]
	words := p.text[p.tokens[p.items[first.first].first].start:p.tokens[p.items[last.last-1].last-1].end]
	p.asks = append(p.asks, Ask{words, askWhich(places, n.mod&ends != 0)})
}

// askWhich asks for what tells places apart: the kind of part, else the end, else the place itself.
func askWhich(places []substitution.Place, endSaid bool) string {
	kinds := families(places)
	switch {
	case slices.Contains(kinds, "rim-pad"):
		if endSaid || !bothEnds(places) {
			return "rim or disc?"
		}
		return "rim or disc, front or rear?"
	case len(kinds) > 1:
		words := make([]string, len(kinds))
		for i, k := range kinds {
			words[i] = strings.ReplaceAll(string(k), "-", " ")
		}
		return orList(words)
	case bothEnds(places) && !severalAtAnEnd(places):
		return "front or rear?"
	}
	var words []string
	for _, place := range places {
		if site, err := substitution.SiteOf(place); err == nil && len(words) < 4 {
			words = append(words, site.Words)
		}
	}
	return orList(words)
}

func orList(words []string) string {
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last] + "?"
}
