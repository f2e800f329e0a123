package judge

import (
	"slices"
	"strings"

	"stead/substitution"
)

// The two ends of a bike, as the names of their places begin.
const (
	front = "front."
	rear  = "rear."
)

// instead judges b in the stead of a where no place is named: wherever a may have sat, and the worst counts. Only where that
// cannot be told, for of one end nothing is known, and the question names the other, is that end alone asked: what is known to
// be wrong at either end stays wrong.
func (q Question) instead() substitution.Verdict {
	places := substitution.PossiblePlacesOn(q.Bike, q.A, q.B)
	everywhere := substitution.InsteadOn(q.Bike, q.A, q.B, places...)
	end := q.namedEnd()
	named := slices.DeleteFunc(slices.Clone(places), func(p substitution.Place) bool { return end == "" || !strings.HasPrefix(string(p), end) })
	if everywhere.Fits != substitution.CantTell || !slices.ContainsFunc(named, q.mayHaveSat) {
		return everywhere
	}
	return substitution.InsteadOn(q.Bike, q.A, q.B, named...)
}

// mayHaveSat reports whether nothing that is known speaks against a having sat at a place: neither the part on record there nor
// what is around it.
func (q Question) mayHaveSat(at substitution.Place) bool {
	for name, fact := range q.A.Spec {
		if other, known := q.Bike[at].Get(name); known && !other.Equal(fact.Value) {
			return false
		}
	}
	build := q.Bike.With(at, nil).CompleteFor(at)
	scene := substitution.Scene{Was: build, Now: build, Open: map[substitution.Place]bool{at: true}}
	return scene.Choose(at, q.A).Check(at).Fits != substitution.Breaks
}

// together judges a pair at the place that the question names, else at the end that it names, by a place or by the bike, and
// else wherever such parts meet.
func (q Question) together() substitution.Verdict {
	if site, err := substitution.SiteOf(q.Place); err == nil && (site.Family == q.A.Family || site.Family == q.B.Family) {
		v, _ := substitution.TogetherWhere(q.A, q.B, func(p, r substitution.Place) bool { return p == q.Place || r == q.Place })
		return v
	}
	if other := otherEnd(q.namedEnd()); other != "" {
		v, meet := substitution.TogetherWhere(q.A, q.B, func(p, r substitution.Place) bool {
			return !strings.HasPrefix(string(p), other) && !strings.HasPrefix(string(r), other)
		})
		if meet {
			return v
		}
	}
	return substitution.Together(q.A, q.B)
}

// namedEnd is the one end of the bike that a question names, by its place or by what is on record; empty where it names both, or
// neither.
func (q Question) namedEnd() string {
	for _, end := range []string{front, rear} {
		if strings.HasPrefix(string(q.Place), end) {
			return end
		}
	}
	switch inFront, behind := q.records(front), q.records(rear); {
	case inFront && !behind:
		return front
	case behind && !inFront:
		return rear
	}
	return ""
}

// records reports whether the bike's record names a part at an end, though nothing be known of it, of a kind that the other end
// has too: a cassette is no sign.
func (q Question) records(end string) bool {
	for place := range q.Bike {
		name, there := strings.CutPrefix(string(place), end)
		if !there {
			continue
		}
		site, err := substitution.SiteOf(place)
		other, otherErr := substitution.SiteOf(substitution.Place(otherEnd(end) + name))
		if err == nil && otherErr == nil && site.Family == other.Family {
			return true
		}
	}
	return false
}

func otherEnd(end string) string {
	switch end {
	case front:
		return rear
	case rear:
		return front
	}
	return ""
}
