package substitution

import (
	"fmt"

	"stead/substitution/standard"
)

var _ = families(&looseBalls, &ballCage)

// ballWithin separates an inch ball from the nearest metric one (5/32 in is 3.969 mm beside 4 mm) and forgives sizes
// written to two decimals.
const ballWithin = 0.012

var byBallSizes = Source{"ball sizes of GOST 3722-2014, which follows ISO 3290-1: inch and neighbouring metric balls differ by hundredths", Standard}

var looseBalls = Table{
	Family: "loose-balls", Plural: "loose balls",
	Sites: []Site{
		{Place: "bottom-bracket.balls-left", Words: "left bottom bracket balls"},
		{Place: "bottom-bracket.balls-right", Words: "right bottom bracket balls"},
		{Place: "headset.upper-balls", Words: "upper headset balls", Safety: true},
		{Place: "headset.lower-balls", Words: "lower headset balls", Safety: true},
		{Place: "front.hub.balls-left", Words: "front hub balls, left", Safety: true},
		{Place: "front.hub.balls-right", Words: "front hub balls, right", Safety: true},
		{Place: "rear.hub.balls-left", Words: "rear hub balls, left", Safety: true},
		{Place: "rear.hub.balls-right", Words: "rear hub balls, right", Safety: true},
		{Place: "rear.freehub.balls-inner", Words: "freehub balls, inner race"},
		{Place: "rear.freehub.balls-outer", Words: "freehub balls, outer race"},
	},
	Readings: []Reading{pitted, ballsFound},
	Work: []Work{
		{Replace, "clean race and fit balls", 15},
		{Clean, "clean and grease balls", 15},
	},
	Dimensions: []Dimension{
		ballDia,
		count("grade", "grade", 3, 2000, "read the label; a caliper cannot tell"),
	},
	Rules: []Rule{
		{
			ID: "loose-balls.size", Severity: Mating, Against: []Place{within},
			Says:   "the balls are exactly the size that was there, inch or metric",
			Test:   Match{Mine: "ball_mm", Within: ballWithin},
			Source: byBallSizes,
		},
		{
			ID: "loose-balls.grade", Severity: Function,
			Says:   "the balls are as round as those that were there, or rounder",
			Test:   Custom{Of: []Ref{mine("grade")}, Judge: ballGrade, Geometry: true},
			Source: Source{"ISO 3290-1 grades: a smaller number is rounder", Standard},
		},
		materialRule("loose-balls", "stainless is softer than bearing steel and resists rust", byBallSteel),
	},
}

// ballGrade breaks only where the new balls are less round; how much rounder they are nobody feels.
func ballGrade(s Scene, at Place) Judgement {
	d := s.side(mine("grade"), at)
	if !d.changed || !d.known || !d.wasKnown {
		return Judgement{}
	}
	j := Judgement{Answer: Holds, Wanted: d.was.String() + " or finer", Found: d.now.String(),
		Words: fmt.Sprintf("grade %s in place of %s", d.now, d.was)}
	if d.now.number > d.was.number {
		j.Answer = Breaks
		j.Words += roundness(d.was.number, d.now.number)
	}
	return j
}

// roundness compares two grades by how far a ball may be out of round, where the standard lists both.
func roundness(was, now float64) string {
	um := map[float64]float64{}
	for _, g := range standard.BallGrades() {
		um[float64(g.Grade)] = g.VariationMicron
	}
	if um[was] == 0 || um[now] == 0 {
		return ": less round"
	}
	return fmt.Sprintf(": %s µm out of round at most in place of %s µm", figure(um[now]), figure(um[was]))
}

var ballCage = Table{
	Family: "ball-cage", Plural: "ball cages",
	Sites: []Site{
		{Place: "bottom-bracket.cage-left", Words: "left bottom bracket ball cage"},
		{Place: "bottom-bracket.cage-right", Words: "right bottom bracket ball cage"},
		{Place: "headset.upper-cage", Words: "upper headset ball cage", Safety: true},
		{Place: "headset.lower-cage", Words: "lower headset ball cage", Safety: true},
	},
	Readings: []Reading{pitted, ballsFound},
	Work: []Work{
		{Replace, "clean race and fit ball cage", 15},
		{Clean, "clean and grease ball cage", 15},
	},
	Dimensions: []Dimension{
		ballDia,
		count("balls", "balls", 3, 60, "count the balls"),
		outer, bore,
	},
	Ordered: [][2]string{{"bore_mm", "outer_mm"}},
	Rules: []Rule{
		{
			ID: "ball-cage.size", Severity: Mating, Against: []Place{within},
			Says:   "the balls are exactly the size that was there",
			Test:   Match{Mine: "ball_mm", Within: ballWithin},
			Source: byBallSizes,
		},
		{
			ID: "ball-cage.outer", Severity: Mating,
			Says:   "the cage is as large outside as the old one",
			Test:   Match{Mine: "outer_mm", Within: 0.5, Rare: true},
			Source: Source{"the cage must stand clear of cup and cone; the half millimetre is the shop's", Practice},
		},
		{
			ID: "ball-cage.bore", Severity: Mating,
			Says:   "the cage is as large inside as the old one",
			Test:   Match{Mine: "bore_mm", Within: 0.5, Rare: true},
			Source: Source{"the cage must stand clear of cup and cone; the half millimetre is the shop's", Practice},
		},
		{
			ID: "ball-cage.balls", Severity: Function,
			Says:   "the cage holds as many balls",
			Test:   Same{Mine: []string{"balls"}},
			Source: Source{"fewer balls carry more each", Arithmetic},
		},
		// A cage is a row of loose balls that stays together: cup and cone know the balls alone. So loose balls of one
		// size go where a cage was, some more of them; a cage where loose balls were wants room between cup and cone
		// besides.
		{
			ID: "ball-cage.loose-size", Severity: Mating, Across: "loose-balls",
			Says:   "the balls are exactly the size of those in the cage, or the cage's of the loose ones",
			Test:   Match{Mine: "ball_mm", Within: ballWithin},
			Source: byBallSizes,
		},
		{
			ID: "ball-cage.room", Severity: Mating, Across: "loose-balls",
			Says:   "a cage has room between cup and cone",
			Test:   Custom{Of: []Ref{mine("outer_mm")}, Judge: cageRoom, Geometry: true},
			Source: byCages,
		},
		{
			ID: "ball-cage.loose", Severity: Function, Across: "loose-balls",
			Says:   "loose balls stay loose, and a cage a cage",
			Test:   Custom{Judge: uncaged, Geometry: true},
			Source: byCages,
		},
	},
}

var byCages = Source{"Sheldon Brown on bearing balls: a retainer holds fewer balls than the race has room for; bottom brackets have 11 loose where cages hold 7 to 9", Handbook}

// cageRoom asks of a cage where loose balls were; those take less room than a cage.
func cageRoom(s Scene, at Place) Judgement {
	if s.Now[at].Family != "ball-cage" {
		return Judgement{}
	}
	return Judgement{Answer: CantTell, Words: "a cage where loose balls were: whether it stands clear of cup and cone is not known",
		Missing: []Missing{{Place: at, Dimension: "outer_mm", Measure: "lay the cage in the cup and the cone on it: neither may touch the cage"}}}
}

// uncaged tells what is another thing to fit and to ride.
func uncaged(s Scene, at Place) Judgement {
	if s.Now[at].Family == "ball-cage" {
		return Judgement{Answer: Breaks, Words: "a cage in place of loose balls: fewer balls carry more each"}
	}
	return Judgement{Answer: Breaks, Words: "loose balls in place of a cage: fill the race and leave the room of one; there are more of them than in the cage"}
}
