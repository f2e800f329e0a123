package describe

import "slices"

// fewestOfArticle are the digits that an article's number has at least.
const fewestOfArticle = 4

// articleNumber is how many tokens at the beginning of a description are the article's number, in one piece before a
// blank: "BX-7733", "W/60772", "88-3051", "0031.66". Its letters are no word of the trade: what follows "W/60772" does
// not come with anything. A part's own code ("CR-1104") and so many in a bag ("BAG/1000") are none.
func (s *scratch) articleNumber() int {
	if len(s.tokens) == 0 {
		return 0
	}
	end := 1
	for end < len(s.tokens) && s.tokens[end].glued {
		end++
	}
	if end < 3 && !(end == 1 && s.leadsWithNought()) || end >= len(s.tokens) || end > 5 {
		return 0
	}
	first := &s.tokens[0]
	switch {
	case first.kind == number && s.leadsWithNought():
		return end
	case end < 3 || s.tokens[1].kind != mark || !slices.Contains([]byte("-/."), s.tokens[1].mark) || !s.isLongNumber(2):
		return 0
	case first.kind == number:
		return end
	case first.kind == word && first.norm[1]-first.norm[0] <= 3 && !s.isOfPart(first) && !s.countsIn(first, &s.tokens[2]):
		return end
	}
	return 0
}

// leadsWithNought reports whether the text begins with a number as no measure is written: "0031.66".
func (s *scratch) leadsWithNought() bool {
	t := &s.tokens[0]
	text := s.lower(t)
	return t.kind == number && len(text) >= fewestOfArticle && text[0] == '0' && text[1] != '.'
}

func (s *scratch) isLongNumber(i int) bool {
	t := &s.tokens[i]
	return t.kind == number && t.decimals == 0 && t.norm[1]-t.norm[0] >= fewestOfArticle
}

// isOfPart reports whether a short word names a part or its kind: "CR", "MR", "M".
func (s *scratch) isOfPart(t *token) bool {
	switch string(s.lower(t)) {
	case "m", "mr", "r":
		return true
	}
	id := base().id(s.lower(t))
	if id == 0 {
		return false
	}
	sense := base().alone(id)
	return sense != nil && (sense.family != "" || sense.code != "" || sense.weak != "")
}

// countsIn reports whether the word and the number behind it say how many there are in a pack: round thousands, or gross.
func (s *scratch) countsIn(t, n *token) bool {
	sense := base().alone(base().id(s.lower(t)))
	return sense != nil && sense.packOf && (int(n.value)%100 == 0 || int(n.value)%144 == 0)
}
