package describe

// spelledAs is a word of the text by where it begins, and the known word that it is taken for.
type spelledAs struct {
	start int
	id    int32
}

// mostMeant is the most parts that a word cut short may be the name of, for the figures to tell.
const mostMeant = 6

// readCut reads a description whose part is named by a word cut so short that it may name several: "BREMSSCH. 180MM
// 6L." is a disc and no shoe, for only with the disc every figure says something. Where more than one part takes them
// all, none is meant.
func (r *Reader) readCut(s *scratch, unknown Reading) Reading {
	start, may := s.cutName()
	if len(may) > mostMeant {
		return unknown
	}
	best := unknown
	several := false
	for _, w := range may {
		s.taken = spelledAs{start, w.id}
		out := r.read(s, unknown.Text, nil)
		switch {
		case out.Family == "" || out.Wrong != nil || s.leavesFigures() || !saysSize(out.Spec):
		case best.Family != "" && best.Family != out.Family:
			several = true
		default:
			best = out
		}
	}
	s.taken = spelledAs{}
	if several {
		return unknown
	}
	return best
}

// cutName is where the first word begins that a full stop cuts short and that may name several parts, and what it may be.
func (s *scratch) cutName() (start int, may []*spelled) {
	for i := range s.tokens {
		t := &s.tokens[i]
		if t.kind != word || t.id != 0 || !s.stopped(i) || t.norm[1]-t.norm[0] < shortestCut {
			continue
		}
		for _, w := range base().near.mayBe(s.lower(t), true) {
			if w.sense.family != "" && !w.sense.not && !w.sense.none {
				may = append(may, w)
			}
		}
		return t.start, may
	}
	return 0, nil
}

// leavesFigures reports whether a figure of the description was not read, but for those of an article's number.
func (s *scratch) leavesFigures() bool {
	for i := range s.items {
		if it := &s.items[i]; it.kind == figure && !it.used && !s.inWord(i) {
			return true
		}
	}
	return false
}
