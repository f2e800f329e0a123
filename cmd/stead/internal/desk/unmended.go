package desk

import (
	"slices"
	"strings"

	"stead/pricing"
	"stead/pricing/rider"
)

// unmendedWords are the cautions on whatever is handed to a customer whose bike goes, or has gone, home with something
// left as it was found though safety hangs on it. They are said in one place, so that every page and paper says them.
func unmendedWords(left []pricing.Unmended, home bool) (out []string) {
	goes := "The bike goes home with this not mended: "
	if home {
		goes = "The bike was handed back with this not mended: "
	}
	if stops := riderPlaces(left, true); len(stops) > 0 {
		out = append(out, goes+strings.Join(stops, ", ")+". Our advice is not to ride it until a competent mechanic has mended that, as the makers say")
	}
	if others := riderPlaces(left, false); len(others) > 0 {
		out = append(out, goes+strings.Join(others, ", ")+". Safety hangs on it: have it mended soon by a competent mechanic, and do not ride if the bike does not stop, steer or roll as it should")
	}
	return out
}

// riderPlaces are the places in a rider's words, each once: those that stop riding, or the others.
func riderPlaces(left []pricing.Unmended, stops bool) (out []string) {
	for _, u := range left {
		if name := rider.Of(u.Place).Name; u.Stops == stops && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// cautioned are sentences as cautions in a list of other points.
func cautioned(words []string) (out []string) {
	for _, w := range words {
		out = append(out, "caution: "+w)
	}
	return out
}

// UnmendedWords say what the quote leaves as it was found though safety hangs on it.
func (v Quote) UnmendedWords() []string { return unmendedWords(v.Quote.Unmended(), false) }

// UnmendedNotes are the same as points on a paper.
func (v Quote) UnmendedNotes() []string { return cautioned(v.UnmendedWords()) }

// UnmendedWords say what the job leaves as it was found though safety hangs on it.
func (v Job) UnmendedWords() []string {
	return unmendedWords(v.Job.Unmended(v.Terms, v.Agreement), v.Ending != nil)
}

// UnmendedNotes are the same as points on a paper.
func (v Job) UnmendedNotes() []string { return cautioned(v.UnmendedWords()) }

// UnmendedWords say what the bike was handed back with though safety hangs on it; nothing on a credit note.
func (v Bill) UnmendedWords() []string { return unmendedWords(v.Unmended, true) }

// UnmendedNotes are the same as points on a paper.
func (v Bill) UnmendedNotes() []string { return cautioned(v.UnmendedWords()) }
