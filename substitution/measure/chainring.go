package measure

import (
	"fmt"
	"math"
	"sort"

	"stead/substitution/standard"
)

// Chainring is what was measured between the bolt holes of a chainring or spider, centre to centre.
type Chainring struct {
	Bolts         int      `json:"bolts"`
	Adjacent      *Reading `json:"adjacent,omitempty"`       // a hole to its neighbour
	OtherAdjacent *Reading `json:"other_adjacent,omitempty"` // the same hole to its neighbour on the other side
	NonAdjacent   *Reading `json:"non_adjacent,omitempty"`   // a hole to the next but one (five bolts)
	Opposite      *Reading `json:"opposite,omitempty"`       // a hole to the one opposite (four bolts)
}

// holeErrorMM is added to the tool's error between holes: their edges are not sharp, and published tables themselves
// differ from geometry by up to 0.3 mm.
const holeErrorMM = 0.3

// Identify finds the bolt circle.
func (c Chainring) Identify() (Result, error) {
	if err := c.validate(); err != nil {
		return Result{}, err
	}
	r := Result{Part: "chainring bolt circle", ReadsBadly: append(tooFine(c.Adjacent, c.NonAdjacent, c.Opposite),
		"Measure from the left edge of one hole to the left edge of the other: that is the distance between centres, whatever the hole's size.")}
	bcd, how := c.circle()
	for _, b := range standard.BoltCircles() {
		if b.Bolts == c.Bolts && c.allows(b) {
			r.Matches = append(r.Matches, Match{b.String(), c.detail(b), b.Reference})
		}
	}
	r.Matches = firmFirst(r.Matches)
	r.NearMisses = c.nearMisses(r.Matches, bcd)
	switch {
	case sole(r.Matches):
		r.Verdict = fmt.Sprintf("This is %s: the circle works out at %s mm from %s.", r.Matches[0].Name, mm2(bcd), how)
	case len(r.Matches) == 1:
		r.Verdict = fmt.Sprintf("The circle works out at %s mm, which is %s; that family is known here from memory only: compare the marking on the ring.", mm2(bcd), r.Matches[0].Name)
	case len(r.Matches) > 1:
		r.Verdict = fmt.Sprintf("The circle works out at %s mm from %s: it could be %s.", mm2(bcd), how, choice(r.Matches))
	default:
		r.Verdict = fmt.Sprintf("The circle works out at %s mm from %s, and no family in the table has it: misread, or one maker's own pattern.", mm2(bcd), how)
	}
	c.separate(&r)
	return r, nil
}

func (c Chainring) validate() error {
	if c.Bolts < 3 || c.Bolts > 6 {
		return fmt.Errorf("chainrings have three to six bolts, not %d; a ring without bolts is a direct mount, which has no bolt circle", c.Bolts)
	}
	for name, reading := range map[string]*Reading{"adjacent distance": c.Adjacent, "other adjacent distance": c.OtherAdjacent} {
		if err := check(name, reading, 20, 120); err != nil {
			return err
		}
	}
	if err := check("non-adjacent distance", c.NonAdjacent, 30, 170); err != nil {
		return err
	}
	if err := check("opposite distance", c.Opposite, 40, 170); err != nil {
		return err
	}
	switch {
	case c.Adjacent == nil && c.NonAdjacent == nil && c.Opposite == nil:
		return fmt.Errorf("nothing was measured: give the distance between neighbouring holes, or between opposite ones")
	case c.Opposite != nil && c.Bolts%2 == 1:
		return fmt.Errorf("with %d bolts no hole lies opposite another: measure to the next but one instead", c.Bolts)
	case c.NonAdjacent != nil && c.Bolts != 5:
		return fmt.Errorf("the distance to the next but one is for five bolts: with %d measure neighbours or opposites", c.Bolts)
	case c.Adjacent != nil && c.NonAdjacent != nil && c.Adjacent.MM >= c.NonAdjacent.MM:
		return fmt.Errorf("neighbouring holes (%s mm) cannot be further apart than the next but one (%s mm): were they turned round?", mm(c.Adjacent.MM), mm(c.NonAdjacent.MM))
	}
	return nil
}

// uneven reports whether the two neighbour distances show unequal angles.
func (c Chainring) uneven() bool {
	return c.Adjacent != nil && c.OtherAdjacent != nil &&
		math.Abs(c.Adjacent.MM-c.OtherAdjacent.MM) > c.Adjacent.ErrorMM+c.OtherAdjacent.ErrorMM+holeErrorMM
}

// circle works the bolt circle out from the best reading there is.
func (c Chainring) circle() (bcd float64, how string) {
	switch {
	case c.Opposite != nil:
		return c.Opposite.MM, "opposite holes"
	case c.Bolts == 4 && c.uneven():
		// two neighbours of a hole lie at the ends of a diameter, so the three make a right angle (Thales)
		return math.Hypot(c.Adjacent.MM, c.OtherAdjacent.MM), "the two unequal neighbours"
	case c.NonAdjacent != nil:
		return standard.BCDFromNonAdjacent(c.NonAdjacent.MM, c.Bolts), "the next but one"
	}
	return standard.BCDFromAdjacent(c.Adjacent.MM, c.Bolts), "neighbouring holes"
}

func (c Chainring) allows(b standard.BoltCircle) bool {
	asymmetric := b.Pattern == standard.PatternAsymmetric
	near := func(r *Reading, expected float64) bool {
		return r == nil || r.allows(expected-holeErrorMM, expected+holeErrorMM)
	}
	switch {
	case asymmetric && c.Bolts == 4:
		if c.uneven() {
			return near(c.Opposite, b.BCDMM) && math.Abs(math.Hypot(c.Adjacent.MM, c.OtherAdjacent.MM)-b.BCDMM) <= 2*holeErrorMM
		}
		return c.Adjacent == nil && near(c.Opposite, b.BCDMM) // opposite holes alone do not show the angles
	case asymmetric:
		return false // one odd hole among five: told by looking, see separate
	case c.uneven():
		return false
	}
	return near(c.Adjacent, standard.AdjacentMM(b.BCDMM, b.Bolts)) && near(c.OtherAdjacent, standard.AdjacentMM(b.BCDMM, b.Bolts)) &&
		near(c.NonAdjacent, standard.NonAdjacentMM(b.BCDMM, b.Bolts)) && near(c.Opposite, b.BCDMM)
}

func (c Chainring) detail(b standard.BoltCircle) string {
	text := b.Use
	if b.Pattern == standard.PatternEven {
		text += fmt.Sprintf("; neighbours %s mm", mm2(standard.AdjacentMM(b.BCDMM, b.Bolts)))
		if b.Bolts == 5 {
			text += fmt.Sprintf(", next but one %s mm", mm2(standard.NonAdjacentMM(b.BCDMM, b.Bolts)))
		}
	}
	if b.MinTeeth > 0 {
		text += fmt.Sprintf("; usually %d teeth or more", b.MinTeeth)
	}
	return text
}

// nearMisses are the families with as many bolts within 7 mm of the circle, nearest first.
func (c Chainring) nearMisses(matches []Match, bcd float64) []NearMiss {
	var found []standard.BoltCircle
	for _, b := range standard.BoltCircles() {
		if b.Bolts == c.Bolts && !has(matches, b.String()) && math.Abs(b.BCDMM-bcd) <= 7 {
			found = append(found, b)
		}
	}
	sort.SliceStable(found, func(i, j int) bool { return math.Abs(found[i].BCDMM-bcd) < math.Abs(found[j].BCDMM-bcd) })
	var misses []NearMiss
	for i, b := range found {
		if i == 3 {
			break
		}
		differs := fmt.Sprintf("neighbours are %s mm apart", mm2(standard.AdjacentMM(b.BCDMM, b.Bolts)))
		if b.Bolts == 5 {
			differs += fmt.Sprintf(", the next but one %s mm", mm2(standard.NonAdjacentMM(b.BCDMM, b.Bolts)))
		}
		if b.Pattern == standard.PatternAsymmetric {
			differs = "the holes are not evenly spaced; an even ring does not go on it, nor the other way round"
		}
		misses = append(misses, NearMiss{b.String(), b.Use, differs, b.Reference})
	}
	return misses
}

func (c Chainring) separate(r *Result) {
	if c.Bolts == 5 && c.NonAdjacent == nil {
		why := "it is the longest distance and separates families whose neighbours differ by little"
		if len(r.Matches) > 0 {
			if b, err := standard.ParseBoltCircle(r.Matches[0].Name); err == nil {
				why = fmt.Sprintf("%s mm confirms %s; families a millimetre apart between neighbours are nearly two apart here", mm2(standard.NonAdjacentMM(b.BCDMM, 5)), b)
			}
		}
		r.Next = append(r.Next, Step{"Measure from a hole to the next but one", "caliper", why})
	}
	if c.Bolts == 5 {
		r.Next = append(r.Next, Step{"Compare all five neighbour distances", "caliper", "a spider whose hole behind the crank arm stands further out takes only its own rings"})
	}
	if c.Bolts == 4 && c.OtherAdjacent == nil {
		r.Next = append(r.Next, Step{"Measure from one hole to both its neighbours", "caliper", "unequal distances mean an unequal-angle spider, which takes only its own rings"})
	}
	if c.Bolts == 4 && c.Opposite == nil {
		r.Next = append(r.Next, Step{"Measure opposite holes", "caliper", "on four bolts that distance is the bolt circle itself"})
	}
}
