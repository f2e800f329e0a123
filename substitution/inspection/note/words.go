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

// Ask is a question about words that were handed back: which part is meant, or how much.
type Ask struct {
	Words    string   `json:"words"`
	Question string   `json:"question"`
	Says     []Saying `json:"-"`
}

// Saying is an answer to a question: what is said in the place of the words that were handed back.
type Saying struct {
	Words string
	Place substitution.Place // where the part would be; empty where that is known, or it is several
	Reads bool               // then the note is read: see [Reader.ReadAsking]
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
	p.asks = append(p.asks, Ask{p.wordsOfPart(n), askWhich(places, n.mod&ends != 0), n.mostly(places)})
}

// mostly are the names of places in the place of a part of which it is open where it is; where it may be several, both ends
// of each kind first.
func (n *nounPhrase) mostly(places []substitution.Place) (says []Saying) {
	if n.mod&ends == 0 && (n.head.many || n.head.set || n.every) && bothEnds(places) {
		for _, at := range places {
			if one, ok := strings.CutPrefix(nameOf(at), "front "); ok && slices.ContainsFunc(places, func(q substitution.Place) bool { return nameOf(q) == "rear "+one }) {
				says = append(says, Saying{Words: "front and rear " + one})
			}
		}
	}
	for _, at := range places {
		says = append(says, Saying{Words: nameOf(at), Place: at})
	}
	return says
}

// nameOf is a place as the reader takes it for that one.
func nameOf(place substitution.Place) string {
	site, err := substitution.SiteOf(place)
	switch {
	case err != nil:
		return string(place)
	case site.Family == "disc-pad":
		return strings.Replace(site.Words, "brake pads", "disc pads", 1)
	}
	return site.Words
}

// ReadAsking reads a note as [Reader.Read] does, for somebody who can be asked: each answer of a question is tried, and told
// whether with it more would be read.
func (r *Reader) ReadAsking(text string, record substitution.Build) Reading {
	out := r.Read(text, record)
	for _, ask := range out.Asks {
		for i, say := range ask.Says {
			then := r.Read(ask.Answered(text, say), record)
			ask.Says[i].Reads = len(then.Asks) < len(out.Asks) && len(then.Findings)+len(then.Fitted) > len(out.Findings)+len(out.Fitted)
		}
	}
	out.Asks = append(out.Asks, r.meant(text, record, out)...)
	return out
}

// Answered is a note with an answer in the place of the words that were handed back.
func (a Ask) Answered(text string, say Saying) string {
	return strings.Replace(text, a.Words, say.Words, 1)
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
