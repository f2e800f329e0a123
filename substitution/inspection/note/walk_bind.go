package note

import (
	"slices"
	"strings"

	"stead/substitution"
)

// found is a noun phrase at its place in the sentence, not yet bound to anything.
type found struct {
	*nounPhrase
	i, next int
	here    bool // no mark and no "and" stands before it
	at      bool // "on", "in" or "at" does
}

// take puts a noun phrase where it belongs: to what stands before it, by the first way of binding that takes it, or as
// a part of its own.
func (w *walk) take(n *nounPhrase, i, next int) int {
	w.underHeader(n, next)
	w.asBallCage(n)
	s := w.items[i].s
	f := found{n, i, next, w.sep == noSep && w.join == noRole, w.at || s != nil && s.mod != 0 && beginsAt(w.items[i].text)}
	for _, bind := range bindings {
		if bind(w, f) {
			return next
		}
	}
	w.asHousing(f)
	n.owner = w.ownsUnread(f)
	w.part(n, i)
	return next
}

// ownsUnread reports that a part only says whose something is that was named before it and is not understood, or that cannot
// be a part of it: "cap of the headset", "pads of the front disc".
func (w *walk) ownsUnread(f found) bool {
	if f.head == nil || !f.here {
		return false
	}
	return w.ledBy(f.i, "of") && (w.stray || w.seg().part && !w.seg().said) || w.ledBy(f.i, besides...) && w.onlyStrange()
}

// besides are the words by which a thing is told by the part that it is at: "the grommet under the rear mech".
var besides = []string{"under", "underneath", "beneath", "behind", "near", "by", "beside", "above", "below", "in", "inside", "on", "at", "from", "between", "around", "next to", "close to"}

// onlyStrange reports that the clause has named a thing that is none of our parts, and has said nothing of it.
func (w *walk) onlyStrange() bool {
	u := w.cur
	return u != nil && len(u.parts) == 1 && u.parts[0].noPlace && u.parts[0].segment == len(w.segments)-1 && !slices.ContainsFunc(u.says, func(pr *predicate) bool { return !pr.void })
}

// bindings are the ways in which a noun phrase belongs to what stands before it; the first that takes it decides.
var bindings = []func(*walk, found) bool{
	(*walk).ofAnother, (*walk).axleOfHub, (*walk).forPart, (*walk).besideIt, (*walk).namedAfter, (*walk).listAll, (*walk).onWheel, (*walk).atNoPlace, (*walk).partAfterSaid,
	(*walk).moreDenied, (*walk).eachOfPart, (*walk).inRace, (*walk).whichBalls, (*walk).inHouse, (*walk).ofSystemSaid, (*walk).strayPart, (*walk).endOfMany, (*walk).sizeOfBoth,
	(*walk).sizeOfEnd, (*walk).whereOfBare, (*walk).whereOfPart, (*walk).sideOfNone, (*walk).eachOfSaid, (*walk).bothSidesAfter, (*walk).whereAfter,
	(*walk).bothAfter, (*walk).bothEndsAfter, (*walk).endOfList, (*walk).sayOfEnd, (*walk).lastOfEnd,
}

// sole is the one part of the unit at hand, if it is one of ours.
func (w *walk) sole() *nounPhrase {
	u := w.cur
	if u == nil || len(u.parts) == 0 {
		return nil
	}
	first, last := u.parts[0], u.parts[len(u.parts)-1]
	if last.head == nil || len(u.parts) > 2 || len(u.parts) == 2 && !(first.wheel && first.head == nil && last.joined == noRole) {
		return nil // "back wheel, two spokes broken"
	}
	return last
}

// saidHere reports that something was said in this segment and nothing stands between.
func (w *walk) saidHere(f found) bool { return f.here && w.seg().said }

// widen adds where a phrase says a part is.
func (n *nounPhrase) widen(f found) {
	n.mod |= f.mod
	n.spans = append(n.spans, f.spans...)
}

// axleOfHub: "rear hub one thirty-five, thirty-six hole, quick release" is what the hub's axle is.
func (w *walk) axleOfHub(f found) bool {
	of := w.sole()
	if f.head == nil || f.head.family != "skewer" || f.mod != 0 || f.every || of == nil || of.head.family != "hub" || w.sep != comma || !w.endsHere(f.next) || w.itemAt(f.next).sep == colon ||
		len(w.cur.says) == 0 || len(w.cur.says[len(w.cur.says)-1].facts) == 0 {
		return false
	}
	w.say(&predicate{spans: []span{{f.i, f.next}}, facts: []fact{{"axle", substitution.Text("qr")}}})
	return true
}

// forPart: of "new bolts for the rack" neither is known by its place.
func (w *walk) forPart(f found) bool {
	u := w.cur
	if f.head == nil || !w.at || !f.here || u == nil || u.verb == nil || len(u.says) > 0 || len(u.parts) == 0 {
		return false
	}
	last := u.parts[len(u.parts)-1]
	last.noPlace, last.head = true, nil
	last.spans = append(last.spans, f.spans...)
	w.settled()
	return true
}

// onWheel: "rough on the drive side of the rear wheel" names no wheel anew.
func (w *walk) onWheel(f found) bool {
	if f.wheel && f.head == nil && f.mod != 0 && f.at && w.saidHere(f) {
		f.nounPhrase.wheel = false
	}
	return false
}

// atNoPlace: "frayed at the brake lever".
func (w *walk) atNoPlace(f found) bool {
	if !f.noPlace || !w.at || !w.saidHere(f) {
		return false
	}
	w.at = false
	return true
}

// partAfterSaid: "no cracks in the rear rim".
func (w *walk) partAfterSaid(f found) bool {
	if f.head == nil && !(f.bare() && f.mod != 0 && (len(w.units) > 1 || f.ones || w.sideOfSubject(f))) || !f.at || !w.saidHere(f) || w.cur == nil || len(w.cur.parts) > 0 || w.cur.pronoun || w.cur.same {
		return false
	}
	w.cur.inverted = w.lastSaid != nil && w.lastSaid.negated || allNone(w.cur)
	f.segment = len(w.segments) - 1
	w.cur.parts = append(w.cur.parts, f.nounPhrase)
	w.seg().part = true
	if f.head != nil {
		w.family = w.familyOf(f.nounPhrase)
	}
	w.settled()
	return true
}

// sideOfSubject: "one broken on the drive side", of the spokes that were named before.
func (w *walk) sideOfSubject(f found) bool {
	return f.mod&^sides == 0 && w.subject != nil && w.subject.head != nil && !w.subject.head.oneForBoth() && w.subject.takes(f.mod)
}

// ofHouseBefore makes what is said at the head of a sentence be of the hub or headset that was spoken of before it:
// "Freehub rough. Twenty-four eighths outer, twenty-five inner."
func (w *walk) ofHouseBefore() bool {
	of := w.subject
	if len(w.units) != 1 || w.cur.pronoun || w.far || of == nil || of.head == nil || !of.head.house || len(w.subjects) != 1 || len(w.subjects[0].places) != 1 {
		return false
	}
	again := *of
	again.again, again.before, again.balls, again.sides, again.segment = true, nil, 0, false, len(w.segments)-1
	w.cur.parts = []*nounPhrase{&again}
	w.seg().part, w.seg().known = true, true
	return true
}

// moreDenied: "no damage to the stem, bars or post".
func (w *walk) moreDenied(f found) bool {
	if f.head == nil || w.cur == nil || !w.cur.inverted || w.sep != comma && w.join != and || w.saidAfter(f.next) {
		return false
	}
	w.newSegment(f.i, true)
	w.seg().said, w.seg().part, w.seg().known = true, true, true
	f.segment = len(w.segments) - 1
	w.cur.parts = append(w.cur.parts, f.nounPhrase)
	w.settled()
	return true
}

// eachOfPart: "hub cones both sides pitted".
func (w *walk) eachOfPart(f found) bool {
	if !f.bare() || f.mod != 0 || f.other || !w.seg().part || w.seg().said || !f.here || w.cur == nil || len(w.cur.parts) == 0 {
		return false
	}
	last := w.cur.parts[len(w.cur.parts)-1]
	last.sides, last.every = last.sides || f.sides, last.every || f.every
	last.spans = append(last.spans, f.spans...)
	return true
}

// inRace: "twenty-four eighths in the outer race", "25 1/8 balls in the lower cup": which of the balls that were told.
func (w *walk) inRace(f found) bool {
	if !f.at || f.mod&ends != 0 || !w.namesRace(f.nounPhrase, f.next) {
		return false
	}
	bare := *f.nounPhrase
	bare.head, bare.houses = nil, nil
	f.nounPhrase = &bare
	if w.whichBalls(f) {
		return true
	}
	last := w.sole()
	if last == nil || last.head.family != "loose-balls" || len(last.before) == 0 || last.mod&(sides|levels) != 0 || !f.here {
		return false
	}
	last.widen(f)
	w.settled()
	return true
}

// namesRace reports that a phrase names the race or the cup of a side or level, "the outer race", in which balls run.
func (w *walk) namesRace(n *nounPhrase, next int) bool {
	return n.mod&(sides|levels) != 0 && n.head != nil && n.head == w.l.phrase("race").head
}

// whichBalls: "nine quarter-inch on the left", "nine left, ten right".
func (w *walk) whichBalls(f found) bool {
	if !f.bare() || !f.here || w.lastSaid == nil || !w.lastSaid.balls || f.mod&ends != 0 {
		return false
	}
	if len(w.cur.parts) == 0 && !w.ofHouseBefore() {
		w.lastSaid.void = w.lastSaid.void || f.mod != 0 // "both hubs gritty. Nine left, ten right": of which
		return false
	}
	last := w.cur.parts[len(w.cur.parts)-1]
	if k := len(w.cur.says); last.balls&(sides|levels) != 0 && k > 1 && w.cur.says[k-2].segment < w.lastSaid.segment {
		w.ballsOfOther(f.nounPhrase, last)
		return true
	}
	last.balls, last.sides = last.balls|f.mod, last.sides || f.nounPhrase.sides
	w.lastSaid.spans = append(w.lastSaid.spans, f.spans...)
	return true
}

// inHouse: "cones pitted in the front hub".
func (w *walk) inHouse(f found) bool {
	last := w.sole()
	if f.head == nil || !f.at || !w.saidHere(f) || last == nil || !inside(f.head, last.head) {
		return false
	}
	last.houses = append(last.houses, f.head)
	last.widen(f)
	w.settled()
	return true
}

// ofSystemSaid: "cable frayed on the rear brake".
func (w *walk) ofSystemSaid(f found) bool {
	last := w.sole()
	if f.head == nil || !w.ledBy(f.i, "on", "of", "for") || !w.saidHere(f) || last == nil || last.system != nil || last.mod&ends != 0 || len(ofSystem(last.head.places, f.head)) == 0 {
		return false
	}
	last.isOf(f.nounPhrase)
	last.spans = append(last.spans, f.spans...)
	w.settled()
	return true
}

// ledBy reports that one of the words stands before the part at item i and its article.
func (w *walk) ledBy(i int, words ...string) bool {
	if first, _, many := strings.Cut(w.itemAt(i).text, " "); many && slices.Contains(words, first) {
		return true // "on the rear"
	}
	for determiner(w.itemAt(i - 1).text) {
		i--
	}
	return slices.Contains(words, w.itemAt(i-1).text)
}

// strayPart: another part after "at" makes it unsure of which something was said.
func (w *walk) strayPart(f found) bool {
	s := w.seg()
	if f.head == nil || !w.at || !w.saidHere(f) || !s.part {
		return false
	}
	s.dirty, w.stray = true, true
	w.part(f.nounPhrase, f.i)
	w.stray = false
	return true
}

// endOfMany: "tyres 32c front 35c rear"; of "pads shot rear fine" it is not sure which is which.
func (w *walk) endOfMany(f found) bool {
	last := w.sole()
	if !f.bare() || f.ones || !w.saidHere(f) || last == nil || f.mod&ends == 0 || last.mod&ends != 0 || !last.head.many && !last.head.set || f.at || w.endsHere(f.next) || w.partFollows(f.next) || !last.takes(f.mod) {
		return false
	}
	if !w.startsNumber(f.next) || len(w.cur.says) != 1 {
		w.seg().dirty, w.stray = true, true
		w.part(f.nounPhrase, f.i)
		w.seg().dirty = true
		return true
	}
	last.widen(f)
	w.newSegment(f.next, true)
	w.settled()
	return true
}

// sizeOfBoth: of "left gritty, right smooth, 6902 both" the size is handed back.
func (w *walk) sizeOfBoth(f found) bool {
	if !f.bare() || f.mod != 0 || !f.every || f.sides || !w.saidHere(f) || w.lastSaid == nil || len(w.lastSaid.facts) == 0 || w.cur == nil || len(w.cur.parts) != 1 || w.cur.parts[0].mod&sides == 0 {
		return false
	}
	w.lastSaid.void = true
	return true
}

// sizeOfEnd: "both rotors six-bolt, 160 rear, 180 front".
func (w *walk) sizeOfEnd(f found) bool {
	if !f.bare() || !w.saidHere(f) || w.cur == nil || len(w.cur.parts) != 1 || !w.cur.parts[0].every || f.mod&ends == 0 || both(f.mod&ends) || !w.endsHere(f.next) ||
		len(w.cur.says) < 2 || w.cur.says[0].segment >= len(w.segments)-1 {
		return false
	}
	w.sayOf(f.nounPhrase)
	return true
}

// whereOfBare: "…, rear one broken drive side", "both cut at the back".
func (w *walk) whereOfBare(f found) bool {
	u := w.cur
	if !f.bare() || f.mod == 0 || !w.saidHere(f) || u == nil || len(u.parts) != 1 || !u.parts[0].bare() || u.parts[0].mod&^ends != 0 || !w.endsHere(f.next) {
		return false
	}
	n := u.parts[0]
	if f.mod&^sides != 0 && !(n.every && n.mod == 0 && f.at && f.mod&^ends == 0) {
		return false
	}
	n.widen(f)
	w.settled()
	return true
}

// whereOfPart: "cone pitted on the left", "tyres cut both ends".
func (w *walk) whereOfPart(f found) bool {
	last := w.sole()
	if !f.bare() || !w.saidHere(f) || last == nil || !f.at && !w.endsHere(f.next) || sameKind(last.mod, f.mod) || !last.takes(f.mod) || w.partFollows(f.next) && !(f.at && f.mod&^sides == 0) {
		return false
	}
	last.sides = last.sides || f.nounPhrase.sides
	last.every = last.every || f.toEach(last)
	last.widen(f)
	w.settled()
	return true
}

// sideOfNone: "rough on the drive side", of what has no sides.
func (w *walk) sideOfNone(f found) bool {
	last := w.sole()
	return f.bare() && w.saidHere(f) && f.at && w.lastSaid != nil && last != nil && f.mod&ends == 0 && !last.takes(f.mod) && w.endsHere(f.next)
}

// eachOfSaid: "nine quarter-inch a side", "frayed both".
func (w *walk) eachOfSaid(f found) bool {
	if !f.bare() || f.mod != 0 || f.other || !w.saidHere(f) || !f.nounPhrase.sides && !f.every {
		return false
	}
	if w.items[f.i].text == "either" {
		return true // "not cracked either"
	}
	if w.ofBothEnds(f) {
		return true
	}
	if w.cur != nil && len(w.cur.parts) > 0 {
		last := w.cur.parts[len(w.cur.parts)-1]
		last.sides, last.every = last.sides || f.nounPhrase.sides, last.every || f.toEach(last)
		if w.lastSaid != nil {
			w.lastSaid.spans = append(w.lastSaid.spans, f.spans...)
		}
	} else if w.lastSaid != nil {
		w.lastSaid.spans = append(w.lastSaid.spans, f.spans...)
		w.cur.marks = append(w.cur.marks, f.spans...)
	}
	return true
}

// ofBothEnds: "front rotor 1.6, rear 1.5, stamped 1.5 both": what was said last is of the other end that was named, too.
func (w *walk) ofBothEnds(f found) bool {
	k := len(w.units)
	if f.all || f.nounPhrase.sides || k < 2 || w.cur != w.units[k-1] || len(w.cur.parts) != 1 || len(w.units[k-2].parts) != 1 || len(w.cur.says) < 2 || w.lastSaid == nil {
		return false
	}
	last, had := w.cur.parts[0], w.units[k-2]
	if last.mod&ends == 0 || both(last.mod&ends) || had.parts[0].mod&ends != ends&^last.mod || had.verb != nil || last.head != nil && last.head != had.parts[0].head {
		return false
	}
	w.lastSaid.spans = append(w.lastSaid.spans, f.spans...)
	other := *w.lastSaid
	had.says = append(had.says, &other)
	return true
}

// bothSidesAfter: "front hub cone pitted, both sides".
func (w *walk) bothSidesAfter(f found) bool {
	last := w.sole()
	if !f.bare() || !f.nounPhrase.sides || f.mod != 0 || w.sep != comma || f.next < w.end || last == nil || len(w.cur.says)+len(last.before) == 0 || last.mod&sides != 0 || !last.takes(sides) {
		return false
	}
	last.sides = true
	last.widen(f)
	w.settled()
	return true
}

// whereAfter: "broken spoke at the back, non-drive". An end is taken so only where no other could be meant.
func (w *walk) whereAfter(f found) bool {
	last := w.sole()
	if !f.bare() || f.other || f.mod == 0 || f.mod&levels != 0 || w.sep != comma || !w.onlyWhere(f.next) || last == nil || len(w.cur.says) == 0 || w.cur.same || w.cur.correct {
		return false
	}
	ofEnd := f.mod&ends != 0
	if ofEnd && (len(w.units) > 1 || w.carried != 0 || last.head.many || last.head.set) || last.mod&f.mod != 0 || sameKind(last.mod, f.mod) || !last.takes(f.mod) {
		return false
	}
	last.widen(f)
	w.settled()
	return true
}

// bothAfter: "brake cables stiff, both".
func (w *walk) bothAfter(f found) bool {
	last := w.sole()
	if !f.bare() || !f.every || f.all || f.mod != 0 || f.nounPhrase.sides || w.sep != comma || f.next < w.end || last == nil {
		return false
	}
	if len(w.cur.says) == 0 || !last.head.many || last.mod != 0 || len(w.units) > 1 {
		return false
	}
	last.every = true
	last.widen(f)
	w.settled()
	return true
}

// bothEndsAfter: "tyres cut, front and rear".
func (w *walk) bothEndsAfter(f found) bool {
	last := w.sole()
	if !f.bare() || !both(f.mod&ends) || w.sep != comma && w.join != and || last == nil || len(w.cur.says) == 0 || last.mod&ends != 0 || !w.endsHere(f.next) || !last.takes(f.mod) {
		return false
	}
	last.either = f.either
	last.widen(f)
	w.settled()
	return true
}

// endOfList: "pads and rotors shot at the back, fine at the front".
func (w *walk) endOfList(f found) bool {
	u := w.cur
	if !f.bare() || !f.at || f.mod&ends == 0 || both(f.mod&ends) || !w.saidHere(f) || u == nil || u.verb != nil || len(u.parts) < 2 || !w.endsHere(f.next) {
		return false
	}
	had := u.parts[0].mod & ends
	for _, n := range u.parts {
		if n.head == nil || n.mod&ends != had || !n.takes(f.mod) {
			return false
		}
	}
	if had == 0 && len(u.says) == 1 {
		for _, n := range u.parts {
			n.widen(f)
		}
		w.settled()
		return true
	}
	return had != 0 && had != f.mod&ends && w.otherEndOfList(f)
}

// otherEndOfList makes what was said in this segment be of the other end of all the parts of a list.
func (w *walk) otherEndOfList(f found) bool {
	had, here := w.cur, len(w.segments)-1
	k := slices.IndexFunc(had.says, func(pr *predicate) bool { return pr.segment == here })
	if k < 1 {
		return false
	}
	u := w.newUnit()
	u.says, had.says = append(u.says, had.says[k:]...), had.says[:k:k]
	for _, n := range had.parts {
		other := *n
		other.mod, other.segment = n.mod&^ends|f.mod, here
		other.spans = append(slices.Clone(n.spans), f.spans...)
		u.parts = append(u.parts, &other)
	}
	w.seg().part = true
	w.settled()
	return true
}

// sayOfEnd: "pads 1.4 front, 0.7 rear".
func (w *walk) sayOfEnd(f found) bool {
	u := w.cur
	if !f.bare() || !w.saidHere(f) || w.seg().part || u == nil || len(u.parts) != 1 || !w.endsHere(f.next) ||
		!(f.mod != 0 && sameKind(u.parts[0].mod, f.mod) || f.other && u.parts[0].mod&sides != 0) {
		return false
	}
	w.sayOf(f.nounPhrase)
	return true
}

// lastOfEnd: "quarter inch at the front, nine at the back".
func (w *walk) lastOfEnd(f found) bool {
	u := w.cur
	if !f.bare() || both(f.mod&ends) || f.mod&ends == 0 || !w.saidHere(f) || u == nil || len(u.parts) != 1 || !w.endsHere(f.next) ||
		!sameKind(u.parts[0].mod, f.mod) || len(u.says) < 2 || u.says[len(u.says)-1] != w.lastSaid || !w.startsNumber(w.lastSaid.spans[0].first) {
		return false
	}
	w.lastOf(f.nounPhrase)
	return true
}

// asBallCage: a cage with a side is one of balls, where such are on record.
func (w *walk) asBallCage(n *nounPhrase) {
	if n.head == nil || !n.head.cage || n.mod&(sides|levels) == 0 && !n.every && !n.sides {
		return
	}
	if cages := w.l.phrase("ball cage").head; len(w.onRecord(within(cages.places, n.mod))) > 0 {
		n.head = cages
	}
}

// asHousing: "cable and outer". An end told after both is of both.
func (w *walk) asHousing(f found) {
	n := f.nounPhrase
	if !n.bare() || n.mod&levels != outer || w.items[f.i].text != "outer" || w.family != "cable-inner" {
		return
	}
	n.head, n.mod = w.l.phrase("housing").head, n.mod&^outer
	if u := w.cur; u != nil && len(u.parts) > 0 && w.join == and && n.mod&ends != 0 {
		if last := u.parts[len(u.parts)-1]; last.mod&ends == 0 && len(u.says) == 0 {
			last.mod |= n.mod & ends // "gear inner and outer at the rear"
		}
	}
}
