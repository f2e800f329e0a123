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
		Missing  []missing `json:"missing,omitempty"`
		Source   string    `json:"source"`
	}{Rule: f.Rule.ID, Says: f.Rule.Says, Severity: f.Rule.Severity.String(), Place: f.At, Answer: f.Answer, Words: f.Words,
		Wanted: f.Wanted, Found: f.Found, Before: f.Before, Source: f.Rule.Source.String()}
	for _, m := range f.Missing {
		out.Missing = append(out.Missing, missing(m))
	}
	return json.Marshal(out)
}

// MarshalJSON writes a verdict: does it fit, and what each rule says.
func (v Verdict) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Fits     Answer    `json:"fits"`
		Findings []Finding `json:"findings"`
		Cautions []string  `json:"cautions,omitempty"`
	}{v.Fits, v.Findings, v.Cautions})
}
