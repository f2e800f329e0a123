package inspection

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"stead/substitution"
)

// Action is what is to happen at a place.
type Action = substitution.Action

const (
	Keep    = substitution.Keep
	Clean   = substitution.Clean
	Adjust  = substitution.Adjust
	Replace = substitution.Replace
)

// ParseAction reads an action as a person writes it.
func ParseAction(text string) (Action, error) { return substitution.ParseAction(text) }

// Readings are what was read at a place, by the reading's name.
type Readings = substitution.Readings

// ReadingsOf are the readings that can be taken of a part of the family; none for some.
func ReadingsOf(family substitution.Family) []substitution.Dimension {
	var out []substitution.Dimension
	for _, r := range substitution.ReadingsOf(family) {
		out = append(out, r.Dimension)
	}
	return out
}

// Parse reads one reading as a person types it: "wear_percent" and "0.8".
func Parse(family substitution.Family, name, text string) (substitution.Value, error) {
	r, err := substitution.ReadingOf(family, name)
	if err != nil {
		return substitution.Value{}, err
	}
	return r.Parse(text)
}

// Finding is what was found at a place and what is to happen there.
type Finding struct {
	Place          substitution.Place `json:"place"`
	Action         Action             `json:"action,omitempty"` // absent: not decided yet
	Readings       Readings           `json:"readings,omitempty"`
	Proposal       Proposal           `json:"proposal,omitzero"`
	After          Readings           `json:"after,omitempty"`   // what was read after the work, which stands for how it came out
	CameOut        Proposal           `json:"came_out,omitzero"` // what that says by itself
	Contradictions []Contradiction    `json:"contradictions,omitempty"`
	Asks           []string           `json:"asks,omitempty"` // what must be said before the place is decided
	Note           string             `json:"note,omitempty"`
	From           substitution.Place `json:"from,omitempty"` // the place whose readings this follows from; absent: its own
}

// Proposal is what readings say should happen. An empty Action says that they decide nothing.
type Proposal struct {
	Action  Action               `json:"action,omitempty"`
	Words   string               `json:"words,omitempty"`
	Source  string               `json:"source,omitempty"`
	LookAt  []substitution.Place `json:"look_at,omitempty"` // places of the bike that a reading makes suspect
	Reasons []Reason             `json:"reasons,omitempty"` // what each reading says, the one that asks for most first
	Asks    []string             `json:"asks,omitempty"`

	inside Action // what is to happen to the bearings in a house
}

// Reason is what one reading says.
type Reason struct {
	Reading string             `json:"reading"`
	Value   substitution.Value `json:"value"`
	Action  Action             `json:"action,omitempty"`
	Words   string             `json:"words"`
	Source  string             `json:"source"`
}

// Contradiction is a reading that was taken more than once with different answers, none of them said to correct another.
type Contradiction struct {
	Reading string               `json:"reading"`
	Values  []substitution.Value `json:"values"` // in the order in which they were read
	Words   string               `json:"words"`
}

// Propose turns the readings at a place into what should happen there. Every reading is judged, and what asks for most
// stands. Readings that the place does not have, or that cannot be meant, are an error; none at all propose nothing.
func Propose(build substitution.Build, place substitution.Place, readings Readings) (Proposal, error) {
	site, err := substitution.SiteOf(place)
	if err != nil {
		return Proposal{}, err
	}
	checked, err := readings.Check(site.Family)
	if err != nil {
		return Proposal{}, fmt.Errorf("%s: %w", site.Words, err)
	}
	return propose(substitution.Look{Build: build, Place: place, Read: checked}, site.Family), nil
}

func propose(l substitution.Look, family substitution.Family) Proposal {
	var said []substitution.Advice
	var reasons []Reason
	for _, r := range substitution.ReadingsOf(family) {
		a := r.Advise(l)
		if a.Words == "" {
			continue
		}
		said = append(said, a)
		reasons = append(reasons, Reason{r.Name, l.Read[r.Name], a.Action, a.Words, a.Source.String()})
	}
	if len(said) == 0 {
		return Proposal{}
	}
	slices.SortStableFunc(said, func(a, b substitution.Advice) int { return b.Action.Weight() - a.Action.Weight() })
	slices.SortStableFunc(reasons, func(a, b Reason) int { return b.Action.Weight() - a.Action.Weight() })
	p := Proposal{Action: said[0].Action, Source: said[0].Source.String(), Reasons: reasons}
	var words []string
	for _, a := range said {
		words = append(words, a.Words)
		if a.Asks != "" && p.Action == "" && !slices.Contains(p.Asks, a.Asks) {
			p.Asks = append(p.Asks, a.Asks)
		}
		if a.Inside.Weight() > p.inside.Weight() || p.inside == "" {
			p.inside = a.Inside
		}
		for _, q := range a.LookAt {
			if _, recorded := l.Build[q]; recorded && !slices.Contains(p.LookAt, q) {
				p.LookAt = append(p.LookAt, q)
			}
		}
	}
	p.Words = strings.Join(slices.Compact(words), "; ")
	return p
}

// contradiction tells of a reading with several answers.
func contradiction(d substitution.Dimension, values []substitution.Value, stands substitution.Value, decided bool) Contradiction {
	texts := make([]string, len(values))
	for i, v := range values {
		texts[i] = d.Show(v)
	}
	words := fmt.Sprintf("%s was read as %s", d.Plain(), strings.Join(texts, " and as "))
	if decided {
		words += fmt.Sprintf(": %s counts, until one is said to be a correction", d.Show(stands))
	} else {
		words += ": neither counts, until one is said to be a correction"
	}
	return Contradiction{Reading: d.Name, Values: values, Words: words}
}

func sorted[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
