package note

import "stead/substitution/inspection"

// layout reads how a note is laid out: "1)" before a line says nothing, and a list under a heading is one list, whether
// its lines are parted by semicolons or line by line.
func (p *parser) layout() {
	depth := 0
	for i := range p.items {
		switch it := &p.items[i]; {
		case it.text == "(":
			depth++
		case it.text == ")":
			depth = max(0, depth-1)
		case depth == 0 && p.numbersLine(i):
			it.s, it.figure, it.sep = nil, false, stop
			p.items[i+1].sep = stop
		}
	}
	p.numbersAloud()
	p.twosHeard()
	p.barExcepts()
	p.slashes()
	p.stopsAloud()
	p.commasAloud()
	for i := 0; i < len(p.items); {
		i = p.listUnder(i)
	}
	p.pauses()
}

// slashes parts a line of entries, "CHAIN - OK / HUB - ROUGH / …": two or more that stand free are the ends of sentences.
func (p *parser) slashes() {
	var at []int
	for i := range p.items {
		if it := p.items[i]; it.text == "/" && it.sep == comma && !it.glued && !p.at(i+1).glued {
			at = append(at, i)
		}
	}
	for _, i := range at {
		if len(at) > 1 {
			p.items[i].sep = stop
		}
	}
}

// stopsAloud parts the sentences of a telegram: "stem cracked STOP bars ok STOP".
func (p *parser) stopsAloud() {
	var at []int
	for i := range p.items {
		if it := p.items[i]; it.text == "stop" && it.s == nil && !determiner(p.at(i-1).text) {
			at = append(at, i)
		}
	}
	for _, i := range at {
		if len(at) > 1 {
			p.items[i].sep = stop
		}
	}
}

// commasAloud makes of the comma between two figures what it is where numbers are said with one: "one comma seven" is 1.7.
func (p *parser) commasAloud() {
	for i := range p.items {
		if it := p.items[i]; it.text == "comma" && (p.class(i-1) == ones || p.class(i-1) == oh) && (p.class(i+1) == ones || p.class(i+1) == oh) {
			p.items[i].s, p.items[i].sep = p.l.phrase("point"), noSep
		}
	}
}

// barExcepts makes of the bar of "all good bar a cut in the tyre" what excepts.
func (p *parser) barExcepts() {
	for i := range p.items {
		if before := p.at(i - 1).s; p.items[i].text == "bar" && before != nil && before.action == inspection.Keep && determiner(p.at(i+1).text) {
			p.items[i].s = p.l.phrase("except")
		}
	}
}

// twosHeard makes of a "to" the two that was said: "the pads are to point one", "to broken spokes".
func (p *parser) twosHeard() {
	for i := range p.items {
		if p.items[i].text != "to" {
			continue
		}
		next, after := p.at(i+1).s, p.at(i+2).s
		counts := next != nil && (next.reading == "damaged" || next.is(fresh)) && after != nil && after.head != nil && after.head.many
		begins := p.at(i-1).sep > joint
		part := p.at(i + 1)
		ofPoint := part.figure && part.value < 1 && part.value > 0
		switch said := figured[p.at(i-1).text] && (p.class(i+1) == point || ofPoint); {
		case said && p.at(i-2).s != nil && p.at(i-2).s.head != nil && p.at(i-2).s.head.family == "chain":
			p.items[i].s = nil // no chain is stretched so far: which figure was meant is open
		case said && ofPoint:
			p.items[i+1].value += 2 // "to .1"
			p.items[i+1].text = figure(p.items[i+1].value)
		case said, begins && counts:
			p.items[i].s = p.l.phrase("two")
		}
	}
}

// figured are the words after which a figure stands, and no "to".
var figured = map[string]bool{"is": true, "are": true, "'s": true, "'re": true, "at": true, "measure": true, "measures": true, "read": true, "reads": true}

// leastNumbered is how many numbers in their order make a list of what stands between them.
const leastNumbered = 3

// numbersAloud parts a list whose entries are numbered one after another in one line: "1 new chain 2 adjust headset 3 …".
func (p *parser) numbersAloud() {
	var at []int
	for i := range p.items {
		it := p.items[i]
		first := i == 0 || p.at(i-1).sep >= colon || p.at(i-1).text == "number"
		if (it.figure || p.class(i) != noNumber) && p.numberAt(i) == float64(len(at)+1) && (len(at) > 0 || first) && !p.startsNumber(i+1) && p.at(i+1).sep <= comma && p.opensEntry(i+1) {
			at = append(at, i)
		}
	}
	if len(at) < leastNumbered {
		return
	}
	for _, i := range at {
		p.items[i].s, p.items[i].figure, p.items[i].sep = nil, false, stop
		if p.at(i-1).text == "number" {
			p.items[i-1].s, p.items[i-1].sep = nil, stop
		}
	}
}

// numberAt is the whole number at item i.
func (p *parser) numberAt(i int) float64 {
	if it := p.at(i); it.figure {
		return it.value
	}
	return p.at(i).s.number
}

// opensEntry reports that a verb or a part begins there, so that the number before it counts the entries.
func (p *parser) opensEntry(i int) bool {
	if p.at(i).sep == comma {
		i++
	}
	s := p.at(i).s
	return determiner(p.at(i).text) || s != nil && s.unit == "" && (s.head != nil && !s.head.many || s.mod != 0 || s.is(fresh) || s.form&verb != 0)
}

// mostLines is how many numbered lines a note may have.
const mostLines = 30

// numbersLine reports "1)" or, at the head of a line, "1.".
func (p *parser) numbersLine(i int) bool {
	it, mark := p.at(i), p.at(i+1)
	letter := len(it.text) == 1 && it.text[0] >= 'a' && it.text[0] <= 'h' && mark.text == ")"
	if !letter && (!it.figure || it.value < 1 || it.value > mostLines || it.value != float64(int(it.value))) || !mark.glued {
		return false
	}
	head := i == 0 || p.at(i-1).text == "\n"
	after := p.at(i + 2)
	return mark.text == ")" && !it.glued || mark.text == "." && head && !after.figure && after.sep < stop
}

// listUnder makes one list of what stands under the heading at item i, such as "Replace:", and gives where the next
// sentence begins.
func (p *parser) listUnder(i int) int {
	end := p.sentenceEnd(i)
	j, ok := p.heading(i, end)
	switch {
	case !ok:
		return end + 1
	case j == end && p.onlyParts(end+1):
		p.items[end].sep = colon // a heading that fills its line
		end = p.sentenceEnd(end + 1)
	case !p.onlyParts(j+1) && j+1 < end:
		return end + 1
	case j < end && dash(p.at(j).text):
		p.items[j].sep = colon // "OK - headset, both hubs"
	}
	for p.parts(end) && p.onlyParts(end+1) {
		p.items[end].sep = comma
		end = p.sentenceEnd(end + 1)
	}
	return end + 1
}

func dash(text string) bool { return text == "-" || text == "–" || text == "—" }

// heading reports that from item i on it is only said what is to be done, up to a mark or the end of the line.
func (p *parser) heading(i, end int) (j int, ok bool) {
	for j = i; j < end && p.at(j).sep == noSep; j++ {
		s := p.at(j).s
		switch {
		case s == nil || s.head != nil || s.noPlace || s.mod != 0:
			return j, false
		case s.action != "" || s.is(want) || s.is(fresh):
			ok = true
		case !s.is(filler) && !s.is(toBe) && !s.is(copula) && !s.is(and):
			return j, false
		}
	}
	if j == end {
		return j, ok && p.at(end).text == "\n"
	}
	return j, ok && p.at(j).sep != joint
}

// parts reports a semicolon or the end of a line, which may part a list.
func (p *parser) parts(i int) bool { return p.at(i).text == ";" || p.at(i).text == "\n" }

func (p *parser) sentenceEnd(i int) int {
	for i < len(p.items) && p.items[i].sep < stop {
		i++
	}
	return i
}

// onlyParts reports that nothing but parts is named up to the end of the sentence that begins at item i.
func (p *parser) onlyParts(i int) bool {
	named := false
	for ; i < len(p.items) && p.items[i].sep < stop; i++ {
		it := p.items[i]
		s := it.s
		switch {
		case it.sep == colon:
			return false
		case it.sep != noSep:
		case s == nil:
			return false
		case s.head != nil:
			named = true
		case s.noPlace, s.mod != 0, s.is(quant), s.is(every), s.is(and), s.is(wheel), s.is(fresh), len(s.facts) > 0, determiner(it.text):
		default:
			return false
		}
	}
	return named
}
