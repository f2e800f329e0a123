package choose

// onward is what the suppliers that are used when the need at a position is decided make of the carriage that is still
// to be charged. It depends on which those are, and on nothing else.
type onward struct {
	set   uint64    // of the suppliers
	round uint32    // of the search that it was worked out in
	fee   []int64   // by supplier: the certain carriage that using it adds
	extra [][]int64 // by spread and supplier, last for none: the carriage that using it adds, less what the shares of later needs may give back
}

// onwards is how many sets of suppliers are kept for each position: a search comes back to the same ones all the time.
const onwards = 1 << onwardBits

const onwardBits = 6

// lookOnward finds or works out what holds at position k.
func (s *search) lookOnward(k int) {
	set := s.usedSet()
	o := &s.onwards[k][set*0x9E3779B97F4A7C15>>(64-onwardBits)]
	s.onward[k] = o
	if o.round == s.round && o.set == set && len(s.in.suppliers) <= 64 {
		return
	}
	o.set, o.round = set, s.round
	if o.fee == nil {
		o.fee = make([]int64, len(s.in.suppliers))
		for range s.spreads {
			o.extra = append(o.extra, make([]int64, len(s.in.suppliers)+1))
		}
	}
	for v := range s.in.suppliers {
		if o.fee[v] = 0; s.count[v] == 0 {
			o.fee[v] = s.in.suppliers[v].certain
		}
	}
	for b := range s.spreads {
		s.rebate(k, s.spreads[b].share, o.extra[b])
	}
}

// rebate works out, for the need at position k, what the shares in the rest must give back. The carriage of a used
// supplier is counted in full, so a later need that goes to it again must not be charged a share as well. Each need
// goes to one supplier only: it is given back the largest of its shares of used suppliers, not their sum.
func (s *search) rebate(k int, share [][]int64, extra []int64) {
	sum := int64(0)
	for j := k + 1; j < len(s.in.needs); j++ {
		s.top[j] = 0
		for _, v := range s.used {
			s.top[j] = max(s.top[j], share[v][j])
		}
		sum += s.top[j]
	}
	for v := range share {
		if extra[v] = -sum; s.count[v] > 0 {
			continue
		}
		extra[v] += s.in.suppliers[v].spread
		for j := k + 1; j < len(s.in.needs); j++ {
			extra[v] -= max(share[v][j]-s.top[j], 0)
		}
	}
	extra[len(share)] = -sum
}

// usedSet is the suppliers that are used, as far as they fit into a word.
func (x *partial) usedSet() uint64 {
	var set uint64
	for _, v := range x.used {
		set |= 1 << v
	}
	return set
}
