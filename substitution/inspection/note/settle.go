package note

import (
	"slices"
	"strings"

	"stead/substitution"
	"stead/substitution/inspection"
)

// statement is what the note says of one part or a list of them, after all that takes back or denies it.
type statement struct {
	parts  []*nounPhrase
	means  []resolved
	says   []*predicate
	marks  []span // words that bind it to its part: "the same", "sorry, right"
	copied bool   // "the same" as another
}

// settle takes away what a sentence does not say outright, and keeps the rest as statements.
func (w *walk) settle(asked bool) {
	killed := w.killed(asked)
	for _, u := range w.units {
		w.settleUnit(u, killed)
	}
}

// killed tells of each segment whether it says nothing: a hedge takes away its own clause, a condition, a question and
// another's words all that follows, another bike the whole sentence.
func (w *walk) killed(asked bool) []bool {
	n := len(w.segments)
	out := make([]bool, n)
	questioned := false
	from := n
	for i, s := range w.segments {
		tail := !s.known && !s.said && !s.wish
		switch {
		case s.kinds[otherBike]:
			from = 0
		case s.kinds[speech] || s.kinds[question]:
			from = min(from, i)
			if s.kinds[speech] && tail && i == n-1 {
				from = 0
			}
			questioned = questioned || s.kinds[question]
		case s.kinds[condition]:
			from = min(from, i)
			if i > 0 && i == n-1 && (w.segments[i-1].action || tail) {
				from = min(from, i-1)
			}
		}
		if s.dirty || s.kinds[hedge] || s.kinds[plan] || s.kinds[history] || s.kinds[stock] {
			out[i] = true
		}
		if tail && i > 0 && (s.kinds[hedge] || s.kinds[plan] || s.kinds[history] || s.kinds[speech]) {
			out[i-1] = true
		}
	}
	if asked && !questioned {
		from = 0
	}
	for i := from; i < n; i++ {
		out[i] = true
	}
	return out
}

// settleUnit makes a statement of a unit, as far as its segments stand.
func (w *walk) settleUnit(u *unit, killed []bool) {
	p := w.parser
	if u.scratch {
		p.withdraw()
		return
	}
	var says []*predicate
	for _, pr := range u.says {
		if !killed[pr.segment] && !pr.void {
			if u.wanted && (u.verb == nil || pr.spans[0].first > u.verb.spans[0].first) {
				pr.facts = nil
			}
			says = append(says, pr)
		}
	}
	verb := u.verb
	if verb != nil && (killed[verb.segment] || verb.void) {
		verb = nil
	}
	whole := !killed[u.segment]
	if len(u.parts) == 0 {
		p.ofSubject(u, says, whole)
		return
	}
	p.ofParts(u, says, verb, killed)
}

// ofSubject settles what is said without naming a part: of the part that was named last.
func (p *parser) ofSubject(u *unit, says []*predicate, whole bool) {
	if u.correct {
		if whole && len(says) > 0 {
			p.correctSays(says, u.marks)
		} else {
			p.withdraw()
		}
		return
	}
	if len(says) == 0 || p.subject == nil || len(p.subjects) == 0 || p.several && !u.many {
		return
	}
	if p.last != nil && p.last.copied && (u.but || anyKeep(says)) {
		p.overrule(says)
	}
	for _, pr := range says {
		if pr.balls && !u.pronoun && p.subject.head != nil && !p.subject.head.house {
			return
		}
	}
	if u.pronoun && p.last != nil && sameMeaning(p.last.means, p.subjects) {
		p.otherWords(says)
	}
	st := &statement{parts: []*nounPhrase{p.subject}, means: p.subjects, says: says, marks: u.marks}
	if p.last != nil && sameMeaning(p.last.means, p.subjects) {
		st.parts = p.last.parts
	}
	p.keep(st)
}

// otherWords takes back what was denied only to be said in another word: "isn't bent, it's warped".
func (p *parser) otherWords(says []*predicate) {
	p.last.says = slices.DeleteFunc(slices.Clone(p.last.says), func(old *predicate) bool {
		return old.negated && slices.ContainsFunc(says, func(pr *predicate) bool {
			return !pr.negated && (alike(old, pr) || old.straight && pr.bend)
		})
	})
}

// overrule takes out of a copied statement what "but that one's smooth" contradicts, and what was decided for the other.
func (p *parser) overrule(says []*predicate) {
	var left []*predicate
	for _, pr := range p.last.says {
		c := *pr
		c.action = ""
		c.readings = slices.DeleteFunc(slices.Clone(c.readings), func(r fact) bool { return named(says, r.name) || anyKeep(says) })
		if c.bend || c.straight {
			c.bend, c.straight, c.readings = false, false, nil
		}
		if len(c.readings)+len(c.facts) > 0 {
			left = append(left, &c)
		}
	}
	p.last.says = left
}

// anyKeep reports that a part is said to be fine.
func anyKeep(says []*predicate) bool {
	return slices.ContainsFunc(says, func(pr *predicate) bool { return pr.action == inspection.Keep })
}

func named(says []*predicate, reading string) bool {
	for _, pr := range says {
		for _, r := range pr.readings {
			if r.name == reading {
				return true
			}
		}
	}
	return false
}

func sameMeaning(a, b []resolved) bool {
	return slices.EqualFunc(a, b, func(x, y resolved) bool { return slices.Equal(x.places, y.places) })
}

// ofParts settles what is said of the parts that a unit names.
func (p *parser) ofParts(u *unit, says []*predicate, verb *predicate, killed []bool) {
	var parts []*nounPhrase
	for k, n := range u.parts {
		if n.bare() {
			said := len(u.says) > 0 || u.same || u.correct
			if full := p.complete(n); full != nil && said {
				n = full
			} else {
				p.setEnd(n)
				if k == len(u.parts)-1 && !said {
					return
				}
				if said {
					p.forget()
					return
				}
				continue
			}
		}
		parts = append(parts, n)
	}
	// a house or a wheel named before what is in it
	for len(parts) > 1 && p.leadsTo(parts[0], parts[1]) {
		p.setHouse(parts[0])
		parts = parts[1:]
	}
	if len(parts) == 0 {
		return
	}
	if len(parts) == 1 && parts[0].wheel && len(says) == 0 && verb == nil {
		p.setHouse(parts[0])
		return
	}
	means := make([]resolved, len(parts))
	open := false
	for i, n := range parts {
		if n.head != nil && p.wheel && isBearing(n.head) && len(n.houses) == 0 {
			p.inWheel(n)
		} else {
			p.wheel = false
		}
		r, ok := p.resolve(n)
		if n.either && !allDenied(says) {
			ok = false
		}
		if ok {
			means[i] = r
			p.named = r.places
		} else {
			open = true
			if len(says) > 0 || verb != nil {
				p.ask(n)
			}
		}
		p.setEnd(n)
		p.setHouse(n)
		p.setBrake(n, len(says) == 0 && verb == nil)
	}
	defer p.name(parts, means)
	for _, n := range parts {
		for _, pr := range n.before {
			if !killed[n.segment] && !u.wanted && !pr.void {
				p.keep(&statement{parts: []*nounPhrase{n}, means: []resolved{means[slices.Index(parts, n)]}, says: []*predicate{pr}})
			}
		}
	}
	if u.same && verb == nil && (len(says) == 0 || u.sameSize || says[0].but) {
		had := len(p.statements)
		if len(parts) == 1 && !open && !killed[parts[0].segment] {
			p.copyLast(u, parts, means)
		}
		if len(says) == 0 {
			return
		}
		if len(p.statements) > had {
			p.overrule(says)
		}
	}
	if u.correct && p.last != nil {
		if len(says) == 0 && verb == nil {
			if len(parts) == 1 && !killed[parts[0].segment] {
				p.correctPart(parts[0], means[0], open, u.marks)
			} else {
				p.withdraw()
			}
			return
		}
		p.withdraw()
	}
	if verb != nil {
		p.verbOf(u, verb, parts, means, killed)
		if len(says) > 0 {
			last := len(parts) - 1
			p.keepAll(&statement{parts: parts[last:], means: means[last:], says: says, marks: u.marks})
		}
		return
	}
	if len(says) == 0 {
		return
	}
	first := shared(parts)
	if says[0].listed {
		first = 0
	}
	p.keepAll(&statement{parts: parts[first:], means: means[first:], says: says, marks: u.marks})
}

// allDenied reports that all that is said is denied: "front or rear" is then both.
func allDenied(says []*predicate) bool {
	for _, pr := range says {
		if !pr.negated {
			return false
		}
	}
	return len(says) > 0
}

// verbOf keeps an action for each part of a list that stands.
func (p *parser) verbOf(u *unit, verb *predicate, parts []*nounPhrase, means []resolved, killed []bool) {
	st := &statement{says: []*predicate{verb}, marks: u.marks}
	for i, n := range parts {
		if !killed[n.segment] && len(means[i].places) > 0 && p.fitting(&statement{parts: parts[i : i+1], means: means[i : i+1]}, verb) != nil {
			st.parts = append(st.parts, n)
			st.means = append(st.means, means[i])
		}
	}
	if len(st.parts) > 0 {
		p.keep(st)
	}
}

// shared is where the list begins of which a predicate at its end is said: "chain and cassette shot" is both, of
// "chain, cassette fine" only the last is sure.
func shared(parts []*nounPhrase) int {
	last := len(parts) - 1
	if last == 0 {
		return 0
	}
	if parts[last].joined == and {
		return 0
	}
	return last
}

// leadsTo reports that a part is named only to say where the next one is.
func (p *parser) leadsTo(house, n *nounPhrase) bool {
	if n.head == nil || house.every {
		return false
	}
	return house.wheel || house.head != nil && inside(house.head, n.head) && n.joined != and && !n.comma
}

// complete gives a bare "the rear one" the part that was named last.
func (p *parser) complete(n *nounPhrase) *nounPhrase {
	if p.subject == nil || p.subject.head == nil {
		return nil
	}
	if n.every && n.mod == 0 && (len(p.subjects) != 1 || len(p.subjects[0].places) < 2) {
		return nil
	}
	full := *n
	full.head, full.houses = p.subject.head, p.subject.houses
	full.mod = p.subject.mod
	if n.other {
		at := p.subject.mod & sides
		if at != left && at != right {
			return nil
		}
		full.mod = full.mod&^sides | (sides &^ at)
	}
	for _, kind := range []mod{ends | letterR | letterF, sides, levels} {
		if n.mod&kind != 0 {
			full.mod = full.mod&^kind | n.mod&kind
		}
	}
	if hub := p.l.phrase("hub").head; len(full.houses) == 0 && len(p.subjects) > 0 && len(p.subjects[0].places) > 0 && slices.Contains(hub.places, houseOf(p.subjects[0].places[0])) {
		full.houses = []*head{hub} // the other hub's, not the freehub's beside it
	}
	if full.head.family == "chainring" && n.mod&levels != 0 {
		full.head = p.l.phrase("rings").head
	}
	if len(within(full.head.places, p.letters(&full))) == 0 {
		return nil
	}
	return &full
}

// setEnd keeps the end that a noun phrase names until another is named.
func (p *parser) setEnd(n *nounPhrase) {
	m := n.mod
	if n.head != nil {
		m = p.letters(n)
	}
	switch end := m & ends; {
	case n.mod&letterF != 0 && n.head == nil:
		p.carried, p.carriedSpans = front, n.spans
	case n.mod&letterR != 0 && n.head == nil:
		p.carried, p.carriedSpans = rear, n.spans
	case both(end):
		p.carried, p.carriedSpans = 0, nil
	case end != 0 && n.head != nil && end != p.carried && namesEnd(n.head):
		// "rear mech": its end is its name, and whether it holds for a tyre is not sure
		p.carried, p.carriedSpans = 0, nil
	case end != 0:
		p.carried, p.carriedSpans = end, p.endWords(n)
	}
}

// namesEnd reports that the end is part of what the thing is called.
func namesEnd(h *head) bool {
	return h.family == "front-derailleur" || h.family == "rear-derailleur" || h.family == "shifter"
}

// endWords are the words of a noun phrase that name the end.
func (p *parser) endWords(n *nounPhrase) []span {
	for _, sp := range n.spans {
		for i := sp.first; i < sp.last; i++ {
			if s := p.items[i].s; s != nil && s.mod&(ends|letterR|letterF) != 0 {
				return []span{{i, i + 1}}
			}
		}
	}
	return nil
}

// setHouse keeps what bearings named next are in.
func (p *parser) setHouse(n *nounPhrase) {
	if n.wheel && n.head == nil {
		p.setEnd(n)
		p.wheel = true
		p.house, p.houseSpans = "", nil // what is in it is not in the headset named before
		return
	}
	if n.head == nil {
		p.house, p.houseSpans = "", nil
		return
	}
	if n.head.house {
		if r, ok := p.resolve(n); ok && len(r.places) == 1 {
			p.house, p.houseSpans = r.places[0], n.spans
			return
		}
		p.house, p.houseSpans = "", nil
		return
	}
	if r, ok := p.resolve(n); ok && len(r.places) > 0 {
		house := houseOf(r.places[0])
		if house == "" || house != p.house {
			p.house, p.houseSpans = house, n.spans
		}
	}
}

// setBrake keeps that "rear brake:" stands before what is said of its parts, until a part of something else is named.
func (p *parser) setBrake(n *nounPhrase, leads bool) {
	if n.head == nil {
		p.brake = false
		return
	}
	switch n.head.family {
	case p.l.phrase("brake").head.family:
		p.brake = leads && len(n.spans) > 0 && p.at(n.spans[len(n.spans)-1].last).sep == colon
	case "rim-pad", "disc-pad", "disc-rotor", "cable-inner", "cable-outer":
	default:
		p.brake = false
	}
}

// name remembers which part was named last.
func (p *parser) name(parts []*nounPhrase, means []resolved) {
	p.several = len(parts) > 1
	p.subject = parts[len(parts)-1]
	p.subjects = nil
	for _, m := range means {
		if len(m.places) == 0 {
			if len(parts) > 1 {
				p.subjects = nil
			}
			return
		}
		p.subjects = append(p.subjects, m)
	}
}

// forget names nothing: what follows is said of no part that is known.
func (p *parser) forget() {
	p.subject, p.subjects = nil, nil
}

// keepAll keeps a statement of those of its parts that are settled.
func (p *parser) keepAll(st *statement) {
	one := *st
	one.parts, one.means = nil, nil
	for i, n := range st.parts {
		if !n.noPlace && !n.wheel && len(st.means[i].places) > 0 {
			one.parts, one.means = append(one.parts, n), append(one.means, st.means[i])
		}
	}
	if len(one.parts) == 0 {
		return
	}
	*st = one
	p.keep(st)
}

// keep adds a statement, without what its parts cannot have.
func (p *parser) keep(st *statement) {
	var says []*predicate
	for _, pr := range st.says {
		if fit := p.fitting(st, pr); fit != nil {
			says = append(says, fit)
		}
	}
	for _, m := range st.means {
		if len(m.places) == 0 {
			return
		}
	}
	if len(says) == 0 {
		return
	}
	st.says = says
	p.statements = append(p.statements, st)
	p.last = st
}

// fitting is the predicate in the form that the parts take it; nil if one of them cannot have it.
func (p *parser) fitting(st *statement, pr *predicate) *predicate {
	out := *pr
	for i, m := range st.means {
		for _, place := range m.places {
			site, err := substitution.SiteOf(place)
			if err != nil {
				return nil
			}
			if pr.action == inspection.Replace && st.parts[i].inHub && site.Family == "hub" {
				return nil // the bearings are to be replaced, not the hub
			}
			cage := st.parts[i].head != nil && st.parts[i].head.cage
			if pr.bend || pr.straight {
				name := bent(site.Family, cage)
				if name == "" {
					return nil
				}
				out.readings = []fact{{name, substitution.Yes(pr.bend)}}
				out.bend, out.straight = pr.bend, pr.straight
				continue
			}
			if pr.balls {
				if len(p.ballsOf(st.parts[i], place)) == 0 {
					return nil
				}
				continue
			}
			for _, r := range pr.readings {
				if _, ok := readingValue(site.Family, r); !ok {
					return nil
				}
			}
			for _, f := range pr.facts {
				if _, ok := factValue(site.Family, f); !ok {
					return nil
				}
				if n := st.parts[i]; f.name == "length_mm" && site.Family == "spoke" && n.mod&sides == 0 && !n.sides && !n.every {
					return nil // the two sides of a wheel have spokes of two lengths
				}
			}
		}
	}
	return &out
}

// bent is the reading of a part that is bent: a rotor runs out, an axle and a derailleur's cage are damaged.
func bent(family substitution.Family, cage bool) string {
	switch {
	case family == "disc-rotor":
		return "runs_out"
	case family == "axle", cage:
		return "damaged"
	}
	return ""
}

// ballsOf are the places of the balls in a hub, headset or bottom bracket, where the note says of which side.
func (p *parser) ballsOf(n *nounPhrase, house substitution.Place) []substitution.Place {
	places := inHouse(substitution.PlacesOf("loose-balls"), []substitution.Place{house})
	places = slices.DeleteFunc(places, func(q substitution.Place) bool { return houseOf(q) != house })
	m := (n.mod | n.balls) & (sides | levels)
	if n.sides || both(m&sides) || both(m&levels) || n.every {
		return places
	}
	if m != 0 {
		return within(places, m)
	}
	return nil
}

// withdraw takes back the last thing that was said.
func (p *parser) withdraw() {
	if p.last == nil {
		return
	}
	p.last.says = nil
	p.last = nil
}

// correctSays puts what is said now in the place of what was said last: the same reading of the same part, else the last one.
func (p *parser) correctSays(says []*predicate, marks []span) {
	if p.last == nil {
		return
	}
	st := p.last
	found := false
	denied := true
	for _, pr := range says {
		denied = denied && pr.negated
		for i := 0; i < len(st.says); i++ {
			old := st.says[i]
			if alike(old, pr) {
				st.says = slices.Delete(slices.Clone(st.says), i, i+1)
				i--
				found = true
			}
		}
	}
	if !found && !denied && len(st.says) > 0 {
		st.says = slices.Clone(st.says[:len(st.says)-1])
	}
	fresh := &statement{parts: st.parts, means: st.means, says: says, marks: marks}
	p.keep(fresh)
}

// alike reports that two predicates are of the same thing: one reading, one dimension, or both an action.
func alike(a, b *predicate) bool {
	if a.action != "" && b.action != "" {
		return true
	}
	for _, x := range a.readings {
		for _, y := range b.readings {
			if x.name == y.name {
				return true
			}
		}
	}
	for _, x := range a.facts {
		for _, y := range b.facts {
			if x.name == y.name {
				return true
			}
		}
	}
	return a.action == inspection.Keep && len(b.readings) > 0 && anyBad(b)
}

// anyBad reports a reading beside which "fine" cannot stand after a correction.
func anyBad(pr *predicate) bool { return !pr.negated }

// correctPart puts another part, or another side of it, in the place of the one that was named last.
func (p *parser) correctPart(n *nounPhrase, m resolved, open bool, marks []span) {
	st := p.last
	says := st.says
	p.withdraw()
	if open {
		return
	}
	fresh := &statement{parts: []*nounPhrase{n}, means: []resolved{m}, says: says, marks: marks}
	if old := st.parts[0]; n.head == old.head && len(st.parts) == 1 {
		fresh.marks = append(fresh.marks, p.headWords(old)...)
	}
	p.keepAll(fresh)
}

// headWords are the words of a noun phrase without its end, side and level.
func (p *parser) headWords(n *nounPhrase) []span {
	var out []span
	for _, sp := range n.spans {
		for i := sp.first; i < sp.last; i++ {
			if s := p.items[i].s; s != nil && s.head != nil {
				out = append(out, span{i, i + 1})
			}
		}
	}
	return out
}

// copyLast says of another part what was said of the last one.
func (p *parser) copyLast(u *unit, parts []*nounPhrase, means []resolved) {
	if p.last == nil || u.sameAs != nil && !p.lastIs(u.sameAs) {
		return
	}
	marks := append(slices.Clone(u.marks), u.sameAt)
	var says []*predicate
	for _, st := range p.statements[max(0, len(p.statements)-farBack):] {
		if len(st.says) > 0 && sameMeaning(st.means, p.last.means) && !st.copied {
			for _, pr := range st.says {
				c := *pr
				if u.sameSize {
					c.sizesOnly()
				}
				says = append(says, &c)
			}
		}
	}
	if p.last.copied {
		says = p.last.says
	}
	st := &statement{parts: parts, means: means, says: says, marks: marks, copied: true}
	had := len(p.statements)
	p.keepAll(st)
	if len(p.statements) > had && len(st.says) != len(says) {
		st.says = nil // it cannot have all of it: then it is not the same
	}
}

// lastIs reports that "the same as the front" goes back to what was spoken of last.
func (p *parser) lastIs(n *nounPhrase) bool {
	if n.noPlace || n.wheel {
		return false
	}
	for _, m := range p.last.means {
		if len(within(m.places, n.mod)) != len(m.places) {
			return false
		}
	}
	return n.head == nil && !n.other || n.head == p.last.parts[0].head
}

// sizesOnly leaves of a predicate what "the same size" can mean.
func (pr *predicate) sizesOnly() {
	pr.action, pr.readings, pr.bend, pr.straight = "", nil, false, false
	pr.facts = slices.DeleteFunc(slices.Clone(pr.facts), func(f fact) bool {
		return f.name != "designation" && f.name != "thread" && f.name != "chain_width" && !strings.HasSuffix(f.name, "_mm")
	})
}
