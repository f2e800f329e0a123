package substitution

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Place is where on a bike a part sits: "crank.outer-ring", "rear.cassette".
// A place at a wheel begins with its end, "front." or "rear.".
type Place string

// Site describes a place: what sits there and what it is called on paper.
type Site struct {
	Place  Place
	Words  string
	Named  []string // words besides those of the place itself by which a part says that it is made for it
	Most   Most     // a part with more of something sits elsewhere
	Safety bool     // the rider's safety hangs on this part: brakes, steering, wheels, axles, post
	Family Family   // the table that lists it
}

// Most is the most of a dimension that a part at a place has: no ring of 48 teeth is an inner one.
type Most struct {
	Dimension string
	Number    float64
}

// walk is the way round the bike that an inspection takes: a place stands where the longest of these that it begins with
// does, a part before what sits in it. What begins with none comes last.
var walk = []Place{
	"frame", "fork", "chain", "rear.cassette", "rear.freewheel", "rear.sprocket", "crank", "pedals", "rear.derailleur", "front.derailleur",
	"shifter", "rear.gear-", "front.gear-", "bottom-bracket", "headset", "front.hub", "rear.hub", "rear.freehub",
	"front.lever", "front.brake-", "front.rim-pads", "front.rotor", "front.caliper", "front.pads",
	"rear.lever", "rear.brake-", "rear.rim-pads", "rear.rotor", "rear.caliper", "rear.pads", "front.", "rear.",
	"seatpost", "saddle", "stem", "handlebar", "frame.", "bench.",
}

// sites lists every place in that order; siteAt is where in it a place stands, for rules ask often.
var (
	sites  []Site
	siteAt = map[Place]int{}
)

// layOut puts the tables' places, and the tables by their first place, in the order of the walk.
func layOut() {
	for _, t := range tables {
		for i := range t.Sites {
			t.Sites[i].Family = t.Family
		}
	}
	first := func(t *Table) int {
		at := len(walk)
		for _, s := range t.Sites {
			at = min(at, stop(s.Place))
		}
		return at
	}
	slices.SortStableFunc(tables, func(a, b *Table) int { return first(a) - first(b) })
	for _, t := range tables {
		sites = append(sites, t.Sites...)
	}
	depth := func(p Place) int { return strings.Count(string(p), ".") }
	slices.SortStableFunc(sites, func(a, b Site) int {
		return cmp.Or(stop(a.Place)-stop(b.Place), depth(a.Place)-depth(b.Place))
	})
	for i, s := range sites {
		siteAt[s.Place] = i
		placesOf[s.Family] = append(placesOf[s.Family], s.Place)
		wordsIn[s.Place] = append(strings.FieldsFunc(string(s.Place), func(r rune) bool { return r == '.' || r == '-' }), s.Named...)
	}
}

// stop is where on the walk a place is.
func stop(p Place) int {
	at, longest := len(walk), -1
	for i, prefix := range walk {
		if strings.HasPrefix(string(p), string(prefix)) && len(prefix) > longest {
			at, longest = i, len(prefix)
		}
	}
	return at
}

// Sites are all places, in the order in which an inspection walks the bike.
func Sites() []Site { return sites }

// SiteOf describes a place, or says that there is no such place and which ones are alike.
func SiteOf(p Place) (Site, error) {
	if i, known := siteAt[p]; known {
		return sites[i], nil
	}
	var alike []string
	last := p[strings.LastIndexByte(string(p), '.')+1:]
	for _, s := range sites {
		if strings.Contains(string(s.Place), string(last)) || strings.HasPrefix(string(s.Place), string(p.end())+".") && p.end() != "" {
			alike = append(alike, string(s.Place))
		}
	}
	if near := beginningLike(alike, string(last)); len(near) > 0 {
		alike = near
	}
	return Site{}, &UnknownPlaceError{p, nearest(string(p), alike)}
}

// UnknownPlaceError says that a bike has no such place.
type UnknownPlaceError struct {
	Place Place
	Near  []string // places that are called alike, MostNamed at most
}

func (e *UnknownPlaceError) Error() string {
	if len(e.Near) == 0 {
		return fmt.Sprintf("a bike has no place %q", e.Place)
	}
	return fmt.Sprintf("a bike has no place %q: did you mean %s?", e.Place, strings.Join(e.Near, ", "))
}

// beginningLike are the places whose last word begins as the mistyped one does: "casette" was meant for a cassette.
func beginningLike(places []string, last string) []string {
	return slices.DeleteFunc(slices.Clone(places), func(p string) bool {
		return len(last) < 3 || !strings.HasPrefix(p[strings.LastIndexByte(p, '.')+1:], last[:3])
	})
}

// placesOf are the places of a family, wordsIn the words of a place's name: "crank.outer-ring" is crank, outer, ring.
var (
	placesOf = map[Family][]Place{}
	wordsIn  = map[Place][]string{}
)

// PlacesOf are all places where a part of the family can sit, in the order of Sites. The caller must not change them.
func PlacesOf(f Family) []Place { return placesOf[f] }

// end is "front" or "rear" for a place at a wheel, else empty.
func (p Place) end() string {
	if e, _, ok := strings.Cut(string(p), "."); ok && (e == "front" || e == "rear") {
		return e
	}
	return ""
}

// words is the place as it is called on paper.
func (p Place) words() string {
	if s, err := SiteOf(p); err == nil {
		return s.Words
	}
	return string(p)
}

// made are the words for a part at the place that is made as a word says. Where the place is named by that word it is not
// said twice: an outer ring is the "outer chainring".
func (p Place) made(as string) string {
	words := p.words()
	if slices.Contains(strings.Fields(words), as) {
		return words
	}
	return as + " " + words
}
