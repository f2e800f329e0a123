package measure

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"stead/substitution/standard"
)

// Rim is what was measured on a bare rim.
type Rim struct {
	BeadSeat   *Reading `json:"bead_seat,omitempty"`   // diameter where the tyre's bead sits, hook to hook across the wheel less the hooks
	Round      *Reading `json:"round,omitempty"`       // or a tape round the bead seat
	InnerWidth *Reading `json:"inner_width,omitempty"` // between the hooks
}

// Tyre is what was measured on a fitted or loose tyre.
type Tyre struct {
	Outer *Reading `json:"outer,omitempty"` // outside diameter, pumped up
	Round *Reading `json:"round,omitempty"` // or a tape round the tread
	Width *Reading `json:"width,omitempty"` // pumped up, at the widest
}

// beadSlackMM is how far a worn or rough rim may lie from its bead seat diameter.
const beadSlackMM = 1.0

// around turns a tape's length round something into its diameter.
func around(r *Reading) *Reading {
	if r == nil {
		return nil
	}
	return &Reading{r.MM / math.Pi, r.ErrorMM / math.Pi, r.Tool}
}

// outsideSlackMM is how far the outside of two tyres of one size may lie apart: published circumferences of 25-622 run from
// 2105 to 2146 mm, 13 mm across.
const outsideSlackMM = 13.0

var measureBead = Step{"Take the tyre off and lay a tape round the rim where the bead sits", "tape", "3.14 times the bead seat: 1954 mm is 622, 1979 mm is 630"}

var markedTyre = Step{"Read the two figures joined by a dash on the old tyre (28-622)", "eye", "they are the width and the bead seat, and settle it"}

// Identify names the bead seat and says which tyres the rim takes.
func (m Rim) Identify() (Result, error) {
	seat := m.BeadSeat
	if seat == nil {
		seat = around(m.Round)
	}
	if seat == nil && m.InnerWidth == nil {
		return Result{}, fmt.Errorf("nothing was measured: lay a tape round the bead seat, or measure across it, and the width between the hooks")
	}
	if err := check("bead seat diameter", seat, 180, 660); err != nil {
		return Result{}, err
	}
	if err := check("inner width", m.InnerWidth, 11, 110); err != nil {
		return Result{}, err
	}
	r := Result{Part: "rim", Next: []Step{markedTyre}}
	if seat != nil {
		for _, b := range standard.BeadSeats() {
			match := Match{strconv.Itoa(b.MM), or(b.Names), b.Reference}
			if seat.allows(float64(b.MM)-beadSlackMM, float64(b.MM)+beadSlackMM) {
				r.Matches = append(r.Matches, match)
			} else if off := float64(b.MM) - seat.MM; math.Abs(off) <= 9 {
				r.NearMisses = append(r.NearMisses, NearMiss{match.Name, match.Detail,
					fmt.Sprintf("%s mm %s across: a tyre for it does not go on, or comes off", mm2(math.Abs(off)), largerSmaller(off)), b.Reference})
			}
		}
	}
	r.Matches = firmFirst(r.Matches)
	r.Verdict = beadVerdict(r.Matches, seat)
	if m.InnerWidth != nil {
		r.Verdict += " " + tyresFor(m.InnerWidth)
	}
	r.Cautions = append(r.Cautions,
		"A tyre's bead seat must equal the rim's: one that slips on easily is too large and can blow off.",
		"Pump to the lower of the marks on tyre and rim. A rim without hooks takes only tyres approved for it, and never more than 5 bar (72.5 psi).")
	r.ReadsBadly = append(r.ReadsBadly, "The edge of the rim is larger than the bead seat by twice the height of the hook: measure down on the seat.")
	return r, nil
}

func beadVerdict(matches []Match, seat *Reading) string {
	switch {
	case seat == nil:
		return "The bead seat was not measured."
	case sole(matches):
		return fmt.Sprintf("The rim has a bead seat of %s mm (%s).", matches[0].Name, matches[0].Detail)
	case len(matches) == 1:
		return fmt.Sprintf("The rim reads as a bead seat of %s mm, which is known here from memory only: read the mark.", matches[0].Name)
	case len(matches) > 1:
		return fmt.Sprintf("The bead seat could be %s mm: the measurement cannot tell.", choice(matches))
	}
	return fmt.Sprintf("A bead seat of %s mm is not in my list: measure again, down on the seat and not across the edges.", mm2(seat.MM))
}

// tyresFor says which tyre widths the published lists allow on a rim, by the row whose width the reading can be.
func tyresFor(width *Reading) string {
	text := ""
	for _, list := range []standard.RimList{standard.Before2006, standard.From2006} {
		for _, row := range standard.TyreRanges() {
			if row.List != list || !width.allows(float64(row.RimMM)-0.5, float64(row.RimMM)+0.5) {
				continue
			}
			text += fmt.Sprintf(" %s: tyres of %d to %d mm on %d mm rims", row.List, row.MinMM, row.MaxMM, row.RimMM)
			if !row.Confidence.Firm() {
				text += " (from memory)"
			}
			text += "."
		}
	}
	if text == "" {
		return fmt.Sprintf("The lists have no row for a rim %s mm wide inside: ask the rim's maker.", mm(width.MM))
	}
	return "By inner width," + text
}

// Identify names the bead seats that the tyre can have. The outside alone is a weak witness: it leaves several.
func (t Tyre) Identify() (Result, error) {
	outer := t.Outer
	if outer == nil {
		outer = around(t.Round)
	}
	if outer == nil || t.Width == nil {
		return Result{}, fmt.Errorf("measure both the outside (across, or a tape round the tread) and the width, with the tyre pumped up")
	}
	if err := check("outside diameter", outer, 220, 800); err != nil {
		return Result{}, err
	}
	if err := check("tyre width", t.Width, 16, 130); err != nil {
		return Result{}, err
	}
	r := Result{Part: "tyre", Next: []Step{markedTyre, measureBead}}
	width := int(math.Round(t.Width.MM))
	var off []float64
	for _, b := range standard.BeadSeats() {
		tyre := standard.Tyre{WidthMM: width, BeadMM: b.MM}
		low, high := math.Min(tyre.OuterSimple(), tyre.OuterISO()), math.Max(tyre.OuterSimple(), tyre.OuterISO())
		if outer.allows(low-outsideSlackMM, high+outsideSlackMM) {
			r.Matches = append(r.Matches, Match{tyre.String(), or(b.Names), b.Reference})
			off = append(off, math.Abs(outer.MM-(low+high)/2))
		}
	}
	nearestFirst(r.Matches, off)
	r.Matches = firmFirst(r.Matches)
	switch {
	case sole(r.Matches):
		r.Verdict = fmt.Sprintf("By its outside it is %s (%s); check the figures on the sidewall.", r.Matches[0].Name, r.Matches[0].Detail)
	case len(r.Matches) > 0:
		r.Verdict = fmt.Sprintf("By its outside it could be %s, likeliest first: only the sidewall or the bead tells.", choice(r.Matches))
	default:
		r.Verdict = "No bead seat in the table goes with that outside and width: measure again with the tyre pumped up, or measure the bead."
	}
	r.ReadsBadly = append(r.ReadsBadly, "Tread height and rim width move the outside: published figures for one size differ by 13 mm across, more than two bead seats do.")
	r.Cautions = append(r.Cautions, "A tyre's bead seat must equal the rim's: one that slips on easily is too large and can blow off.")
	return r, nil
}

// nearestFirst sorts matches by how far they lie off.
func nearestFirst(matches []Match, off []float64) {
	order := make([]int, len(matches))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(off[a], off[b]) })
	sorted := make([]Match, len(matches))
	for i, k := range order {
		sorted[i] = matches[k]
	}
	copy(matches, sorted)
}
