package substitution

import "encoding/json"

// The names under which answers are written as JSON are promised to whoever reads them: add, never rename.

// MarshalText writes an answer in words.
func (a Answer) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// MarshalJSON writes a finding with its rule's name, severity and source.
func (f Finding) MarshalJSON() ([]byte, error) {
	type missing struct {
		Place     Place  `json:"place"`
		Dimension string `json:"dimension"`
		Measure   string `json:"measure"`
		Old       bool   `json:"old,omitempty"`
	}
	out := struct {
		Rule     string    `json:"rule"`
		Says     string    `json:"says"`
		Severity string    `json:"severity"`
		Place    Place     `json:"place"`
		Answer   Answer    `json:"answer"`
		Words    string    `json:"words"`
		Wanted   string    `json:"wanted,omitempty"`
		Found    string    `json:"found,omitempty"`
		Before   bool      `json:"as_before,omitempty"`
		Waived   bool      `json:"answered_for,omitempty"`
		Missing  []missing `json:"missing,omitempty"`
		Brings   []Bring   `json:"brings,omitempty"`
		Source   string    `json:"source"`
	}{Rule: f.Rule.ID, Says: f.Rule.Says, Severity: f.Rule.Severity.String(), Place: f.At, Answer: f.Answer, Words: f.Words,
		Wanted: f.Wanted, Found: f.Found, Before: f.Before, Waived: f.Waived, Brings: f.Brings, Source: f.Rule.Source.String()}
	for _, m := range f.Missing {
		out.Missing = append(out.Missing, missing(m))
	}
	return json.Marshal(out)
}

// MarshalJSON writes what a choice brings, its spec as plain values.
func (b Bring) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Family   Family           `json:"family"`
		Spec     map[string]Value `json:"spec"`
		Quantity int              `json:"quantity"`
		Words    string           `json:"words"`
	}{b.Family, b.Spec.Values(), b.Quantity, b.Words})
}

// MarshalJSON writes a verdict: does it fit, and what each rule says.
func (v Verdict) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Fits     Answer    `json:"fits"`
		At       Place     `json:"at,omitempty"`
		Findings []Finding `json:"findings"`
		Cautions []string  `json:"cautions,omitempty"`
	}{v.Fits, v.At, v.Findings, v.Cautions})
}
