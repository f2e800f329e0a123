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
		{Name: "tubular", Form: Flag, Means: "tubular", Measure: "look at its underside: a tubular is sewn or closed all round and has no beads"},
		pressureMost,
	},
	Rules: []Rule{
		tubularOnRim, beadsInRim,
		{
			ID: "tyre.bead", Severity: Mating, Presumed: true,
			Says:   "the tyre's bead seat is the rim's: one inch name can mean six of them",
			Test:   Match{Mine: "bead_mm", Theirs: []Ref{theirs("~.rim", "bead_mm")}},
			Source: Source{"ISO 5775: bead seat diameters must be equal", Standard},
		},
		{
			ID: "tyre.rim-width", Severity: Safety, Presumed: true, When: []When{unless("tubular", "yes")},
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
			Says:   "it runs with or without a tube as the old one did: without one it wants airtight tape over the spoke holes, a valve in the rim, and sealant",
			Test:   Custom{Of: []Ref{mine("tubeless"), theirs("~.rim-tape", "tubeless"), theirs("~.rim", "inner_width_mm"), theirs("~.rim", "depth_mm")}, Judge: tubelessSetup, Geometry: true},
			Source: byTubeless,
		},
		{
			ID: "tyre.pressure", Severity: Function, When: []When{given("pressure_max_bar")},
			Says:   "tyre and rim are pumped to the lower of their two limits: 5 bar on a straight-side rim, whatever the tyre says",
			Test:   Custom{Of: []Ref{mine("pressure_max_bar"), theirs("~.rim", "pressure_max_bar"), theirs("~.rim", "hookless")}, Judge: pressureHeld, Geometry: true},
			Source: byPressure,
		},
		finishRule("tyre"),
	},
}

// tubularOnRim wants a tubular on a rim for tubulars, and says so of a tyre that does not say what it is.
var tubularOnRim = Rule{
	ID: "tyre.tubular", Severity: Safety, When: []When{{Of: []Ref{theirs("~.rim", "tubular")}, Is: []string{"yes"}, Known: true}},
	Says: "a rim for tubulars takes a tubular, glued or taped into its bed; a tyre with beads has nothing to hold it there",
	Test: Lookup{
		Of:        []Ref{mine("tubular")},
		Rows:      []Row{{Keys: []string{"yes"}, Answer: Holds, Brings: []Bring{small("tubular-glue", "glue or tape for tubulars", 1)}}},
		Otherwise: Breaks, Why: "there are no walls for its beads",
	},
	Source: byTubulars,
}

// beadsInRim keeps tubulars off all other rims. Where nobody says so, a tyre has beads and a rim walls for them.
var beadsInRim = Rule{
	ID: "tyre.beads", Severity: Safety, When: []When{{Of: []Ref{theirs("~.rim", "tubular")}, Not: []string{"yes"}}},
	Says: "a rim with walls takes a tyre with beads: a tubular finds no bed to be glued to",
	Test: Lookup{
		Of: []Ref{mine("tubular"), theirs("~.rim", "tubular")},
		Rows: []Row{
			{Keys: []string{"no", "*"}, Answer: Holds, Words: "a tyre with beads"},
			{Keys: []string{"yes", "no"}, Answer: Breaks, Words: "there is no bed to glue it to"},
		},
		Otherwise: CantTell, Rare: true,
	},
	Source: byTubulars,
}

var byTubulars = Source{"reference pages on tubular tyres: they are glued or taped to a rim made for them, which has no walls for beads; a badly glued one rolls off", Handbook}

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

var (
	pressureMost = Dimension{Name: "pressure_max_bar", Form: Number, Low: 1, High: 16, Means: "highest pressure", Measure: "read the sidewall of the tyre, or the label or the maker's page of the rim"}
	byPressure   = Source{"TBIS 4210-1, 2.27: the lower of tyre and rim mark counts; a tyre maker's page: straight-side road rims at most 5 bar", Standard}
)

// straightSideBar is the most that a straight-side rim carries, whatever the tyre says.
const straightSideBar = 5

// pressureHeld tells how far the tyre may be pumped where the rim allows less than the tyre.
func pressureHeld(s Scene, at Place) Judgement {
	tyre, rim, hookless := s.side(mine("pressure_max_bar"), at), s.side(theirs("~.rim", "pressure_max_bar"), at), s.side(theirs("~.rim", "hookless"), at)
	if !tyre.changed && !rim.changed {
		return Judgement{}
	}
	most := rim.now.number
	if hookless.known && hookless.now.number == 1 && (!rim.known || most > straightSideBar) {
		most = straightSideBar
	}
	if most == 0 {
		return Judgement{}
	}
	j := Judgement{Answer: Holds, Found: tyre.now.String() + " bar", Wanted: "at most " + figure(most) + " bar", Words: tyre.words() + " on a rim for " + figure(most) + " bar"}
	if tyre.now.number > most {
		j.Answer = Breaks
		j.Words += fmt.Sprintf(": pump it to %s bar (%.1f psi) at most", figure(most), most/barPerPsi)
	}
	return j
}

const barPerPsi = 0.0689476

// tubelessSetup compares with the old tyre, or with the tube that the bike has, and brings what a wheel wants that ran with
// a tube: tape that is there already is not brought again.
func tubelessSetup(s Scene, at Place) Judgement {
	d := s.side(mine("tubeless"), at)
	j := Same{Mine: []string{"tubeless"}}.judge(s, at)
	_, tube := s.Was[Place(at.end()+".tube")]
	without := d.known && d.now.number == 1
	if !d.wasKnown && d.changed && without && tube {
		j = Judgement{Answer: Breaks, Wanted: "with a tube", Found: "tubeless", Words: "a tyre without a tube, and a tube was there"}
	}
	if j.Answer != Breaks || !without {
		return j
	}
	if tape := s.side(theirs("~.rim-tape", "tubeless"), at); !tape.known || tape.now.number != 1 {
		j.Brings = append(j.Brings, tubelessTape(s, at))
	}
	j.Brings = append(j.Brings, tubelessValve(s, at), small("sealant", "tyre sealant", 1))
	return j
}

// tapeClimbs is how far tubeless tape may climb the walls in all, in mm.
const tapeClimbs = 5

// tubelessTape is as wide as the rim inside or a little more, where that is known: it comes in steps.
func tubelessTape(s Scene, at Place) Bring {
	tape := Bring{Family: "rim-tape", Quantity: 1, Words: "tubeless rim tape", Spec: Spec{"tubeless": {Value: Yes(true), Origin: FromStandard}}}
	if inner := s.side(theirs("~.rim", "inner_width_mm"), at); inner.known {
		tape.Spec["width_mm"] = Fact{Value: inner.now, Origin: FromStandard}
		tape.Over = map[string]float64{"width_mm": tapeClimbs}
		tape.Words += " " + inner.now.String() + " to " + figure(inner.now.number+tapeClimbs) + " mm wide"
	}
	return tape
}
