package standard

import (
	"fmt"
	"math"
	"sort"
	"strings"
)

// checkBearing compares the dimensions that somebody gives for a designation with the table, and returns an error
// that says what is wrong and which size the figures would be. It catches the slips that public size lists carry
// (16002 given as 15 × 22 × 8). Where the designation says open or closed the width must be that one, otherwise it may
// be either.
func checkBearing(designation string, boreMM, outerMM, widthMM float64) error {
	readings, err := bearingReadings(designation)
	if err != nil {
		return err
	}
	size := readings[0].BearingSize
	width, settled := readings[0].WidthMM()
	if near(boreMM, size.BoreMM) && near(outerMM, size.OuterMM) {
		switch {
		case settled && near(widthMM, width), !settled && (near(widthMM, size.OpenMM) || near(widthMM, size.ClosedMM)):
			return nil
		case near(widthMM, size.OpenMM):
			return fmt.Errorf("%s is %s wide; %s is its width without shields or seals", readings[0], trim(round(width, 3)), trim(widthMM))
		case near(widthMM, size.ClosedMM):
			return fmt.Errorf("%s is %s wide; %s is its width with shields or seals", readings[0], trim(round(width, 3)), trim(widthMM))
		}
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

// near allows the rounding of inch sizes to hundredths of a millimetre in lists.
func near(a, b float64) bool { return math.Abs(a-b) <= 0.005 }

// envelopesLike names the three sizes nearest to the given ones, with their envelopes.
func envelopesLike(bore, outer, width float64) []string {
	if bore > outer {
		bore, outer = outer, bore
	}
	sizes := BearingSizes()
	distance := func(s BearingSize) float64 {
		w := math.Min(math.Abs(s.OpenMM-width), math.Abs(s.ClosedMM-width))
		return math.Abs(s.BoreMM-bore) + math.Abs(s.OuterMM-outer) + w
	}
	sort.SliceStable(sizes, func(i, j int) bool { return distance(sizes[i]) < distance(sizes[j]) })
	names := make([]string, 3)
	for i := range names {
		names[i] = sizes[i].Name + " (" + sizes[i].Envelope() + ")"
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
