package substitution

import "math"

// leastRoll is the shortest length that is a roll and no length for one bike, in mm. Common practice, no source: the
// longest run on a tandem is shorter.
const leastRoll = 5000

// Roll is how many pieces a roll holds of a family that is cut off one, and the spec of what is on it; false for anything
// else. A piece is a metre, or of rim tape a wheel's length: metres is how much of that is on the roll.
func Roll(f Family, spec Spec, metres float64) (pieces int, off Spec, ok bool) {
	switch t := tableOf[f]; {
	case t == nil:
		return 0, spec, false
	case t.ByMetre:
		return metresOff(spec)
	case t == &rimTape:
		return wheelsOff(spec, metres)
	}
	return 0, spec, false
}

// metresOff is how many whole metres a roll holds.
func metresOff(spec Spec) (metres int, off Spec, ok bool) {
	length, known := spec["length_mm"]
	if !known || length.Value.Float() < leastRoll {
		return 0, spec, false
	}
	off = spec.With("by_metre", Yes(true), length.Origin)
	delete(off, "length_mm")
	return int(length.Value.Float() / 1000), off, true
}

// IsByMetre reports whether a piece of the part is a metre of it.
func (p *Part) IsByMetre() bool {
	v, known := p.Get("by_metre")
	return known && v.Equal(Yes(true))
}

// cutTo asks a rule of lengths only of what is a length: what comes off a roll is cut to it.
func cutTo(r Rule) Rule {
	r.When = append(r.When, unless("by_metre", "yes"))
	return r
}

// What a wheel's length of rim tape is: once round the largest bead seat that shops keep wheels of (ISO 5775: 635 mm),
// and as much more as its ends lie over one another (common practice, no source), both in mm.
const (
	largestTaped = 635
	tapeOverlap  = 100
)

// wheelsOff is how many wheels a roll of rim tape does, and the spec of one wheel's length off it; false for less than two.
func wheelsOff(spec Spec, metres float64) (wheels int, off Spec, ok bool) {
	wheels = int(metres * 1000 / (math.Pi*largestTaped + tapeOverlap))
	if _, ring := spec["bead_mm"]; ring || wheels < 2 {
		return 0, spec, false
	}
	return wheels, spec.With("by_wheel", Yes(true), FromStandard), true
}
