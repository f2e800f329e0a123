package note

import (
	"slices"
	"strings"

	"stead/substitution"
)

// oneKindOfHouse reports that bearings are all in hubs, all in a freehub, a headset or a bottom bracket.
func oneKindOfHouse(places []substitution.Place) bool {
	kind := func(p substitution.Place) string {
		house := string(houseOf(p))
		return house[strings.LastIndexByte(house, '.')+1:]
	}
	return !slices.ContainsFunc(places, func(p substitution.Place) bool { return kind(p) != kind(places[0]) })
}

func both(m mod) bool { return m&(m-1) != 0 }

func inHouse(places, houses []substitution.Place) []substitution.Place {
	var out []substitution.Place
	for _, p := range places {
		for _, h := range houses {
			if strings.HasPrefix(string(p), string(h)+".") {
				out = append(out, p)
				break
			}
		}
	}
	return out
}

// houseOf is the place that another sits in.
func houseOf(p substitution.Place) substitution.Place {
	i := strings.LastIndexByte(string(p), '.')
	if i < 0 {
		return ""
	}
	if house := p[:i]; isHouse(house) && house != "front" && house != "rear" {
		return house
	}
	return ""
}

func severalHouses(places []substitution.Place) bool {
	for _, p := range places {
		if houseOf(p) != houseOf(places[0]) {
			return true
		}
	}
	return false
}

func bothEnds(places []substitution.Place) bool {
	return len(within(places, front)) > 0 && len(within(places, rear)) > 0
}

// severalAtAnEnd reports that a wheel has more than one: cones, spokes, the kinds of pads.
func severalAtAnEnd(places []substitution.Place) bool {
	return len(within(places, front)) > 1 || len(within(places, rear)) > 1
}

func families(places []substitution.Place) []substitution.Family {
	var out []substitution.Family
	for _, p := range places {
		if site, err := substitution.SiteOf(p); err == nil && !slices.Contains(out, site.Family) {
			out = append(out, site.Family)
		}
	}
	return out
}

func twoFamiliesAtOneEnd(places []substitution.Place) bool {
	return len(families(within(places, front))) > 1 || len(families(within(places, rear))) > 1 || !bothEnds(places) && len(families(places)) > 1
}
