package inspection

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"stead/substitution"
)

// Taken is one visit to a place: what was read there, what the mechanic decided. What is taken at a place adds up; what
// corrects says so.
type Taken struct {
	Place    substitution.Place `json:"place"`
	Readings Readings           `json:"readings,omitempty"`
	Action   Action             `json:"action,omitempty"`    // the mechanic's own decision; absent: what the readings propose
	Correct  bool               `json:"correct,omitempty"`   // the readings take the place of what was read before by these names
	TakeBack []string           `json:"take_back,omitempty"` // readings that were none: each is struck
	Forget   bool               `json:"forget,omitempty"`    // all that was taken there before was a mistake: it counts no more
	After    bool               `json:"after,omitempty"`     // it was read once work there was agreed: it tells how the work came out
	Note     string             `json:"note,omitempty"`
}

// Check gives the visit with its readings in their own forms, or says what cannot be meant. Before is what was taken at the
// job's places already: only what was read can be corrected.
func (t Taken) Check(before []Taken) (Taken, error) {
	site, err := substitution.SiteOf(t.Place)
	if err != nil {
		return t, err
	}
	if t.Readings, err = t.Readings.Check(site.Family); err != nil {
		return t, fmt.Errorf("%s: %w", site.Words, err)
	}
	if t.Action != "" {
		if t.Action, err = ParseAction(string(t.Action)); err != nil {
			return t, fmt.Errorf("%s: %w", site.Words, err)
		}
	}
	if t.Forget {
		if sum := sumOf(t.Place, before); len(sum.values) == 0 && sum.decided == "" {
			return t, fmt.Errorf("nothing was found at the %s: there is nothing to forget", site.Words)
		}
		before = nil
	} else if len(t.Readings) == 0 && len(t.TakeBack) == 0 && t.Action == "" {
		return t, fmt.Errorf("nothing was read at the %s: give a reading, or say keep, clean, adjust or replace", site.Words)
	}
	sum := sumOf(t.Place, before)
	for _, name := range t.TakeBack {
		if len(sum.values[name]) == 0 {
			return t, fmt.Errorf("no %s was read at the %s: there is nothing to take back", name, site.Words)
		}
		if _, both := t.Readings[name]; both {
			return t, fmt.Errorf("%s of the %s is taken back and read at once: say one of them", name, site.Words)
		}
	}
	if !t.Correct {
		return t, nil
	}
	if len(t.Readings) == 0 && len(t.TakeBack) == 0 {
		return t, errors.New("a correction says what is corrected: give the reading as it should be")
	}
	for _, name := range sorted(t.Readings) {
		if len(sum.values[name]) == 0 {
			return t, fmt.Errorf("no %s was read at the %s before: there is nothing to correct", name, site.Words)
		}
	}
	return t, nil
}

// sum is what the visits to one place come to.
type sum struct {
	values  map[string][]substitution.Value // every answer that stands, in the order in which it was read
	decided Action                          // the mechanic's last word
	after   bool                            // something was read after it
	worked  Readings                        // what was read once work was agreed
	note    string
}

func sumOf(place substitution.Place, taken []Taken) sum {
	s := sum{values: map[string][]substitution.Value{}, worked: Readings{}}
	var notes []string
	for _, t := range taken {
		if t.Place != place {
			continue
		}
		if t.Forget {
			s, notes = sum{values: map[string][]substitution.Value{}, worked: Readings{}}, nil
		}
		for _, name := range t.TakeBack {
			delete(s.values, name)
			delete(s.worked, name)
		}
		for _, name := range sorted(t.Readings) {
			if t.Correct {
				delete(s.values, name)
				delete(s.worked, name)
			}
			if t.After && !counts(place, name) {
				s.worked[name] = t.Readings[name]
				continue
			}
			s.values[name] = append(s.values[name], t.Readings[name])
		}
		s.after = s.after || len(t.Readings) > 0 || len(t.TakeBack) > 0
		if t.Action != "" {
			s.decided, s.after = t.Action, false
		}
		if t.Note != "" && !slices.Contains(notes, t.Note) {
			notes = append(notes, t.Note)
		}
	}
	s.note = strings.Join(notes, "; ")
	return s
}

// counts tells of a reading that says how many pieces are wanted: that is so whenever it is said.
func counts(place substitution.Place, name string) bool {
	site, err := substitution.SiteOf(place)
	if err != nil {
		return false
	}
	r, err := substitution.ReadingOf(site.Family, name)
	return err == nil && r.Counts
}

// Findings are what all that was taken comes to, in the order of inspection. Every reading that stands is judged, and
// what asks for most stands. The mechanic's word decides over the readings that lay before it; what is read later and
// asks for more than that word is not passed over. Of two answers to one reading the worse counts, and both are shown;
// one that was read after the work tells how that came out, and contradicts nothing: the finding that the work rests on
// stays, unless more is asked for now. A house of cartridge bearings that is bad speaks for the bearings in it, where
// nothing was found at those themselves.
func Findings(build substitution.Build, taken []Taken) ([]Finding, error) {
	found := map[substitution.Place]Finding{}
	for _, t := range taken {
		if _, done := found[t.Place]; done {
			continue
		}
		f, err := findingAt(build, t.Place, taken)
		if err != nil {
			return nil, err
		}
		if f.Action == "" && len(f.Readings) == 0 {
			continue // all was taken back
		}
		found[t.Place] = f
	}
	for place, f := range found {
		if f.Proposal.inside == "" || f.From != "" {
			continue
		}
		house, err := substitution.SiteOf(place)
		if err != nil {
			return nil, err
		}
		what, _, _ := strings.Cut(f.Proposal.Words, ": ")
		for _, p := range build.CartridgesOf(place) {
			if _, own := found[p]; !own {
				found[p] = Finding{Place: p, Action: f.Proposal.inside, From: place,
					Proposal: Proposal{Action: f.Proposal.inside, Words: house.Words + ": " + what, Source: f.Proposal.Source}}
			}
		}
	}
	return InOrder(slices.Collect(maps.Values(found))), nil
}

// InOrder sorts findings, one a place, as an inspection walks the bike.
func InOrder(found []Finding) []Finding {
	at := map[substitution.Place]int{}
	for i, site := range substitution.Sites() {
		at[site.Place] = i
	}
	return slices.SortedFunc(slices.Values(found), func(a, b Finding) int { return at[a.Place] - at[b.Place] })
}

func findingAt(build substitution.Build, place substitution.Place, taken []Taken) (Finding, error) {
	site, err := substitution.SiteOf(place)
	if err != nil {
		return Finding{}, err
	}
	s := sumOf(place, taken)
	f := Finding{Place: place, Note: s.note}
	look := substitution.Look{Build: build, Place: place, Read: Readings{}, Again: map[string]bool{}}
	for _, name := range sorted(s.values) {
		r, err := substitution.ReadingOf(site.Family, name)
		if err != nil {
			return Finding{}, err
		}
		values := s.values[name]
		stands, decided := values[0], true
		for _, v := range values[1:] {
			look.Again[name] = true
			if decided {
				stands, decided = r.Worse(stands, v)
			}
		}
		if slices.ContainsFunc(values, func(v substitution.Value) bool { return !v.Equal(values[0]) }) {
			f.Contradictions = append(f.Contradictions, contradiction(r.Dimension, values, stands, decided))
		}
		if decided {
			look.Read[name] = stands
		}
	}
	f.Readings = look.Read
	f.Proposal = propose(look, site.Family)
	f.Action = f.Proposal.Action
	if s.decided != "" && (!s.after || s.decided.Weight() >= f.Proposal.Action.Weight() || len(f.Proposal.Reasons) == 0) {
		f.Action, f.Proposal.inside = s.decided, ""
	}
	f.afterWork(look, site.Family, s.worked)
	f.Asks = asks(f, site)
	return f, nil
}

// afterWork takes in what was read after the work.
func (f *Finding) afterWork(look substitution.Look, family substitution.Family, worked Readings) {
	if len(worked) == 0 {
		return
	}
	f.After = worked
	f.CameOut = propose(substitution.Look{Build: look.Build, Place: look.Place, Read: worked, Again: look.Again}, family)
	again := substitution.Look{Build: look.Build, Place: look.Place, Read: maps.Clone(look.Read), Again: look.Again}
	maps.Copy(again.Read, worked)
	if p := propose(again, family); p.Action != "" && p.Action.Weight() > f.Action.Weight() {
		f.Readings, f.Proposal, f.Action = again.Read, p, p.Action
	}
}

// asks are the questions that stand between a finding and a quote.
func asks(f Finding, site substitution.Site) []string {
	var out []string
	if f.Action == "" {
		out = append(out, f.Proposal.Asks...)
	}
	table, err := substitution.TableOf(site.Family)
	if err != nil {
		return out
	}
	_, told := f.Readings["wanted"]
	_, measured := f.Readings["metres"]
	switch {
	case f.Action != Replace || !table.Counted || told || measured:
	case table.ByMetre:
		out = append(out, "say how much is wanted: metres=1.4 off a roll, or wanted=2 cut lengths")
	default:
		out = append(out, "say how many are wanted: wanted=2")
	}
	return out
}
