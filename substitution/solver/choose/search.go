package choose

import "context"

// Result is what a search found.
type Result struct {
	Front  Front
	Proven bool  // every point that no other beats is in the front, and nothing else
	Bound  int64 // no choice that is not in the front costs less than this; holds whether proven or not
	Nodes  int64 // partial choices looked at
}

// Solve finds the front. It stops when the context ends, and then says that it has proven nothing.
func Solve(ctx context.Context, p *Problem) (Result, error) { return solve(ctx, p, false) }

// Any finds one point, whichever comes first, or proves that there is none.
func Any(ctx context.Context, p *Problem) (Result, error) { return solve(ctx, p, true) }

func solve(ctx context.Context, p *Problem, any bool) (Result, error) {
	if err := p.Check(); err != nil {
		return Result{}, err
	}
	order, err := p.extraOrder()
	if err != nil {
		return Result{}, err
	}
	s := &search{
		ctx: ctx, p: p, any: any, extras: order,
		options: make([]int, len(p.Needs)), chosen: make([]int, len(p.Extras)),
		pieces: map[int]int{}, brought: make([]int, len(p.Extras)),
	}
	for e := range s.chosen {
		s.chosen[e] = -1
	}
	s.last = make([][]int, len(p.Needs))
	for r, rule := range p.Rules {
		last := 0
		for _, i := range rule.Needs {
			last = max(last, i)
		}
		s.last[last] = append(s.last[last], r)
	}
	s.need(0, 0, 0, true)
	s.front.sort()
	return Result{Front: s.front, Proven: !s.stopped, Nodes: s.nodes}, nil
}

type search struct {
	ctx     context.Context
	p       *Problem
	any     bool
	extras  []int
	last    [][]int // rules whose last need is this one
	options []int
	chosen  []int
	pieces  map[int]int
	brought []int
	front   Front
	nodes   int64
	stopped bool
}

func (s *search) need(i, day int, deviation int64, first bool) {
	if i == len(s.p.Needs) {
		s.extra(0, day, deviation, first)
		return
	}
	n := &s.p.Needs[i]
	for o, opt := range n.Options {
		if !s.step(opt, day, deviation, first) {
			continue
		}
		s.options[i] = o
		dev, ok := deviation+opt.Deviation, true
		var brings []Bring
		for _, r := range s.last[i] {
			rule := &s.p.Rules[r]
			marks := make([]int, len(rule.Needs))
			for k, j := range rule.Needs {
				marks[k] = rule.Marks[k][s.options[j]]
			}
			ruling := rule.Judge(marks)
			if ruling.Stops {
				ok = false
				break
			}
			dev += ruling.Deviation
			brings = append(brings, ruling.Brings...)
		}
		if !ok {
			continue
		}
		brings = append(brings, opt.Brings...)
		s.take(opt, n.Pieces, brings, 1)
		s.need(i+1, later(day, s.p.Offers[opt.Offer].Day, first), dev, false)
		s.take(opt, n.Pieces, brings, -1)
	}
}

func (s *search) extra(k, day int, deviation int64, first bool) {
	if k == len(s.extras) {
		s.leaf(day, deviation)
		return
	}
	e := s.extras[k]
	if s.brought[e] == 0 {
		s.extra(k+1, day, deviation, first)
		return
	}
	for o, opt := range s.p.Extras[e].Options {
		if !s.step(opt, day, deviation, first) {
			continue
		}
		s.chosen[e] = o
		pieces := s.brought[e]
		s.take(opt, pieces, opt.Brings, 1)
		s.extra(k+1, later(day, s.p.Offers[opt.Offer].Day, first), deviation+opt.Deviation, false)
		s.take(opt, pieces, opt.Brings, -1)
		s.chosen[e] = -1
	}
}

// step counts a partial choice and reports whether it is worth going on.
func (s *search) step(opt Option, day int, deviation int64, first bool) bool {
	s.nodes++
	if s.any && len(s.front) > 0 {
		return false
	}
	if s.nodes%1024 == 0 && s.ctx.Err() != nil {
		s.stopped = true
	}
	if s.stopped {
		return false
	}
	if s.p.LatestDay != nil && s.p.Offers[opt.Offer].Day > *s.p.LatestDay {
		return false
	}
	return s.p.MostDeviation == nil || deviation+opt.Deviation <= *s.p.MostDeviation
}

func (s *search) take(opt Option, pieces int, brings []Bring, times int) {
	if s.pieces[opt.Offer] += times * pieces; s.pieces[opt.Offer] == 0 {
		delete(s.pieces, opt.Offer)
	}
	for _, b := range brings {
		s.brought[b.Extra] += times * b.Pieces
	}
}

func (s *search) leaf(day int, deviation int64) {
	if s.p.MostDeviation != nil && deviation > *s.p.MostDeviation {
		return
	}
	cost, ok := s.p.landed(s.pieces)
	if !ok || s.p.MostCost != nil && cost > *s.p.MostCost {
		return
	}
	pt := Point{Cost: cost, Day: day, Deviation: deviation}
	for _, q := range s.front {
		if beats(q, pt) {
			return
		}
	}
	pt.Options = append([]int(nil), s.options...)
	pt.Extras = append([]int(nil), s.chosen...)
	s.front = s.front.add(pt)
}

func later(day, other int, first bool) int {
	if first || other > day {
		return other
	}
	return day
}

// Cheapest finds one point of the least cost, whatever its day and deviation.
func Cheapest(ctx context.Context, p *Problem) (Result, error) {
	result, err := Solve(ctx, p)
	if len(result.Front) > 1 {
		result.Front = result.Front[:1]
	}
	return result, err
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
