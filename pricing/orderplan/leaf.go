package orderplan

import (
	"context"
	"math"
)

// leaf solves the problem that remains when every supplier's mode is fixed: pick
// one choice a line at the least cost so that the goods of each supplier reach
// what its mode requires. See the package comment's section "A leaf".
type leaf struct {
	in      *instance
	ctx     context.Context
	chooser chooser
	slack   float64 // more than rounding adds to a bound

	fees     int64
	supplier []int     // suppliers with a requirement, in order
	required []float64 // what each of these requires
	dense    []int     // supplier to position in required, or -1

	goods     []float64 // raise's buffers
	bestShade []float64

	choices []leafChoice
	more    []spend
	source  []choice

	levels []*level
	target int64 // nodes without a plan as cheap as this are closed
	cost   int64 // what the best plan known costs
	taken  []int32
	found  []int32 // the choices of the best plan, nil if none yet
	nodes  int
	limit  int // nodes to spend
	halted bool
	held   int // choices in the nodes from the root to the one looked at

	shift uint // of the certificate
	root  *lineProof
	words int // size of the certificate so far
}

// leafChoice is a choice with its spending at the suppliers with requirements:
// the first inline (at is len(required) where there is none), others in more.
type leafChoice struct {
	cost      float64
	spend     float64
	at        int32
	more, end int32
}

type spend struct {
	at     int32
	amount float64
}

// level is a node of the tree: the choices still open, line after line.
type level struct {
	base   float64 // cost of lines decided and of carriage
	goods  []float64
	line   []int32
	start  []int32
	choice []int32
	value  []float64 // shaded cost of each at the best multipliers
	lambda []float64 // multipliers, with a zero at the end for "no requirement"
	best   []float64
	slope  []float64
	pick   []int32
}

const (
	leafChoiceLimit = 200_000
	leafRootSteps   = 150
	leafSteps       = 14
	aimAbove        = 2e-5      // how far above its target raise aims, as a part of it
	leafHeld        = 5_000_000 // choices held in the nodes from the root to the one looked at; each takes some 20 bytes
	mostLambda      = 4         // multipliers above 1 only help to show that a level is out of reach
)

func newLeaf(ctx context.Context, in *instance, slack float64, shift uint) *leaf {
	return &leaf{in: in, ctx: ctx, slack: slack, shift: shift, chooser: newChooser(ctx, in), taken: make([]int32, len(in.lines)),
		dense: make([]int, len(in.suppliers)), goods: make([]float64, len(in.suppliers))}
}

// prepare fixes the modes and starting multipliers.
func (f *leaf) prepare(modes []mode, theta [][2]float64) {
	f.fees, f.supplier, f.required = 0, f.supplier[:0], f.required[:0]
	f.chooser.modes = modes
	for s := range f.in.suppliers {
		f.dense[s], f.chooser.shade[s] = -1, 0
		m := modes[s]
		if m == unused {
			continue
		}
		t := &f.in.suppliers[s]
		f.fees += t.fee(m)
		if need := t.required(m); need > 0 {
			f.dense[s] = len(f.supplier)
			f.supplier = append(f.supplier, s)
			f.required = append(f.required, float64(need))
			lambda := theta[s][0]
			if m == paid {
				lambda = theta[s][1]
			}
			f.chooser.shade[s] = min(lambda, 0.999)
		}
	}
}

// bound is the leaf's bound at the multipliers in chooser.shade.
func (f *leaf) bound() float64 {
	total := float64(f.fees)
	for j, s := range f.supplier {
		total += f.chooser.shade[s] * f.required[j]
	}
	for l := range f.in.lines {
		total += f.chooser.least(l)
	}
	return total
}

// raise climbs the bound over the multipliers in chooser.shade for a few steps,
// or until it passes target, and leaves the best multipliers there. It aims a
// little above target: aimed at target itself, a bound that belongs above it
// would only creep up to it. Where ctx ends the bound is -Inf.
func (f *leaf) raise(target float64, steps int) float64 {
	c := &f.chooser
	best, bestShade := math.Inf(-1), f.bestShade[:0]
	factor, stale := 1.0, 0
	for step := 0; ; step++ {
		bound := float64(f.fees)
		clear(f.goods)
		for l := range f.in.lines {
			least := c.least(l)
			if math.IsInf(least, 1) {
				return least
			}
			bound += least
			for _, p := range c.bought(l) {
				a := &f.in.arcs[p.arc]
				f.goods[a.supplier] += float64(a.all[p.option].cost)
			}
		}
		if f.ctx.Err() != nil {
			return math.Inf(-1)
		}
		norm := 0.0
		for j, s := range f.supplier {
			g := f.required[j] - f.goods[s]
			bound += c.shade[s] * f.required[j]
			if c.shade[s] > 0 || g > 0 {
				norm += g * g
			}
		}
		if bound > best {
			if bound > best+0.5 {
				stale = 0
			}
			best = bound
			bestShade = append(bestShade[:0], c.shade...)
		} else if stale++; stale >= 3 {
			stale = 0
			factor *= 0.5
		}
		if norm == 0 || bound > target || step >= steps {
			break
		}
		length := factor * (target + 1 + target*aimAbove - bound) / norm
		for j, s := range f.supplier {
			c.shade[s] = min(0.999, max(0, c.shade[s]+length*(f.required[j]-f.goods[s])))
		}
	}
	copy(c.shade, bestShade)
	f.bestShade = bestShade
	return best
}

// search looks for plans of at most target pence, visiting so many nodes and
// listing so many choices at most; prepare must have been called. It leaves in
// found the cheapest plan it met, if that costs less than best, and reports what
// every plan of the leaf costs at least, as far as it found out. listed is false
// where there are more choices; done says that the search was not cut short:
// no plan costs less than the one found or than target+1.
func (f *leaf) search(target, best int64, nodes, choices int) (proved int64, listed, done bool) {
	f.found, f.halted, f.limit = nil, false, f.nodes+nodes
	f.target, f.cost = target, best
	bound := f.bound()
	if f.ctx.Err() != nil {
		return 0, false, false
	}
	proved = pence(bound, f.slack)
	if proved > target {
		return proved, true, true
	}
	if !f.load(float64(target)-bound+f.slack+0.01, choices) || f.ctx.Err() != nil {
		return proved, false, false
	}
	f.root = f.descend(0, leafRootSteps)
	for j, s := range f.supplier {
		f.chooser.shade[s] = min(f.levels[0].best[j], 0.999)
	}
	if f.halted {
		return proved, true, false
	}
	return f.target + 1, true, true
}

// load lists the choices within budget of their line's best, if there are no
// more than limit in all.
func (f *leaf) load(budget float64, limit int) bool {
	f.choices, f.more, f.source = f.choices[:0], f.more[:0], f.source[:0]
	root := f.level(0)
	root.base = float64(f.fees)
	root.reset(len(f.required))
	for i, s := range f.supplier {
		root.lambda[i] = f.chooser.shade[s]
	}
	for l := range f.in.lines {
		least := f.chooser.least(l)
		var listed []choice // none where the line can't be covered
		if !math.IsInf(least, 1) {
			var ok bool
			if listed, ok = f.chooser.list(l, least+budget, limit-len(f.choices)); !ok {
				return false
			}
		}
		root.line = append(root.line, int32(l))
		root.start = append(root.start, int32(len(root.choice)))
		for _, c := range listed {
			root.choice = append(root.choice, int32(len(f.choices)))
			f.addChoice(c)
		}
	}
	root.start = append(root.start, int32(len(root.choice)))
	return true
}

func (f *leaf) addChoice(c choice) {
	lc := leafChoice{cost: float64(c.cost), at: int32(len(f.required)), more: int32(len(f.more))}
	for _, p := range c.picks {
		a := &f.in.arcs[p.arc]
		d := f.dense[a.supplier]
		if d < 0 {
			continue
		}
		cost := float64(a.all[p.option].cost)
		if lc.at == int32(len(f.required)) {
			lc.at, lc.spend = int32(d), cost
		} else {
			f.more = append(f.more, spend{int32(d), cost})
		}
	}
	lc.end = int32(len(f.more))
	f.choices = append(f.choices, lc)
	f.source = append(f.source, c)
}

func (f *leaf) level(depth int) *level {
	for len(f.levels) <= depth {
		f.levels = append(f.levels, &level{})
	}
	return f.levels[depth]
}

func (v *level) reset(k int) {
	v.line, v.start, v.choice = v.line[:0], v.start[:0], v.choice[:0]
	if cap(v.lambda) < k+1 {
		v.lambda, v.best = make([]float64, k+1), make([]float64, k+1)
		v.goods, v.slope = make([]float64, k+1), make([]float64, k+1)
	}
	v.lambda, v.best, v.goods, v.slope = v.lambda[:k+1], v.best[:k+1], v.goods[:k+1], v.slope[:k+1]
	clear(v.goods)
	clear(v.lambda)
}
