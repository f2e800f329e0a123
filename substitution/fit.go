package substitution

import (
	"fmt"
	"slices"
)

// StandIn asks whether a part can stand in for another where no bike is known: the old part alone vouches for what
// it sat on. The place must be one where its family sits; see UsualPlace.
func StandIn(at Place, was, now *Part) (Verdict, error) {
	site, err := SiteOf(at)
	if err != nil {
		return Verdict{}, err
	}
	for _, p := range []*Part{was, now} {
		if p == nil || p.Family != site.Family {
			return Verdict{}, fmt.Errorf("the %s takes a %s: one part of another family cannot stand in for it", site.Words, site.Family)
		}
	}
	bike := Build{at: was}.Complete()
	return Scene{Was: bike, Now: bike}.Choose(at, now).Check(at), nil
}

// UsualPlace is where a part would sit, if nothing else is said: the first place of its family that suits its own
// position or side, or false for a family that sits nowhere.
func UsualPlace(p *Part) (Place, bool) {
	places := PlacesOf(p.Family)
	if len(places) == 0 {
		return "", false
	}
	for _, dim := range []string{"position", "side"} {
		where, _ := p.Get(dim)
		if i := slices.IndexFunc(places, func(q Place) bool { return suits(q, where.word) }); i >= 0 && where.word != "" {
			return places[i], true
		}
	}
	return places[0], true
}

// suits tells whether a place is the one a part's position names: "outer" the outer ring, "rear" the rear hub.
func suits(p Place, position string) bool {
	if position == "single" {
		return p == "crank.ring"
	}
	return slices.ContainsFunc(placeWords(p), func(word string) bool { return word == position })
}

// Together asks whether two parts go together and why: every rule between them, at every pair of places where parts of
// their families meet. Where a rule could be asked at several, the kindest answer counts: a ring that names no position
// may be the outer or the inner one. A verdict without findings says that no rule joins the two.
func Together(a, b *Part) Verdict {
	best := map[*Rule]Finding{}
	for _, p := range placesFor(a) {
		for _, q := range placesFor(b) {
			if p == q || p.end() != "" && q.end() != "" && p.end() != q.end() {
				continue
			}
			s := Scene{Now: Build{p: a, q: b}}
			for _, in := range instances[p] {
				if !in.names(p) || !in.names(q) || in.at != p && in.at != q || s.waits(in) {
					continue
				}
				j := in.judge(s)
				if slices.ContainsFunc(j.Missing, func(m Missing) bool { return m.Place != p && m.Place != q }) {
					continue // a third part decides: chain length hangs on the frame
				}
				if had, asked := best[in.rule]; j.Answer != 0 && (!asked || j.Answer < had.Answer) {
					best[in.rule] = Finding{in.rule, in.at, j}
				}
			}
		}
	}
	v := Verdict{Fits: Holds}
	for _, rule := range Rules() {
		if f, asked := best[rule]; asked {
			v.add(f)
		}
	}
	return v
}

// names tells whether the rule itself looks at a place, not only for the rings that a crankset brings.
func (in *instance) names(p Place) bool {
	return slices.Contains(in.scope, p) && !(in.byRings && p == "crank")
}

// placesFor are the places that suit a part's own position; all of its family's where it names none.
func placesFor(p *Part) []Place {
	all := PlacesOf(p.Family)
	for _, dim := range []string{"position", "side"} {
		where, known := p.Get(dim)
		some := slices.DeleteFunc(slices.Clone(all), func(q Place) bool { return !suits(q, where.word) })
		if known && len(some) > 0 {
			return some
		}
	}
	return all
}
