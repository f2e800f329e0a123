package substitution

import (
	"fmt"
	"math"
	"strconv"

	"stead/substitution/standard"
)

// gearing is what a bike's gears come to: its largest and smallest rings and sprockets, and the rear tyre.
// A single ring is both.
type gearing struct {
	LargeRing, SmallRing         int
	SmallSprocket, LargeSprocket int
	Tyre                         standard.Tyre // zero where the rear tyre's size is not known
}

// Refs to the rings and sprockets of a bike; the first that the bike has counts.
func largeRing() []Ref {
	return []Ref{theirs("crank.outer-ring", "teeth"), theirs("crank.ring", "teeth")}
}
func smallRing() []Ref {
	return []Ref{theirs("crank.inner-ring", "teeth"), theirs("crank.ring", "teeth")}
}
func sprockets(dimension string) []Ref {
	refs := []Ref{theirs("rear.cassette", dimension), theirs("rear.freewheel", dimension)}
	if dimension != "speeds" {
		refs = append(refs, theirs("rear.sprocket", "teeth"))
	}
	return refs
}

// gearingOf reads the gearing off a build; false where a ring or sprocket is not known.
func gearingOf(b Build) (gearing, bool) {
	s := Scene{Now: b}
	var g gearing
	known := true
	for _, want := range []struct {
		into *int
		refs []Ref
	}{
		{&g.LargeRing, largeRing()}, {&g.SmallRing, smallRing()},
		{&g.SmallSprocket, sprockets("teeth_min")}, {&g.LargeSprocket, sprockets("teeth_max")},
	} {
		d := s.first(want.refs, "")
		known = known && d.known
		*want.into = int(d.now.number)
	}
	width, okWidth := b["rear.tyre"].Get("width_mm")
	bead, okBead := b["rear.tyre"].Get("bead_mm")
	if okWidth && okBead {
		g.Tyre = standard.Tyre{WidthMM: int(width.number), BeadMM: int(bead.number)}
	}
	return g, known
}

// Top and Low are the highest and lowest gear as ratios, ring teeth by sprocket teeth.
func (g gearing) Top() float64 { return float64(g.LargeRing) / float64(g.SmallSprocket) }
func (g gearing) Low() float64 { return float64(g.SmallRing) / float64(g.LargeSprocket) }

// Metres is the development of a gear: how far the bike goes in one turn of the cranks, by the tyre's ISO 5775 outside
// diameter. False where the tyre is not known.
func (g gearing) Metres(ratio float64) (float64, bool) {
	return math.Pi * g.Tyre.OuterISO() / 1000 * ratio, g.Tyre.BeadMM > 0
}

// ringFeel puts a ring of other teeth into gears.
func ringFeel(s Scene, at Place) string {
	was, _ := s.Was[at].Get("teeth")
	now, _ := s.Now[at].Get("teeth")
	words := fmt.Sprintf("%sT in place of %sT: every gear on this ring %s", now, was, change(was.number, now.number))
	before, okBefore := gearingOf(s.Was)
	after, okAfter := gearingOf(s.Now)
	if !okBefore || !okAfter {
		return words
	}
	if at == "crank.inner-ring" {
		return words + develops("lowest", before, after, gearing.Low)
	}
	return words + develops("highest", before, after, gearing.Top)
}

// sprocketFeel puts another set of sprockets into gears.
func sprocketFeel(s Scene, at Place) string {
	smallWas, okA := s.Was[at].Get("teeth_min")
	largeWas, okB := s.Was[at].Get("teeth_max")
	small, okC := s.Now[at].Get("teeth_min")
	large, okD := s.Now[at].Get("teeth_max")
	if !okA || !okB || !okC || !okD {
		return ""
	}
	words := fmt.Sprintf("%s-%sT in place of %s-%sT: ", small, large, smallWas, largeWas)
	words += "highest gear " + change(1/smallWas.number, 1/small.number) + ", lowest " + change(1/largeWas.number, 1/large.number)
	words += fmt.Sprintf("; range %.0f %% in place of %.0f %%", 100*large.number/small.number, 100*largeWas.number/smallWas.number)
	before, okBefore := gearingOf(s.Was)
	after, okAfter := gearingOf(s.Now)
	if okBefore && okAfter {
		words += develops("lowest", before, after, gearing.Low)
	}
	return words
}

// develops compares a gear's development before and after, where the tyre is known.
func develops(name string, before, after gearing, gear func(gearing) float64) string {
	was, okWas := before.Metres(gear(before))
	now, okNow := after.Metres(gear(after))
	if !okWas || !okNow {
		return ""
	}
	return fmt.Sprintf("; the %s gear goes %.2f m a turn in place of %.2f m", name, now, was)
}

// change says by how much a figure went up or down: "4 % lower".
func change(was, now float64) string {
	percent := math.Round(1000*(now/was-1)) / 10
	switch {
	case percent > 0:
		return strconv.FormatFloat(percent, 'f', -1, 64) + " % higher"
	case percent < 0:
		return strconv.FormatFloat(-percent, 'f', -1, 64) + " % lower"
	}
	return "as before"
}
