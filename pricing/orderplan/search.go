package orderplan

import (
	"container/heap"
	"context"
	"math"
	"slices"
)

const (
	rootSteps = 400
	rootChunk = 50
	flatPart  = 20 // the root's bound has risen enough when a chunk of steps closes less than this part of the gap
	nodeSteps = 40

	tryFirst = 16 // a better plan is looked for at this node, at twice this, and so on

	// Rounds of dropping options before the tree is opened.
	startRounds = 3

	// A certificate larger than this many words is cut down to its root.
	certificateWords = 4_000_000
	none             = math.MaxInt64 / 4 // the cost of no plan
)

// Solve finds the plan of least landed cost and proves it. When ctx ends first,
// it returns the best plan so far with Proven false and a LowerBound that holds
// nevertheless. A search that finishes gives equal problems equal plans.
//
// Errors: *InputError for a faulty problem, *InfeasibleError where no plan
// exists, *UnfinishedError where ctx ended before there was a plan.
func Solve(ctx context.Context, p Problem) (Plan, error) {
	if err := p.Validate(); err != nil {
		return Plan{}, err
	}
	coarse, unit := p.coarse()
	in, err := tabulate(ctx, &coarse)
	if err != nil {
		return Plan{}, err
	}
	s := newSearch(ctx, in)
	s.run()
	if s.best == none {
		if s.lower < none {
			return Plan{}, &UnfinishedError{LowerBound: s.lower * unit, Cause: ctx.Err()}
		}
		return Plan{}, in.explain(ctx)
	}
	return s.plan().fine(unit), nil
}

// search is a best-first branch and bound over suppliers' modes.
type search struct {
	ctx   context.Context
	in    *instance
	relax *relaxation
	leaf  *leaf
	slack float64 // more than rounding, here and in the certificate, adds to a bound
	shift uint    // of the certificate
	trial [][3]float64

	open  queue
	best  int64 // cost of the best plan, none where there is none
	picks []pick
	lower int64 // what every plan costs at least
	work  Work

	proof     *proof // of the root
	rootBound int64
	words     int // size of the certificate so far
}

// node is a set of modes for each supplier, with the bound and prices of its
// parent or its own.
type node struct {
	modes []mode
	price []float64
	theta [][2]float64
	lower int64
	depth int
	proof *proof
	room  int   // a leaf: how many choices may be listed
	width int64 // a leaf: how far above lower the next pass looks; 0 before the first
	order int
}

func newSearch(ctx context.Context, in *instance) *search {
	r := newRelaxation(ctx, in)
	shift := certificateShift(in)
	s := &search{ctx: ctx, in: in, relax: r, shift: shift, slack: r.margin() + math.Ldexp(r.magnitude, -int(shift)), best: none, trial: make([][3]float64, len(in.suppliers))}
	s.leaf = newLeaf(ctx, in, s.slack, shift)
	return s
}

func (s *search) run() {
	root := &node{modes: make([]mode, len(s.in.suppliers)), price: make([]float64, len(s.in.lines)),
		theta: make([][2]float64, len(s.in.suppliers)), proof: &proof{}}
	s.proof = root.proof
	for i := range s.in.suppliers {
		root.modes[i] = s.in.suppliers[i].modes
	}
	s.start(root)
	if s.ctx.Err() != nil {
		s.lower = min(root.lower, s.best)
		return
	}
	for len(s.open.nodes) > 0 {
		n := heap.Pop(&s.open).(*node)
		if s.ctx.Err() != nil {
			s.lower = min(n.lower, s.best)
			return
		}
		if n.lower >= s.best {
			break // best first: nothing open is better
		}
		if n.fixed() {
			s.visitLeaf(n)
		} else {
			s.visit(n)
		}
	}
	s.lower = s.best
}

// start bounds the root, finds a first plan and drops the options that the two
// together rule out, before the tree is opened.
func (s *search) start(root *node) {
	s.work.ModeNodes++
	s.greedy(root.modes, true) // at once, to have a plan
	s.firstPrices(root)
	r := s.relax
	copy(r.price, root.price)
	s.greedy(root.modes, false)
	// A few steps, the plan they suggest, and again: often that is all.
	var tried []mode
	for range rootSteps / rootChunk {
		bound := r.climb(root.modes, s.target(root), rootChunk, s.trial)
		before := root.lower
		if lower := pence(bound, s.slack); lower > before {
			root.lower = lower
			s.certify(root, bound)
		}
		if modes := s.suggested(root); !slices.Equal(modes, tried) {
			s.greedy(modes, false)
			tried = modes
		}
		if root.lower >= s.best || s.ctx.Err() != nil {
			return
		}
		if root.lower-before < (s.best-root.lower)/flatPart {
			break
		}
	}
	for round := 0; ; round++ {
		bound := s.relax.climb(root.modes, s.target(root), rootSteps/4, s.trial)
		if s.ctx.Err() != nil {
			return
		}
		if root.lower = max(root.lower, pence(bound, s.slack)); round == 0 {
			root.lower = pence(bound, s.slack) // what the multipliers written down now prove
		}
		s.certify(root, bound)
		if root.lower >= s.best {
			return
		}
		// With fewer options the bound may rise, and with a better plan more go.
		again := round < startRounds && s.thin(root, bound)
		if round == 0 {
			s.improve(root, s.suggested(root))
			again = true
		}
		if !again {
			s.branch(root, bound)
			return
		}
		next := &proof{}
		root.proof.thin, root.proof = next, next
	}
}

// firstPrices starts every line at the least it can cost.
func (s *search) firstPrices(n *node) {
	s.relax.setWorth(n.modes)
	for l, t := range s.in.lines {
		if t.need == 0 {
			continue
		}
		n.price[l] = s.relax.byParts(l)
		for _, a := range t.arcs {
			if w := s.in.arcs[a].whole; w >= 0 {
				n.price[l] = min(n.price[l], float64(w))
			}
		}
	}
}

func (n *node) fixed() bool {
	for _, m := range n.modes {
		if m&(m-1) != 0 {
			return false
		}
	}
	return true
}

// target is the cost at which a node is of no more interest.
func (s *search) target(n *node) float64 {
	if s.best < none {
		return float64(s.best)
	}
	return float64(n.lower)*1.05 + 1000
}

// visit bounds an inner node and branches on one supplier's mode.
func (s *search) visit(n *node) {
	s.work.ModeNodes++
	if !s.coverable(n.modes) {
		return
	}
	r := s.relax
	copy(r.price, n.price)
	copy(r.theta, n.theta)
	bound := r.climb(n.modes, s.target(n), nodeSteps, s.trial)
	if s.ctx.Err() != nil {
		heap.Push(&s.open, n)
		return
	}
	n.lower = max(n.lower, pence(bound, s.slack))
	s.certify(n, bound)
	if n.lower >= s.best {
		return
	}
	if m := s.work.ModeNodes; m >= tryFirst && m&(m-1) == 0 {
		s.improve(n, s.suggested(n))
	}
	s.branch(n, bound)
}

// branch opens a child for each mode of one supplier that the node's bound does
// not rule out.
func (s *search) branch(n *node, bound float64) {
	r := s.relax
	// A mode whose cost puts the bound past the best plan is out.
	var branch, most = -1, -1.0
	for i := range n.modes {
		least := slices.Min(r.modeCost[i][:])
		for k, c := range r.modeCost[i] {
			if m := mode(1) << k; n.modes[i]&m != 0 && pence(bound+c-least, s.slack) >= s.best {
				n.modes[i] &^= m
			}
		}
		if n.modes[i]&(n.modes[i]-1) != 0 {
			if x := s.score(i, n.modes[i]); x > most {
				branch, most = i, x
			}
		}
	}
	if slices.Contains(n.modes, 0) {
		return
	}
	branch = max(branch, 0) // every mode fixed: the one child is a leaf
	n.proof.branch = branch
	least := slices.Min(r.modeCost[branch][:])
	for k, c := range r.modeCost[branch] {
		if m := mode(1) << k; n.modes[branch]&m != 0 {
			modes := slices.Clone(n.modes)
			modes[branch] = m
			n.proof.child[k] = s.push(n, modes, bound+c-least)
		}
	}
}

// push opens a child with the multipliers that the relaxation now holds.
func (s *search) push(n *node, modes []mode, bound float64) *proof {
	child := &node{modes: modes, price: slices.Clone(s.relax.price), theta: slices.Clone(s.relax.theta),
		lower: max(n.lower, pence(bound, s.slack)), depth: n.depth + 1, proof: &proof{}}
	heap.Push(&s.open, child)
	return child.proof
}

// certify writes down the multipliers of the latest climb, which gave bound.
func (s *search) certify(n *node, bound float64) {
	if n.proof == s.proof {
		s.rootBound = pence(bound, s.slack)
	} else if s.words > certificateWords {
		return
	}
	r, p := s.relax, n.proof
	p.open = slices.Clone(r.open)
	p.price = make([]int64, len(r.best))
	p.shade = make([]int64, len(r.bestShade))
	p.theta = make([][2]int64, len(r.bestAt))
	for l, v := range r.best {
		p.price[l] = scaled(v, s.shift)
	}
	for i := range p.shade {
		p.shade[i] = scaled(r.bestShade[i], s.shift)
		p.theta[i] = [2]int64{scaled(r.bestAt[i][0], s.shift), scaled(r.bestAt[i][1], s.shift)}
	}
	s.words += len(p.price) + 4*len(p.shade) + 16
	s.exactly(n, bound)
}

// exactly raises a node's bound to what its certificate adds up to in whole numbers, where nothing but the margin for
// rounding keeps it below the best plan: of tens of thousands of lines that margin is some pence.
func (s *search) exactly(n *node, bound float64) {
	if n.lower >= s.best || pence(bound, 0) < s.best {
		return
	}
	k := &checker{in: s.in, bound: s.best, shift: s.shift, unit: 1 << s.shift}
	sum, ok := k.boundOf(n.proof, n.modes)
	if !ok || sum.total <= 0 {
		return
	}
	proved := (sum.total-1)>>s.shift + 1
	n.lower = max(n.lower, proved)
	if n.proof == s.proof {
		s.rootBound = max(s.rootBound, proved)
	}
}

// certifyLeaf writes down how the latest pass over a leaf closes it.
func (s *search) certifyLeaf(n *node, shade []int64, root *lineProof) {
	s.words += s.leaf.words
	s.leaf.words = 0
	if s.words <= certificateWords {
		n.proof.leaf = &leafProof{shade: shade, root: root}
	}
}

func scaled(x float64, shift uint) int64 { return int64(math.Round(math.Ldexp(x, int(shift)))) }

func (s *search) leafShade() []int64 {
	out := make([]int64, len(s.in.suppliers))
	for i, x := range s.leaf.chooser.shade {
		out[i] = scaled(x, s.shift)
	}
	return out
}

// visitLeaf looks a little above the leaf's bound for a plan, and puts the leaf
// back with the bound raised if there was none.
func (s *search) visitLeaf(n *node) {
	if !s.coverable(n.modes) {
		return
	}
	f := s.leaf
	f.prepare(n.modes, n.theta)
	bound := pence(f.raise(s.target(n), 2*localSteps), s.slack)
	if s.ctx.Err() != nil {
		heap.Push(&s.open, n)
		return
	}
	shade := s.leafShade()
	if n.proof.leaf == nil || bound > n.lower {
		s.certifyLeaf(n, shade, nil)
	}
	if n.lower = max(n.lower, bound); n.lower >= s.best {
		return
	}
	if n.width == 0 {
		n.width, n.room = 8, leafChoiceLimit
	}
	target := min(s.best-1, n.lower+n.width, s.in.dearest)
	before := f.nodes
	proved, _, done := f.search(target, s.best, math.MaxInt/2, n.room)
	s.work.LineNodes += f.nodes - before
	s.keep(f)
	if !done {
		// Time is up, or there is too much to list so far above the bound: look
		// less far, and where that is no way out, list more.
		n.lower = max(n.lower, proved)
		if n.width /= 2; n.width == 0 {
			n.width, n.room = 1, n.room*2
		}
		heap.Push(&s.open, n)
		return
	}
	s.certifyLeaf(n, shade, f.root)
	n.lower = max(n.lower, proved)
	if target == s.in.dearest {
		return
	}
	n.width *= 2
	for _, i := range f.supplier {
		n.theta[i] = [2]float64{f.chooser.shade[i], f.chooser.shade[i]}
	}
	if n.lower < s.best {
		heap.Push(&s.open, n)
	}
}

// keep takes over the plan the leaf found, if it is better at its true cost:
// a supplier that was to pay may have reached the carriage-paid level.
func (s *search) keep(f *leaf) {
	if f.found == nil {
		return
	}
	var picks []pick
	for _, id := range f.found {
		picks = append(picks, f.source[id].picks...)
	}
	if cost := s.in.cost(picks); cost < s.best {
		s.best, s.picks = cost, picks
	}
}

// coverable says whether every line can be had from the suppliers still open.
func (s *search) coverable(modes []mode) bool {
	for _, t := range s.in.lines {
		if t.need == 0 {
			continue
		}
		units := 0
		for _, a := range t.arcs {
			if arc := &s.in.arcs[a]; modes[arc.supplier] != unused {
				if s.in.noSplit && arc.whole >= 0 {
					units = t.need
				} else if !s.in.noSplit {
					units += arc.options[len(arc.options)-1].units
				}
			}
		}
		if units < t.need {
			return false
		}
	}
	return true
}

// certificate is the proof of the search's lower bound, or of the root's bound
// where the whole would be too large.
func (s *search) certificate() Certificate {
	if s.proof == nil {
		return Certificate{}
	}
	if s.words > certificateWords || s.lower <= s.rootBound {
		root := *s.proof
		root.child, root.thin = [3]*proof{}, nil
		return Certificate{Bound: min(s.rootBound, s.lower), Shift: s.shift, Nodes: 1, root: &root}
	}
	return Certificate{Bound: s.lower, Shift: s.shift, Nodes: s.work.ModeNodes + s.work.LineNodes, root: s.proof}
}

// queue pops the node of the least bound, the deeper and then the newer first.
type queue struct {
	nodes []*node
	next  int
}

func (q *queue) Len() int      { return len(q.nodes) }
func (q *queue) Swap(i, j int) { q.nodes[i], q.nodes[j] = q.nodes[j], q.nodes[i] }
func (q *queue) Less(i, j int) bool {
	a, b := q.nodes[i], q.nodes[j]
	if a.lower != b.lower {
		return a.lower < b.lower
	}
	if a.depth != b.depth {
		return a.depth > b.depth
	}
	return a.order > b.order
}
func (q *queue) Push(x any) {
	n := x.(*node)
	q.next++
	n.order = q.next
	q.nodes = append(q.nodes, n)
}
func (q *queue) Pop() any {
	n := q.nodes[len(q.nodes)-1]
	q.nodes = q.nodes[:len(q.nodes)-1]
	return n
}

// score says how much a supplier is worth branching on: most where the relaxation
// wavers between modes and choosing either would raise the bound.
func (s *search) score(i int, allowed mode) float64 {
	least, second := math.Inf(1), math.Inf(1)
	for k, c := range s.relax.modeCost[i] {
		if allowed&(1<<k) != 0 {
			least, second = min(least, c), min(second, max(least, c))
		}
	}
	wavers := 1 - slices.Max(s.relax.usage[i][:])
	return wavers * wavers * (second - least + 200)
}
