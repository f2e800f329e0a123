package inspection

import (
	"fmt"
	"slices"
	"strings"

	"stead/substitution"
)

// Need is a part that the findings call for.
type Need struct {
	Place    substitution.Place  `json:"place"`
	Family   substitution.Family `json:"family"`
	Quantity int                 `json:"quantity"`
	Unit     string              `json:"unit"` // what is counted: pieces, or smears of grease
	Was      *substitution.Part  `json:"was,omitempty"`
	Why      string              `json:"why"`
}

// Needs are the parts that findings call for, one need a place, in the order of inspection. What is adjusted needs
// none. Opening a bearing with loose balls needs all its balls and a smear of grease.
func Needs(build substitution.Build, findings []Finding) []Need {
	needs := map[substitution.Place]Need{}
	add := func(n Need) {
		if had, twice := needs[n.Place]; twice {
			if n.Family == "grease" {
				n.Quantity += had.Quantity
				n.Why = had.Why + "; " + n.Why
			} else {
				n = had
			}
		}
		needs[n.Place] = n
	}
	found := map[substitution.Place]Finding{}
	for _, f := range findings {
		found[f.Place] = f
	}
	for _, f := range findings {
		switch f.Action {
		case Replace:
			add(replacement(build, found, f.Place, "to be replaced"))
			if bearingHouse(f.Place) != "" {
				add(smear(build, f.Place))
			}
		case Clean:
			if inside := bearingsIn(build, f.Place); isBearingHouse(f.Place) {
				for _, p := range inside {
					if site, _ := substitution.SiteOf(p); site.Family == "loose-balls" {
						add(replacement(build, found, p, "opened: the balls of a race are changed as a set"))
					}
				}
				add(smear(build, f.Place))
			}
		}
	}
	var out []Need
	for _, site := range substitution.Sites() {
		if n, needed := needs[site.Place]; needed {
			out = append(out, n)
		}
	}
	return out
}

// pieces is how many pieces of a family one place takes, where it is not one.
var pieces = map[substitution.Family]int{"disc-pad": 2, "rim-pad": 2}

func replacement(build substitution.Build, found map[substitution.Place]Finding, place substitution.Place, why string) Need {
	site, err := substitution.SiteOf(place)
	if err != nil {
		panic("inspection: a finding at no place: " + string(place))
	}
	n := Need{Place: place, Family: site.Family, Quantity: max(1, pieces[site.Family]), Unit: "pieces", Was: build[place], Why: site.Words + " " + why}
	if site.Family == "loose-balls" {
		var basis string
		n.Quantity, basis = ballsAt(build, found[place], place)
		n.Why += "; " + basis
	}
	return n
}

// ballsAt is how many balls a race takes: as counted on strip-down, else by the usual count of the place.
func ballsAt(build substitution.Build, f Finding, place substitution.Place) (int, string) {
	if counted, read := f.Readings["balls"]; read {
		return int(counted.Float()), fmt.Sprintf("%d balls came out", int(counted.Float()))
	}
	usual := usualBalls(build, place)
	return usual.count, fmt.Sprintf("%d × %s is usual here (%s): count what comes out", usual.count, usual.size, usual.source)
}

// smear is the grease that a bearing takes when it is closed again.
func smear(build substitution.Build, place substitution.Place) Need {
	site, _ := substitution.SiteOf(place)
	return Need{Place: "bench.grease", Family: "grease", Quantity: 1, Unit: "smears", Was: build["bench.grease"], Why: "for the " + site.Words}
}

// bearingHouses are the places with bearings in them; the places of those bearings begin with the same words.
var bearingHouses = []substitution.Place{"front.hub", "rear.hub", "rear.freehub", "bottom-bracket", "headset"}

func isBearingHouse(p substitution.Place) bool { return slices.Contains(bearingHouses, p) }

// bearingHouse is the house that a bearing's place belongs to, or nothing.
func bearingHouse(p substitution.Place) substitution.Place {
	for _, house := range bearingHouses {
		if strings.HasPrefix(string(p), string(house)+".") {
			return house
		}
	}
	return ""
}

// bearingsIn are the recorded places of a hub's, bottom bracket's or headset's bearings. A rear hub's freehub is opened with it.
func bearingsIn(build substitution.Build, house substitution.Place) []substitution.Place {
	var out []substitution.Place
	for _, p := range build.Places() {
		in := bearingHouse(p)
		if in != "" && (in == house || in == "rear.freehub" && house == "rear.hub") {
			out = append(out, p)
		}
	}
	return out
}
