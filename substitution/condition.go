package substitution

import (
	"maps"
	"math"
	"slices"
)

// Condition is what a rule asks of one part once everything around it is known. A catalogue turns conditions into
// its own query language to narrow a search; Admits is the same condition on one part. A condition never rejects a
// part for a dimension that is absent: that is a can't-tell, and for the engine to say.
type Condition interface {
	Admits(*Part) bool
}

// Between asks that a number lie between two bounds, both included.
type Between struct {
	Dimension string
	Low, High float64
}

// OneOf asks for one of some words.
type OneOf struct {
	Dimension string
	Words     []string
}

// SharesAny asks that a list hold one of some counts.
type SharesAny struct {
	Dimension string
	Counts    []int
}

// Weighted asks that a weighted sum of numbers be at most a bound: largest sprocket less smallest sprocket at most 23.
type Weighted struct {
	Terms  []WeightedTerm
	AtMost float64
}

// WeightedTerm is one number of the sum and its weight.
type WeightedTerm struct {
	Weight    float64
	Dimension string
}

func (c Between) Admits(p *Part) bool {
	v, known := p.Get(c.Dimension)
	return !known || v.number >= c.Low && v.number <= c.High
}

func (c OneOf) Admits(p *Part) bool {
	v, known := p.Get(c.Dimension)
	return !known || slices.Contains(c.Words, v.word)
}

func (c SharesAny) Admits(p *Part) bool {
	v, known := p.Get(c.Dimension)
	return !known || share(v.ints, c.Counts)
}

func (c Weighted) Admits(p *Part) bool {
	var sum float64
	for _, t := range c.Terms {
		v, known := p.Get(t.Dimension)
		if !known {
			return true
		}
		sum += t.Weight * v.number
	}
	return sum <= c.AtMost+rounding
}

// Narrow gives the conditions that the mating and safety rules set for a part at a place, as far as all its
// neighbours are settled. Every part that Check would accept satisfies all of them.
func (s Scene) Narrow(place Place) []Condition {
	open := maps.Clone(s.Open)
	if open == nil {
		open = map[Place]bool{}
	}
	if place == "crank" { // it may come with rings of its own: what the old ones ask is no condition
		for _, ring := range ringPlaces {
			open[ring.place] = true
		}
	}
	open[place] = true // what sits there is still to be chosen, so no crankset brings it
	around := Scene{Was: s.Was, Now: s.Now.With(place, nil), Open: open, Waived: s.Waived}.withNewRings()
	delete(around.Open, place)
	var out []Condition
	for _, in := range instances[place] {
		if in.rule.Severity.Stops() && in.rule.Source.Confidence != Memory && !s.Waived[Waiver{in.rule.ID, in.at}] && !around.waits(in) {
			out = append(out, in.narrow(around, place)...)
		}
	}
	return out
}

// rounding forgives the last binary digit of sums of sizes written in decimals.
const rounding = 1e-9

func share(a, b []int) bool {
	return slices.ContainsFunc(a, func(n int) bool { return slices.Contains(b, n) })
}

func near(a, b, within float64) bool { return math.Abs(a-b) <= within+rounding }
