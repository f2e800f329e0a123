package describe

import "math"

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

// scratch is what reading one description needs; it is used again for the next.
type scratch struct {
	tokens   []token
	norm     []byte
	items    []item
	findings []finding
	unread   [][2]int
	key      []byte
	named    int    // the item that names the family; -1 for none
	other    [2]int // the items that say it is none of our parts, from and to; empty when none does
}

// scan makes items of the tokens.
func (r *Reader) scan(s *scratch) {
	s.items = s.items[:0]
	for i := range s.tokens {
		t := &s.tokens[i]
		t.id = base().ids[string(s.lower(t))]
	}
	for i := 0; i < len(s.tokens); {
		t := &s.tokens[i]
		sense, end := r.lookUp(s, i)
		switch {
		case t.kind == number && sense == nil:
			s.items = append(s.items, item{kind: figure, value: t.value, unit: none, decimals: t.decimals, comma: t.comma,
				thousands: t.decimals == 3 && (t.comma || t.value == math.Trunc(t.value)), first: i, last: i + 1, figureEnd: i + 1})
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
		default:
			s.items = append(s.items, item{kind: unknown, first: i, last: i + 1})
			end = i + 1
		}
		i = end
	}
	s.markClauses()
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
	case "to", "bis":
		return '>'
	case "and", "und", "or":
		return '&'
	}
	return 0
}

// attachUnit joins a unit to the figure before it: "34T", "5-bolt", "27.2 mm". A lone letter after a space or dash is a
// unit only where the trade writes it so ("44 t.", "2 m", but not "AXL-F").
func (s *scratch) attachUnit(sense *sense, i, end int) bool {
	last := len(s.items) - 1
	if last < 0 {
		return false
	}
	dashed := s.items[last].kind == joint && s.items[last].joint == '-' && last > 0
	at := last
	if dashed {
		at--
	}
	f := &s.items[at]
	if f.kind != figure || f.unit != none {
		return false
	}
	t := &s.tokens[i]
	length := t.norm[1] - t.norm[0]
	switch {
	case t.kind == mark && t.mark == '\'' && end-i < 2:
		return false
	case dashed:
		if length < 3 || !t.glued {
			return false
		}
	case t.glued:
	case end < len(s.tokens) && s.tokens[end].kind == number && s.tokens[end].glued:
		return false // "144 G100"
	case t.kind == mark:
		return false
	case length == 1:
		switch s.norm[t.norm[0]] {
		case 'm', 'l', 'g', 't', 'h', 'z':
		default:
			return false
		}
	case string(s.lower(t)) == "in" && end < len(s.tokens) && s.tokens[end].kind == word:
		return false
	}
	f.unit, f.sense, f.last = sense.unit, sense, end
	if dashed {
		s.items = s.items[:last]
	}
	return true
}

// markClauses says of each item what it is about: the part itself, what it goes with ("for …"), or what comes with it.
// A clause ends at the next comma or other stop.
func (s *scratch) markClauses() {
	now := mainClause
	for i := range s.items {
		it := &s.items[i]
		switch {
		case it.kind == joint:
			switch it.joint {
			case ',', ';', '|', '(', ')', '!', '[', ']':
				now = mainClause
			}
		case it.kind != figure && s.isIn(it):
			now = mainClause // "with sprockets from 11 to 32 teeth in silver"
		case it.sense != nil && it.kind == phrase && it.sense.opens != mainClause:
			now = it.sense.opens
		}
		it.clause = now
	}
}

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
