package substitution

import (
	"fmt"
	"maps"
	"slices"
)

// Instead asks whether a part can stand in for another where no bike is known: the old part alone vouches for what it sat
// on. It is asked wherever the old part may have sat; the worst answer stands, and says where.
func Instead(was, now *Part) (Verdict, error) {
	if was != nil && now != nil && was.Family != now.Family {
		if v, ok := insteadAcross(was, now); ok {
			return v, nil
		}
	}
	if was == nil || now == nil || was.Family != now.Family {
		return Verdict{}, fmt.Errorf("one part of another family cannot stand in for a part: both are of one family, such as chain and chain")
	}
	return InsteadOn(nil, was, now, PossiblePlaces(was, now)...), nil
}

// InsteadOn asks it of a bike of which some parts are known beside the old one, at places where the old one may have
// sat; the worst answer stands, and says where. Both parts are of the family that sits there. Two parts of one name that
// are described alike are one part; two descriptions without a name are not: what neither of them says may differ.
func InsteadOn(bike Build, was, now *Part, places ...Place) Verdict {
	again := alikeInAll(was, now)
	var worst Verdict
	for _, at := range places {
		build := bike.With(at, was).CompleteFor(at)
		v := Scene{Was: build, Now: build}.Choose(at, now).Check(at)
		if v.At = at; worst.At == "" || v.Fits > worst.Fits {
			worst = v
		}
	}
	if again && worst.Fits == NoRule {
		worst.Fits = Holds // it is the part that was there
	}
	return worst
}

// PossiblePlaces are where a part may sit by what is known of it, and where that says nothing, of the part in its stead:
// its position, its side, whether it is for gears or brakes. Of places where the same is asked only the first is listed.
func PossiblePlaces(was, now *Part) []Place {
	var out []Place
	asked := map[string]bool{}
	for _, p := range placesForEither(was, now) {
		if !asked[askedAt[p]] {
			asked[askedAt[p]] = true
			out = append(out, p)
		}
	}
	return out
}

// PossiblePlacesOn are those of a bike of which some parts are known. Places where the same is asked are listed too, for it is
// asked of other neighbours there: a tube's tyre in front is not the one behind.
func PossiblePlacesOn(bike Build, was, now *Part) []Place {
	if len(bike) == 0 {
		return PossiblePlaces(was, now)
	}
	return placesForEither(was, now)
}

// placesForEither are the places that suit both parts, and where none does, the old one.
func placesForEither(was, now *Part) []Place {
	places, suiting := placesFor(was), placesFor(now)
	if both := slices.DeleteFunc(slices.Clone(places), func(p Place) bool { return !slices.Contains(suiting, p) }); len(both) > 0 {
		return both
	}
	return places
}

// NarrowInstead gives the conditions that every part meets which Instead calls fitting; see Scene.Narrow.
func NarrowInstead(was *Part) []Condition {
	var out []Condition
	for i, at := range placesFor(was) {
		bike := Build{at: was}
		here := Scene{Was: bike, Now: bike, Open: map[Place]bool{at: true}}.Narrow(at)
		if i == 0 {
			out = here
			continue
		}
		out = slices.DeleteFunc(slices.Clone(out), func(c Condition) bool {
			return !slices.ContainsFunc(here, func(h Condition) bool { _, ok := Either(c, h); return ok })
		})
		for k, c := range out {
			for _, h := range here {
				if both, ok := Either(c, h); ok {
					c = both
				}
			}
			out[k] = c
		}
	}
	return out
}

// placing are the dimensions by which a part says where it sits.
var placing = []string{"position", "side", "use"}

// placesFor are the places that suit what a part says of its own; all of its family's where it says nothing.
func placesFor(p *Part) []Place {
	all, told := PlacesOf(p.Family), false
	for _, dim := range placing {
		where, known := p.Get(dim)
		if !known {
			continue
		}
		told = true
		if some := slices.DeleteFunc(slices.Clone(all), func(q Place) bool { return !suits(q, where.word) }); len(some) > 0 {
			all = some
		}
	}
	if !told && slices.ContainsFunc(all, p.tooMuchFor) { // a part that says where it sits is believed
		all = slices.DeleteFunc(slices.Clone(all), p.tooMuchFor)
	}
	return all
}

// tooMuchFor tells whether a part has more of something than parts at a place have.
func (p *Part) tooMuchFor(q Place) bool {
	most := sites[siteAt[q]].Most
	if most.Dimension == "" {
		return false
	}
	v, known := p.Get(most.Dimension)
	return known && v.number > most.Number
}

// suits tells whether a place is the one a part's position names: "outer" the outer ring, "rear" the rear hub.
func suits(p Place, position string) bool { return slices.Contains(namedBy(p), position) }

// namedBy are the words by which a part may say that it is made for a place.
func namedBy(p Place) []string { return wordsIn[p] }

// joint is a rule where it joins parts of two places.
type joint struct {
	p, q Place
	in   *instance
	old  bool // only the old part could tell of the other side
}

// joints are the rules between the parts of two families, at every pair of places where such parts meet; askedAt tells
// places apart by what is asked at them.
var (
	joints  map[[2]Family][]joint
	askedAt = map[Place]string{}
)

func jointsOf(instances map[Place][]*instance) map[[2]Family][]joint {
	out := map[[2]Family][]joint{}
	for _, p := range sites {
		asked := ""
		for _, in := range instances[p.Place] {
			asked += " " + in.rule.ID
			if in.at != p.Place {
				asked += "@" + string(in.at)
			}
			if is, ok := in.rule.Test.(Is); ok && is.Placed {
				table, _ := TableOf(p.Family)
				dim, _ := table.Dimension(is.Mine)
				for _, w := range dim.Words {
					if suits(p.Place, w) {
						asked += "=" + w
					}
				}
			}
			for _, other := range in.scope {
				q, err := SiteOf(other)
				if err != nil || other == p.Place || !in.names(p.Place) || !in.names(other) || in.at != p.Place && in.at != other {
					continue
				}
				out[[2]Family{p.Family, q.Family}] = append(out[[2]Family{p.Family, q.Family}], joint{p.Place, other, in, false})
			}
		}
		askedAt[p.Place] = asked
	}
	for _, p := range sites {
		for _, in := range instances[p.Place] {
			if in.at != p.Place {
				continue
			}
			for _, against := range in.rule.Against {
				q, _ := SiteOf(resolve(against, p.Place))
				out[[2]Family{p.Family, q.Family}] = append(out[[2]Family{p.Family, q.Family}], joint{p.Place, q.Place, in, true})
				out[[2]Family{q.Family, p.Family}] = append(out[[2]Family{q.Family, p.Family}], joint{q.Place, p.Place, in, true})
			}
		}
	}
	return out
}

// Together asks whether two parts go together and why: every rule between them, at every pair of places where parts of
// their families meet. Where a rule could be asked at several, the kindest answer counts: a ring that names no position
// may be the outer or the inner one. A verdict without findings says that no rule joins the two.
func Together(a, b *Part) Verdict {
	v, _ := TogetherWhere(a, b, func(Place, Place) bool { return true })
	return v
}

// TogetherWhere asks it only at the pairs of places that are meant, a's first; meet is whether parts that say where they sit as
// these do meet at one of them.
func TogetherWhere(a, b *Part, meant func(p, q Place) bool) (v Verdict, meet bool) {
	best := map[*Rule]Finding{}
	mine, yours := placesFor(a), placesFor(b)
	all := slices.DeleteFunc(slices.Clone(joints[[2]Family{a.Family, b.Family}]), func(j joint) bool { return !meant(j.p, j.q) })
	meet = slices.ContainsFunc(all, func(j joint) bool { return slices.Contains(mine, j.p) && slices.Contains(yours, j.q) })
	for _, j := range all {
		suited := slices.Contains(mine, j.p) && slices.Contains(yours, j.q)
		if had, asked := best[j.in.rule]; asked && had.Answer == Holds || !j.in.rule.Aside && meet && !suited {
			continue
		}
		s := Scene{Now: Build{j.p: a, j.q: b}, aside: true}
		if !meet && !j.in.rule.Aside {
			if misplaced := s.misplaced(j.p, j.q); len(misplaced) > 0 {
				for _, f := range misplaced {
					best[f.Rule] = f
				}
				continue
			}
		}
		if s.waits(j.in) {
			continue
		}
		found := j.in.judge(s)
		if slices.ContainsFunc(found.Missing, func(m Missing) bool { return m.Place != j.p && m.Place != j.q || m.Old && !j.old }) {
			continue // a third part decides: chain length hangs on the frame
		}
		if had, asked := best[j.in.rule]; found.Answer != 0 && (!asked || found.Answer < had.Answer) {
			best[j.in.rule] = Finding{j.in.rule, j.in.at, found}
		}
	}
	for _, rule := range slices.SortedFunc(maps.Keys(best), func(a, b *Rule) int { return ranks[a] - ranks[b] }) {
		v.add(best[rule])
	}
	return v, meet
}

// misplaced gives the rules by which one of two parts, or each, says that it is made for another place than where they would
// meet: a front hub does not go into a frame.
func (s Scene) misplaced(places ...Place) (out []Finding) {
	for _, p := range places {
		for _, in := range instances[p] {
			is, ok := in.rule.Test.(Is)
			if !ok || !is.Placed || in.at != p || !in.rule.Severity.Stops() || s.waits(in) {
				continue
			}
			if j := in.judge(s); j.Answer == Breaks {
				out = append(out, Finding{in.rule, p, j})
			}
		}
	}
	return out
}

// names tells whether the rule itself looks at a place, not only for the rings that a crankset brings.
func (in *instance) names(p Place) bool {
	return slices.Contains(in.scope, p) && !(in.byRings && p == "crank")
}
