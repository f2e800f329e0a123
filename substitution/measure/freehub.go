package measure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"stead/substitution/standard"
)

// Freehub is what was measured on a freehub body.
type Freehub struct {
	Length  *Reading `json:"length,omitempty"`  // from the shoulder to the outer end of the splines
	Freehub string   `json:"freehub,omitempty"` // the spline, where it is known by its look
}

// bodyWithinMM is how far a body may lie off its published length: chamfers and where the shoulder begins (common
// practice, no source). A road body is 1.85 mm longer than the older one, so half of that still tells them apart.
const bodyWithinMM = 0.6

// Identify names the body and the sprocket sets that go on it.
func (f Freehub) Identify() (Result, error) {
	if f.Length == nil {
		return Result{}, fmt.Errorf("nothing was measured: give the length of the splines, from the shoulder at the hub to the outer end")
	}
	if err := check("length of the splines", f.Length, 15, 60); err != nil {
		return Result{}, err
	}
	r := Result{Part: "freehub body", ReadsBadly: tooFine(f.Length)}
	for _, b := range standard.FreehubBodies() {
		if b.LengthMM == 0 || f.Freehub != "" && b.Freehub != f.Freehub {
			continue
		}
		name := b.Freehub + ", " + b.Name
		if f.Length.allows(b.LengthMM-bodyWithinMM, b.LengthMM+bodyWithinMM) {
			r.Matches = append(r.Matches, Match{name, fmt.Sprintf("%s mm; %s", mm(b.LengthMM), setsFor(b)), b.Reference})
		} else if off := b.LengthMM - f.Length.MM; math.Abs(off) <= 5 {
			r.NearMisses = append(r.NearMisses, NearMiss{name, mm(b.LengthMM) + " mm", fmt.Sprintf("%s mm %s", mm2(math.Abs(off)), longerShorter(off)), b.Reference})
		}
	}
	r.Matches = firmFirst(r.Matches)
	switch {
	case sole(r.Matches):
		r.Verdict = fmt.Sprintf("This is %s: %s.", r.Matches[0].Name, r.Matches[0].Detail)
	case len(r.Matches) > 0:
		r.Verdict = fmt.Sprintf("By its length it could be %s.", or(matchNames(r.Matches)))
	default:
		r.Verdict = fmt.Sprintf("A body of %s mm is not in my list; bodies with a thread for the smallest sprocket have no published length.", mm(f.Length.MM))
	}
	r.Next = append(r.Next, Step{"Look at the splines", "eye", "nine splines with one of another width, eight deep splines, or a thread at the outer end for the smallest sprocket: no length makes up for another spline"})
	r.ReadsBadly = append(r.ReadsBadly, "Measure the splines alone, without the shoulder at the hub and without the lockring's thread.")
	return r, nil
}

// setsFor lists the sprocket sets that go on a body, with the spacers behind them.
func setsFor(b standard.FreehubBody) string {
	if b.Freehub == "hg" && b.LengthMM < 33 {
		return "takes 7-speed sets only"
	}
	var sets []string
	for _, f := range standard.FreehubFits() {
		if f.Body != b.Freehub || !f.Fits {
			continue
		}
		text := speedList(f.Speeds)
		if f.Set != b.Freehub {
			text += " (" + f.Set + ")"
		}
		if len(f.Spacers) > 0 {
			var widths []string
			for _, mmWide := range f.Spacers {
				widths = append(widths, mm(mmWide)+" mm")
			}
			text += " with a spacer of " + strings.Join(widths, " and ")
		}
		sets = append(sets, text)
	}
	if len(sets) == 0 {
		return "takes sets of its own spline"
	}
	return "takes " + strings.Join(sets, "; ")
}

func longerShorter(off float64) string {
	if off > 0 {
		return "longer"
	}
	return "shorter"
}

// Splines are the splines whose bodies have a published length.
func Splines() []string {
	var out []string
	for _, b := range standard.FreehubBodies() {
		if b.LengthMM != 0 && !slices.Contains(out, b.Freehub) {
			out = append(out, b.Freehub)
		}
	}
	return out
}
