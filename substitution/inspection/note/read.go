package note

import (
	"cmp"
	"slices"
	"strings"

	"stead/substitution"
	"stead/substitution/inspection"
)

// Reading is what a note says.
type Reading struct {
	Findings []Finding `json:"findings"`
	Fitted   []Fitted  `json:"fitted"`
	Asks     []Ask     `json:"-"` // which part is meant by words that were handed back

	// Named are the places of parts in words of which nothing was read: somebody has looked there.
	Named []substitution.Place `json:"-"`

	Unread []string `json:"unread"` // what was not understood, or says nothing outright, in the note's own words
}

// Finding is what the note says of a place. An action may stand without readings, and readings without an action.
type Finding struct {
	Place    substitution.Place  `json:"place"`
	Action   inspection.Action   `json:"action,omitempty"` // empty where the note decides nothing
	Readings inspection.Readings `json:"readings,omitempty"`
	Words    string              `json:"words"` // the note's own, letter by letter; pieces that stand apart are joined by " … "
}

// Fitted is what the note says of the part that is on.
type Fitted struct {
	Place substitution.Place            `json:"place"`
	Spec  map[string]substitution.Value `json:"spec"`
	Words string                        `json:"words"`
}

// Reader reads notes. It may be used by many at once.
type Reader struct{ l *lexicon }

// Read reads a note on a bike of which something is on record, with the trade's words.
func Read(text string, record substitution.Build) Reading {
	return (&Reader{trade()}).Read(text, record)
}

// Read reads a note on a bike of which something is on record. What is on record decides what "pads" or "the ring" are.
func (r *Reader) Read(text string, record substitution.Build) Reading {
	p := &parser{l: r.l, text: text, record: record}
	p.run()
	return p.reading()
}

// claim is one thing said of one place, with the tokens that say it.
type claim struct {
	action inspection.Action
	value  fact
	tokens []span
	of     int  // how many places it was said of
	but    bool // "but" stands before it
}

// reading turns the statements into findings and facts.
func (p *parser) reading() Reading {
	found := map[substitution.Place][]claim{}
	fitted := map[substitution.Place][]claim{}
	for _, st := range p.statements {
		for i := range st.parts {
			for _, pr := range st.says {
				words := p.wordsOf(st, i, pr)
				for _, place := range st.means[i].places {
					p.claimsOf(st.parts[i], place, pr, claim{tokens: words, of: placesOf(st.means), but: pr.but}, found, fitted)
				}
			}
		}
	}
	out := Reading{Findings: []Finding{}, Fitted: []Fitted{}}
	for _, site := range substitution.Sites() {
		if f, ok := p.finding(site.Place, found[site.Place], fitted[site.Place]); ok {
			out.Findings = append(out.Findings, f)
		}
		if f, ok := p.fact(site.Place, fitted[site.Place], found[site.Place]); ok {
			out.Fitted = append(out.Fitted, f)
		}
	}
	out.Asks = p.asks
	out.Unread = p.unread()
	out.Named = p.unreadPlaces()
	if text := strings.TrimSpace(p.text); len(out.Findings)+len(out.Fitted)+len(out.Unread) == 0 && text != "" {
		out.Unread = append(out.Unread, text) // only small words
	}
	return out.narrowed(p.text).skinDeep(p.text).inOrder(p.text)
}

func (p *parser) claimsOf(n *nounPhrase, place substitution.Place, pr *predicate, said claim, found, fitted map[substitution.Place][]claim) {
	places := []substitution.Place{place}
	if pr.balls {
		places = p.ballsOf(n, pr, place)
	}
	for _, at := range places {
		site, _ := substitution.SiteOf(at)
		if pr.action != "" {
			found[at] = append(found[at], claim{action: pr.action, tokens: said.tokens, of: said.of})
		}
		for _, r := range pr.readings {
			if v, ok := readingValue(site.Family, r); ok {
				found[at] = append(found[at], claim{value: fact{r.name, v}, tokens: said.tokens, of: said.of, but: said.but})
			}
		}
		for _, f := range pr.facts {
			if v, ok := factValue(site.Family, f); ok {
				fitted[at] = append(fitted[at], claim{value: fact{f.name, v}, tokens: said.tokens, of: said.of})
			}
		}
	}
}

// finding joins what is said of a place. Where two things said contradict each other, neither is kept.
func (p *parser) finding(place substitution.Place, claims, beside []claim) (Finding, bool) {
	f := Finding{Place: place, Readings: inspection.Readings{}}
	var words []span
	claims = withoutPraise(claims)
	against := contradictions(claims)
	for _, c := range claims {
		if against[c.name()] {
			continue
		}
		words = append(words, c.tokens...)
		if c.action != "" {
			f.Action = c.action
		} else {
			f.Readings[c.value.name] = c.value.value
		}
	}
	f.Words = p.quote(words, beside)
	return f, len(words) > 0
}

func (p *parser) fact(place substitution.Place, claims, beside []claim) (Fitted, bool) {
	f := Fitted{Place: place, Spec: map[string]substitution.Value{}}
	var words []span
	against := contradictions(claims)
	for _, c := range claims {
		if !against[c.name()] {
			words = append(words, c.tokens...)
			f.Spec[c.value.name] = c.value.value
		}
	}
	f.Words = p.quote(words, beside)
	return f, len(words) > 0
}

// withoutPraise leaves out that a part is fine where it is then only to be adjusted or cleaned, "fine, just needs
// adjusting", where it was one of several, "both shifters fine but the left's cracked", and where a fault is set against it,
// "looks fine but there's a cut".
func withoutPraise(claims []claim) []claim {
	praised := -1
	for i, c := range claims {
		switch c.action {
		case inspection.Keep:
			praised = i
		case inspection.Adjust, inspection.Clean, "":
			if praised >= 0 && (c.action != "" || (c.but || c.of < claims[praised].of) && c.isFault()) {
				return slices.Delete(slices.Clone(claims), praised, praised+1)
			}
		}
	}
	return claims
}

// isFault reports a reading that a part which is fine has not.
func (c claim) isFault() bool {
	switch v := c.value.value; v.Form() {
	case substitution.Flag:
		return v.Equal(substitution.Yes(true))
	case substitution.Word:
		return c.value.name == "feel" && v.Word() != "smooth" || c.value.name == "play" && v.Word() != "none"
	}
	return false
}

// name is what a claim is of: a reading, a dimension, or what is to be done.
func (c claim) name() string {
	if c.action != "" {
		return "action"
	}
	return c.value.name
}

// contradictions are the names of which the claims of one place say two things.
func contradictions(claims []claim) map[string]bool {
	first := map[string]claim{}
	out := map[string]bool{}
	for _, c := range claims {
		had, known := first[c.name()]
		switch {
		case !known:
			first[c.name()] = c
		case had.action != c.action || c.action == "" && !had.value.value.Equal(c.value.value):
			out[c.name()] = true
		}
	}
	return out
}

// farBack is how many phrases before it the words are looked for that a bare "the rear one" goes back to.
const farBack = 60

// wordsOf are the tokens that say a predicate of a part.
func (p *parser) wordsOf(st *statement, i int, pr *predicate) []span {
	n := st.parts[i]
	var out []span
	add := func(spans []span) {
		for _, s := range spans {
			if s.last > s.first {
				out = append(out, span{p.items[s.first].first, p.items[s.last-1].last})
			}
		}
	}
	add(n.spans)
	for _, m := range st.means[i].carried {
		add([]span{m})
	}
	if n.bareWords(p) && p.subject != nil {
		add(p.headSpans(n))
	}
	add(pr.spans)
	add(st.marks)
	return out
}

// bareWords reports that the phrase's own words do not name the part.
func (n *nounPhrase) bareWords(p *parser) bool { return len(p.headWords(n)) == 0 }

// headSpans are the words with which the part of a bare phrase was named before it.
func (p *parser) headSpans(n *nounPhrase) []span {
	if len(n.spans) == 0 {
		return nil
	}
	for i := n.spans[0].first - 1; i >= max(0, n.spans[0].first-farBack); i-- {
		if s := p.items[i].s; s != nil && s.head == n.head {
			return []span{{i, i + 1}}
		}
	}
	return nil
}

// quote writes the tokens as they stand in the note. What is said of the same part between them joins them: "rotor one
// eighty at one point seven" is one stretch, though the size is a fact and the thickness a reading.
func (p *parser) quote(spans []span, said []claim) string {
	if len(spans) == 0 {
		return ""
	}
	spans, beside := slices.Clone(spans), spansOf(said)
	slices.SortFunc(spans, func(a, b span) int { return cmp.Or(a.first-b.first, a.last-b.last) })
	var joined []span
	for _, s := range spans {
		if k := len(joined) - 1; k >= 0 && (s.first <= joined[k].last || p.light(joined[k].last, s.first) || p.bridged(joined[k].last, s.first, beside)) {
			joined[k].last = max(joined[k].last, s.last)
			continue
		}
		joined = append(joined, s)
	}
	var pieces []string
	for _, s := range joined {
		for i := s.first; i < s.last; i++ {
			p.read[i] = true
		}
		pieces = append(pieces, p.text[p.tokens[s.first].start:p.tokens[s.last-1].end])
	}
	return strings.Join(pieces, gap)
}

// light reports that only small words and marks stand between two tokens, none of them the end of a sentence.
func (p *parser) light(from, to int) bool {
	if to-from > 8 {
		return false
	}
	i, _ := slices.BinarySearchFunc(p.items, from, func(it item, t int) int { return it.first - t })
	for ; i < len(p.items) && p.items[i].first < to; i++ {
		if p.items[i].sep >= stop || !p.items[i].small() || p.items[i].s.is(same) {
			return false
		}
	}
	return true
}

// bridged reports that between two tokens there is nothing but what is said of the same part, without a mark.
func (p *parser) bridged(from, to int, beside []span) bool {
	if to-from > longestBridge {
		return false
	}
	i, _ := slices.BinarySearchFunc(p.items, from, func(it item, t int) int { return it.first - t })
	for ; i < len(p.items) && p.items[i].first < to; i++ {
		it := p.items[i]
		if it.sep > joint || it.s.is(same) || !it.small() && !covers(beside, it) {
			return false
		}
	}
	return true
}

// covers reports that one of the spans, which are in order and do not touch, holds an item.
func covers(spans []span, it item) bool {
	k, found := slices.BinarySearchFunc(spans, it.first, func(s span, t int) int { return s.first - t })
	if !found {
		k--
	}
	return k >= 0 && it.last <= spans[k].last
}

// spansOf are the tokens of claims, in order, those that touch made one.
func spansOf(claims []claim) (out []span) {
	var all []span
	for _, c := range claims {
		all = append(all, c.tokens...)
	}
	slices.SortFunc(all, func(a, b span) int { return a.first - b.first })
	for _, s := range all {
		if k := len(out) - 1; k >= 0 && s.first <= out[k].last {
			out[k].last = max(out[k].last, s.last)
			continue
		}
		out = append(out, s)
	}
	return out
}

// longestBridge is how many tokens may stand between two of a claim's own.
const longestBridge = 8

// small reports that a phrase says nothing of its own.
func (t item) small() bool {
	if t.sep != noSep {
		return true
	}
	if t.s == nil {
		return false
	}
	switch t.s.role {
	case filler, copula, and, but, or, at, it, same, correction, quant, every, teeth:
		return t.s.head == nil && t.s.action == "" && t.s.reading == ""
	}
	return determiner(t.text)
}

// unreadPlaces are the places of parts that are named in what stands in no claim, as far as they are told.
func (p *parser) unreadPlaces() (out []substitution.Place) {
	for i := 0; i < len(p.items); {
		if p.read[p.items[i].first] {
			i++
			continue
		}
		n, next := p.nounPhraseAt(i)
		if n == nil || next <= i {
			i++
			continue
		}
		if n.head != nil {
			if means, ok := p.resolve(n); ok {
				for _, place := range means.places {
					if !slices.Contains(out, place) {
						out = append(out, place)
					}
				}
			}
		}
		i = next
	}
	return out
}

// unread is what stands in no claim, stretch by stretch.
func (p *parser) unread() []string {
	out := []string{}
	from, to, full := -1, -1, -1
	flush := func(to int) {
		if from >= 0 {
			out = append(out, p.text[p.tokens[p.items[from].first].start:p.tokens[p.items[to].last-1].end])
		}
		from = -1
	}
	for i, it := range p.items {
		switch {
		case p.read[it.first]:
			flush(to)
		case it.sep >= stop:
			flush(full)
		case it.sep != noSep:
			to = full
		case it.small() && !it.s.is(same):
			full = i
		default:
			if from < 0 {
				from = i
			}
			to, full = i, i
		}
	}
	flush(full)
	return out
}
