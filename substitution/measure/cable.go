package measure

import (
	"fmt"

	"stead/substitution/standard"
)

// Cable is what was measured on an inner cable or its housing.
type Cable struct {
	Inner *Reading `json:"inner,omitempty"` // the wire
	Outer *Reading `json:"outer,omitempty"` // outside of the housing
}

// Identify says whether it is for gears or brakes.
func (c Cable) Identify() (Result, error) {
	if c.Inner == nil && c.Outer == nil {
		return Result{}, fmt.Errorf("nothing was measured: give the wire's diameter, or the outside of the housing")
	}
	if err := check("wire", c.Inner, 0.8, 3); err != nil {
		return Result{}, err
	}
	if err := check("outside of the housing", c.Outer, 3, 8); err != nil {
		return Result{}, err
	}
	r := Result{Part: "cable", ReadsBadly: append(tooFine(c.Inner, c.Outer), "A frayed or flattened wire reads thick: measure where it is round.")}
	if c.Inner != nil {
		for _, k := range standard.Cables() {
			if c.Inner.allows(k.MM-0.04, k.MM+0.02) {
				detail := mm(k.MM) + " mm wire"
				if k.Note != "" {
					detail += ", " + k.Note
				}
				r.Matches = append(r.Matches, Match{k.Use + " cable", detail, k.Reference})
			}
		}
	}
	if c.Outer != nil {
		for _, use := range []string{"gear", "brake"} {
			for _, outside := range standard.HousingOutersMM(use) {
				if c.Outer.allows(outside-0.15, outside+0.15) {
					r.Matches = append(r.Matches, Match{use + " housing", mm(outside) + " mm outside", standard.Reference{Source: "two cable reference pages", Confidence: standard.Practice}})
				}
			}
		}
	}
	switch names := distinct(matchNames(r.Matches)); len(names) {
	case 0:
		r.Verdict = "It is not in my list: gear wires are 1.1 to 1.3 mm, brake wires 1.5 and 1.6 mm; gear housing is 4 or 5 mm outside, brake housing 5 mm."
	case 1:
		r.Verdict = fmt.Sprintf("This is a %s.", names[0])
	default:
		r.Verdict = fmt.Sprintf("It could be %s.", or(names))
	}
	if c.Outer != nil {
		r.Next = append(r.Next, Step{"Look at the cut end of the housing", "eye", "wires along it are gear housing, a wire wound round it is brake housing: the outside does not tell 5 mm ones apart"})
	}
	r.Cautions = append(r.Cautions, "Gear housing in a brake line bursts, and a gear wire never works a brake.")
	return r, nil
}
