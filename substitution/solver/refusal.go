package solver

import "stead/substitution"

// Refusal explains why no set of parts keeps all rules and wishes.
type Refusal struct {
	// GiveUps are the minimal sets of wishes which, given up, make the job possible, smaller sets first.
	GiveUps []GiveUp
	// All says that there are no other minimal sets than these.
	All bool
	// Nearest are, for each need that no candidate fits by itself, the candidates that come nearest.
	Nearest []Nearest
	// Blocking are the kept parts without which the job would be possible.
	Blocking []Blocking
}

// GiveUp is a minimal set of wishes to give up: all of them are needed for it.
type GiveUp struct {
	Wishes []int // indices into Problem.Wishes
	Front  []Option
	Picks  Picks
}

// Best is the job that giving up these wishes buys: the balanced one.
func (g GiveUp) Best() Option { return g.Front[g.Picks.Balanced] }

// Nearest is a candidate that does not fit, with what stops it.
type Nearest struct {
	Need  string
	Part  int                    // index into Problem.Parts
	Stops []substitution.Finding // broken rules before those that one can't tell
}

// Blocking is a kept part that stands in the way, with examples of what it forbids. What replacing it comes to is another
// job, to be asked for with its place among the needs.
type Blocking struct {
	Place substitution.Place
	Stops []substitution.Finding
}
