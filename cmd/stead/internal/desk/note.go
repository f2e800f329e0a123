package desk

import (
	"context"
	"strings"

	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
	"stead/substitution/inspection"
	"stead/substitution/inspection/note"
)

// Note is what was said at the bench of a job: what was read, what it would come to, and whether it is kept.
type Note struct {
	Job      int64          `json:"job"`
	Said     string         `json:"note"`
	Findings []NotedFinding `json:"findings"`
	Fitted   []NotedFact    `json:"fitted"`
	Unread   []string       `json:"unread"`
	Asks     []note.Ask     `json:"asks,omitempty"`
	Kept     bool           `json:"kept"`

	Reading note.Reading `json:"-"` // the same, as it is kept
}

// NotedFinding is a finding of the note with what the place comes to, all readings taken together.
type NotedFinding struct {
	note.Finding
	ComesTo inspection.Finding `json:"comes_to"`
}

// NotedFact is a fact of the note against what is on record.
type NotedFact struct {
	note.Fitted
	OnRecord map[string]substitution.Value `json:"on_record,omitempty"`
}

// LoadNote reads a note and tells what it would come to. Nothing is kept.
func LoadNote(ctx context.Context, db inventory.DB, jobID int64, said string) (Note, error) {
	job, reading, err := pricing.ReadNote(ctx, db, jobID, said)
	if err != nil {
		return Note{}, err
	}
	comesTo, err := pricing.PreviewNote(ctx, db, job, reading)
	if err != nil {
		return Note{}, err
	}
	v := Note{Job: jobID, Said: said, Findings: []NotedFinding{}, Fitted: []NotedFact{}, Unread: reading.Unread, Asks: reading.Asks, Reading: reading}
	for _, f := range reading.Findings {
		v.Findings = append(v.Findings, NotedFinding{f, comesTo[f.Place]})
	}
	for _, f := range reading.Fitted {
		fact := NotedFact{Fitted: f}
		for name := range f.Spec {
			if had, known := job.Bike.Build[f.Place].Get(name); known {
				if fact.OnRecord == nil {
					fact.OnRecord = map[string]substitution.Value{}
				}
				fact.OnRecord[name] = had
			}
		}
		v.Fitted = append(v.Fitted, fact)
	}
	return v, nil
}

// Proposes is what the readings at the place propose, or what they ask.
func (f NotedFinding) Proposes() string {
	p := f.ComesTo.Proposal
	switch {
	case p.Action != "" && p.Words != "":
		return string(p.Action) + ": " + p.Words
	case len(f.ComesTo.Asks) > 0:
		return strings.Join(f.ComesTo.Asks, "; ")
	}
	return p.Words
}

// RecordWords are the values on record of what the note says is fitted.
func (f NotedFact) RecordWords() string {
	if len(f.OnRecord) == 0 {
		return "not known"
	}
	same := len(f.OnRecord) == len(f.Spec)
	for name, v := range f.OnRecord {
		same = same && v.Equal(f.Spec[name])
	}
	if same {
		return "the same"
	}
	return strings.TrimPrefix(FittedSays(note.Fitted{Place: f.Place, Spec: f.OnRecord}), "fitted: ")
}

// FindingSays is what a finding of a note says: "replace, wear 0.9".
func FindingSays(f note.Finding) string {
	var says []string
	if f.Action != "" {
		says = append(says, string(f.Action))
	}
	if site, err := substitution.SiteOf(f.Place); err == nil {
		says = append(says, readSays(site.Family, f.Readings)...)
	}
	return strings.Join(says, ", ")
}

// FittedSays is what a note says is fitted: "fitted: speeds 9".
func FittedSays(f note.Fitted) string {
	site, err := substitution.SiteOf(f.Place)
	if err != nil {
		return ""
	}
	spec := substitution.MakeSpec(f.Spec, nil, nil)
	table, err := substitution.TableOf(site.Family)
	if err != nil {
		return spec.String()
	}
	var says []string
	for _, name := range spec.Names() {
		if d, ok := table.Dimension(name); ok {
			says = append(says, d.Plain()+" "+d.Show(f.Spec[name]))
		}
	}
	return "fitted: " + strings.Join(says, ", ")
}

// readSays are readings as a mechanic says them: "wear 0.9", "not damaged", "feel rough".
func readSays(family substitution.Family, readings inspection.Readings) []string {
	var says []string
	for _, d := range inspection.ReadingsOf(family) {
		v, read := readings[d.Name]
		switch {
		case !read:
		case v.Equal(substitution.Yes(true)):
			says = append(says, d.Plain())
		case v.Equal(substitution.Yes(false)):
			says = append(says, "not "+d.Plain())
		default:
			says = append(says, d.Plain()+" "+d.Show(v))
		}
	}
	return says
}
