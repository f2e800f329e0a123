package choose

import (
	"context"
	"slices"

	"stead/substitution/supply"
)

// Result is what a search found.
type Result struct {
	Front  Front
	Proven bool  // every point that no other beats is in the front, and nothing else
	Bound  int64 // nothing costs less than this many pence, whether proven or not
	Nodes  int64 // partial choices looked at
}

// goal is what a search is for.
type goal int

const (
	everything goal = iota // the front
	cheapest               // a point of the least cost
	first                  // any point
)

// Solve finds the front. It stops when the context ends, and then says that it has proven nothing.
func Solve(ctx context.Context, p *Problem) (Result, error) { return solve(ctx, p, everything) }

// Cheapest finds one point of the least cost, whatever its day and deviation within the limits.
func Cheapest(ctx context.Context, p *Problem) (Result, error) { return solve(ctx, p, cheapest) }

// Any finds one point, whichever comes first, or proves that there is none.
func Any(ctx context.Context, p *Problem) (Result, error) { return solve(ctx, p, first) }

// scouting is how many nodes are spent on good points before the proof begins.
const scouting = 2000

func solve(ctx context.Context, p *Problem, g goal) (Result, error) {
	if err := p.Check(); err != nil {
		return Result{}, err
	}
	until := &deadline{ctx: ctx}
	in, err := reduce(p, until)
	if err != nil {
		return Result{}, err
	}
	if until.passed {
		return Result{}, nil
	}
	if in.empty() {
		return Result{Proven: true}, nil
	}
	s := newSearch(in, g)
	if until.passed {
		return Result{}, nil
	}
	if len(in.needs) == 0 {
		s.nothing()
	} else {
		s.run()
	}
	s.found.sort()
	r := Result{Front: s.found, Proven: !until.passed, Bound: s.bound, Nodes: s.nodes}
	if r.Proven && len(r.Front) == 0 {
		r.Bound = 0 // nothing fits, so there is nothing to bound
	} else if r.Proven && g != first {
		r.Bound = r.Front[0].Cost
	}
	return r, nil
}

// nothing is the one choice where there is nothing to choose.
func (s *search) nothing() {
	extras := make([]int, len(s.in.p.Extras))
	for e := range extras {
		extras[e] = -1
	}
	s.found = Front{{Options: []int{}, Extras: extras}}
}

// run goes through the days on which something arrives, from the first. On each it looks only for choices that are
// complete on that very day and beat what was complete before. What arrives on the day comes from some supplier, so
// that it goes through those as well: the carriage of one is then certain from the start.
func (s *search) run() {
	days := s.in.days
	last := days[len(days)-1]
	opened := s.open(last, supply.Shelf, s.rounds, true)
	if bound := s.relax(&s.spreads[0]); bound < none {
		s.bound = bound
	}
	if !opened {
		return
	}
	if s.goal != everything {
		s.prove(true)
		return
	}
	s.descend(true, scouting)
	for i := range s.spreads {
		s.startShares(&s.spreads[i])
	}
	for _, day := range days {
		fresh := s.extraOn(day)
		for _, anchor := range s.arrivals(day, fresh) {
			if s.sight = s.near; s.hard {
				s.sight = s.far
			}
			if !s.passed && s.open(day, anchor, laterRounds, fresh) {
				s.prove(fresh)
			}
		}
	}
}

// effort is what bounds are worth. A search begins with coarse frontiers, and takes fine ones when it has looked at
// more nodes than its patience.
type effort struct {
	coarse, fine size
	patience     int64
	rounds       int // for the first shares
}

// Bounds for a whole front are used on every day of it; a search for one point is often over sooner than good ones are
// made.
var (
	forFront = effort{size{700, 12_000}, size{8_000, 150_000}, 25_000, 60}
	forPoint = effort{size{60, 1_000}, size{4_000, 80_000}, 20_000, 20}
)

// prove searches an opened day to the end. After one that was hard the next begins with fine frontiers.
func (s *search) prove(fresh bool) {
	if begun := s.nodes; s.near.whole || s.sight == s.far {
		s.descend(fresh, 0)
		s.hard = s.sight == s.far && s.nodes-begun > s.patience
		return
	}
	if s.descend(fresh, s.patience); !s.spent || s.passed {
		return
	}
	if s.far == nil {
		if s.far = s.newSight(s.fine); s.passed {
			return
		}
	}
	s.sight = s.far
	s.hard = true
	if s.open(s.day, s.anchor, laterRounds, fresh) {
		s.descend(fresh, 0)
	}
}

// arrivals are the sources of options that arrive on a day, or one that stands for all where none needs to.
func (s *search) arrivals(day int, fresh bool) []int {
	if fresh {
		return []int{supply.Shelf}
	}
	var sources []int
	for k := range s.in.needs {
		for _, o := range s.in.needs[k].options {
			if o.day == day && !slices.Contains(sources, o.supplier) {
				sources = append(sources, o.supplier)
			}
		}
	}
	slices.Sort(sources)
	return sources
}

// extraOn reports whether something that is brought may arrive on a day: then the day may be that of a choice of which
// nothing else arrives on it.
func (s *search) extraOn(day int) bool {
	return slices.ContainsFunc(s.in.p.Extras, func(n Need) bool {
		return slices.ContainsFunc(n.Options, func(o Option) bool { return s.in.p.Offers[o.Offer].Day == day })
	})
}

// Complete adds up a choice of options for the needs, with the cheapest options for what they bring. It reports false
// where rules stop it or it cannot be ordered so.
func (p *Problem) Complete(pt Point) (Point, bool) {
	q := *p
	q.Needs, q.Rules = nil, nil
	q.MostCost, q.LatestDay, q.MostDeviation = nil, nil, nil
	for i, n := range p.Needs {
		n.Options = n.Options[pt.Options[i] : pt.Options[i]+1]
		q.Needs = append(q.Needs, n)
	}
	for _, r := range p.Rules {
		marks := make([][]int, len(r.Needs))
		for k, i := range r.Needs {
			marks[k] = r.Marks[k][pt.Options[i] : pt.Options[i]+1]
		}
		r.Marks = marks
		q.Rules = append(q.Rules, r)
	}
	result, err := Cheapest(context.Background(), &q)
	if err != nil || len(result.Front) == 0 {
		return pt, false
	}
	out := result.Front[0]
	out.Options = pt.Options
	return out, true
}
