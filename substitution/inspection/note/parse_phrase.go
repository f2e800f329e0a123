package note

// phraseAt is the longest phrase at token i, and the token after it, but a shorter one where the longer would take what
// is not its own.
func (p *parser) phraseAt(i int) (*sense, int) {
	s, end := p.l.find(p.tokens, i)
	for _, limit := range shorter {
		if to := limit(p, s, i, end); to > i {
			return p.l.find(p.tokens[:to], i)
		}
	}
	if p.tokens[i].text == "behind" && p.beforeThing(i+1) {
		return nil, i + 1 // "the bike behind it"
	}
	return s, end
}

// shorter are the limits of a phrase from token i to end: each gives the token before which it has to end, or 0.
var shorter = []func(p *parser, s *sense, i, end int) int{
	(*parser).notToMark, (*parser).beforePart, (*parser).afterPart, (*parser).halfOfMore, (*parser).beforeStays, (*parser).andABit,
}

// notToMark: "no damage to the bars" is not at the wear bars.
func (p *parser) notToMark(s *sense, i, end int) int {
	k := len(p.items)
	if s == nil || s.reading != "worn_to_mark" || k == 0 || p.items[k-1].s == nil || p.items[k-1].s.reading == "" || !beginsAt(p.phrase(i, end)) {
		return 0
	}
	return i + 1
}

// beforePart: "near the bottom" of "near the bottom bracket".
func (p *parser) beforePart(s *sense, i, end int) int {
	if s.is(filler) && end > i+2 && p.namesFrom(end-1, end) {
		return end - 1
	}
	return 0
}

// afterPart: in "handlebar clamp is 31.8" the handlebar is named.
func (p *parser) afterPart(s *sense, i, end int) int {
	if s == nil || s.head != nil || len(s.measures) == 0 || end < i+2 || !p.opensHere() {
		return 0
	}
	if named, _ := p.l.find(p.tokens[:end-1], i); named != nil && named.head != nil {
		return end - 1
	}
	return 0
}

// halfOfMore: "half left" after "a mil and a".
func (p *parser) halfOfMore(s *sense, i, end int) int {
	k := len(p.items)
	if s.is(bound) && end > i+1 && p.tokens[i].text == "half" && k > 1 && p.items[k-1].text == "a" && p.items[k-2].text == "and" {
		return i + 1
	}
	return 0
}

// beforeStays: "the chain stays" names no stay of the frame.
func (p *parser) beforeStays(s *sense, i, end int) int {
	if s != nil && s.noPlace && end == i+2 && p.tokens[i+1].text == "stays" && p.staysOn(end) {
		return i + 1
	}
	return 0
}

// andABit: "rough and a bit of play" is no figure and a bit.
func (p *parser) andABit(s *sense, i, end int) int {
	if s.is(bound) && p.tokens[i].text == "and" && end < len(p.tokens) && !p.tokens[end].mark {
		return i + 1
	}
	return 0
}

// staysOn reports that before token i a part is said to stay, and no stay of the frame is named.
func (p *parser) staysOn(i int) bool {
	if i >= len(p.tokens) || p.tokens[i].mark {
		return true
	}
	switch p.tokens[i].text {
	case "on", "put", "as", "for", "but":
		return true
	case "and":
		return i+1 < len(p.tokens) && determiner(p.tokens[i+1].text)
	}
	return false
}

// beforeThing reports that token i begins what something is behind: "it", "the stem".
func (p *parser) beforeThing(i int) bool {
	if i >= len(p.tokens) {
		return false
	}
	switch t := p.tokens[i].text; t {
	case "it", "them", "him", "her", "us", "me", "you", "my", "his", "one":
		return true
	default:
		return determiner(t)
	}
}

// opensHere reports that nothing was said since the last mark but small words.
func (p *parser) opensHere() bool {
	for k := len(p.items) - 1; k >= 0 && p.items[k].sep == noSep; k-- {
		if s := p.items[k].s; !s.is(filler) && !s.is(and) {
			return false
		}
	}
	return true
}

// namesFrom reports that the word at token i begins a part's name that goes beyond token end.
func (p *parser) namesFrom(i, end int) bool {
	s, to := p.l.find(p.tokens, i)
	return to > end && s != nil && s.head != nil
}

// leader reports a point of the row that leads from a word to what is said of it.
func (p *parser) leader(i int) bool {
	from, to := i, i
	for from > 0 && p.tokens[from-1].text == "." {
		from--
	}
	for to+1 < len(p.tokens) && p.tokens[to+1].text == "." {
		to++
	}
	return to-from+1 >= leastLeader
}

// leastLeader is how many points in a row lead on; three end a sentence.
const leastLeader = 4
