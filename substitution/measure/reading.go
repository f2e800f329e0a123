package measure

import (
	"fmt"
	"math"
	"strconv"
)

// Reading is one measured length with the tool's error. A measurement that was not made is a nil *Reading.
type Reading struct {
	MM      float64 `json:"mm"`
	ErrorMM float64 `json:"error_mm"` // the true length lies within this of MM, if the tool was held right
	Tool    string  `json:"tool"`
}

const (
	caliperError = 0.05 // what a workshop caliper and hand can be trusted to
	rulerError   = 0.5
	tapeError    = 2.0 // a tape laid round a rim or a tyre
)

// Caliper is a caliper reading, trusted to 0.05 mm.
func Caliper(mm float64) *Reading { return &Reading{MM: mm, ErrorMM: caliperError, Tool: "caliper"} }

// Ruler is a ruler reading, trusted to 0.5 mm.
func Ruler(mm float64) *Reading { return &Reading{MM: mm, ErrorMM: rulerError, Tool: "ruler"} }

// Tape is a tape laid round something, trusted to 2 mm.
func Tape(mm float64) *Reading { return &Reading{MM: mm, ErrorMM: tapeError, Tool: "tape"} }

// String is "14.98 ± 0.05 mm".
func (r Reading) String() string { return mm(r.MM) + " ± " + mm(r.ErrorMM) + " mm" }

// allows reports whether the reading can be of a part whose true size lies from low to high.
func (r Reading) allows(low, high float64) bool {
	return r.MM >= low-r.ErrorMM-1e-9 && r.MM <= high+r.ErrorMM+1e-9
}

// check refuses what no tool reads on a part of this kind.
func check(name string, r *Reading, smallest, largest float64) error {
	switch {
	case r == nil:
		return nil
	case math.IsNaN(r.MM) || math.IsInf(r.MM, 0) || r.MM <= 0:
		return fmt.Errorf("the %s must be a length above nothing, not %v", name, r.MM)
	case !(r.ErrorMM >= 0) || r.ErrorMM > 10:
		return fmt.Errorf("the %s cannot be trusted to %v mm: give the tool's error between 0 and 10 mm", name, r.ErrorMM)
	case r.MM < smallest || r.MM > largest:
		text := fmt.Sprintf("the %s of %s mm is outside what such a part has (%s to %s mm)", name, mm(r.MM), mm(smallest), mm(largest))
		if inches := r.MM * 25.4; inches >= smallest && inches <= largest {
			text += fmt.Sprintf("; was it read in inches? %s in is %s mm", mm(r.MM), mm(inches))
		} else if tenth := r.MM / 10; tenth >= smallest && tenth <= largest {
			text += fmt.Sprintf("; was the point lost? %s mm would be possible", mm(tenth))
		}
		return fmt.Errorf("%s", text)
	}
	return nil
}

// tooFine notes readings written with more figures than a caliper shows.
func tooFine(readings ...*Reading) []string {
	for _, r := range readings {
		if r != nil && math.Abs(r.MM*100-math.Round(r.MM*100)) > 1e-6 {
			return []string{fmt.Sprintf("A caliper shows hundredths and is right to about five of them: the thousandths of %v mean nothing.", r.MM)}
		}
	}
	return nil
}

// mm writes a length without needless zeros, to a thousandth.
func mm(v float64) string { return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64) }

// mm2 writes a length to a hundredth, as a caliper shows it.
func mm2(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }
