package solver

import (
	"slices"

	"stead/substitution"
	"stead/substitution/solver/choose"
	"stead/substitution/supply"
)

// wishes are those of a problem that are kept, with the limits on the whole job taken out of them.
type wishes struct {
	list          []Wish
	mostCost      *int64
	latestDay     *int
	mostSuppliers int
}

func (m *model) wishes(kept func(wish int) bool) wishes {
	var w wishes
	for i, wish := range m.p.Wishes {
		if !kept(i) {
			continue
		}
		switch {
		case wish.Kind == ByDay && wish.Need == "":
			if w.latestDay == nil || wish.Day < *w.latestDay {
				w.latestDay = &wish.Day
			}
		case wish.Kind == AtMost && wish.Need == "":
			if w.mostCost == nil || wish.Most < *w.mostCost {
				w.mostCost = &wish.Most
			}
		case wish.Kind == FewSuppliers:
			if w.mostSuppliers == 0 || wish.Count < w.mostSuppliers {
				w.mostSuppliers = wish.Count
			}
		default:
			w.list = append(w.list, wish)
		}
	}
	return w
}

// admitsPart reports whether the wishes allow a part for a need.
func (w wishes) admitsPart(need string, part int) bool {
	for _, wish := range w.list {
		if wish.Need != "" && wish.Need != need {
			continue
		}
		switch wish.Kind {
		case NotPart:
			if part == wish.Part {
				return false
			}
		case OnlyPart:
			if part != wish.Part {
				return false
			}
		}
	}
	return true
}

// admitsWay reports whether the wishes allow a way to have a part for a need.
func (w wishes) admitsWay(n Need, way way, m *model) bool {
	lots := way.lots(n.Pieces)
	for _, wish := range w.list {
		if wish.Need != n.ID {
			continue
		}
		var cost int64
		for _, lot := range lots {
			if wish.Kind == ByDay && m.offers[lot.Offer].Day > wish.Day {
				return false
			}
			if wish.Kind == AtMost {
				buy, _ := m.offers[lot.Offer].Cover(lot.Pieces) // nothing where there are too few, which the search finds out
				cost += buy.Cost
			}
		}
		if wish.Kind == AtMost && cost > wish.Most {
			return false
		}
	}
	return !slices.ContainsFunc(lots, func(l choose.Lot) bool { return !w.admitsSource(n.ID, m.offers[l.Offer].Supplier) })
}

// admitsSource reports whether the wishes allow a source for a need, or for what is brought where there is no need.
func (w wishes) admitsSource(need string, supplier int) bool {
	for _, wish := range w.list {
		if wish.Need != "" && wish.Need != need {
			continue
		}
		if wish.Kind == NotSupplier && supplier == wish.Supplier || wish.Kind == OnlySupplier && supplier != supply.Shelf && supplier != wish.Supplier {
			return false
		}
	}
	return true
}

// asksSame reports whether a wish forbids a difference of this severity at a place.
func (w wishes) asksSame(m *model, s substitution.Severity, at substitution.Place) bool {
	for _, wish := range w.list {
		if wish.Kind == SameFunction && s == substitution.Function || wish.Kind == SameFinish && s == substitution.Finish {
			if wish.Need == "" {
				return true
			}
			if i, open := m.needAt[at]; open && m.needs[i].ID == wish.Need {
				return true
			}
		}
	}
	return false
}

// checkWishes refuses wishes that cannot be meant, and pins that no choice could meet.
func (m *model) checkWishes() error {
	for i, wish := range m.p.Wishes {
		if wish.Need != "" && !slices.ContainsFunc(m.needs, func(n Need) bool { return n.ID == wish.Need }) {
			return fault(Malformed, wish.Need, "a wish is for this need, which the job has not")
		}
		if err := m.checkWish(wish); err != nil {
			return err
		}
		for _, other := range m.p.Wishes[:i] {
			if wish.against(other) || other.against(wish) {
				return fault(Contradiction, wish.Need, "the wishes %q and %q cannot both be met: give up one of them", other.words(), wish.words())
			}
		}
	}
	return nil
}

func (m *model) checkWish(w Wish) error {
	switch w.Kind {
	case ByDay, SameFunction, SameFinish:
	case AtMost:
		if w.Most < 0 {
			return fault(Malformed, w.Need, "a wish to spend at most %d cannot be meant", w.Most)
		}
	case FewSuppliers:
		if w.Need != "" || w.Count < 1 {
			return fault(Malformed, w.Need, "the number of suppliers is a wish for the whole job, and at least 1")
		}
	case OnlyPart:
		if w.Need == "" {
			return fault(Malformed, "", "a pinned part is for a need: say which")
		}
		for _, n := range m.needs {
			if n.ID == w.Need && !slices.Contains(n.Candidates, w.Part) {
				return fault(Contradiction, w.Need, "part %s that it is pinned to is not among its candidates", m.name(w.Part))
			}
		}
	case NotPart:
		if w.Part < 0 || w.Part >= len(m.p.Parts) {
			return fault(Malformed, w.Need, "a wish names part %d, which is not in the problem", w.Part)
		}
	case OnlySupplier, NotSupplier:
		if w.Supplier < supply.Shelf || w.Supplier >= len(m.p.Suppliers) {
			return fault(Malformed, w.Need, "a wish names supplier %d, which is not in the problem", w.Supplier)
		}
	default:
		return fault(Malformed, w.Need, "there is no wish of kind %d", int(w.Kind))
	}
	return nil
}

// against reports whether a pin can never be met together with another wish.
func (w Wish) against(other Wish) bool {
	together := w.Need == other.Need || w.Need == "" || other.Need == ""
	if !together {
		return false
	}
	switch {
	case w.Kind == OnlyPart && other.Kind == OnlyPart, w.Kind == OnlyPart && other.Kind == NotPart:
		return (w.Part == other.Part) == (other.Kind == NotPart)
	case w.Kind == OnlySupplier && other.Kind == OnlySupplier, w.Kind == OnlySupplier && other.Kind == NotSupplier:
		return (w.Supplier == other.Supplier) == (other.Kind == NotSupplier)
	}
	return false
}

func (w Wish) words() string {
	if w.Words != "" {
		return w.Words
	}
	return w.Kind.String()
}
