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
		Dimension{Name: "tubeless", Form: Flag, Means: "tubeless", Measure: "read the tyre"},
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
			Says:   "the tyre is neither too narrow nor too wide for the rim",
			Test:   Custom{Of: []Ref{mine("width_mm"), theirs("~.rim", "inner_width_mm")}, Judge: tyreOnRim},
			Source: Source{"ETRTO lists of tyre widths by rim, before 2006 and of 2006, as two reference pages print them", Handbook},
		},
		tyreRoom("tyre.fork-room", "front.tyre", "fork"),
		tyreRoom("tyre.frame-room", "rear.tyre", "frame"),
		{
			ID: "tyre.width", Severity: Function,
			Says:   "the tyre is as wide as it was",
			Test:   Same{Mine: []string{"width_mm"}, Feel: tyreFeel},
			Source: Source{"ISO 5775-1: outside diameter from bead seat and width", Standard},
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

// tyreOnRim holds where both published lists allow the width, breaks where neither does, and cannot tell between them
// or for a rim that they do not list.
func tyreOnRim(s Scene, at Place) Judgement {
	tyre, rim := s.side(mine("width_mm"), at), s.side(theirs("~.rim", "inner_width_mm"), at)
	if !tyre.known || !rim.known {
		if changed, ok := evidence(tyre, rim); ok && changed.now.Equal(changed.was) {
			return Match{}.likeOld(changed)
		}
		return untold(tyre, rim)
	}
	j := Judgement{Answer: CantTell, Found: tyre.now.String() + " mm", Words: tyre.words() + " on a rim " + rim.now.String() + " mm wide inside"}
	within, lists := 0, 0
	for _, list := range []standard.RimList{standard.Before2006, standard.From2006} {
		row, listed := standard.TyreWidths(list, rim.now.number)
		if !listed || !row.Confidence.Firm() {
			continue
		}
		lists++
		j.Wanted = fmt.Sprintf("%d to %d mm", row.MinMM, row.MaxMM)
		if w := int(tyre.now.number); w >= row.MinMM && w <= row.MaxMM {
			within++
		}
	}
	switch {
	case lists == 2 && within == 2:
		j.Answer = Holds
	case lists == 2 && within == 0:
		j.Answer = Breaks
		j.Words += ": outside the published lists, which end at " + j.Wanted
	case lists == 2:
		j.Words += ": the list of 2006 allows it, the older one does not; the rim maker's word decides"
	default:
		j.Words += ": no published list that was read has this rim; the rim maker's word decides"
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
