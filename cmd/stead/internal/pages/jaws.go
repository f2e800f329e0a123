package pages

import (
	"regexp"
	"strings"
)

// jaws is how something is measured, as a drawing beside its field shows it: where the jaws of a caliper go, or that it is
// none's work. It follows from the words in which the tables of the families, and the kinds of measuring, say how.
type jaws string

const (
	noJaws  jaws = ""        // read, counted or looked up
	outside jaws = "outside" // over the thing
	inside  jaws = "inside"  // in a hole, or between two faces
	depth   jaws = "depth"   // from a face to what lies behind it
	centres jaws = "centres" // from one middle to another
	tape    jaws = "tape"    // a tape or a rule along it
)

// byWords are the words that tell, the first that is found.
var byWords = []struct {
	words *regexp.Regexp
	is    jaws
}{
	{regexp.MustCompile(`\bcannot tell\b|^look|^count|\blabel\b|protractor|maker's (specification|chart)|\bread the (box|mark)\b|lever and caliper`), noJaws},
	{regexp.MustCompile(`\btape\b|\brule\b|straight edge|\bpulled\b|nipples' slots|across the rim`), tape},
	{regexp.MustCompile(`\bcentres?\b|^middle (of|to)\b|\bto the middle\b|neighbour|\bthat of the right flange\b|\bopposite\b|next but one|circle through|\bto (left|right) flange\b`), centres},
	{regexp.MustCompile(`^outside`), outside},
	{regexp.MustCompile(`^inside|inner width|inside (jaws|of|face|diameter)|\bbetween\b|\bin the arm's hole\b|\bdiameter of the hole\b|\bhole in\b|\bin the lower leg\b`), inside},
	{regexp.MustCompile(`under the head|\bfrom the (shoulder|rim's edge|tube|end)\b`), depth},
}

// jawsFor tells how a length is measured of which some words say how; a length of which they say no more goes between the
// jaws.
func jawsFor(how string, length bool) jaws {
	how = strings.ToLower(how)
	for _, w := range byWords {
		if w.words.MatchString(how) && (w.is != tape || !strings.Contains(how, "caliper")) {
			return w.is
		}
	}
	if length || strings.Contains(how, "caliper") {
		return outside
	}
	return noJaws
}

// Words say what the drawing shows.
func (j jaws) Words() string {
	return map[jaws]string{outside: "Jaws over the outside", inside: "Small jaws spread inside", depth: "The rod at the end of the beam, down from the face",
		centres: "From one middle to the other", tape: "A tape or a rule along it"}[j]
}
