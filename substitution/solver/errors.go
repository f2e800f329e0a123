package solver

import "fmt"

// Fault says what makes a problem meaningless.
type Fault int

const (
	NoCandidates  Fault = iota + 1 // a need for which there is nothing to choose from
	NoSuchPlace                    // a place that the bike does not have
	Contradiction                  // pins that cannot both be met
	Circle                         // what a choice brings leads back to itself
	TooLarge                       // prices or quantities that cannot be summed safely
	Malformed                      // anything else: an unknown ID, a negative price, a pack of nothing
)

// ProblemError is a problem that cannot be meant. Nothing was searched.
type ProblemError struct {
	Fault  Fault
	Need   string // the need's ID; empty where it is none's
	Reason string // what is wrong and what to do, as one clause
}

func (e *ProblemError) Error() string {
	if e.Need == "" {
		return e.Reason
	}
	return "need " + e.Need + ": " + e.Reason
}

func fault(f Fault, need, format string, args ...any) error {
	return &ProblemError{Fault: f, Need: need, Reason: fmt.Sprintf(format, args...)}
}
