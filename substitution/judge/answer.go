package judge

import (
	"encoding/json"
	"slices"

	"stead/substitution"
)

// Answer is what a question comes to, as it is written.
type Answer string

// The answers.
const (
	Fits       Answer = "fits"
	Difference Answer = "fits-with-difference"
	No         Answer = "no"
	CantTell   Answer = "cant-tell"
	NoRule     Answer = "no-rule"
	Refused    Answer = "refused"
)

// Reply is the answer to a question.
type Reply struct {
	ID          json.RawMessage `json:"id"` // as the question has it; null where it has none
	Answer      Answer          `json:"answer"`
	Differences []string        `json:"differences"` // what is another than it was, and what is needed beside it
	Measure     []string        `json:"measure"`     // what would settle it: the dimension, of which part, and with what tool
	Why         []string        `json:"why"`         // what the rules found that the answer rests on
}

// Line answers a question as it is written; whatever cannot be read is refused, and the reply says why.
func Line(line []byte) Reply {
	q, err := Read(line)
	if err != nil {
		return reply(q, Refused, nil, nil, []string{err.Error()})
	}
	return q.Answer()
}

// Answer judges the question.
func (q Question) Answer() Reply {
	switch {
	case q.Kind == Pair:
		return q.of(q.together())
	case q.Kind == AtPlace && q.Bike[q.Place] != nil:
		return q.of(substitution.InsteadOn(q.Bike, q.Bike[q.Place], q.B, q.Place))
	case q.Kind == AtPlace && q.A != nil && q.A.Family == q.B.Family:
		return q.of(substitution.InsteadOn(q.Bike, q.A, q.B, q.Place))
	case q.Kind == AtPlace:
		build := q.Bike.CompleteFor(q.Place)
		scene := substitution.Scene{Was: build, Now: build, Open: map[substitution.Place]bool{q.Place: true}}
		verdict, aside := scene.Choose(q.Place, q.B).Check(q.Place).AsNamed(q.Place, build)
		r := q.of(verdict)
		for _, text := range toMeasure(aside) {
			if !slices.Contains(r.Measure, text) {
				r.Measure = append(r.Measure, text)
			}
		}
		return r
	case q.A.Family != q.B.Family:
		if v, err := substitution.Instead(q.A, q.B); err == nil {
			return q.of(v)
		}
		return reply(q, No, nil, nil, []string{"a " + string(q.B.Family) + " cannot stand in for a " + string(q.A.Family)})
	case q.Place != "":
		return q.of(substitution.InsteadOn(q.Bike, q.A, q.B, q.Place))
	}
	return q.of(q.instead())
}

// of puts a verdict into the words of an answer.
func (q Question) of(v substitution.Verdict) Reply {
	switch v.Fits {
	case substitution.NoRule:
		return reply(q, NoRule, nil, nil, []string{"no rule joins the two: nothing is known of it"})
	case substitution.Breaks:
		return reply(q, No, nil, nil, wordsOf(v.Stops(), substitution.Breaks))
	case substitution.CantTell:
		return reply(q, CantTell, nil, toMeasure(v.Missing()), wordsOf(v.Stops(), substitution.CantTell))
	}
	var differences []string
	for _, d := range v.Deviations() {
		differences = append(differences, d.Words)
	}
	why := held(v)
	for _, b := range v.Brings() {
		if purpose := b.Spec["purpose"].Value.Word(); slices.Contains(renewed, purpose) || b.Family == "sprocket" {
			why = append(why, "renew with it: "+b.String())
		} else {
			differences = append(differences, "needs beside it: "+b.String())
		}
	}
	var untold []substitution.Missing
	for _, f := range v.Untold() {
		untold = append(untold, f.Missing...)
	}
	answer := Fits
	if len(differences) > 0 {
		answer = Difference
	}
	return reply(q, answer, differences, toMeasure(untold), why)
}

// renewed are small parts that go with any such part, the very same one too: nothing is another for them. What else is
// needed beside a part bridges a difference.
var renewed = []string{"ferrule", "cable-end", "crush-washer", "hose-olive", "hose-insert", "cassette-lockring", "rotor-lockring", "star-nut", "steerer-expander", "tubular-glue"}

func wordsOf(findings []substitution.Finding, answer substitution.Answer) []string {
	var words []string
	for _, f := range findings {
		if f.Answer == answer && !slices.Contains(words, f.Words) {
			words = append(words, f.Words)
		}
	}
	return words
}

// held are the findings for which the parts go together.
func held(v substitution.Verdict) []string {
	var words []string
	for _, f := range v.Findings {
		if f.Answer == substitution.Holds && f.Rule.Severity.Stops() {
			words = append(words, f.Words)
		}
	}
	return words
}

func toMeasure(missing []substitution.Missing) []string {
	var words []string
	for _, m := range missing {
		whose := string(m.Place)
		if site, err := substitution.SiteOf(m.Place); err == nil {
			whose = site.Words
		}
		if m.Old {
			whose = "old " + whose
		}
		if text := m.Dimension + " of the " + whose + ": " + m.Measure; !slices.Contains(words, text) {
			words = append(words, text)
		}
	}
	return words
}

// reply leaves no list out: an empty one says that there is nothing.
func reply(q Question, answer Answer, differences, measure, why []string) Reply {
	some := func(list []string) []string {
		if list == nil {
			return []string{}
		}
		return list
	}
	id := json.RawMessage(q.ID)
	if q.ID == "" {
		id = json.RawMessage("null")
	}
	return Reply{id, answer, some(differences), some(measure), some(why)}
}
