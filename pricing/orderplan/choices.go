package orderplan

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// pick is one option of one arc.
type pick struct{ arc, option int32 } // option counts in arc.all

// choice is one complete way of buying a line: at most one option of each arc,
// together between need and max units.
type choice struct {
	cost  int64
	picks []pick
}

// chooser lists the choices of a line that could belong to a plan of a given
// cost, for suppliers' modes that are fixed. Once ctx ends, what it says means
// nothing.
type chooser struct {
	ctx   context.Context
	in    *instance
	modes []mode
	shade []float64 // λ of the leaf: each penny spent at s is worth this much towards its level

	arcs   []int32     // the line's arcs whose supplier is open
	finish [][]float64 // finish[i][n]: least shaded cost of n more units from arcs i and on
	picks  []pick
	out    []choice
	limit  int
	steps  int
	whole  bool   // lines are not split
	split  bool   // the latest least came from finish,
	from   int32  // or else from this arc
	stock  []pick // room for the picks of choices to come
}

func newChooser(ctx context.Context, in *instance) chooser {
	return chooser{ctx: ctx, in: in, shade: make([]float64, len(in.suppliers)), whole: in.noSplit}
}

// stored is a lasting copy of picks.
func (c *chooser) stored(picks ...pick) []pick {
	if len(c.stock)+len(picks) > cap(c.stock) {
		c.stock = make([]pick, 0, 512+len(picks))
	}
	n := len(c.stock)
	c.stock = append(c.stock, picks...)
	return c.stock[n:len(c.stock):len(c.stock)]
}

// least returns the least shaded cost of covering line l, +Inf if it can't be.
func (c *chooser) least(l int) float64 {
	t := &c.in.lines[l]
	c.arcs = c.arcs[:0]
	for _, a := range t.arcs {
		if c.modes[c.in.arcs[a].supplier] != unused {
			c.arcs = append(c.arcs, int32(a))
		}
	}
	if t.need == 0 {
		return 0
	}
	best, unit := math.Inf(1), math.Inf(1)
	c.split = false
	for _, a := range c.arcs {
		arc := &c.in.arcs[a]
		keep := 1 - c.shade[arc.supplier]
		unit = min(unit, keep*arc.unit)
		if arc.whole >= 0 {
			if v := keep * float64(arc.whole); v <= best {
				best, c.from = v, a
			}
		}
		c.split = c.split || arc.options[0].units < t.need && !c.whole
	}
	// Parts can't undercut a whole cover at the lowest price of all a unit.
	if c.split = c.split && best > unit*float64(t.need)*(1+0x1p-50); !c.split {
		return best
	}
	c.fillFinish(t.need)
	return c.finish[0][t.need]
}

// bought is the choice behind the latest least(l), which was finite; it may pass
// the line's max. The slice is overwritten by the next call.
func (c *chooser) bought(l int) []pick {
	c.picks = c.picks[:0]
	want := c.in.lines[l].need
	if want == 0 {
		return nil
	}
	if !c.split {
		a := &c.in.arcs[c.from]
		i := slices.IndexFunc(a.options, func(o option) bool { return o.units >= want && o.cost == a.whole })
		return append(c.picks, pick{c.from, a.options[i].index})
	}
	for i, ai := range c.arcs {
		here, after := c.finish[i][want], c.finish[i+1]
		if here == after[want] {
			continue
		}
		a := &c.in.arcs[ai]
		keep := 1 - c.shade[a.supplier]
		for k := range a.options {
			o := &a.options[k]
			if after[max(0, want-o.units)]+keep*float64(o.cost) == here {
				c.picks = append(c.picks, pick{ai, o.index})
				want = max(0, want-o.units)
				break
			}
		}
	}
	return c.picks
}

// cheapest is the choice of line l that costs least, nil where it has none within
// its max or ctx ends; the slice is overwritten by the next call.
func (c *chooser) cheapest(l int) []pick {
	least := c.least(l)
	if math.IsInf(least, 1) {
		return nil
	}
	units := 0
	picks := c.bought(l)
	for _, p := range picks {
		units += c.in.arcs[p.arc].all[p.option].units
	}
	if t := c.in.lines[l]; units >= t.need && units <= t.max {
		return picks
	}
	// least counts more than the max as well: look for what is within it.
	for above := 1.0; above <= float64(c.in.dearest); above *= 4 {
		ways, ok := c.list(l, least+above, maxOptions)
		if !ok {
			return nil
		}
		if len(ways) > 0 {
			return slices.MinFunc(ways, func(a, b choice) int { return cmp.Compare(a.cost, b.cost) }).picks
		}
	}
	return nil
}

// fillFinish computes finish for the collected arcs, from the last to the first.
func (c *chooser) fillFinish(need int) {
	n := len(c.arcs)
	for len(c.finish) < n+1 {
		c.finish = append(c.finish, nil)
	}
	for i := range c.finish[:n+1] {
		if cap(c.finish[i]) < need+1 {
			c.finish[i] = make([]float64, need+1)
		}
		c.finish[i] = c.finish[i][:need+1]
	}
	for u := range c.finish[n] {
		c.finish[n][u] = math.Inf(1)
	}
	c.finish[n][0] = 0
	for i := n - 1; i >= 0 && c.ctx.Err() == nil; i-- {
		here, after := c.finish[i], c.finish[i+1]
		copy(here, after)
		a := &c.in.arcs[c.arcs[i]]
		keep := 1 - c.shade[a.supplier]
		first := 1
		if i == 0 {
			first = need // of the whole line only this is asked
		}
		for k := range a.options {
			o := &a.options[k]
			if k%256 == 255 && c.ctx.Err() != nil {
				return
			}
			price := keep * float64(o.cost)
			for want := first; want <= need; want++ {
				if v := after[max(0, want-o.units)] + price; v < here[want] {
					here[want] = v
				}
			}
		}
	}
}

// list returns every choice of line l whose shaded cost is at most budget, or
// ok = false where there are more than the limit allows or ctx ends. The list is
// overwritten by the next call, the picks are not.
func (c *chooser) list(l int, budget float64, limit int) (choices []choice, ok bool) {
	t := &c.in.lines[l]
	c.least(l)
	c.out, c.limit = c.out[:0], limit
	if t.need == 0 {
		c.fillFinish(0)
	}
	if c.whole {
		if t.need == 0 {
			c.out = append(c.out, choice{})
		}
		for _, a := range c.arcs {
			arc := &c.in.arcs[a]
			for k := range arc.options {
				o := &arc.options[k]
				if o.units >= t.need && (1-c.shade[arc.supplier])*float64(o.cost) <= budget {
					c.out = append(c.out, choice{o.cost, c.stored(pick{a, o.index})})
				}
			}
		}
		return c.out, len(c.out) <= limit
	}
	c.fillFinish(t.need)
	c.picks = c.picks[:0]
	ok = c.extend(0, t.need, t.max, budget, 0)
	return c.out, ok
}

// extend adds all completions of the picks so far by arcs i and on.
func (c *chooser) extend(i, want, room int, budget float64, cost int64) bool {
	if c.steps++; c.steps%4096 == 0 && c.ctx.Err() != nil {
		return false
	}
	if i == len(c.arcs) {
		if want == 0 {
			c.out = append(c.out, choice{cost, c.stored(c.picks...)})
		}
		return len(c.out) <= c.limit
	}
	if c.finish[i+1][want] <= budget && !c.extend(i+1, want, room, budget, cost) {
		return false
	}
	a := &c.in.arcs[c.arcs[i]]
	keep := 1 - c.shade[a.supplier]
	for k := range a.options {
		o := &a.options[k]
		if o.units > room {
			break
		}
		left, rest := budget-keep*float64(o.cost), max(0, want-o.units)
		if left < -1e-6 || c.finish[i+1][rest] > left {
			continue
		}
		c.picks = append(c.picks, pick{c.arcs[i], o.index})
		fits := c.extend(i+1, rest, room-o.units, left, cost+o.cost)
		c.picks = c.picks[:len(c.picks)-1]
		if !fits {
			return false
		}
	}
	return true
}
