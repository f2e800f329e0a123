package desk

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"stead/pricing"
	"stead/substitution"
	"stead/substitution/inspection"
)

// Finding is what was found at a place, as it is told.
type Finding struct {
	inspection.Finding
	Words string   // "chain: replace — wear 0.8 % is past 0.5"
	More  []string // what contradicts itself, what is asked, what to look at as well
}

// TellFinding puts a finding into words.
func TellFinding(f inspection.Finding) Finding {
	out := Finding{Finding: f, Words: fmt.Sprintf("%s: %s", SiteWords(f.Place), decided(f))}
	if f.Proposal.Words != "" {
		out.Words += " — " + f.Proposal.Words
	} else if len(f.Proposal.Reasons) == 0 && f.Action == "" {
		out.Words += readWords(f.Place, f.Readings)
	}
	if f.Proposal.Action != "" && f.Proposal.Action != f.Action {
		out.Words += fmt.Sprintf("; the readings propose %s", f.Proposal.Action)
	}
	if f.Note != "" {
		out.Words += " (" + f.Note + ")"
	}
	if len(f.After) > 0 {
		out.More = append(out.More, "after the work:"+cameOut(f))
	}
	for _, c := range f.Contradictions {
		out.More = append(out.More, c.Words)
	}
	out.More = append(out.More, f.Asks...)
	for _, p := range f.Proposal.LookAt {
		out.More = append(out.More, fmt.Sprintf("look at the %s as well", SiteWords(p)))
	}
	return out
}

// cameOut is what was read after the work: what it says, with what is asked for where that is more than to keep it.
func cameOut(f inspection.Finding) string {
	switch {
	case f.CameOut.Words == "":
		return readWords(f.Place, f.After)
	case f.CameOut.Action == "" || f.CameOut.Action == inspection.Keep:
		return " " + f.CameOut.Words
	}
	return fmt.Sprintf(" %s — %s", f.CameOut.Action, f.CameOut.Words)
}

// decided is what is done at the place.
func decided(f inspection.Finding) string {
	switch {
	case f.Action != "":
		return string(f.Action)
	case len(f.Asks) > 0:
		return "not decided"
	}
	return "noted"
}

// readWords are readings as they were given: " wear 0.4 %, feel smooth".
func readWords(place substitution.Place, readings inspection.Readings) string {
	var words []string
	site, err := substitution.SiteOf(place)
	for _, name := range slices.Sorted(maps.Keys(readings)) {
		r, unknown := substitution.ReadingOf(site.Family, name)
		if err != nil || unknown != nil { // of a place that is no more
			words = append(words, fmt.Sprintf("%s %s", strings.ReplaceAll(name, "_", " "), readings[name]))
			continue
		}
		words = append(words, r.Plain()+" "+r.Show(readings[name]))
	}
	return " " + strings.Join(words, ", ")
}

// TellFound tells of one visit to a place: the finding there, then those that follow from it.
func TellFound(found pricing.Found) []Finding {
	out := []Finding{TellFinding(found.Finding)}
	if found.Forgot != nil {
		forgot := Finding{Finding: *found.Forgot, Words: "forgotten, " + TellFinding(*found.Forgot).Words}
		if f := found.Finding; f.Action == "" && len(f.Readings) == 0 && f.Note == "" { // nothing was said in its stead
			out = out[:0]
		}
		out = append([]Finding{forgot}, out...)
	}
	for _, f := range found.Follows {
		out = append(out, TellFinding(f))
	}
	return out
}
