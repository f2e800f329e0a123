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
	for i := range seen {
		clear(seen[i])
	}
	best, _ := in.frontiers(seen, most)
	failures := 0
	for _, c := range list {
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

// canon gives each class of need i the first class that needs from position k on cannot tell from it, looking at the
// links seen only.
func (in *instance) canon(seen [][]bool, i, k int) []int32 {
	var names numbering
	out, first := make([]int32, in.needs[i].classes), []int32{}
	var tuple []int
	for c := range out {
		tuple = tuple[:0]
		for j := k; j < len(in.needs); j++ {
			if seen[i][j] {
				tuple = append(tuple, in.pairs[i][j].row[c])
			}
		}
		id := names.of(tuple...)
		if id == len(first) {
			first = append(first, int32(c))
		}
		out[c] = first[id]
	}
	return out
}

// frontiers builds the levels for the links seen, or reports false when they would be too large.
func (in *instance) frontiers(seen [][]bool, most size) (*frontier, bool) {
	n := len(in.needs)
	f := &frontier{levels: make([]level, n)}
	states := [][]int32{make([]int32, n)} // each: the canonical class of every need in the frontier
	steps, moves := 0, 0
	for k := range n {
		sees := func(i, from int) bool { return slices.Contains(seen[i][from:], true) }
		canon := make([][]int32, k+1)
		for i := range canon {
			if sees(i, k+1) {
				canon[i] = in.canon(seen, i, k+1)
			}
		}
		lv := &f.levels[k]
		var names, sets numbering
		var after [][]int32
		tuple := make([]int, k+1)
		for _, state := range states {
			if in.ended() {
				return nil, false
			}
			next := make([]int32, in.needs[k].classes)
			var own []step
			var gathered [][]int32
			for c := range next {
				next[c] = -1
				dev, ok := int64(0), true
				for i := range k {
					if seen[i][k] {
						x := in.pairs[i][k].at(int(state[i]), c)
						dev += x.deviation
						ok = ok && !x.stops
					}
				}
				if !ok {
					continue
				}
				for i := range canon {
					if canon[i] == nil {
						continue
					}
					from := int32(c)
					if i < k {
						from = state[i]
					}
					tuple[i] = int(canon[i][from])
				}
				id := names.of(tuple...)
				if id == len(after) {
					then := make([]int32, n)
					for i, c := range tuple {
						then[i] = int32(c)
					}
					after = append(after, then)
				}
				next[c] = int32(id)
				s := slices.IndexFunc(own, func(s step) bool { return s.next == int32(id) && s.deviation == dev })
				if s < 0 {
					s = len(own)
					own, gathered = append(own, step{next: int32(id), deviation: dev}), append(gathered, nil)
				}
				gathered[s] = append(gathered[s], int32(c))
			}
			for s, classes := range gathered {
				tuple := make([]int, len(classes))
				for i, c := range classes {
					tuple[i] = int(c)
				}
				if own[s].set = sets.of(tuple...); own[s].set == len(lv.sets) {
					lv.sets = append(lv.sets, classes)
				}
			}
			steps += len(own)
			moves += len(next)
			if (steps > most.steps || moves > most.moves) && len(states) > 1 {
				return nil, false
			}
			lv.next, lv.steps = append(lv.next, next), append(lv.steps, own)
		}
		states = after
	}
	return f, true
}
