package pricing

import (
	"context"
	"fmt"
	"slices"
)

// Front are all the options of a job of which no other is at least as good in what the workshop pays, day and
// difference, and better in one. A quote shows the few that are the best at something; the rest are for the mechanic who
// wants to see what lies between.
type Front struct {
	JobID   int64    `json:"job"`
	Options []Option `json:"options"`
	Proven  bool     `json:"proven"` // complete, and none can be bettered
}

// Front works out all options of a job as things stand, the soonest first.
func (s Situation) Front(ctx context.Context) (Front, error) {
	f := Front{JobID: s.Job.ID, Options: []Option{}, Proven: true}
	if err := s.checkPlanned(); err != nil {
		return f, err
	}
	if len(s.Needs) == 0 {
		f.Options = append(f.Options, s.labourOnly())
		return f, nil
	}
	if len(s.unobtainable()) > 0 {
		return f, nil
	}
	problem, answer, err := s.answer(ctx)
	if err != nil {
		return f, err
	}
	f.Proven = answer.Proven
	named, err := s.options(problem, answer)
	if err != nil {
		return f, err
	}
	for _, o := range answer.Front {
		option, err := s.option(problem, o)
		if err != nil {
			return f, err
		}
		for _, n := range named {
			if n.same(option) {
				option.Names = n.Names
			}
		}
		f.Options = append(f.Options, option)
	}
	slices.SortStableFunc(f.Options, func(a, b Option) int { return int(a.ReadyOn - b.ReadyOn) })
	return f, nil
}

// checkPlanned is an error for a job of which nothing is left to plan.
func (s Situation) checkPlanned() error {
	if s.Job.State == Closed || s.Job.State == Cancelled {
		return fmt.Errorf("job %d is %s: there is nothing left to choose", s.Job.ID, s.Job.State)
	}
	return nil
}

// same reports whether two options choose the same parts from the same sources.
func (o Option) same(p Option) bool {
	return slices.EqualFunc(o.Parts, p.Parts, func(a, b PartLine) bool {
		return a.PartID == b.PartID && a.OfferID == b.OfferID && a.Place == b.Place && a.Pieces == b.Pieces
	})
}
