package substitution

import (
	"bytes"
	"embed"
	"encoding/json"
	"fmt"
	"maps"
	"path"
	"slices"
	"strings"
	"sync"
)

// Case is a worked example of a rule: a bike, what is put on it, and what the rule answers, on whose authority. The
// cases serve as tests and as the examples that show a rule to a reader.
type Case struct {
	Name   string           `json:"name"`
	Rule   string           `json:"rule"`
	At     Place            `json:"at,omitempty"`   // where the rule is asked; left out where only one place is possible
	Bike   map[Place]string `json:"bike,omitempty"` // parts as "bcd_mm=110 bolts=5"; "?" is recorded and not known
	New    map[Place]string `json:"new"`            // what is put on
	Answer string           `json:"answer"`
	Says   string           `json:"says,omitempty"`   // words that the finding must hold
	Brings []string         `json:"brings,omitempty"` // what the choice must bring, with the number if more than one
	Source string           `json:"source"`
	Sure   string           `json:"sure"`
}

//go:embed cases/*.json
var caseFiles embed.FS

// Cases are all worked examples by family, in the order of their tables.
var Cases = sync.OnceValues(func() (map[Family][]Case, error) {
	out := map[Family][]Case{}
	names, err := caseFiles.ReadDir("cases")
	if err != nil {
		return nil, err
	}
	for _, entry := range names {
		data, err := caseFiles.ReadFile(path.Join("cases", entry.Name()))
		if err != nil {
			return nil, err
		}
		family := Family(strings.TrimSuffix(entry.Name(), ".json"))
		if out[family], err = readCases(data); err != nil {
			return nil, fmt.Errorf("cases/%s: %w", entry.Name(), err)
		}
	}
	return out, nil
})

func readCases(data []byte) ([]Case, error) {
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	var cases []Case
	err := dec.Decode(&cases)
	return cases, err
}

// ExamplesOf are the worked examples of a rule.
func ExamplesOf(rule *Rule) ([]Case, error) {
	all, err := Cases()
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(slices.Clone(all[rule.Family()]), func(c Case) bool { return c.Rule != rule.ID }), nil
}

// String is the case as one line: what is on the bike, what is put on it, and the answer.
func (c Case) String() string {
	var b strings.Builder
	for i, side := range []map[Place]string{c.Bike, c.New} {
		for _, p := range slices.Sorted(maps.Keys(side)) {
			if b.Len() > 0 {
				b.WriteString(map[bool]string{true: "; ", false: ", "}[i == 1])
			}
			b.WriteString(map[bool]string{true: "new ", false: ""}[i == 1] + p.words() + " " + side[p])
		}
	}
	return b.String() + ": " + c.Answer
}

// Try asks the case's rule in the case's scene.
func (c Case) Try() (Finding, error) {
	rule, err := RuleByID(c.Rule)
	if err != nil {
		return Finding{}, err
	}
	was, err := buildOf(c.Bike)
	if err != nil {
		return Finding{}, err
	}
	chosen, err := buildOf(c.New)
	if err != nil {
		return Finding{}, err
	}
	for _, f := range rule.verdictOn(was, chosen).Findings {
		if f.Rule == rule && (c.At == "" || c.At == f.At) {
			return f, nil
		}
	}
	return Finding{Rule: rule}, nil
}

// verdictOn is what all rules say of the parts chosen for a bike, or, of a rule across families, of the one in the
// other's stead.
func (r *Rule) verdictOn(was, chosen Build) Verdict {
	places := chosen.Places()
	if r.Across != "" {
		v, _ := insteadAcross(was[was.Places()[0]], chosen[places[0]])
		return v
	}
	now := maps.Clone(was)
	maps.Copy(now, chosen)
	return Scene{Was: was, Now: now, aside: r.Aside}.Check(places...)
}

func buildOf(written map[Place]string) (Build, error) {
	b := Build{}
	for place, text := range written {
		site, err := SiteOf(place)
		if err != nil {
			return nil, err
		}
		if text == "?" {
			b[place] = nil
			continue
		}
		part, err := ParsePart(site.Family, text)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", place, err)
		}
		b[place] = &part
	}
	return b, nil
}

// ParsePart reads a part as a person writes it: "teeth=50 bcd_mm=110 colour=black". Values hold no spaces.
func ParsePart(family Family, text string) (Part, error) {
	table, err := TableOf(family)
	if err != nil {
		return Part{}, err
	}
	p := Part{Family: family, Spec: Spec{}}
	for _, field := range strings.Fields(text) {
		name, value, ok := strings.Cut(field, "=")
		if !ok {
			return Part{}, fmt.Errorf("%q is no dimension: write it as bcd_mm=110", field)
		}
		if err := table.Type(p.Spec, name, value, Assumed); err != nil {
			return Part{}, err
		}
	}
	return p.Check()
}
