package substitution

import (
	"fmt"
	"math"
	"slices"

	"stead/substitution/standard"
)

const (
	longestSold   = 116 // links of the longest chain commonly sold for derailleurs (jitetan.com: 112, 114, 116)
	linksToInsert = 4   // the most that a kept chain is lengthened by; beyond it a longer chain is wanted
)

// chainLength judges whether the chain is long enough for the largest ring and sprocket together.
func chainLength(s Scene, at Place) Judgement {
	links := s.side(mine("links"), at)
	stay := s.side(theirs("frame", "chainstay_mm"), at)
	ring, sprocket := s.first(largeRing(), at), s.first(sprockets("teeth_max"), at)
	if !links.changed && !ring.changed && !sprocket.changed {
		return Judgement{}
	}
	if s.onlyChain() {
		return Judgement{} // chains are sold longer than most bikes need, and nobody says what this one needs
	}
	same := !grew(ring) && !grew(sprocket) // the set asks for no longer chain than the one it had
	if !stay.known && !same && s.spareInch(ring, sprocket) && !links.changed {
		return Judgement{Answer: Holds, Before: true, Words: "ring and sprocket ask for half a link more at most: the chain has two to spare"}
	}
	if !stay.known || !ring.known || !sprocket.known {
		return lengthAsBefore(links, same, untold(unknownOf(links, stay, ring, sprocket)...))
	}
	need := linksNeeded(s, stay.now.number, int(ring.now.number), int(sprocket.now.number))
	if !links.known {
		return lengthAsBefore(links, same, untold(links))
	}
	have := int(links.now.number)
	j := Judgement{Answer: Holds, Wanted: fmt.Sprintf("at least %d links", need), Found: fmt.Sprintf("%d links", have)}
	set := fmt.Sprintf("%.0fT and %.0fT on a %s mm chainstay want %d links", ring.now.number, sprocket.now.number, stay.now, need)
	switch short := need - have; {
	case short <= 0 && links.changed && short < 0:
		j.Words = set + fmt.Sprintf(": cut the new chain from %d", have)
	case short <= 0:
		j.Words = set + fmt.Sprintf("; it has %d", have)
	case same:
		return lengthAsBefore(links, same, Judgement{Answer: Breaks, Wanted: j.Wanted, Found: j.Found, Words: set + fmt.Sprintf("; it has %d", have)})
	case !links.changed && short <= linksToInsert:
		j.Words = set + fmt.Sprintf("; the chain has %d: put in %d more from an offcut of the same chain", have, short)
		j.Brings = []Bring{joiner(s, at, fmt.Sprintf("joining link for %d more chain links", short))}
	default:
		j.Answer = Breaks
		j.Words = set + fmt.Sprintf("; it has %d", have)
		if !links.changed {
			j.Words += ": put a new chain on as well"
		}
	}
	return j
}

// onlyChain tells whether a chain is new whose length nobody gives, in the stead of such a one, on a bike of which neither
// frame, rings nor sprockets are recorded.
func (s Scene) onlyChain() bool {
	_, given := s.Now["chain"].Get("links")
	_, had := s.Was["chain"].Get("links")
	if given || had || s.kept("chain") || s.Was["chain"] == nil {
		return false
	}
	for _, ref := range append(append(largeRing(), sprockets("teeth_max")...), theirs("frame", "")) {
		if _, recorded := s.Now[ref.Place]; recorded {
			return false
		}
	}
	return true
}

// spareInch tells whether ring and sprocket together grow by two teeth at most, which is half a link.
func (s Scene) spareInch(sides ...side) bool {
	more := 0.0
	for _, d := range sides {
		if !d.changed {
			continue
		}
		if !d.known || !d.wasKnown {
			return false
		}
		more += max(0, d.now.number-d.was.number)
	}
	return more <= 2
}

// linksNeeded is the longer of the two published rules for derailleurs; a single sprocket wants no links to spare.
func linksNeeded(s Scene, stayMM float64, ring, sprocket int) int {
	if singleSpeed(s) {
		return int(2 * math.Ceil(standard.ChainPitches(stayMM, ring, sprocket)/2))
	}
	return max(standard.ChainLinksBigBig(stayMM, ring, sprocket), standard.ChainLinksSimple(stayMM, ring, sprocket))
}

// singleSpeed tells whether the bike is known to have one sprocket.
func singleSpeed(s Scene) bool {
	_, sprocket := s.Now["rear.sprocket"]
	d := s.first(sprockets("speeds"), "")
	return sprocket || d.known && slices.Equal(d.now.ints, []int{1})
}

// grew tells whether a ring or sprocket is, or may be, larger than what was there.
func grew(d side) bool {
	return d.changed && !(d.known && d.wasKnown && d.now.number <= d.was.number)
}

// lengthAsBefore answers where the set asks no longer a chain than the one that was on it: a kept chain stays long
// enough, and so is a new one no shorter than the old, or than the longest sold. Else the answer is otherwise.
func lengthAsBefore(links side, same bool, otherwise Judgement) Judgement {
	if !same {
		return otherwise
	}
	longest := longestSold
	if links.wasKnown {
		longest = int(links.was.number)
	}
	switch {
	case !links.changed:
		return Judgement{Answer: Holds, Before: true, Words: "ring and sprocket ask no longer a chain than before"}
	case links.known && int(links.now.number) >= longest:
		return Judgement{Answer: Holds, Before: true, Found: links.now.String() + " links", Words: "cut the new chain to the length of the old"}
	}
	return otherwise
}

// joiner is the joining link that a chain needs, for the number of sprockets there are.
func joiner(s Scene, at Place, words string) Bring {
	spec := Spec{}
	for _, d := range []side{s.first(sprockets("speeds"), at), s.side(mine("speeds"), at)} {
		if _, told := spec["speeds"]; d.known && !told {
			spec["speeds"] = s.Now[d.place].Spec["speeds"]
		}
	}
	return Bring{Family: "chain-joiner", Spec: spec, Quantity: 1, Words: words}
}

func unknownOf(sides ...side) []side {
	return slices.DeleteFunc(sides, func(d side) bool { return d.known })
}
