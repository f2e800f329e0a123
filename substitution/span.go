package substitution

// Span asks that a sum over the bike lie between two figures that hang on nothing: a quick-release axle stands 8 to 11 mm
// over the locknuts.
type Span struct {
	Sum       []Term
	Low, High float64
	Why       string  // the words for a sum beyond them
	Doubt     float64 // how far under the lower one it is not broken yet but asked
	Ask       string  // what to see to then
}

func (t Span) scope(at Place) []Place { return Limit{Sum: t.Sum}.scope(at) }

func (t Span) judge(s Scene, at Place) Judgement {
	r := Limit{Sum: t.Sum}.weigh(s, at, "")
	if !r.leftKnown {
		if !r.recorded {
			return Judgement{}
		}
		return untold(r.missing...)
	}
	sum := r.left // of a lower bound of nothing: the sum itself
	j := Judgement{Answer: Holds, Wanted: figure(t.Low) + " to " + figure(t.High), Found: figure(sum)}
	j.Words = Limit{Sum: t.Sum}.sums(s, at)
	if len(t.Sum) > 1 {
		j.Words += " is " + j.Found
	}
	j.Words += ", and " + j.Wanted + " is wanted"
	if sum < t.Low-rounding || sum > t.High+rounding {
		j.Answer = Breaks
		if sum < t.Low && sum+t.Doubt >= t.Low-rounding {
			d := s.first(t.Sum[0].Refs, at)
			j.Answer = CantTell
			j.Words += ": " + t.Ask
			j.Missing = []Missing{{Place: d.place, Dimension: d.dim, Measure: t.Ask}}
			return j
		}
		if t.Why != "" {
			j.Words += ": " + t.Why
		}
	}
	return j
}

func (t Span) narrow(s Scene, at, choosing Place) []Condition {
	var own, less []WeightedTerm
	for _, term := range t.Sum {
		if d := s.first(term.Refs, at); d.place == choosing && !d.old {
			own = append(own, WeightedTerm{term.Sign, d.dim})
			less = append(less, WeightedTerm{-term.Sign, d.dim})
		}
	}
	rest := Limit{Sum: t.Sum}.weigh(s, at, choosing)
	if len(own) == 0 || !rest.leftKnown {
		return nil
	}
	return []Condition{Weighted{own, t.High - rest.left + rounding}, Weighted{less, rest.left - t.Low + t.Doubt + rounding}}
}
