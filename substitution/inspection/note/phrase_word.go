package note

import "strings"

// nounWords are the words of a noun phrase; the first that knows the item at hand takes it.
var nounWords = []func(*naming, *sense) bool{
	(*naming).noOnesPart, (*naming).sideOfNone, (*naming).part, (*naming).sideWithin, (*naming).endOfWheel, (*naming).where,
	(*naming).each, (*naming).aSide, (*naming).theOther, (*naming).wheelWord, (*naming).pronounWhere, (*naming).pronoun,
	(*naming).kind, (*naming).article, (*naming).itsCable, (*naming).someOfIt, (*naming).itsBearings,
}

// noOnesPart: a thing without a place of its own, and "pump pegs".
func (r *naming) noOnesPart(s *sense) bool {
	if !s.noPlace {
		return false
	}
	r.noPlace, r.head = true, nil
	next := r.i + 1
	if after := r.at(next).s; next < len(r.items) && after != nil && after.head != nil && after.mod == 0 {
		next++
	}
	return r.endsWith(next)
}

// sideOfNone: in "three spokes snapped drive side hub rough" the side is not the hub's, which has none.
func (r *naming) sideOfNone(s *sense) bool {
	if s.head == nil || r.head != nil || !r.saidBefore(r.first) || r.mod&sides == 0 || r.mod&ends != 0 || s.head.oneForBoth() ||
		len(within(s.head.places, r.mod&sides)) > 0 || len(r.inSides(r.i)) > 0 {
		return false
	}
	return r.stop()
}

// part: the part itself, or what is in it, "hub bearings". "Pedal bearings" are no other part's.
func (r *naming) part(s *sense) bool {
	switch {
	case s.head == nil:
		return false
	case r.head != nil && !inside(r.head, s.head) && isBearing(s.head):
		r.noPlace, r.head = true, nil
		return r.endsWith(r.i + 1)
	case r.head != nil && !inside(r.head, s.head):
		return r.stop()
	case r.head != nil:
		r.houses = append(r.houses, r.head)
	}
	r.head = s.head
	if len(s.facts) > 0 && s.facts[0].name == "kind" && determiner(r.at(r.i-1).text) && r.at(r.i-2).s != nil && (r.at(r.i-2).s.is(copula) || r.at(r.i-2).s.is(it)) {
		r.before = append(r.before, &predicate{spans: []span{{r.i, r.i + 1}}, facts: s.facts}) // "bottle dynamo"
	}
	if r.wheel {
		r.inWheel(&r.nounPhrase)
	}
	r.take(r.i + 1)
	if next, ok := r.ballsBefore(&r.nounPhrase, r.i); ok {
		r.over(next)
	}
	return true
}

// sideWithin: "hub drive side bearing", but not "bearing drive side".
func (r *naming) sideWithin(s *sense) bool {
	if s.mod == 0 || r.head == nil {
		return false
	}
	next, m := r.modsAt(r.i)
	if h := r.headAt(next); h == nil || !inside(r.head, h) {
		return r.stop()
	}
	r.mod |= m
	return r.over(next)
}

// endOfWheel: "wheel of the rear".
func (r *naming) endOfWheel(s *sense) bool {
	if !s.is(at) || !r.wheel || r.head != nil || !r.modAt(r.pastDeterminers(r.i+1)) {
		return false
	}
	return r.over(r.pastDeterminers(r.i + 1))
}

// where: an end, a side, a level.
func (r *naming) where(s *sense) bool {
	if s.mod == 0 {
		return false
	}
	next, m := r.modsAt(r.i)
	if r.head == nil && r.putsRight() && r.i > r.first && r.mod&m == 0 && sameKind(r.mod, m) {
		return r.stop() // "no, I mean front rear fine": what is put right ends with the first
	}
	r.mod |= m
	r.either = r.either || r.anyOr(r.i, next)
	if r.i == r.first && m&^sides == 0 && strings.HasPrefix(r.at(r.i).text, "on the ") && r.readOfPart(r.i-1) {
		return r.endsWith(next) // "cone pitted on the drive side balls fine"
	}
	return r.take(next)
}

// putsRight reports that a word of correction stands right before the phrase.
func (r *naming) putsRight() bool {
	i := r.first - 1
	for determiner(r.at(i).text) || r.at(i).s.is(not) {
		i-- // "no, not rear, front"
	}
	s := r.at(i).s
	return s.is(correction) || s.is(no)
}

// readOfPart reports that at item i a reading stands, and its part before it.
func (r *naming) readOfPart(i int) bool {
	if r.at(i).sep != noSep || r.at(i).s == nil || r.at(i).s.reading == "" {
		return false
	}
	for i--; r.at(i).sep == noSep && (r.at(i).s.is(copula) || r.at(i).s.is(filler)); i-- {
	}
	return r.at(i).sep == noSep && r.at(i).s != nil && r.at(i).s.head != nil
}

// each: "both", "each", "all four cones", "all three need replacing". "Either" is one of them, unless it is denied.
func (r *naming) each(s *sense) bool {
	switch {
	case !s.is(quant) && !s.is(every):
		return false
	case r.head != nil:
		return r.stop()
	}
	r.every, r.all = true, s.is(every)
	text := r.at(r.i).text
	r.either = r.either || text == "either" || text == "either of the"
	r.take(r.i + 1)
	if !s.is(every) || r.class(r.i) != ones {
		return true
	}
	counted, after := int(r.at(r.i).s.number), r.at(r.i+1).s
	switch {
	case r.headSoon(r.i + 1):
		r.counted = counted
		r.over(r.i + 1)
	case after.is(want) || after.is(copula) || r.isEnd(r.i+1):
		r.counted = counted
		r.take(r.i + 1)
	}
	return true
}

// aSide: "a side". What follows it in "nine a side rear hub" is another part.
func (r *naming) aSide(s *sense) bool {
	switch {
	case !s.is(eachSide):
		return false
	case r.head != nil:
		return r.stop()
	}
	r.sides = true
	alone := r.i == r.first
	r.take(r.i + 1)
	if alone && (r.modAt(r.i) || r.headAt(r.i) != nil) {
		return r.stop()
	}
	return true
}

// theOther: "the other side".
func (r *naming) theOther(s *sense) bool {
	if !s.is(otherSide) {
		return false
	}
	r.other = true
	return r.take(r.i + 1)
}

// wheelWord: the wheel, which is no part but says where one is.
func (r *naming) wheelWord(s *sense) bool {
	switch {
	case !s.is(wheel):
		return false
	case r.head != nil:
		return r.stop()
	}
	r.wheel = true
	return r.take(r.i + 1)
}

// pronounWhere: "the ones on the back".
func (r *naming) pronounWhere(s *sense) bool {
	if !s.is(onePronoun) || r.end != r.first || r.head != nil {
		return false
	}
	next := r.modAfterAt(r.i + 1)
	return next > 0 && r.over(next)
}

// pronoun: "the rear one".
func (r *naming) pronoun(s *sense) bool {
	switch {
	case !s.is(onePronoun):
		return false
	case r.end == r.first || r.head != nil || r.class(r.skipJoint(r.i+1)) != noNumber:
		return r.stop()
	}
	r.ones = true
	return r.endsWith(r.i + 1)
}

// kind: "tubeless tyre", "six-bolt rotor".
func (r *naming) kind(s *sense) bool {
	if len(s.facts) == 0 || r.head != nil || !r.headSoon(r.i+1) {
		return false
	}
	r.before = append(r.before, &predicate{spans: []span{{r.i, r.i + 1}}, facts: s.facts})
	return r.over(r.i + 1)
}

// article: "the", "a".
func (r *naming) article(*sense) bool {
	return determiner(r.at(r.i).text) && r.head == nil && !r.other && r.over(r.i+1)
}

// itsCable: "the back brake's cable".
func (r *naming) itsCable(*sense) bool {
	of := r.itsPart()
	if of == nil || r.head == nil || len(ofSystem(of.places, r.head)) == 0 {
		return false
	}
	r.system, r.head = r.head, of
	return r.take(r.i + 2)
}

// someOfIt: "the cassette's last three sprockets".
func (r *naming) someOfIt(*sense) bool {
	if r.at(r.i).text != "'s" || r.head == nil {
		return false
	}
	next := r.someOf(r.head, r.i+1)
	return next > 0 && r.take(next)
}

// itsBearings: "the wheel's bearings".
func (r *naming) itsBearings(*sense) bool {
	of := r.itsPart()
	return of != nil && (r.head != nil || r.wheel) && isBearing(of) && r.over(r.i+1)
}

// itsPart is the part that is named after "'s"; nil if none is.
func (r *naming) itsPart() *head {
	if r.at(r.i).text != "'s" {
		return nil
	}
	return r.headAt(r.i + 1)
}
