package note

import (
	"strings"

	"stead/substitution"
)

// meant are the questions whether a stretch that was handed back is meant as it reads without its words of no table. It is
// asked, and never kept by itself, for such a word may be anything; where it may be a part of a part's name, "saddle clamp
// shot", or turns what is said, nothing is asked.
func (r *Reader) meant(text string, record substitution.Build, out Reading) (asks []Ask) {
	for _, words := range out.Unread {
		plain, ok := r.withoutStrange(words)
		if !ok || strings.Count(text, words) != 1 {
			continue
		}
		ask := Ask{Words: words, Question: "meant as “" + plain + "”?", Says: []Saying{{Words: plain, Reads: true}}}
		alone := r.Read(plain, record)
		then := r.Read(ask.Answered(text, ask.Says[0]), record)
		if len(alone.Findings) == 1 && len(alone.Asks)+len(alone.Unread) == 0 && len(then.Findings) > len(out.Findings) && len(then.Unread) < len(out.Unread) {
			asks = append(asks, ask)
		}
	}
	return asks
}

// withoutStrange is a stretch of a note without its words of no table; false where it has none, or one of them may change
// what the others say.
func (r *Reader) withoutStrange(words string) (string, bool) {
	p := &parser{l: r.l, text: words}
	p.itemize()
	var kept []string
	from := 0
	for i, it := range p.items {
		if it.s != nil || it.figure || it.sep != noSep || adverb(it.text) || determiner(it.text) {
			continue
		}
		if !p.strangeAt(i) || turning[it.text] && it.text != strangeWord || p.besidePart(i) {
			return "", false
		}
		kept = append(kept, words[from:p.tokens[it.first].start])
		from = p.tokens[it.last-1].end
	}
	if from == 0 {
		return "", false
	}
	return strings.Join(strings.Fields(strings.Join(append(kept, words[from:]), " ")), " "), true
}

// besidePart reports that a part is named right before or right after an item.
func (p *parser) besidePart(i int) bool {
	for _, k := range []int{i - 1, i + 1} {
		if s := p.at(k).s; s != nil && (s.head != nil || s.noPlace) {
			return true
		}
	}
	return false
}
