package measure

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"stead/substitution/standard"
)

// Seatpost is what was measured on a seat post, or inside the seat tube it came from.
type Seatpost struct {
	Post *Reading `json:"post,omitempty"` // outside of the post, on unscratched metal
	Tube *Reading `json:"tube,omitempty"` // inside of the seat tube, below the slot
}

// A post is made a little under its name so that it slides; a tube is reamed a little over. Common practice.
const (
	postUnderMM = 0.03
	tubeOverMM  = 0.08
)

// Identify names the post's diameter.
func (s Seatpost) Identify() (Result, error) {
	if s.Post == nil && s.Tube == nil {
		return Result{}, fmt.Errorf("nothing was measured: give the post's diameter or the inside of the seat tube")
	}
	if err := check("seat post", s.Post, 20, 40); err != nil {
		return Result{}, err
	}
	if err := check("inside of the seat tube", s.Tube, 20, 40); err != nil {
		return Result{}, err
	}
	r := Result{Part: "seat post", ReadsBadly: tooFine(s.Post, s.Tube)}
	measured := s.Post
	if measured == nil {
		measured = s.Tube
	}
	for _, d := range standard.Seatposts() {
		fits := (s.Post == nil || s.Post.allows(d.MM-postUnderMM, d.MM)) && (s.Tube == nil || s.Tube.allows(d.MM, d.MM+tubeOverMM))
		switch off := d.MM - measured.MM; {
		case fits:
			r.Matches = append(r.Matches, Match{d.String(), d.Use, d.Reference})
		case math.Abs(off) <= 0.35:
			differs := fmt.Sprintf("%s mm larger: will not go in without force", mm2(off))
			if off < 0 {
				differs = fmt.Sprintf("%s mm smaller: slips, and crushes when the clamp is tightened on it", mm2(-off))
			}
			r.NearMisses = append(r.NearMisses, NearMiss{d.String(), d.Use, differs, d.Reference})
		}
	}
	switch {
	case len(r.Matches) == 1 && !r.Matches[0].Confidence.Firm():
		r.Verdict = fmt.Sprintf("It reads as a %s post, a size known here from memory only: read the figure on the post.", r.Matches[0].Name)
	case len(r.Matches) == 1:
		r.Verdict = fmt.Sprintf("This is a %s post.", r.Matches[0].Name)
	case len(r.Matches) > 1:
		r.Verdict = fmt.Sprintf("It could be a %s post.", or(matchNames(r.Matches)))
	default:
		r.Verdict = fmt.Sprintf("%s mm is not in my list; nearest are %s. The metal is worn or oval where it was measured, or the size is a rare one.", mm(measured.MM), nearestSizes(standard.Seatposts(), measured.MM))
	}
	if len(r.Matches) != 1 {
		r.Next = append(r.Next, Step{"Measure twice, a quarter turn apart, above the part that was clamped", "caliper", "a clamped post is oval and scored"})
	}
	r.Next = append(r.Next, Step{"Read the figure stamped on the post, by the minimum-insertion mark", "eye", "it settles the step of 0.2 mm"})
	r.ReadsBadly = append(r.ReadsBadly, "Inside a seat tube the slot and burrs make the jaws read low; measure below the slot.")
	r.Cautions = append(r.Cautions, "A seat post is a safety part: never shim or force one to make it fit, and keep the minimum-insertion mark inside the frame.")
	return r, nil
}

// nearestSizes names the sizes next below and above a measure that is none of them.
func nearestSizes(sizes []standard.Diameter, measured float64) string {
	sizes = slices.SortedFunc(slices.Values(sizes), func(a, b standard.Diameter) int {
		return cmp.Compare(math.Abs(a.MM-measured), math.Abs(b.MM-measured))
	})
	return sizes[0].String() + " and " + sizes[1].String()
}

// Handlebar is what was measured on a handlebar where the stem holds it.
type Handlebar struct {
	Clamp *Reading `json:"clamp,omitempty"`
}

// Bars are worn or oval under their names, and chromed or painted a little over them. Common practice.
const (
	barUnderMM = 0.15
	barOverMM  = 0.05
)

// Identify names the clamp diameter.
func (h Handlebar) Identify() (Result, error) {
	if h.Clamp == nil {
		return Result{}, fmt.Errorf("nothing was measured: give the bar's diameter where the stem holds it")
	}
	if err := check("handlebar", h.Clamp, 20, 40); err != nil {
		return Result{}, err
	}
	r := Result{Part: "handlebar clamp", ReadsBadly: tooFine(h.Clamp)}
	nearest := math.Inf(1)
	for _, d := range standard.HandlebarClamps() {
		nearest = min(nearest, math.Abs(d.MM-h.Clamp.MM))
	}
	for _, d := range standard.HandlebarClamps() {
		off := d.MM - h.Clamp.MM
		halfWay := nearest <= barUnderMM+h.Clamp.ErrorMM+1e-9 && math.Abs(off) <= nearest+h.Clamp.ErrorMM
		switch {
		case halfWay || h.Clamp.allows(d.MM-barUnderMM, d.MM+barOverMM): // half way between two sizes it may be either
			r.Matches = append(r.Matches, Match{d.String(), d.Use, d.Reference})
		case math.Abs(off) <= 1:
			r.NearMisses = append(r.NearMisses, NearMiss{d.String(), d.Use, fmt.Sprintf("%s mm %s: a bar too thick does not enter the clamp, one too thin slips in it", mm2(math.Abs(off)), largerSmaller(off)), d.Reference})
		}
	}
	switch {
	case len(r.Matches) > 1:
		r.Verdict = fmt.Sprintf("It could be a %s bar: the measurement cannot tell.", choice(r.Matches))
	case len(r.Matches) == 1 && r.Matches[0].Confidence.Firm():
		r.Verdict = fmt.Sprintf("This is a %s bar (%s).", r.Matches[0].Name, r.Matches[0].Detail)
	case len(r.Matches) == 1:
		r.Verdict = fmt.Sprintf("It reads as a %s bar, a size known here from memory only: read the mark on bar and stem.", r.Matches[0].Name)
	default:
		r.Verdict = fmt.Sprintf("%s mm is not in my list; nearest are %s. Measure in the middle, on clean metal.", mm(h.Clamp.MM), nearestSizes(standard.HandlebarClamps(), h.Clamp.MM))
	}
	r.Cautions = append(r.Cautions, "Bar and stem are safety parts: a shim needs the stem maker's word.")
	return r, nil
}
