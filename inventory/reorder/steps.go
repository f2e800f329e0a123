package reorder

import (
	"iter"
	"math"
)

// step is one choice more for a part.
type step struct {
	item, choice int
	worth        float64 // pounds a sale met, beyond the choice before, less what its waiting would cost
}

// before is the order of the steps: where two are worth as much the part that comes first.
func (st step) before(other step) bool {
	return st.worth < other.worth || st.worth == other.worth && st.item < other.item
}

// insisted is what a choice is worth that is taken whatever it costs.
var insisted = math.Inf(-1)

// steps are those of all parts in the order in which the next pound is best spent. As the choices of a part are the
// corners of its curve each is worth less than the one before, so that only the next of each part need be compared: a
// heap of one step a part.
func (s *Shelf) steps() iter.Seq[step] {
	return func(yield func(step) bool) {
		next := make([]step, 0, len(s.items))
		for item, choices := range s.choices {
			if len(choices) > 0 {
				next = append(next, step{item, 0, s.worth(item, 0)})
			}
		}
		for i := len(next)/2 - 1; i >= 0; i-- {
			sink(next, i)
		}
		for len(next) > 0 {
			st := next[0]
			if !yield(st) {
				return
			}
			if k := st.choice + 1; k < len(s.choices[st.item]) {
				next[0] = step{st.item, k, s.worth(st.item, k)}
			} else {
				next[0] = next[len(next)-1]
				next = next[:len(next)-1]
			}
			sink(next, 0)
		}
	}
}

// sink lets a step down to its place in the heap.
func sink(heap []step, at int) {
	for {
		first := at
		for child := 2*at + 1; child <= 2*at+2 && child < len(heap); child++ {
			if heap[child].before(heap[first]) {
				first = child
			}
		}
		if first == at {
			return
		}
		heap[at], heap[first] = heap[first], heap[at]
		at = first
	}
}

// gain is what a choice adds to the one before it: pounds a year, sales a year, and pieces on the shelf.
func (s *Shelf) gain(item, k int) (cost, met, stock float64) {
	c := s.choices[item][k]
	if k == 0 {
		return c.cost, c.met(s.asked[item]), c.stock
	}
	before := s.choices[item][k-1]
	return c.cost - before.cost, c.met(s.asked[item]) - before.met(s.asked[item]), c.stock - before.stock
}

// worth is that of a step. Where the part is kept whatever it costs the first is insisted on.
func (s *Shelf) worth(item, k int) float64 {
	if k == 0 && s.items[item].Least > 0 {
		return insisted
	}
	cost, met, _ := s.gain(item, k)
	costs := cost / met
	if s.covered != nil && costs > 0 { // what is covered is neither met by it nor waits
		costs /= max(1e-3, 1-s.covered[item])
	}
	return costs - s.items[item].Waiting
}
