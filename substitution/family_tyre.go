package substitution

import (
	"fmt"

	"stead/substitution/standard"
)

var _ = families(&tyre)

var bead = count("bead_mm", "bead seat diameter", 100, 720, "read the tyre: the second figure of 28-622 (ISO 5775)")

var tyre = Table{
	Family: "tyre", Plural: "tyres",
	Sites: []Site{
		{Place: "front.tyre", Words: "front tyre", Safety: true},
		{Place: "rear.tyre", Words: "rear tyre", Safety: true},
	},
	Readings: []Reading{damaged, wornToMark},
	Work: []Work{
		{Replace, "fit tyre", 15},
	},
	Dimensions: []Dimension{
		bead,
		count("width_mm", "width", 15, 130, "read the tyre: the first figure of 28-622 (ISO 5775)"),
		{Name: "tubeless", Form: Flag, Means: "tubeless", Measure: "read the tyre"},
	},
	Rules: []Rule{
		{
			ID: "tyre.bead", Severity: Mating, Presumed: true,
			Says:   "the tyre's bead seat is the rim's: one inch name can mean six of them",
			Test:   Match{Mine: "bead_mm", Theirs: []Ref{theirs("~.rim", "bead_mm")}},
			Source: Source{"ISO 5775: bead seat diameters must be equal", Standard},
		},
		{
			ID: "tyre.rim-width", Severity: Safety, Presumed: true,
			Says:   "the tyre is neither too narrow nor too wide for the rim, and never narrower than the rim is inside",
			Test:   Custom{Of: []Ref{mine("width_mm"), theirs("~.rim", "inner_width_mm")}, Judge: tyreOnRim, Geometry: true},
			Source: Source{"a tyre maker's page on the measuring rims since 2020 and its table for 38 mm; a rim maker: never narrower than the rim inside; the lists before 2006 and of 2006", Catalogue},
		},
		tyreRoom("tyre.fork-room", "front.tyre", "fork"),
		tyreRoom("tyre.frame-room", "rear.tyre", "frame"),
		{
			ID: "tyre.width", Severity: Function,
			Says:   "the tyre is as wide as it was",
			Test:   Same{Mine: []string{"width_mm"}, Feel: tyreFeel},
			Source: Source{"outside diameter from bead seat and width, as ISO 5775 sizes are read", Handbook},
		},
		{
			ID: "tyre.tubeless", Severity: Function,
			Says:   "it runs with or without a tube as the old one did",
			Test:   Same{Mine: []string{"tubeless"}},
			Source: byOldPart,
		},
		finishRule("tyre"),
	},
}

// tyreRoom holds a tyre to the width that fork or frame leaves room for.
func tyreRoom(id string, at, bearer Place) Rule {
	return Rule{
		ID: id, Severity: Safety, At: []Place{at},
		Says:   "the tyre is no wider than the " + string(bearer) + " has room for",
		Test:   Limit{Sum: []Term{plus(mine("width_mm"))}, AtMost: []Ref{theirs(bearer, "tyre_max_mm")}},
		Source: byISO4210,
	}
}

// tyreOnRim holds on the rims that a list names, on the measuring rim and between them, breaks on a rim wider than the
// tyre or far from all lists, and asks in between.
func tyreOnRim(s Scene, at Place) Judgement {
	tyre, rim := s.side(mine("width_mm"), at), s.side(theirs("~.rim", "inner_width_mm"), at)
	if !tyre.known || !rim.known {
		return tyreLikeOld(tyre, rim)
	}
	w, r := tyre.now.number, rim.now.number
	j := Judgement{Answer: Holds, Found: tyre.now.String() + " mm", Words: tyre.words() + " on a rim " + rim.now.String() + " mm wide inside"}
	low, high, listed := rimsFor(int(w))
	switch {
	case r > w:
		j.Answer = Breaks
		j.Words += ": never a tyre narrower than the rim is inside"
	case !listed:
		j.Answer = CantTell
		j.Words += ": no published list that was read has this tyre; the rim maker's word decides"
	case r >= low && r <= high:
		j.Wanted = figure(low) + " to " + figure(high) + " mm inside"
	case r > low-rimLess && r <= high+rimDoubt:
		j.Answer, j.Wanted = CantTell, figure(low)+" to "+figure(high)+" mm inside"
		j.Words += ": beside the published lists, which have " + j.Wanted + "; the rim maker's word decides"
	default:
		j.Answer, j.Wanted = Breaks, figure(low)+" to "+figure(high)+" mm inside"
		j.Words += ": far from the published lists, which have " + j.Wanted
	}
	if j.Answer == CantTell {
		if changed, ok := unchangedPair(tyre, rim); ok {
			return Match{}.likeOld(changed, false)
		}
		j.Missing = []Missing{{Place: rim.place, Dimension: rim.dim, Measure: "the rim maker's list of tyre widths"}}
	}
	return j
}

// unchangedPair tells whether tyre and rim are what they were, though one of the parts is new.
func unchangedPair(tyre, rim side) (side, bool) {
	same := func(d side) bool { return !d.changed || d.wasKnown && d.was.Equal(d.now) }
	if same(tyre) && same(rim) && (tyre.changed || rim.changed) {
		if tyre.changed {
			return tyre, true
		}
		return rim, true
	}
	return side{}, false
}

// How far beside the published lists, in mm of rim, the rim maker's word decides: rims get wider with the years, and not
// narrower.
const (
	rimDoubt = 3
	rimLess  = 2
)

// rimsFor spans the rims on which the published lists have a tyre: its measuring rim, 17 to 27 mm for 35 to 46 mm as the
// one maker's table goes that was read, what straight-side rims carry, and both older lists.
func rimsFor(tyreMM int) (low, high float64, listed bool) {
	take := func(rim float64) {
		if !listed || rim < low {
			low = rim
		}
		if !listed || rim > high {
			high = rim
		}
		listed = true
	}
	if rim, ok := standard.MeasuringRimMM(tyreMM); ok {
		take(rim)
		if tyreMM >= 35 && tyreMM <= 46 {
			take(17)
			take(27)
		}
	}
	switch { // straight-side rims, by a wheel maker's statement: 28 to 47 mm on 25 inside, 28 on 23 at most
	case tyreMM == 28:
		take(23)
	case tyreMM > 28 && tyreMM <= 47:
		take(25)
	}
	for _, row := range standard.TyreRanges() {
		if tyreMM >= row.MinMM && tyreMM <= row.MaxMM && row.Confidence.Firm() {
			take(float64(row.RimMM))
		}
	}
	return low, high, listed
}

// tyreLikeOld judges by the old part where tyre or rim was never measured: what was there vouches for a tyre or a rim of
// nearly the same width.
func tyreLikeOld(tyre, rim side) Judgement {
	changed, ok := evidence(tyre, rim)
	if !ok {
		return untold(unknownOf(tyre, rim)...)
	}
	much := max(3, 0.08*changed.was.number)
	if changed.dim == "inner_width_mm" {
		much = 2
	}
	if off := abs(changed.now.number - changed.was.number); off > much+rounding {
		return untold(unknownOf(tyre, rim)...)
	}
	j := Match{Within: much}.likeOld(changed, false)
	if !changed.now.Equal(changed.was) {
		j.Words += ", so little that any rim and tyre that went together still do"
	}
	return j
}

// tyreFeel says how much taller the wheel gets: gearing, bottom bracket height and, at the rim, room.
func tyreFeel(s Scene, at Place) string {
	size := func(p *Part) (standard.Tyre, bool) {
		width, okWidth := p.Get("width_mm")
		bead, okBead := p.Get("bead_mm")
		return standard.Tyre{WidthMM: int(width.number), BeadMM: int(bead.number)}, okWidth && okBead
	}
	was, okWas := size(s.Was[at])
	now, okNow := size(s.Now[at])
	if !okWas || !okNow {
		return ""
	}
	words := fmt.Sprintf("%d mm wide in place of %d mm: the wheel is %.0f mm across in place of %.0f mm", now.WidthMM, was.WidthMM, now.OuterISO(), was.OuterISO())
	if at == "rear.tyre" {
		words += ", every gear " + change(was.OuterISO(), now.OuterISO())
	}
	return words
}
