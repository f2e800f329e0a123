package describe

import (
	"math"
	"slices"
	"strings"
)

// An item is a figure with its unit, a phrase that the lexicon knows, a joint between figures, or something unknown.
type itemKind uint8

const (
	figure itemKind = iota + 1
	phrase
	joint
	unknown
)

// item is what the grammars read.
type item struct {
	kind        itemKind
	joint       byte // x / - , > (to) & (and), and every other mark
	comma       bool // a figure written with a decimal comma
	thousands   bool // a mark and three digits, which part thousands where pieces are counted: "1,000 pcs"
	decimals    uint8
	clause      clause
	used        bool // read, or rightly left aside
	first, last int  // the tokens it spans
	figureEnd   int  // for a figure: the token after the digits, before the unit
	value       float64
	unit        unit
	sense       *sense // a phrase's; a figure's unit word's
}

// isWhole reports whether the item is a whole figure between the two.
func (it *item) isWhole(low, high float64) bool {
	return it.kind == figure && it.decimals == 0 && it.value >= low && it.value <= high
}

// isEquals reports whether the item says that its neighbours are one thing: a colon or an equals sign.
func (it *item) isEquals() bool { return it.kind == joint && (it.joint == ':' || it.joint == '=') }

// scratch is what reading one description needs; it is used again for the next.
type scratch struct {
	tokens   []token
	norm     []byte
	items    []item
	findings []finding
	unread   [][2]int
	key      []byte
	taken    spelledAs // what a word that is cut short is tried as
	named    int       // the item that names the family; -1 for none
	other    [2]int    // the items that say it is none of our parts, from and to; empty when none does
}

// scan makes items of the tokens.
func (r *Reader) scan(s *scratch) {
	s.items = s.items[:0]
	trade := base()
	for i := range s.tokens {
		t := &s.tokens[i]
		t.id = trade.id(s.lower(t))
	}
	s.joinCompounds()
	s.partCompounds()
	for i := range s.tokens {
		s.spellOut(i, false)
	}
	for i := range s.tokens {
		s.spellInPhrase(i)
	}
	for i := s.articleNumber(); i < len(s.tokens); {
		t := &s.tokens[i]
		sense, end := r.lookUp(s, i)
		if end <= i+1 && !s.isNamed() {
			if long, to := s.cutPhrase(i); long != nil {
				sense, end = long, to
			}
		}
		if s.closesWithPair(i) {
			sense, end = senseOf("pares"), i+1
		}
		if end > i+1 && (s.beginsWithUnit(sense, i) || s.hidesName(sense, end) || s.sellsThread(sense, end)) {
			sense, end = base().alone(t.id), i+1
		}
		switch {
		case t.kind == number && sense == nil:
			s.items = append(s.items, item{kind: figure, value: t.value, unit: none, decimals: t.decimals, comma: t.comma,
				thousands: t.decimals == 3 && (t.comma || t.value == math.Trunc(t.value)), first: i, last: i + 1, figureEnd: i + 1})
			s.takeUnitBefore(r, i+1)
			end = i + 1
		case s.isJoint(i, sense):
			s.items = append(s.items, item{kind: joint, joint: s.jointOf(t), first: i, last: i + 1})
			end = i + 1
		case sense != nil && sense.unit != 0 && s.attachUnit(sense, i, end):
		case sense != nil && sense.figure > 0:
			s.items = append(s.items, item{kind: figure, value: sense.figure, unit: none, first: i, last: end, figureEnd: end})
		case sense != nil:
			s.items = append(s.items, item{kind: phrase, sense: sense, first: i, last: end})
		case t.kind == mark:
			s.items = append(s.items, item{kind: joint, joint: t.mark, first: i, last: i + 1})
			end = i + 1
		case s.spellOut(i, true):
			end = i // look it up again, by the word that it is
		default:
			s.items = append(s.items, item{kind: unknown, first: i, last: i + 1})
			end = i + 1
		}
		i = end
	}
	s.markClauses()
}

// closesWithPair reports whether the word is the Spanish "par", a pair, and not the French "par", by: it is the last word, and
// stands behind a figure, its unit or a mark: "70 mm par", "(par)". A French line that is cut short ends in "serrage par".
func (s *scratch) closesWithPair(i int) bool {
	if string(s.lower(&s.tokens[i])) != "par" || len(s.items) == 0 {
		return false
	}
	for _, t := range s.tokens[i+1:] {
		if t.kind != mark {
			return false
		}
	}
	last := s.items[len(s.items)-1].kind
	return last == figure || last == joint
}

// hidesName reports whether a phrase that says nothing, for it is of a piece of the thing, is the first that could name
// the thing: "stainless bolt" in "bottle cage stainless bolt" is of its bolt, but a "stainless bolt M5x16" is one.
func (s *scratch) hidesName(phrase *sense, end int) bool {
	if !phrase.noise || phrase.none || phrase.family != "" || slices.ContainsFunc(s.items, func(it item) bool { return it.sense != nil && it.sense.namesThing() }) {
		return false
	}
	last := base().alone(s.tokens[end-1].id)
	return last != nil && last.family != "" && !isKind(last.family)
}

// beginsWithUnit reports whether the first letter of a phrase is written onto a figure as its unit, and the rest is
// not: "9V A SALDARE".
func (s *scratch) beginsWithUnit(phrase *sense, i int) bool {
	t := &s.tokens[i]
	if phrase.unit != 0 || !t.glued || i == 0 || s.tokens[i-1].kind != number || s.tokens[i+1].glued || t.norm[1]-t.norm[0] > 2 {
		return false
	}
	alone := base().alone(t.id)
	return alone != nil && alone.unit != 0
}

// lookUp finds the phrase at a token, the shop's own words before the trade's.
func (r *Reader) lookUp(s *scratch, i int) (*sense, int) {
	t := &s.tokens[i]
	if t.kind == number && i > 0 {
		// "1x" in "M10x1x140" is no single ring.
		if before := &s.tokens[i-1]; before.kind == mark && (before.mark == 'x' || before.mark == '/') {
			return nil, i
		}
	}
	if sense, end := r.own.find(s, i); sense != nil {
		return sense, end
	}
	return base().find(s, i)
}

// isJoint reports whether the token joins two figures: x, /, -, and the words "by", "to" and "and" between numbers.
func (s *scratch) isJoint(i int, sense *sense) bool {
	t := &s.tokens[i]
	if t.kind == mark {
		return sense == nil && (t.mark == 'x' || t.mark == '/' || t.mark == '-')
	}
	if t.kind != word || i == 0 || i+1 >= len(s.tokens) || s.jointOf(t) == 0 {
		return false
	}
	last := len(s.items) - 1
	next := &s.tokens[i+1]
	return last >= 0 && s.items[last].kind == figure && (next.kind == number || base().figureWord(s, i+1))
}

// figureWord reports whether a number in words begins at the token.
func (l *lexicon) figureWord(s *scratch, i int) bool {
	sense, _ := l.find(s, i)
	return sense != nil && sense.figure > 0
}

func (s *scratch) jointOf(t *token) byte {
	if t.kind == mark {
		return t.mark
	}
	switch string(s.lower(t)) {
	case "by":
		return 'x'
	case "to", "bis", "a", "tot":
		return '>'
	case "and", "und", "or":
		return '&'
	}
	return 0
}

// attachUnit joins a unit to the figure before it: "34T", "5-bolt", "27.2 mm".
func (s *scratch) attachUnit(sense *sense, i, end int) bool {
	last := len(s.items) - 1
	if last < 0 {
		return false
	}
	at := last
	dashed := s.items[last].kind == joint && s.items[last].joint == '-' && last > 0
	if dashed {
		at--
	}
	f := &s.items[at]
	if f.kind != figure || f.unit != none || !s.readsAsUnit(i, end, dashed) || sense.unit&^counts == 0 && !f.counts(sense.unit) {
		return false
	}
	if sense.unit == pieces && s.endsEnvelope(at) || sense.unit == metre && s.isDiameter(at) && s.measuresNext(end) {
		return false
	}
	f.unit, f.sense, f.last = sense.unit, sense, end
	s.items = s.items[:at+1]
	return true
}

// isDiameter reports whether the figure stands behind the sign for a diameter.
func (s *scratch) isDiameter(at int) bool {
	first := s.items[at].first
	return first > 0 && s.tokens[first-1].kind == mark && s.tokens[first-1].mark == 'o'
}

// measuresNext reports whether a figure stands behind a unit that ends before the token, perhaps cut short: "mt. 30".
func (s *scratch) measuresNext(end int) bool {
	if end < len(s.tokens) && s.tokens[end].kind == mark && s.tokens[end].mark == '.' {
		end++
	}
	return end < len(s.tokens) && s.tokens[end].kind == number
}

// takeUnitBefore gives the figure that was scanned last the metres that stand before it, as Italian lists have them: "Ø4 mt 30",
// "5 mm mt. 10". A lone "m" is too many other things, and a figure with a unit behind it needs none.
func (s *scratch) takeUnitBefore(r *Reader, next int) {
	f := len(s.items) - 1
	at := f - 1
	if at > 0 && s.items[at].kind == joint && s.items[at].joint == '.' {
		at--
	}
	if at < 1 || s.items[at].kind != phrase || s.items[at].sense.unit != metre || s.items[at-1].kind != figure {
		return
	}
	if t := &s.tokens[s.items[at].first]; t.glued || t.norm[1]-t.norm[0] < 2 {
		return
	}
	if next < len(s.tokens) {
		if behind, _ := r.lookUp(s, next); behind != nil && behind.unit != 0 {
			return
		}
	}
	it := s.items[f]
	it.unit, it.sense, it.first = metre, s.items[at].sense, s.items[at].first
	s.items = append(s.items[:at], it)
}

// endsEnvelope reports whether the figure is the third of three sizes, as in "15 x 28 x 7 ea", and counts nothing.
func (s *scratch) endsEnvelope(at int) bool {
	for k := at; k > at-4; k -= 2 {
		if k < 2 || s.items[k-1].kind != joint || s.items[k-1].joint != 'x' || s.items[k-2].kind != figure {
			return false
		}
	}
	return true
}

// mostCounted is the most of teeth, links, holes or balls that a part is said to have: an article's number is more.
const mostCounted = 250

// counts reports whether the figure may be how many there are of something.
func (it *item) counts(u unit) bool {
	if it.thousands {
		return true
	}
	return it.decimals == 0 && (it.value <= mostCounted || u&pieces != 0)
}

// readsAsUnit reports whether the tokens [i, end) are written as the unit of the figure before them.
func (s *scratch) readsAsUnit(i, end int, dashed bool) bool {
	t := &s.tokens[i]
	letter := t.norm[1]-t.norm[0] == 1
	switch {
	case letter && !t.glued && s.labelsNext(i):
		return false // "1 1/8 h. 3 mm", "M12x1.5 L.119": the letter is of what follows
	case t.kind == mark && t.mark == '\'' && end-i < 2:
		return false
	case dashed:
		return t.glued && (t.norm[1]-t.norm[0] >= 2 || s.isFold(i, end))
	case t.glued:
		return true
	case end < len(s.tokens) && s.tokens[end].kind == number && s.tokens[end].glued:
		return false // "144 G100"
	case t.kind == mark:
		return false
	case letter:
		return s.letterIsUnit(i, end)
	}
	return !(string(s.lower(t)) == "in" && end < len(s.tokens) && s.tokens[end].kind == word)
}

// isFold reports whether the letter is short for the German "fach" or for speeds: "11-f.", "10-V".
func (s *scratch) isFold(i, end int) bool {
	letter := string(s.lower(&s.tokens[i]))
	return (letter == "f" || letter == "v") && (end >= len(s.tokens) || !s.tokens[end].glued || s.tokens[end].kind == mark)
}

// letterIsUnit reports whether the trade writes the lone letter after a space as a unit: "44 t.", "2 m", but not "AXL-F".
func (s *scratch) letterIsUnit(i, end int) bool {
	switch s.norm[s.tokens[i].norm[0]] {
	case 'm', 'l', 'g', 't', 'h', 'z':
		return true
	case 'v', 'w': // "6 V", "3 W", and "8 v."
		return s.standsAlone(end)
	case 'd', 'f': // "19 d.", "32 f." of French, Italian and German lists
		return end < len(s.tokens) && s.tokens[end].mark == '.'
	}
	return false
}

// standsAlone reports whether the letter before the token is no beginning of a name, as in "V-brake".
func (s *scratch) standsAlone(end int) bool {
	return end >= len(s.tokens) || !s.tokens[end].glued || s.tokens[end].kind == mark && s.tokens[end].mark != '-'
}

// labelsNext reports whether a single letter is short for the name of the figure behind it: h for the height, L for the
// length.
func (s *scratch) labelsNext(i int) bool {
	j := i + 1
	stop := j < len(s.tokens) && s.tokens[j].kind == mark && (s.tokens[j].mark == '.' || s.tokens[j].mark == ':' || s.tokens[j].mark == '=') && s.tokens[j].glued
	if stop {
		j++
	}
	if j >= len(s.tokens) || s.tokens[j].kind != number {
		return false
	}
	height := s.norm[s.tokens[i].norm[0]] == 'h'
	if i > 1 && s.tokens[i-2].kind == mark && s.tokens[i-2].mark == 'x' {
		return true // "M8x0,75 L 6,5": of what has a size the next letter counts nothing
	}
	if stop {
		return height || s.tokens[j].glued || s.tokens[i-1].decimals > 0 || s.tokens[j-1].mark != '.' // in "32 L. 135 mm" the letter counts holes
	}
	return height && i > 1 && s.tokens[i-2].kind == mark && s.tokens[i-2].mark == '/' && s.tokens[i-2].glued // "1 1/8 h 3": no holes are counted in eighths
}

// markClauses says of each item what it is about: the part itself, what it goes with ("for …"), or what comes with it.
// A clause ends at the next comma or other stop, and what comes with it at the figure behind its name.
//
// Nothing is added to what has not been named: a "Comfort Plus saddle" is a saddle.
func (s *scratch) markClauses() {
	now, named, begun, added := mainClause, false, false, false
	for i := range s.items {
		it := &s.items[i]
		switch {
		case it.kind == figure && now == withClause && named:
			it.clause = now
			now = mainClause // "with bolt 28.6 mm black"
			continue
		case it.kind == joint:
			if strings.ContainsRune(",;|()![]", rune(it.joint)) {
				now = mainClause
			}
		case it.kind != figure && s.isIn(it):
			now = mainClause // "with sprockets from 11 to 32 teeth in silver"
		case it.opens(forClause) && s.isFront(i):
			it.sense = senseOf("vooraan")
		case s.isRear(i):
			it.sense = senseOf("posteriore")
		case it.opens(withClause) && (!begun && s.adds(it) || s.joinsPlaces(i)):
		case it.opens(forClause), it.opens(withClause):
			now, named, added = it.sense.opens, false, true
		}
		named = named || it.kind == unknown
		if it.kind == phrase {
			named = named || it.sense.family != ""
			begun = begun || it.sense.namesThing()
		}
		it.clause = now
	}
	if added {
		s.colourOfWhole()
	}
}

// opens reports whether it is a word that opens such a clause.
func (it *item) opens(c clause) bool {
	return it.sense != nil && it.kind == phrase && it.sense.opens == c
}

// adds reports whether a word that opens a clause is an "and" or a "plus".
func (s *scratch) adds(it *item) bool {
	return s.isAnd(it) || string(s.lower(&s.tokens[it.first])) == "plus"
}

// namesThing reports whether a word says what the thing is, or what it is not.
func (s *sense) namesThing() bool {
	return s.family != "" || s.weak != "" || s.code != "" || s.hint != "" || s.none || s.not || s.several
}

// colourOfWhole gives a colour at the end of what comes with a part, or of what it is for, to the part, where nothing
// else says its colour: a "frame lock with chain black" is black, and a "lock with black chain" is not said to be.
func (s *scratch) colourOfWhole() {
	at := -1
	for i := range s.items {
		it := &s.items[i]
		switch {
		case it.kind == phrase && it.sense.colours():
			if at >= 0 || it.clause == mainClause || i == 0 || !s.endsThing(i-1) {
				return
			}
			at = i
		case at >= 0 && (it.kind == unknown || it.kind == phrase && it.clause != mainClause && it.sense.family != ""):
			return
		}
	}
	if at >= 0 {
		s.items[at].clause = mainClause
	}
}

// colours reports whether a word is a colour and names no part.
func (s *sense) colours() bool {
	return s.family == "" && slices.ContainsFunc(s.says, func(says says) bool { return says.dimension == "colour" })
}

// endsThing reports whether the item names what comes along or what the part is for, and does not begin it.
func (s *scratch) endsThing(i int) bool {
	it := &s.items[i]
	return it.clause != mainClause && (it.kind == unknown || it.kind == phrase && it.sense.opens == mainClause &&
		!slices.ContainsFunc(it.sense.says, func(says says) bool { return isFinish(says.dimension) }))
}

// joinsPlaces reports whether an "and" or a plus stands between two places: in "front & rear" nothing comes with the thing.
func (s *scratch) joinsPlaces(i int) bool {
	place := func(j int) bool {
		if j >= 0 && j < len(s.items) && s.items[j].kind == joint && s.items[j].joint == '.' {
			j += j - i // over the stop of "ant."
		}
		return j >= 0 && j < len(s.items) && s.items[j].kind == phrase && slices.ContainsFunc(s.items[j].sense.says, func(s says) bool {
			return s.dimension == "position" || s.dimension == "side"
		})
	}
	return place(i-1) && place(i+1)
}

// isFront reports whether a Dutch "voor" is the front, as in "snelspanner voor 100 mm", and not "for", behind which a
// thing is named.
func (s *scratch) isFront(i int) bool {
	it := &s.items[i]
	if it.last != it.first+1 || string(s.lower(&s.tokens[it.first])) != "voor" {
		return false
	}
	if i+1 >= len(s.items) {
		return true
	}
	next := &s.items[i+1]
	if string(s.lower(&s.tokens[next.first])) == "m" && i+2 < len(s.items) && s.items[i+2].kind == figure && s.glued(i+2) {
		return true // "voor M9x1"
	}
	switch next.kind {
	case figure, joint:
		return true
	case phrase: // "voor + achter", "voor zwart"
		return next.sense.opens == withClause || len(next.sense.says) > 0 && next.sense.family == "" && next.sense.hint == ""
	}
	return false
}

// isRear reports whether "post." is short for an Italian "posteriore": a mount has no full stop.
func (s *scratch) isRear(i int) bool {
	it := &s.items[i]
	return it.kind == phrase && it.last == it.first+1 && string(s.lower(&s.tokens[it.first])) == "post" &&
		i+1 < len(s.items) && s.items[i+1].kind == joint && s.items[i+1].joint == '.' && s.glued(i+1)
}

// senseOf is what a word of the tables means by itself.
func senseOf(text string) *sense { return base().alone(base().ids[text]) }

func (s *scratch) isIn(it *item) bool {
	return it.last == it.first+1 && string(s.lower(&s.tokens[it.first])) == "in"
}

// span is the item's part of the description.
func (s *scratch) span(it *item) (start, end int) {
	return s.tokens[it.first].start, s.tokens[it.last-1].end
}

// glued reports whether nothing stands between items i-1 and i. Before the first item and behind the last is nothing to be
// glued to.
func (s *scratch) glued(i int) bool {
	return i > 0 && i < len(s.items) && s.tokens[s.items[i].first].glued
}
