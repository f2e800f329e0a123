package substitution

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Action is what is to happen at a place.
type Action string

const (
	Keep    Action = "keep"
	Clean   Action = "clean" // open, clean, grease and close again; for a bearing with loose balls, with new balls
	Adjust  Action = "adjust"
	Replace Action = "replace"
)

// Weight orders actions by how much they ask for: what is replaced weighs most, what nothing decides yet comes next, as it
// may still turn out to be replaced.
func (a Action) Weight() int {
	switch a {
	case Replace:
		return 4
	case Clean:
		return 2
	case Adjust:
		return 1
	case Keep:
		return 0
	}
	return 3
}

// ParseAction reads an action as a person writes it.
func ParseAction(text string) (Action, error) {
	switch a := Action(strings.ToLower(strings.TrimSpace(text))); a {
	case Keep, Clean, Adjust, Replace:
		return a, nil
	}
	return "", fmt.Errorf("%q is no action: say keep, clean, adjust or replace", text)
}

// Reading is one thing that a mechanic reads off a part where it sits, and what each answer proposes. A word's answers
// stand from the best to the worst, so that of two that contradict each other the worse is known.
type Reading struct {
	Dimension
	Fewer  bool // the smaller of two figures is the worse, as with a thickness; else the larger
	Equals bool // neither of two answers is the worse: until one is corrected the reading is not known
	Says   map[string]Advice
	Judge  func(l Look) Advice // where more than the answer counts; nil with no Says: the figure stands beside another reading
	Counts bool                // it says how many pieces are wanted
}

// Advice is what one reading proposes.
type Advice struct {
	Action Action // none: it decides nothing
	Words  string
	Source Source
	LookAt []Place // what it makes suspect; "~." stands for the end of the bike that the part sits at
	Asks   string  // what must be known before it decides: an instruction
	Inside Action  // for a house of bearings: what is to happen to the bearings in it
}

// Readings are what was read at a place, by the reading's name.
type Readings map[string]Value

// Look is what a judgement looks at.
type Look struct {
	Build Build
	Place Place
	Read  Readings
	Again map[string]bool // readings that were taken more than once
}

// Figure is the value of a number that was read.
func (l Look) Figure(name string) (float64, bool) {
	v, known := l.Read[name]
	return v.Float(), known
}

// end is the place of a part at the same end of the bike.
func (l Look) end(p Place) Place { return Place(strings.Replace(string(p), "~", l.Place.end(), 1)) }

// Advise gives what the reading proposes at a place, or nothing where it was not taken or stands beside another only.
func (r Reading) Advise(l Look) Advice {
	v, taken := l.Read[r.Name]
	if !taken {
		return Advice{}
	}
	a := r.Says[v.String()]
	if r.Judge != nil {
		a = r.Judge(l)
	}
	a.LookAt = slices.Clone(a.LookAt)
	for i, p := range a.LookAt {
		a.LookAt[i] = l.end(p)
	}
	return a
}

// Worse is the worse of two answers of the reading, or false where neither is.
func (r Reading) Worse(a, b Value) (Value, bool) {
	if r.Equals {
		return Value{}, a.Equal(b)
	}
	rank := func(v Value) float64 {
		if r.Form == Word {
			return float64(slices.Index(r.Words, v.Word()))
		}
		if r.Fewer {
			return -v.Float()
		}
		return v.Float()
	}
	if rank(b) > rank(a) {
		a = b
	}
	return a, true
}

// ReadingsOf are the readings that can be taken of a part of the family; none for some.
func ReadingsOf(f Family) []Reading {
	if t := tableOf[f]; t != nil {
		return t.Readings
	}
	return nil
}

// ReadingOf finds a reading of a family by its name, or says which it has.
func ReadingOf(f Family, name string) (Reading, error) {
	var names []string
	for _, r := range ReadingsOf(f) {
		if r.Name == name {
			return r, nil
		}
		names = append(names, r.Name)
	}
	if len(names) == 0 {
		return Reading{}, fmt.Errorf("a %s has no readings: say what is to happen", f)
	}
	return Reading{}, fmt.Errorf("a %s has no reading %q: it has %s", f, name, Among(name, names))
}

// Check returns the readings in their own forms, or names the first that a part of the family does not have or that
// cannot be meant.
func (r Readings) Check(f Family) (Readings, error) {
	out := Readings{}
	for _, name := range slices.Sorted(maps.Keys(r)) {
		reading, err := ReadingOf(f, name)
		if err != nil {
			return nil, err
		}
		if out[name], err = reading.Check(r[name]); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// gaugeStep is what a caliper, and a chain gauge in per cent, cannot tell apart.
const gaugeStep = 0.05

// nearLimit adds to an advice that a figure stands within a gauge's step of the limit that decided it, and was read once.
func (l Look) nearLimit(a Advice, name string, limit float64) Advice {
	if v, _ := l.Figure(name); abs(v-limit) <= gaugeStep+1e-9 && !l.Again[name] {
		a.Words += "; that is within a gauge's step of the limit: measure again, the worse reading counts"
	}
	return a
}
