package choose

import (
	"cmp"
	"slices"
)

// A frontier is what the undecided needs can still see of the decided ones. Two partial choices with one frontier have
// the same ways to go on; the least cost of each way is worked out once for each frontier (see suffix).
//
// Seeing everything may take too many frontiers, so only some of the links between needs are looked at, the tightest
// first, as many as the work allows. Looking at fewer links makes bounds weaker and never wrong.
type frontier struct {
	whole  bool    // every link is seen
	levels []level // levels[k] holds the frontiers before the need at position k is decided
}

type level struct {
	next  [][]int32 // by state and class of the need: the state after it, or -1 where the links seen forbid it
	steps [][]step  // by state
	sets  [][]int32 // classes that some step gathers
}

// step gathers the classes that lead from one state to the same next one at the same deviation.
type step struct {
	next      int32
	deviation int64
	set       int // of its classes, in the level's sets
}

// size bounds the steps of all levels, and the states times classes: what a bound costs.
type size struct{ steps, moves int }

// enough is how many links that turn out to be too much are tried.
const enough = 3

// see chooses the links and builds the frontiers, or none when the deadline passes.
func (in *instance) see(most size) *frontier {
	type candidate struct{ a, b int }
	var list []candidate
	for a := range in.pairs {
		for b, p := range in.pairs[a] {
			if p != nil {
				list = append(list, candidate{a, b})
			}
		}
	}
	slices.SortStableFunc(list, func(x, y candidate) int {
		return cmp.Compare(in.pairs[y.a][y.b].tight, in.pairs[x.a][x.b].tight)
	})
	seen := make([][]bool, len(in.needs))
	for i := range seen {
		seen[i] = make([]bool, len(in.needs))
	}
	for _, c := range list {
		seen[c.a][c.b] = true
	}
	if f, ok := in.frontiers(seen, most); ok {
		f.whole = true
		return f
	}
	// As many of the tightest as will do are found by halving, so that few are built in vain.
	for i := range seen {
		clear(seen[i])
	}
	best, _ := in.frontiers(seen, most)
	few, many := 0, len(list) // so many will do, and so many are too much
	for many-few > 1 && !in.passed {
		half := (few + many) / 2
		for i, c := range list {
			seen[c.a][c.b] = i < half
		}
		if f, ok := in.frontiers(seen, most); ok {
			few, best = half, f
		} else {
			many = half
		}
	}
	for i, c := range list {
		seen[c.a][c.b] = i < few
	}
	failures := 1
	for _, c := range list[many:] {
		if failures == enough || in.passed {
			break
		}
		seen[c.a][c.b] = true
		if f, ok := in.frontiers(seen, most); ok {
			best = f
		} else {
			seen[c.a][c.b] = false
			failures++
		}
	}
	if in.passed {
		return nil
	}
	return best
}

// canons gives, for need i, by position k: each class's first class that needs from position k on cannot tell from it,
// looking at the links seen only; nil where those see nothing of the need.
func (in *instance) canons(seen []bool, i int) [][]int32 {
	out := make([][]int32, len(in.needs)+1)
	for k := len(in.needs) - 1; k > i; k-- {
		if out[k] = out[k+1]; !seen[k] {
			continue
		}
		p := in.pairs[i][k]
		first := make(map[[2]int32]int32, len(p.cells))
		finer := make([]int32, in.needs[i].classes)
		for c := range finer {
			group := [2]int32{0, int32(p.row[c])}
			if out[k] != nil {
				group[0] = out[k][c]
			}
			one, known := first[group]
			if !known {
				one = int32(c)
				first[group] = one
			}
			finer[c] = one
		}
		out[k] = finer
	}
	return out
}

// frontiers builds the levels for the links seen, or reports false when they would be too large.
func (in *instance) frontiers(seen [][]bool, most size) (*frontier, bool) {
	n := len(in.needs)
	f := &frontier{levels: make([]level, n)}
	canon := make([][][]int32, n)
	states := [][]int32{make([]int32, n)} // each: the canonical class of every need in the frontier
	b := builder{in: in, most: most}
	for k := range n {
		canon[k] = in.canons(seen[k], k)
		var ok bool
		if states, ok = b.level(&f.levels[k], k, states, seen, canon); !ok {
			return nil, false
		}
	}
	return f, true
}

// builder builds one level after the other and counts what it has built.
type builder struct {
	in           *instance
	most         size
	steps, moves int

	links []behind // used anew for each state, as are those below
	head  []int
	words []int
}

// level builds the level of the need at position k from the states before it, and returns those after it.
func (b *builder) level(lv *level, k int, states [][]int32, seen [][]bool, canon [][][]int32) (after [][]int32, ok bool) {
	classes := b.in.needs[k].classes
	if b.moves += len(states) * classes; b.moves > b.most.moves && len(states) > 1 {
		return nil, false
	}
	mine := canon[k][k+1] // what is seen later of the class that is chosen now
	var heads, sets numbering
	var known [][]int32 // by what is seen later of the classes before, and by that of the class chosen now: the state
	moves := make([]int32, len(states)*classes)
	for _, state := range states {
		if b.in.ended() {
			return nil, false
		}
		links, head := b.links[:0], b.head[:0]
		for i := range k {
			head = append(head, 0)
			if seen[i][k] {
				p := b.in.pairs[i][k]
				links = append(links, behind{pair: p, line: p.cells[p.row[state[i]]]})
			}
			if later := canon[i][k+1]; later != nil {
				head[i] = int(later[state[i]])
			}
		}
		b.links, b.head = links, head
		h := heads.of(head...)
		if h == len(known) {
			known = append(known, make([]int32, classes)) // one more than the number of the state; zero: none yet
		}
		next := moves[:classes:classes]
		moves = moves[classes:]
		var own []step
		var gathered []bitset
		for c := range next {
			next[c] = -1
			deviation, stops := int64(0), false
			for i := range links {
				x := &links[i].line[links[i].col[c]]
				deviation += x.deviation
				stops = stops || x.stops
			}
			if stops {
				continue
			}
			last := int32(0)
			if mine != nil {
				last = mine[c]
			}
			if known[h][last] == 0 {
				then := make([]int32, len(state))
				for i, c := range head {
					then[i] = int32(c)
				}
				then[k] = last
				after = append(after, then)
				known[h][last] = int32(len(after))
			}
			next[c] = known[h][last] - 1
			s := slices.IndexFunc(own, func(s step) bool { return s.next == next[c] && s.deviation == deviation })
			if s < 0 {
				s = len(own)
				own, gathered = append(own, step{next: next[c], deviation: deviation}), append(gathered, newBitset(classes))
			}
			gathered[s].set(c)
		}
		for s, set := range gathered {
			b.words = b.words[:0]
			for _, word := range set {
				b.words = append(b.words, int(word))
			}
			if own[s].set = sets.of(b.words...); own[s].set == len(lv.sets) {
				lv.sets = append(lv.sets, set.members())
			}
		}
		if b.steps += len(own); b.steps > b.most.steps && len(states) > 1 {
			return nil, false
		}
		lv.next, lv.steps = append(lv.next, next), append(lv.steps, own)
	}
	return after, true
}
