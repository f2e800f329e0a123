package describe

import (
	"slices"

	"stead/substitution"
)

// whichOfShared settles, of each name that several families share, which of them is meant; "" where nothing tells.
var whichOfShared = map[substitution.Family]func(*scratch) substitution.Family{
	someBearing:      (*scratch).whichBearing,
	"seal-kit":       (*scratch).whichSeals,
	"shock":          (*scratch).shockOrItsSeals,
	somePads:         (*scratch).whichPads,
	someCable:        (*scratch).whichCable,
	someBracket:      (*scratch).whichBracket,
	someDerailleur:   (*scratch).whichDerailleur,
	"bottom-bracket": (*scratch).bottomBracketOrTube,
	"tube":           (*scratch).tubeOrTubular,
	"skewer":         (*scratch).skewerOrJoiner,
	"chain-joiner":   (*scratch).joinerOrLock,
	"shifter":        (*scratch).shifterOfHub,
	"lubricant":      (*scratch).oilOrFluid,
	"consumable":     (*scratch).capOfHub,
	"chainring":      (*scratch).ringOfMotor,
	"sprocket":       (*scratch).sprocketOfMotor,
	"freewheel":      (*scratch).freewheelOrBody,
}

// whichOf settles a name that several families share by what else is said.
func (s *scratch) whichOf(f substitution.Family) substitution.Family {
	if which := whichOfShared[f]; which != nil {
		f = which(s)
	}
	if isBearing(f) {
		return s.ballsOrBearing(f)
	}
	if isSmall(f) {
		return s.whichSmall(f)
	}
	return f
}

func (s *scratch) whichBearing() substitution.Family {
	if s.mentions("headset") && !s.namesBearing() || s.hasAngles() {
		return "headset-bearing"
	}
	return "cartridge-bearing"
}

func isBearing(f substitution.Family) bool {
	return f == "cartridge-bearing" || f == "headset-bearing" || f == "loose-balls"
}

// ballsOrBearing knows that the "bearings" of a cup and cone are balls, in a cage or loose with their size, whatever part
// they are named by: "bottom bracket bearings, caged". A number, a seal or two chamfers tell a bearing with rings.
func (s *scratch) ballsOrBearing(f substitution.Family) substitution.Family {
	switch {
	case s.namesBearing() || s.saysDimension("seal") || s.hasAngles() || s.weakName() == "cartridge-bearing":
		return f
	case s.hints("ball-cage", "", ""):
		return "ball-cage"
	case s.hints("loose-balls", "", "") && s.saysFraction():
		return "loose-balls"
	}
	return f
}

// saysFraction reports whether a size is written as a fraction, as those of balls are.
func (s *scratch) saysFraction() bool {
	for i := 0; i+2 < len(s.items); i++ {
		if a, bar, b := &s.items[i], &s.items[i+1], &s.items[i+2]; a.kind == figure && bar.kind == joint && bar.joint == '/' && b.kind == figure && a.value < b.value {
			return true
		}
	}
	return false
}

// whichSeals tells whose seals a kit is of: a fork's have a name of their own, a shock's are part of its service, and those
// of anything else but a brake are no part of ours.
func (s *scratch) whichSeals() substitution.Family {
	switch {
	case s.hints("service-kit", "", "") || s.mentions("shock"):
		return "service-kit"
	case s.hints("fork-seal", "seal_kind", ""):
		return "fork-seal"
	}
	for i := range s.items {
		if s.saysValue(i, "kind", "dropper") {
			return ""
		}
	}
	for _, sealed := range []substitution.Family{"seatpost", "hub", "freehub-body", "bottom-bracket", "headset", "pedal"} {
		if s.mentions(sealed) {
			return ""
		}
	}
	return "seal-kit"
}

// shockOrItsSeals knows that a shock's seals may be named behind one of its parts: "shock air can seal kit".
func (s *scratch) shockOrItsSeals() substitution.Family {
	for i := range s.items {
		if it := &s.items[i]; it.clause == mainClause && it.sense != nil && it.sense.family == "seal-kit" {
			return "service-kit"
		}
	}
	return "shock"
}

func (s *scratch) whichPads() substitution.Family {
	disc, rim := s.hints("disc-pad", "compound", "pad_shape"), s.hints("rim-pad", "pad_fixing", "rim_material")
	switch {
	case disc && !rim:
		return "disc-pad"
	case rim && !disc:
		return "rim-pad"
	}
	return ""
}

// whichCable tells the inner wire from its housing by a word, else by how thick or how long it is.
func (s *scratch) whichCable() substitution.Family {
	inner, outer := s.hints("cable-inner", "nipple", ""), s.hints("cable-outer", "", "")
	if !inner && !outer {
		inner, outer = s.hasFigure(1, 2) || s.hasFigure(1000, 3500), s.hasFigure(4, 6)
	}
	switch {
	case inner && !outer:
		return "cable-inner"
	case outer && !inner:
		return "cable-outer"
	}
	return ""
}

// whichBracket knows that a Dutch "bracket" is a bottom bracket; an English one holds something, and is none of our parts.
func (s *scratch) whichBracket() substitution.Family {
	if s.saysDimension("shell") || s.saysDimension("spindle_interface") {
		return "bottom-bracket"
	}
	s.other = [2]int{0, len(s.items)}
	return ""
}

// whichDerailleur tells the rear one from the front one by where it goes, by its cage or by its clamp.
func (s *scratch) whichDerailleur() substitution.Family {
	rear, front := s.saysDimension("cage"), s.saysDimension("cable_pull") || s.saysDimension("swing")
	for i := range s.items {
		rear = rear || s.saysValue(i, "position", "rear")
		front = front || s.saysValue(i, "position", "front")
	}
	switch {
	case rear && !front:
		return "rear-derailleur"
	case front && !rear:
		return "front-derailleur"
	}
	return ""
}

// bottomBracketOrTube knows that a Dutch "BB" is an inner tube as well.
func (s *scratch) bottomBracketOrTube() substitution.Family {
	if s.saysDimension("valve") && !s.saysDimension("shell") {
		return "tube"
	}
	return "bottom-bracket"
}

// tubeOrTubular knows that a Dutch "tube" is a tubular.
func (s *scratch) tubeOrTubular() substitution.Family {
	if s.saysDimension("tubular") {
		return "tyre"
	}
	return "tube"
}

// skewerOrJoiner knows that in French the same words, "attache rapide", join a chain.
func (s *scratch) skewerOrJoiner() substitution.Family {
	if s.hasUnit(speeds) {
		return "chain-joiner"
	}
	return "skewer"
}

// joinerOrLock knows that a German "Kettenschloss" of so many centimetres locks a bicycle.
func (s *scratch) joinerOrLock() substitution.Family {
	for i := range s.items {
		if it := &s.items[i]; it.kind == figure && (it.unit == cm && it.value >= 30 || it.unit == mm && it.value >= 300) {
			s.other = [2]int{0, len(s.items)}
			return ""
		}
	}
	return "chain-joiner"
}

// shifterOfHub tells the shifter for a gear hub from that for a derailleur.
func (s *scratch) shifterOfHub() substitution.Family {
	if s.mentions("hub") || s.hints(aGearHub, "", "") {
		return "hub-shifter"
	}
	return "shifter"
}

// oilOrFluid tells what a brake is filled with from other oil.
func (s *scratch) oilOrFluid() substitution.Family {
	if s.saysDimension("fluid") && s.isOfBrakes() {
		return "?brake-fluid"
	}
	return "lubricant"
}

func (s *scratch) isOfBrakes() bool {
	for i := range s.items {
		if it := &s.items[i]; s.saysValue(i, "use", "brake") || it.sense != nil && (it.sense.hint == "disc-pad" || it.sense.hint == "rim-pad") {
			return true
		}
	}
	return false
}

// capOfHub tells a hub's dust cap from a valve's.
func (s *scratch) capOfHub() substitution.Family {
	if !s.mentions("hub") && !s.hints(aGearHub, "", "") {
		return "consumable"
	}
	for i := range s.items {
		if s.saysValue(i, "kind", "dust-cap") {
			return "hub-spare"
		}
	}
	return "consumable"
}

// ringOfMotor tells the ring of an electric motor, which its maker's number names, from one that is bolted to a circle.
func (s *scratch) ringOfMotor() substitution.Family {
	for i := range s.items {
		it := &s.items[i]
		if it.sense != nil && it.sense.labels&bcdLabel != 0 || it.kind == figure && it.unit&bolts != 0 {
			return "chainring"
		}
	}
	if s.hints("motor-ring", "", "") {
		return "motor-ring"
	}
	return "chainring"
}

// sprocketOfMotor likewise tells the one on an electric motor's shaft.
func (s *scratch) sprocketOfMotor() substitution.Family {
	if s.hints("motor-ring", "", "") {
		return "motor-ring"
	}
	return "sprocket"
}

var bcdLabel = labelOf("bcd")

// freewheelOrBody knows that a German "Freilauf" with a spline is the body on which a cassette goes.
func (s *scratch) freewheelOrBody() substitution.Family {
	for i := range s.items {
		if it := &s.items[i]; it.kind == phrase && slices.ContainsFunc(it.sense.says, func(says says) bool {
			return says.dimension == "freehub" && says.in == nil
		}) {
			return "freehub-body"
		}
	}
	return "freewheel"
}
