package note

import (
	"strconv"
	"strings"

	"stead/substitution"
	"stead/substitution/inspection"
)

// parser reads one note.
type parser struct {
	l      *lexicon
	tongue *tongue // the language of the note; nil for ours
	text   string
	tokens []token
	items  []item
	record substitution.Build

	reach
	subject    *nounPhrase // the part that was named last, for "it", "the rear one", "the same"
	subjects   []resolved  // what it means, or all of a list; none if that is open
	ofSubjects []*nounPhrase
	several    bool
	far        bool        // it was named in an aside: only a pronoun goes back to it
	told       bool        // the aside was another's words: "front is fine" answers them
	earlier    []paired    // the parts that the sentence before those names
	pairs      [2][]paired // the parts that this sentence and the one before it name, for "both"
	statements []*statement
	asks       []Ask
	childSeat  bool              // one is named in the note
	last       *statement        // what a correction corrects
	spared     inspection.Action // what the part before needs not: "the cassette doesn't need replacing, the chain does"
	begunLast  int               // and before the one before it
	begun      int               // how many statements there were before the sentence at hand
	stray      []bool            // by segment: a word that was not understood stands after its part
	doubted    []bool            // by segment of the sentence: its part is only guessed at
	answers    bool              // the sentence before was a question
	corrects   bool              // the sentence at hand has corrected something
	taken      bool              // the sentence before was only a word of correction
	read       []bool            // by token: it stands in the words of a claim
}

// reach is what was said of where things are, as far as it still holds.
type reach struct {
	carried      mod // the end that was said and still holds
	carriedSpans []span
	carriedBy    *head              // the part with which it was said; nil for a wheel or the end alone
	house        substitution.Place // the hub, headset or bottom bracket of which was said something
	houseSpans   []span
	wheel        bool                 // a wheel was named last: bearings are its hub's
	brake        bool                 // a brake stands before a colon: what follows is of it
	gears        bool                 // the gears stand before a colon, likewise
	named        []substitution.Place // the places that were named last
}

// itemize finds the phrases of the note.
func (p *parser) itemize() {
	p.tokens, p.tongue = p.l.heardIn(p.text)
	p.items = make([]item, 0, len(p.tokens))
	for i := 0; i < len(p.tokens); {
		t := p.tokens[i]
		it := item{first: i, last: i + 1, text: t.text, figure: t.figure, glued: t.glued}
		s, end := p.phraseAt(i)
		switch {
		case s != nil && s.mark != noSep:
			it.s, it.last, it.sep = nil, end, s.mark
		case s != nil && (!t.figure || end > i+1):
			it.s, it.last = s, end
			p.childSeat = p.childSeat || s.head != nil && s.head.family == "child-seat"
			it.figure = false
			it.text = p.phrase(i, end)
		case t.figure:
			it.value, _ = strconv.ParseFloat(pointed(t.text), 64)
			it.text = pointed(t.text)
		case t.mark:
			it.sep = p.separator(i)
			if t.text == "." && p.leader(i) {
				it.sep = colon // "chain ....... 0.9"
			}
		}
		i = it.last
		p.items = append(p.items, it)
	}
}

func pointed(text string) string {
	b := []byte(text)
	for i := range b {
		if b[i] == ',' {
			b[i] = '.'
		}
	}
	return string(b)
}

// phrase is the text of a phrase, its words in the tables' spelling.
func (p *parser) phrase(i, end int) string {
	text := p.l.spelt(p.tokens[i].text)
	for _, t := range p.tokens[i+1 : end] {
		if t.text != "-" {
			text += " " + t.text
		}
	}
	return text
}

// abbreviated are words after which a full stop ends no sentence.
var abbreviated = map[string]bool{"min": true, "approx": true, "dia": true, "fr": true, "rr": true, "frt": true, "lh": true, "rh": true, "cass": true, "btm": true, "prob": true}

func (p *parser) separator(i int) separator {
	switch t := p.tokens[i]; t.text {
	case ".":
		if i > 0 && t.glued && abbreviated[p.tokens[i-1].text] && i+1 < len(p.tokens) && p.tokens[i+1].text != "\n" {
			return joint
		}
		return stop
	case ";", "!", "\n", "…":
		return stop
	case "?":
		return asking
	case ":":
		return colon
	case "-", "/":
		if p.joins(i) {
			return joint
		}
	case "'", "’", "‘", "`", "“", "”":
		return joint
	}
	return comma
}

// joins reports a hyphen inside a word, and a slash inside a fraction or after a single letter, "r/h shifter", "f/brake".
func (p *parser) joins(i int) bool {
	t := p.tokens[i]
	if i == 0 || !t.glued || i+1 >= len(p.tokens) || !p.tokens[i+1].glued {
		return false
	}
	before := p.tokens[i-1]
	return t.text == "-" || before.figure || len(before.text) == 1 && strings.Contains("frl", before.text)
}

// run reads the note sentence by sentence.
func (p *parser) run() {
	p.itemize()
	p.layout()
	p.read = make([]bool, len(p.tokens))
	from := p.pastBike(0)
	for i := from; i <= len(p.items); i++ {
		if i == len(p.items) || p.items[i].sep >= stop {
			if i > from {
				p.brake, p.gears = false, false
				if len(p.pairs[1]) > 0 {
					p.earlier, p.pairs = p.pairs[0], [2][]paired{p.pairs[1], nil}
				}
				asked := i < len(p.items) && p.items[i].sep == asking
				if asked && p.asksBack(from) {
					p.taken = true
				} else {
					p.sentence(from, i, asked)
					p.answers = asked
				}
			}
			if from = i + 1; len(p.statements) == 0 {
				from = p.pastBike(from)
				i = max(i, from-1)
			}
		}
	}
}
