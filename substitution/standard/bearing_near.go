package standard

import (
	"fmt"
	"math"
	"sort"
	"strings"
)

// CheckBearing compares the dimensions that somebody gives for a designation with the table, and returns an error
// that says what is wrong and which size the figures would be. It catches the slips that public size lists carry
// (16002 given as 15 × 22 × 8). A width may be the open or the closed one.
func CheckBearing(designation string, boreMM, outerMM, widthMM float64) error {
	readings, err := BearingReadings(designation)
	if err != nil {
		return err
	}
	size := readings[0].BearingSize
	if size.BoreMM == boreMM && size.OuterMM == outerMM && (size.OpenMM == widthMM || size.ClosedMM == widthMM) {
		return nil
	}
	given := trim(boreMM) + " × " + trim(outerMM) + " × " + trim(widthMM)
	text := fmt.Sprintf("%s is %s, not %s", size.Name, size.Envelope(), given)
	if why := possibleBearing(boreMM, outerMM, widthMM); why != "" {
		return fmt.Errorf("%s: %s", text, why)
	}
	if same := sizesOf(boreMM, outerMM, widthMM); len(same) > 0 {
		return fmt.Errorf("%s, which is %s", text, same[0].Name)
	}
	return fmt.Errorf("%s, which is no size of the table", text)
}

// envelopesLike names the three sizes nearest to the given ones, with their envelopes.
func envelopesLike(bore, outer, width float64) []string {
	if bore > outer {
		bore, outer = outer, bore
	}
	near := BearingSizes()
	distance := func(s BearingSize) float64 {
		w := math.Min(math.Abs(s.OpenMM-width), math.Abs(s.ClosedMM-width))
		return math.Abs(s.BoreMM-bore) + math.Abs(s.OuterMM-outer) + w
	}
	sort.SliceStable(near, func(i, j int) bool { return distance(near[i]) < distance(near[j]) })
	names := make([]string, 3)
	for i := range names {
		names[i] = near[i].Name + " (" + near[i].Envelope() + ")"
	}
	return names
}

// namesLike names up to three sizes whose number differs from core by one figure changed, missing or added.
func namesLike(core string) []string {
	var names []string
	for _, s := range bearingSizes {
		for _, name := range append([]string{s.Name}, s.Aliases...) {
			if oneEdit(name, core) && len(names) < 3 {
				names = append(names, s.Name+" ("+s.Envelope()+")")
				break
			}
		}
	}
	return names
}

func oneEdit(a, b string) bool {
	if len(a) < len(b) {
		a, b = b, a
	}
	if len(a)-len(b) > 1 {
		return false
	}
	i := 0
	for i < len(b) && a[i] == b[i] {
		i++
	}
	if len(a) == len(b) {
		return i < len(a) && a[i+1:] == b[i+1:]
	}
	return strings.HasPrefix(a[i+1:], b[i:])
}
