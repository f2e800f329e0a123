package choose

import (
	"math"
	"slices"
)

// link is what the rules over two needs say, before the needs stand in order.
type link struct {
	a, b int
	pair *pair // with groups by option first, by class once there are classes
}

// classify asks the rules, sorts every need's options into classes, drops classes that cannot be used, and puts the
// needs into the order of the search.
func (in *instance) classify() {
	links := in.ask()
	if in.ended() {
		return
	}
	in.nameClasses(links)
	in.gatherPools()
	in.prune(links)
	in.shareAnew()
	if in.ended() {
		return
	}
	in.arrange(links)
}

// ask puts every combination of marks to the rules over two needs.
func (in *instance) ask() []*link {
	byPair := map[[2]int][]*Rule{}
	var order [][2]int
	for r := range in.p.Rules {
		rule := &in.p.Rules[r]
		if len(rule.Needs) > 2 {
			in.wides = append(in.wides, wide{rule: rule, memo: map[string]*cell{}, hope: map[string]bool{}})
			continue
		}
		ends := [2]int{min(rule.Needs[0], rule.Needs[1]), max(rule.Needs[0], rule.Needs[1])}
		if byPair[ends] == nil {
			order = append(order, ends)
		}
		byPair[ends] = append(byPair[ends], rule)
	}
	var links []*link
	for _, ends := range order {
		links = append(links, in.tabulate(ends[0], ends[1], byPair[ends]))
	}
	return links
}

// tabulate gathers rules over the same two needs into one table with as few rows and columns as tell all apart.
func (in *instance) tabulate(a, b int, rules []*Rule) *link {
	// seen is what the rules see of an option: its marks, one for each rule.
	seen := func(need int) (groups []int, marks [][]int) {
		var names numbering
		var byRule [][]int // the marks of the need's options
		for _, rule := range rules {
			byRule = append(byRule, rule.Marks[slices.Index(rule.Needs, need)])
		}
		tuple := make([]int, len(rules))
		for _, o := range in.needs[need].options {
			for r := range rules {
				tuple[r] = byRule[r][o.index]
			}
			g := names.of(tuple...)
			groups = append(groups, g)
			if g == len(marks) {
				marks = append(marks, slices.Clone(tuple))
			}
		}
		return groups, marks
	}
	rowOf, rows := seen(a)
	colOf, cols := seen(b)
	cells := make([][]cell, len(rows))
	ids := make([][]int, len(rows))
	var names, briefs numbering
	for i, row := range rows {
		if in.ended() {
			return nil
		}
		cells[i], ids[i] = make([]cell, len(cols)), make([]int, len(cols))
		for j, col := range cols {
			c := &cells[i][j]
			for r, rule := range rules {
				marks := []int{row[r], col[r]}
				if rule.Needs[0] == b {
					marks = []int{col[r], row[r]}
				}
				c.add(rule.Judge(marks))
			}
			ids[i][j] = names.of(c.tuple(&briefs)...)
		}
	}
	// Rows that agree in every cell are one, and so are columns.
	var rowNames, colNames numbering
	merged := &pair{}
	newRow, newCol := make([]int, len(rows)), make([]int, len(cols))
	var keptCols []int
	for j := range cols {
		column := make([]int, len(rows))
		for i := range rows {
			column[i] = ids[i][j]
		}
		newCol[j] = colNames.of(column...)
		if newCol[j] == len(keptCols) {
			keptCols = append(keptCols, j)
		}
	}
	for i := range rows {
		newRow[i] = rowNames.of(ids[i]...)
		if newRow[i] == len(merged.cells) {
			line := make([]cell, len(keptCols))
			for k, j := range keptCols {
				line[k] = cells[i][j]
			}
			merged.cells = append(merged.cells, line)
		}
	}
	for _, g := range rowOf {
		merged.row = append(merged.row, newRow[g])
	}
	for _, g := range colOf {
		merged.col = append(merged.col, newCol[g])
	}
	return &link{a, b, merged}
}

func (c *cell) add(r Ruling) {
	c.stops = c.stops || r.Stops
	c.deviation += r.Deviation
	c.brings = append(c.brings, r.Brings...)
	if c.stops {
		*c = cell{stops: true}
	}
}

// tuple is a cell in numbers; cells that stop are all one.
func (c *cell) tuple(briefs *numbering) []int {
	if c.stops {
		return []int{1}
	}
	return []int{0, int(c.deviation), briefs.of(brief(c.brings)...)}
}

func brief(brings []Bring) []int {
	var out []int
	for _, b := range brings {
		out = append(out, b.Extra, b.Pieces)
	}
	return out
}

// nameClasses makes options one class that no rule tells apart, and turns groups by option into groups by class.
func (in *instance) nameClasses(links []*link) {
	var briefs numbering
	for i := range in.needs {
		n := &in.needs[i]
		var names numbering
		var tuple []int
		first := []int{} // of each class, the option that named it
		for k := range n.options {
			o := &n.options[k]
			tuple = append(tuple[:0], briefs.of(brief(o.brings)...))
			for _, l := range links {
				if l.a == i {
					tuple = append(tuple, l.pair.row[k])
				} else if l.b == i {
					tuple = append(tuple, l.pair.col[k])
				}
			}
			for w := range in.wides {
				if slot := slices.Index(in.wides[w].rule.Needs, i); slot >= 0 {
					tuple = append(tuple, in.wides[w].rule.Marks[slot][o.index])
				}
			}
			o.class = names.of(tuple...)
			if o.class == len(first) {
				first = append(first, k)
			}
		}
		n.classes = len(first)
		byClass := func(byOption []int) []int {
			out := make([]int, len(first))
			for c, k := range first {
				out[c] = byOption[k]
			}
			return out
		}
		for _, l := range links {
			if l.a == i {
				l.pair.row = byClass(l.pair.row)
			} else if l.b == i {
				l.pair.col = byClass(l.pair.col)
			}
		}
	}
}

// prune drops classes that go with no class of some other need, again and again until nothing changes, and then the
// options that another betters.
func (in *instance) prune(links []*link) {
	live := make([]bitset, len(in.needs))
	for i := range in.needs {
		live[i] = newBitset(in.needs[i].classes)
		for c := range in.needs[i].classes {
			live[i].set(c)
		}
	}
	supported := func(l *link, c int, first bool) bool {
		other := l.b
		if !first {
			other = l.a
		}
		for d := live[other].next(0); d >= 0; d = live[other].next(d + 1) {
			if first && !l.pair.at(c, d).stops || !first && !l.pair.at(d, c).stops {
				return true
			}
		}
		return false
	}
	for changed := true; changed && !in.ended(); {
		changed = false
		for _, l := range links {
			for _, first := range []bool{true, false} {
				i := l.a
				if !first {
					i = l.b
				}
				for c := live[i].next(0); c >= 0; c = live[i].next(c + 1) {
					if !supported(l, c, first) {
						live[i].unset(c)
						changed = true
					}
				}
			}
		}
	}
	for i := range in.needs {
		if in.ended() {
			return
		}
		n := &in.needs[i]
		n.options = slices.DeleteFunc(n.options, func(o option) bool { return !live[i].has(o.class) })
		in.sortOptions(n)
		in.renumber(i, links)
	}
}

// renumber closes the gaps that dropped classes left.
func (in *instance) renumber(i int, links []*link) {
	n := &in.needs[i]
	var old []int
	for k := range n.options {
		if c := n.options[k].class; len(old) == 0 || old[len(old)-1] != c {
			old = append(old, c)
		}
		n.options[k].class = len(old) - 1
	}
	n.classes = len(old)
	for _, l := range links {
		groups := &l.pair.row
		if l.b == i {
			groups = &l.pair.col
		} else if l.a != i {
			continue
		}
		kept := make([]int, len(old))
		for c, was := range old {
			kept[c] = (*groups)[was]
		}
		*groups = kept
	}
}

// arrange puts the needs into an order in which the border stays small and each need is bound to those before it. Rules
// then look from earlier to later needs.
func (in *instance) arrange(links []*link) {
	order := in.order(links)
	if in.passed {
		return
	}
	position := make([]int, len(order))
	needs := make([]need, len(order))
	for at, i := range order {
		position[i], needs[at] = at, in.needs[i]
	}
	in.needs = needs
	in.pairs = make([][]*pair, len(needs))
	for i := range in.pairs {
		in.pairs[i] = make([]*pair, len(needs))
	}
	for _, l := range links {
		a, b, p := position[l.a], position[l.b], l.pair
		if a > b {
			a, b = b, a
			p = p.turned()
		}
		p.prepare(needs[b].classes)
		in.pairs[a][b] = p
	}
	for w := range in.wides {
		in.wides[w].place(in, position)
	}
}

// tightness is minus the logarithm of the share of class combinations that a link allows, with a little for
// deviations, so that a link that only deviates still binds.
func (in *instance) tightness(l *link) float64 {
	allowed, deviating, all := 0, 0, 0
	for c := range in.needs[l.a].classes {
		for d := range in.needs[l.b].classes {
			all++
			switch x := l.pair.at(c, d); {
			case !x.stops && x.deviation == 0:
				allowed++
			case !x.stops:
				deviating++
			}
		}
	}
	if all == 0 {
		return 0
	}
	return -math.Log((float64(allowed) + 0.7*float64(deviating) + 0.5) / (float64(all) + 0.5))
}

func (p *pair) turned() *pair {
	t := &pair{row: p.col, col: p.row, tight: p.tight}
	for j := range p.cells[0] {
		line := make([]cell, len(p.cells))
		for i := range p.cells {
			line[i] = p.cells[i][j]
		}
		t.cells = append(t.cells, line)
	}
	return t
}

// prepare turns each row into the set of classes that it allows.
func (p *pair) prepare(classes int) {
	for _, line := range p.cells {
		set := newBitset(classes)
		for d := range classes {
			if !line[p.col[d]].stops {
				set.set(d)
			}
		}
		p.allow = append(p.allow, set)
	}
}

// place finds where a wide rule's needs stand and what it sees of their classes.
func (w *wide) place(in *instance, position []int) {
	for k, i := range w.rule.Needs {
		at := position[i]
		w.at = append(w.at, at)
		marks := make([]int, in.needs[at].classes)
		for _, o := range in.needs[at].options {
			marks[o.class] = w.rule.Marks[k][o.index]
		}
		w.marks = append(w.marks, marks)
		distinct := slices.Clone(marks)
		slices.Sort(distinct)
		w.distinct = append(w.distinct, slices.Compact(distinct))
	}
}
