package measure

import (
	"strings"

	"stead/substitution/standard"
)

// Result is what a part is, as far as the readings say.
type Result struct {
	Part       string     `json:"part"`    // what was measured: "cartridge bearing"
	Verdict    string     `json:"verdict"` // the answer in a sentence or two
	Matches    []Match    `json:"matches"` // every standard size that the readings allow, firm sources first
	NearMisses []NearMiss `json:"near_misses,omitempty"`
	Next       []Step     `json:"next,omitempty"`        // what to measure or look at next, and why
	ReadsBadly []string   `json:"reads_badly,omitempty"` // known ways in which these measurements err
	Cautions   []string   `json:"cautions,omitempty"`    // where a wrong part can hurt somebody
}

// Match is a standard size that the readings allow.
type Match struct {
	Name   string `json:"name"`
	Detail string `json:"detail"`
	standard.Reference
}

// NearMiss is a size that gets confused with the matches though the readings exclude it, or that lies so near that they
// barely do.
type NearMiss struct {
	Name    string `json:"name"`
	Detail  string `json:"detail"`
	Differs string `json:"differs"` // from what was measured, and what that means
	standard.Reference
}

// Step is one further measurement or look, with its tool, and what it decides.
type Step struct {
	Do   string `json:"do"`
	Tool string `json:"tool"`
	Why  string `json:"why"`
}

// Firm reports whether exactly one size fits the readings and its source is more than memory: only then may the size
// be taken as known.
func (r Result) Firm() bool { return sole(r.Matches) }

// sole reports whether there is one match, from a firm source. A second one from memory is doubt enough.
func sole(matches []Match) bool { return len(matches) == 1 && matches[0].Confidence.Firm() }

// Section is one of the grounds of a verdict, line by line.
type Section struct {
	Title string
	Lines []string
}

// Sections are the grounds of the verdict, those that there are.
func (r Result) Sections() (out []Section) {
	var matches, misses, next []string
	for _, m := range r.Matches {
		matches = append(matches, m.Name+": "+m.Detail+"  ["+m.Reference.String()+"]")
	}
	for _, n := range r.NearMisses {
		line := n.Name + " (" + n.Detail + "): " + n.Differs
		if !n.Confidence.Firm() {
			line += "  [" + n.Confidence.String() + "]"
		}
		misses = append(misses, line)
	}
	for _, s := range r.Next {
		next = append(next, s.Do+" ("+s.Tool+"): "+s.Why)
	}
	for _, s := range []Section{{"Sizes inside the readings", matches}, {"Easily confused with it", misses}, {"To be sure", next},
		{"How this reads badly", r.ReadsBadly}, {"Take care", r.Cautions}} {
		if len(s.Lines) > 0 {
			out = append(out, s)
		}
	}
	return out
}

// Words is the result as a mechanic reads it on the screen: the verdict first, then the grounds.
func (r Result) Words() string {
	var w strings.Builder
	w.WriteString(r.Verdict + "\n")
	for _, s := range r.Sections() {
		w.WriteString("\n" + s.Title + ":\n")
		for _, line := range s.Lines {
			w.WriteString("  " + line + "\n")
		}
	}
	return w.String()
}

// or joins names: "6902", "63803 or 3803", "a, b or c".
func or(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}

// firmFirst puts the matches whose source is firm before those from memory.
func firmFirst(matches []Match) []Match {
	firm, memory := []Match{}, []Match{}
	for _, m := range matches {
		if m.Confidence.Firm() {
			firm = append(firm, m)
		} else {
			memory = append(memory, m)
		}
	}
	return append(firm, memory...)
}

// anyFirm reports whether a firm source stands behind any of the matches.
func anyFirm(matches []Match) bool {
	for _, m := range matches {
		if m.Confidence.Firm() {
			return true
		}
	}
	return false
}

// withArticle puts "a" or "an" before a bearing's number, as it is spoken: an R8, an 18307, a 6902.
func withArticle(name string) string {
	for _, spoken := range []string{"R", "MR", "8", "11", "18"} {
		if strings.HasPrefix(name, spoken) {
			return "an " + name
		}
	}
	return "a " + name
}

// choice lists the matches' names once each, saying which are from memory.
func choice(matches []Match) string {
	var names []string
	seen := map[string]bool{}
	for _, m := range matches {
		if seen[m.Name] {
			continue
		}
		seen[m.Name] = true
		if m.Confidence.Firm() {
			names = append(names, m.Name)
		} else {
			names = append(names, m.Name+" (from memory)")
		}
	}
	return or(names)
}

func matchNames(matches []Match) []string {
	names := make([]string, len(matches))
	for i, m := range matches {
		names[i] = m.Name
	}
	return names
}
