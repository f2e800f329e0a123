package describe

import "slices"

// spelledAs is a word of the text by where it begins, and the known word that it is taken for.
type spelledAs struct {
	start int
	id    int32
}

// mostMeant is the most parts that a word cut short may be the name of, for the figures to tell.
const mostMeant = 6

// readCut reads a description whose part is named by a word cut so short that it may name several: "BREMSSCH. 180MM
// 6L." is a disc and no shoe, for only with the disc every figure says something. Where more than one part takes them
// all, none is meant. A word that no name begins with may be the beginnings of the two words of one.
func (r *Reader) readCut(s *scratch, unknown Reading) Reading {
	at := s.cutName()
	if at < 0 {
		return unknown
	}
	text := string(s.lower(&s.tokens[at]))
	for _, may := range [][]*spelled{base().near.mayBe([]byte(text), true), base().near.mayShorten([]byte(text))} {
		if may = namesOf(may); len(may) > 0 && len(may) <= mostMeant {
			return r.readAsOne(s, unknown, s.tokens[at].start, may)
		}
	}
	return unknown
}

// readAsOne reads a description by each of the names that a word of it may be, and takes the one with which every
// figure says something.
func (r *Reader) readAsOne(s *scratch, unknown Reading, start int, may []*spelled) Reading {
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

// namesOf are the words that name parts, one of each.
func namesOf(words []*spelled) (names []*spelled) {
	for _, w := range words {
		if w.sense.family != "" && !w.sense.not && !w.sense.none && !slices.ContainsFunc(names, func(known *spelled) bool { return known.sense.namesLike(w.sense) }) {
			names = append(names, w)
		}
	}
	return names
}

// cutName is the first word that is cut short and may name several parts, -1 for none: a full stop says so of any word, and
// of the one that a description begins with nothing has to.
func (s *scratch) cutName() int {
	first := s.articleNumber()
	for i := range s.tokens {
		if t := &s.tokens[i]; t.kind == word && t.id == 0 && t.norm[1]-t.norm[0] >= shortestCut && (i == first || s.stopped(i)) {
			return i
		}
	}
	return -1
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
