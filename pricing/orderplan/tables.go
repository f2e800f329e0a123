package orderplan

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
)

// mode is what becomes of a supplier. A set of modes is their sum.
type mode = uint8

const (
	unused mode = 1 << iota // nothing is bought
	pays                    // something is bought, carriage is charged
	paid                    // goods reach the carriage-paid level
)

// instance is a validated problem laid out for searching: for every line and
// supplier that can serve it in time, an arc with its cost-by-quantity table.
type instance struct {
	problem   *Problem
	lines     []lineTable
	suppliers []supplierTable
	arcs      []arc
	noSplit   bool
	dearest   int64 // no plan costs more, pence
}

type lineTable struct {
	need, max int
	arcs      []int
	tooSmall  string // a supplier left out because its minimum order is out of reach
}

type supplierTable struct {
	modes    mode  // modes that can occur
	carriage int64 // 0 where the carriage-paid level is always reached
	paidAt   int64 // meaningful with mode paid
	minimum  int64
	arcs     []int
}

// required is what the goods must come to in a mode.
func (s *supplierTable) required(m mode) int64 {
	if m == paid {
		return s.paidAt
	}
	return s.minimum
}

// fee is the carriage in a mode.
func (s *supplierTable) fee(m mode) int64 {
	if m == pays {
		return s.carriage
	}
	return 0
}

type arc struct {
	line, supplier int
	all            []option // by units, then cost; every one at most the line's max
	options        []option // those still worth looking at, in the same order

	whole    int64   // least cost of covering the line's need from here alone, or -1
	greatest int64   // greatest cost of any option
	unit     float64 // least cost of a unit in any option
}

// option is one buyable quantity of an arc.
type option struct {
	index int32 // in arc.all
	units int
	cost  int64
	parts []part // what to buy of which offer
}

type part struct {
	offer int
	units int
	cost  int64
}

// tabulate builds the tables of a valid problem. Offers that arrive too late and
// suppliers whose minimum order cannot be reached are left out here.
func tabulate(ctx context.Context, p *Problem) (*instance, error) {
	in := &instance{problem: p, noSplit: p.NoSplit,
		lines: make([]lineTable, len(p.Lines)), suppliers: make([]supplierTable, len(p.Suppliers))}
	for i, l := range p.Lines {
		in.lines[i] = lineTable{need: l.Need, max: l.Max}
	}
	for i, s := range p.Suppliers {
		in.suppliers[i] = supplierTable{carriage: s.Carriage, minimum: s.MinimumOrder, paidAt: s.PaidAt}
	}
	type key struct{ line, supplier int }
	offers := map[key][]int{}
	var order []key
	for i, o := range p.Offers {
		k := key{o.Line, o.Supplier}
		if !o.inTime(p.Lines[k.line]) {
			continue
		}
		if offers[k] == nil {
			order = append(order, k)
		}
		offers[k] = append(offers[k], i)
	}
	slices.SortFunc(order, func(a, b key) int {
		return cmp.Or(cmp.Compare(a.line, b.line), cmp.Compare(a.supplier, b.supplier))
	})
	total, sole := 0, p.soleSuppliers()
	tables := make([][]option, len(order))
	reach := make([]int64, len(p.Suppliers)) // the most that can be spent at each supplier
	for i, k := range order {
		if ctx.Err() != nil {
			return nil, &UnfinishedError{Cause: ctx.Err()}
		}
		tables[i] = quantities(p, offers[k], in.lines[k.line].max)
		if need := in.lines[k.line].need; p.boughtWhole(k.line, sole) {
			parts, _ := slices.BinarySearchFunc(tables[i], need, func(o option, n int) int { return cmp.Compare(o.units, n) })
			tables[i] = slices.Clone(tables[i][parts:])
		}
		if total += len(tables[i]); total > maxOptions {
			return nil, &InputError{Line: p.Lines[k.line].ID, Supplier: p.Suppliers[k.supplier].ID, Kind: ErrTooLarge,
				Detail: fmt.Sprintf("the offers make more than %d buyable quantities; lower max", maxOptions)}
		}
		reach[k.supplier] += greatest(tables[i])
	}
	for i, k := range order {
		if len(tables[i]) == 0 {
			continue
		}
		if reach[k.supplier] < in.suppliers[k.supplier].minimum {
			in.lines[k.line].tooSmall = p.Suppliers[k.supplier].ID
			continue
		}
		in.addArc(k.line, k.supplier, tables[i])
	}
	for i := range in.suppliers {
		s := &in.suppliers[i]
		s.modes = unused
		if len(s.arcs) > 0 {
			s.modes |= pays
		}
		// A level that every order reaches makes carriage free; a mode is needed
		// only where reaching the level is a choice.
		if level := p.Suppliers[i].PaidAt; level > 0 && len(s.arcs) > 0 && s.carriage > 0 {
			if level <= s.minimum {
				s.carriage = 0
			} else if reach[i] >= level {
				s.modes |= paid
			}
		}
	}
	for i := range in.arcs {
		in.dearest += in.arcs[i].greatest
	}
	for i := range in.suppliers {
		in.dearest += in.suppliers[i].carriage
	}
	return in, in.checkLines()
}

func (in *instance) addArc(line, supplier int, options []option) {
	for i := range options {
		options[i].index = int32(i)
	}
	a := arc{line: line, supplier: supplier, all: options}
	a.keep(options, in.lines[line].need)
	in.lines[line].arcs = append(in.lines[line].arcs, len(in.arcs))
	in.suppliers[supplier].arcs = append(in.suppliers[supplier].arcs, len(in.arcs))
	in.arcs = append(in.arcs, a)
}

// keep sets the options worth looking at and sums them up.
func (a *arc) keep(options []option, need int) {
	a.options, a.whole, a.greatest, a.unit = options, -1, 0, math.Inf(1)
	for _, o := range options {
		a.unit = min(a.unit, float64(o.cost)/float64(o.units))
		a.greatest = max(a.greatest, o.cost)
		if o.units >= need && (a.whole < 0 || o.cost < a.whole) {
			a.whole = o.cost
		}
	}
}

// thinned is the instance without the options that drop names, and the modes
// that are then out of reach.
func (in *instance) thinned(drop func(arc int, o option) bool) *instance {
	out := *in
	out.arcs = slices.Clone(in.arcs)
	out.lines, out.suppliers = slices.Clone(in.lines), slices.Clone(in.suppliers)
	for i := range out.lines {
		out.lines[i].arcs = nil
	}
	reach := make([]int64, len(in.suppliers))
	for i := range out.suppliers {
		out.suppliers[i].arcs = nil
		for _, ai := range in.suppliers[i].arcs {
			a := &out.arcs[ai]
			left := slices.DeleteFunc(slices.Clone(a.options), func(o option) bool { return drop(ai, o) })
			a.keep(left, in.lines[a.line].need)
			if len(left) > 0 {
				out.suppliers[i].arcs = append(out.suppliers[i].arcs, ai)
				reach[i] += a.greatest
			}
		}
		s := &out.suppliers[i]
		if len(s.arcs) == 0 || reach[i] < s.minimum {
			s.modes &^= pays | paid
		}
		if reach[i] < s.paidAt {
			s.modes &^= paid
		}
	}
	for i := range out.lines {
		for _, ai := range in.lines[i].arcs {
			if len(out.arcs[ai].options) > 0 {
				out.lines[i].arcs = append(out.lines[i].arcs, ai)
			}
		}
	}
	return &out
}

// quantities lists what one supplier's offers for a line can be made to give:
// every sum of one quantity from each, up to limit, without equal pairs of units
// and cost. The list is cut short, for the caller to refuse, past maxOptions.
func quantities(p *Problem, offers []int, limit int) []option {
	all := []option{{}}
	for _, i := range offers {
		o := p.Offers[i]
		base := all
		for units := o.Pack; units <= limit; units += o.Pack {
			cost, ok := o.cost(units)
			if !ok {
				continue
			}
			for _, b := range base {
				if b.units+units > limit {
					break
				}
				parts := append(slices.Clone(b.parts), part{i, units, cost})
				all = append(all, option{units: b.units + units, cost: b.cost + cost, parts: parts})
			}
			if len(all) > maxOptions {
				return all
			}
		}
		slices.SortStableFunc(all, func(a, b option) int {
			return cmp.Or(cmp.Compare(a.units, b.units), cmp.Compare(a.cost, b.cost))
		})
		all = slices.CompactFunc(all, func(a, b option) bool { return a.units == b.units && a.cost == b.cost })
	}
	return all[1:] // without buying nothing
}

func greatest(options []option) (cost int64) {
	for _, o := range options {
		cost = max(cost, o.cost)
	}
	return cost
}

// checkLines finds lines whose need no choice of quantities meets within max.
func (in *instance) checkLines() error {
	for i, l := range in.lines {
		if l.need == 0 || in.canMeet(l) {
			continue
		}
		id := in.problem.Lines[i].ID
		if s := l.tooSmall; len(l.arcs) == 0 && s != "" {
			return &InfeasibleError{Line: id, Supplier: s, Why: "everything that may be bought there stays below the minimum order"}
		}
		return &InfeasibleError{Line: id, Why: fmt.Sprintf("no whole packs make between %d and %d units", l.need, l.max)}
	}
	return nil
}

func (in *instance) canMeet(l lineTable) bool {
	if in.noSplit {
		return slices.ContainsFunc(l.arcs, func(a int) bool { return in.arcs[a].whole >= 0 })
	}
	can := make([]bool, l.max+1)
	can[0] = true
	for _, a := range l.arcs {
		if in.arcs[a].whole >= 0 {
			return true
		}
		for have := l.max; have >= 0; have-- {
			if can[have] {
				for _, o := range in.arcs[a].options {
					if have+o.units > l.max {
						break
					}
					can[have+o.units] = true
				}
			}
		}
	}
	return slices.Contains(can[l.need:], true)
}
