package note

import (
	"strconv"

	"stead/substitution"
)

// parser reads one note.
type parser struct {
	l      *lexicon
	text   string
	tokens []token
	items  []item
	record substitution.Build

	carried      mod // the end that was said and still holds
	carriedSpans []span
	house        substitution.Place // the hub, headset or bottom bracket of which was said something
	houseSpans   []span
	subject      *nounPhrase // the part that was named last, for "it", "the rear one", "the same"
	subjects     []resolved  // what it means; none if that is open
	several      bool
	wheel        bool                 // a wheel was named last: bearings are its hub's
	brake        bool                 // a brake stands before a colon: what follows is of it
	named        []substitution.Place // the places that were named last
	statements   []*statement
	asks         []Ask
	last         *statement // what a correction corrects
	read         []bool     // by token: it stands in the words of a claim
}

// itemize finds the phrases of the note.
func (p *parser) itemize() {
	p.tokens = tokens(p.text)
	p.items = make([]item, 0, len(p.tokens))
	for i := 0; i < len(p.tokens); {
		t := p.tokens[i]
		it := item{first: i, last: i + 1, text: t.text, figure: t.figure, glued: t.glued}
		s, end := p.l.find(p.tokens, i)
		switch {
		case s != nil && (!t.figure || end > i+1):
			it.s, it.last = s, end
			it.figure = false
			it.text = p.phrase(i, end)
		case t.figure:
			it.value, _ = strconv.ParseFloat(pointed(t.text), 64)
			it.text = pointed(t.text)
		case t.mark:
			it.sep = p.separator(i)
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
	t := p.tokens[i]
	tight := t.glued && i+1 < len(p.tokens) && p.tokens[i+1].glued
	switch t.text {
	case ".":
		if i > 0 && t.glued && abbreviated[p.tokens[i-1].text] && i+1 < len(p.tokens) && p.tokens[i+1].text != "\n" {
			return joint
		}
		return stop
	case ";", "!", "\n":
		return stop
	case "?":
		return asking
	case ":":
		return colon
	case "-", "/":
		if tight && (t.text == "-" || p.tokens[i-1].figure) {
			return joint
		}
		if t.text == "/" && i > 0 && i+1 < len(p.tokens) && p.tokens[i-1].figure && p.tokens[i+1].figure && tight {
			return joint
		}
		return comma
	case ",", "(", ")", "–", "—", "/ ", "[", "]", "*", "•", "|", "=":
		return comma
	case "'", "’", "‘", "`", "“", "”":
		return joint
	}
	return comma
}

// run reads the note sentence by sentence.
func (p *parser) run() {
	p.itemize()
	p.read = make([]bool, len(p.tokens))
	from := 0
	for i := 0; i <= len(p.items); i++ {
		if i == len(p.items) || p.items[i].sep >= stop {
			if i > from {
				p.brake = false
				p.sentence(from, i, i < len(p.items) && p.items[i].sep == asking)
			}
			from = i + 1
		}
	}
}
