package inspection

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"stead/substitution"
)

// Action is what is to happen at a place.
type Action string

const (
	Keep    Action = "keep"
	Clean   Action = "clean" // open, clean, grease and close again; for a bearing with loose balls, with new balls
	Adjust  Action = "adjust"
	Replace Action = "replace"
)

// ParseAction reads an action as a person writes it.
func ParseAction(text string) (Action, error) {
	switch a := Action(strings.ToLower(strings.TrimSpace(text))); a {
	case Keep, Clean, Adjust, Replace:
		return a, nil
	}
	return "", fmt.Errorf("%q is no action: say keep, clean, adjust or replace", text)
}

// Readings are what was read at a place, by the reading's name.
type Readings map[string]substitution.Value

// Finding is what was found at a place and what is to happen there.
type Finding struct {
	Place    substitution.Place `json:"place"`
	Action   Action             `json:"action"`
	Readings Readings           `json:"readings,omitempty"`
	Proposal Proposal           `json:"proposal,omitzero"`
	Note     string             `json:"note,omitempty"`
}

// Proposal is what readings say should happen. An empty Action says that they decide nothing.
type Proposal struct {
	Action Action               `json:"action,omitempty"`
	Words  string               `json:"words,omitempty"`
	Source string               `json:"source,omitempty"`
	LookAt []substitution.Place `json:"look_at,omitempty"` // places of the bike that the reading makes suspect
}

// Propose turns the readings at a place into what should happen there. Readings that the place does not have, or that
// cannot be meant, are an error; none at all propose nothing.
func Propose(build substitution.Build, place substitution.Place, readings Readings) (Proposal, error) {
	site, err := substitution.SiteOf(place)
	if err != nil {
		return Proposal{}, err
	}
	checked, err := readings.Check(site.Family)
	if err != nil {
		return Proposal{}, fmt.Errorf("%s: %w", site.Words, err)
	}
	judge := judges[site.Family]
	if judge == nil || len(checked) == 0 {
		return Proposal{}, nil
	}
	p := judge(look{build, place, checked})
	p.LookAt = slices.DeleteFunc(p.LookAt, func(q substitution.Place) bool { _, recorded := build[q]; return !recorded })
	return p, nil
}

// Check returns the readings in their own forms, or names the first that a part of the family does not have or that
// cannot be meant.
func (r Readings) Check(family substitution.Family) (Readings, error) {
	out := Readings{}
	for _, name := range slices.Sorted(maps.Keys(r)) {
		d, err := readingOf(family, name)
		if err != nil {
			return nil, err
		}
		if out[name], err = d.Check(r[name]); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// Parse reads one reading as a person types it: "wear_percent" and "0.8".
func Parse(family substitution.Family, name, text string) (substitution.Value, error) {
	d, err := readingOf(family, name)
	if err != nil {
		return substitution.Value{}, err
	}
	return d.Parse(text)
}

func readingOf(family substitution.Family, name string) (substitution.Dimension, error) {
	var names []string
	for _, d := range ReadingsOf(family) {
		if d.Name == name {
			return d, nil
		}
		names = append(names, d.Name)
	}
	if len(names) == 0 {
		return substitution.Dimension{}, fmt.Errorf("a %s has no readings: say what is to happen", family)
	}
	return substitution.Dimension{}, fmt.Errorf("a %s has no reading %q: it has %s", family, name, strings.Join(names, ", "))
}

// look is what a judge looks at.
type look struct {
	build    substitution.Build
	place    substitution.Place
	readings Readings
}

func (l look) number(name string) (float64, bool) {
	v, known := l.readings[name]
	return v.Float(), known
}

func (l look) word(name string) string { return l.readings[name].Word() }

func (l look) yes(name string) bool { return l.readings[name].Equal(substitution.Yes(true)) }
