package solver

import (
	"maps"
	"slices"

	"stead/substitution/solver/choose"
	"stead/substitution/supply"
)

// way is how a part can be had for a need: from an offer, after what comes off the shelf first, if anything does.
type way struct {
	offer int
	first *choose.Lot
}

// lots are what a way takes of each offer for so many pieces.
func (w way) lots(pieces int) []choose.Lot {
	if w.first == nil {
		return []choose.Lot{{Offer: w.offer, Pieces: pieces}}
	}
	return []choose.Lot{*w.first, {Offer: w.offer, Pieces: pieces - w.first.Pieces}}
}

// ways are how a part can be had for a need: from each offer, and where the shelf has too few, the rest of it from each
// supplier's. Of equal choices the search keeps the first, and what lies on the shelf need not be ordered: so the ways that
// begin with it come first.
func (m *model) ways(need int, part int) []way {
	var out []way
	for _, shelf := range m.sources[part] {
		if m.offers[shelf].Supplier != supply.Shelf {
			continue
		}
		for _, pieces := range m.tooFew(need, part, shelf) {
			for _, o := range m.sources[part] {
				if m.offers[o].Supplier != supply.Shelf {
					out = append(out, way{o, &choose.Lot{Offer: shelf, Pieces: pieces}})
				}
			}
		}
	}
	for _, o := range m.sources[part] {
		out = append(out, way{offer: o})
	}
	return out
}

// mostLots is how many numbers of pieces that a shelf may have left for a need are gone into, the largest first. Few jobs
// have more than two needs of one part.
const mostLots = 8

// tooFew are the numbers of pieces that a shelf may have left for a need and that are not enough for it: all that it has,
// or that less what other needs of the same part take whole.
func (m *model) tooFew(need int, part int, shelf int) []int {
	left := map[int]bool{m.offers[shelf].Most: true}
	for i, n := range m.needs {
		if i == need || !slices.Contains(n.Candidates, part) {
			continue
		}
		for _, pieces := range slices.Collect(maps.Keys(left)) {
			if pieces > n.Pieces {
				left[pieces-n.Pieces] = true
			}
		}
	}
	var out []int
	for _, pieces := range slices.Sorted(maps.Keys(left)) {
		if 0 < pieces && pieces < m.needs[need].Pieces {
			out = append(out, pieces)
		}
	}
	slices.Reverse(out)
	return out[:min(len(out), mostLots)]
}

// chosen puts an option of a need back into part and source.
func (m *model) chosen(need int, o choose.Option) Chosen {
	n, src := m.needs[need], m.offerOf[o.Offer]
	c := Chosen{Need: n.ID, Part: src.part, Offer: src.offer, Pieces: n.Pieces}
	if o.First != nil {
		c.Shelf = Lot{m.offerOf[o.First.Offer].offer, o.First.Pieces}
	}
	return c
}
