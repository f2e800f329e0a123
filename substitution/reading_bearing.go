package substitution

import (
	"slices"
	"strings"
)

// houses are the places with bearings in them, which stand at places that begin with the same words. A pedal's bearings
// have no places.
var houses = []Place{"front.hub", "rear.hub", "rear.freehub", "bottom-bracket", "headset", "pedals"}

// IsHouse reports whether a place is one that has bearings in it.
func (p Place) IsHouse() bool { return slices.Contains(houses, p) }

// House is the house that a bearing's place belongs to, or nothing.
func (p Place) House() Place {
	for _, h := range houses {
		if strings.HasPrefix(string(p), string(h)+".") {
			return h
		}
	}
	return ""
}

// BearingsIn are the recorded places of a house's bearings. A rear hub's freehub is opened with it.
func (b Build) BearingsIn(house Place) []Place {
	var out []Place
	for _, p := range b.Places() {
		in := p.House()
		if in != "" && (in == house || in == "rear.freehub" && house == "rear.hub") {
			out = append(out, p)
		}
	}
	return out
}

// Kinds of house, as the reading "inside" names them.
const (
	looseInside     = "loose-balls"
	cartridgeInside = "cartridges"
	closedUnit      = "closed"
)

var inside = Reading{
	Dimension: word("inside", "what turns in it", "look: cones and locknuts to adjust mean loose balls; seals behind which bearings can be pressed out, cartridges; neither, a closed unit",
		looseInside, cartridgeInside, closedUnit),
	Equals: true,
}

// kindOfHouse tells what turns in the house looked at: as was read, else by what is on record of it. Empty: not known.
func kindOfHouse(l Look) string {
	if v, read := l.Read["inside"]; read {
		return v.Word()
	}
	kinds := map[Family]string{"loose-balls": looseInside, "ball-cage": looseInside, "hub-cone": looseInside,
		"cartridge-bearing": cartridgeInside, "headset-bearing": cartridgeInside}
	found := ""
	for _, p := range l.Build.BearingsIn(l.Place) {
		site, _ := SiteOf(p)
		kind := kinds[site.Family]
		if kind == "" || p.House() != l.Place {
			continue
		}
		if found != "" && found != kind {
			return ""
		}
		found = kind
	}
	return found
}

// CartridgesOf are the places of the bearings that a house with cartridges takes: those on record, else all that it can
// have.
func (b Build) CartridgesOf(house Place) []Place {
	is := func(p Place) bool {
		site, _ := SiteOf(p)
		return p.House() == house && (site.Family == "cartridge-bearing" || site.Family == "headset-bearing")
	}
	var recorded, all []Place
	for _, s := range sites {
		if is(s.Place) {
			all = append(all, s.Place)
			if _, known := b[s.Place]; known {
				recorded = append(recorded, s.Place)
			}
		}
	}
	if len(recorded) > 0 {
		return recorded
	}
	return all
}

var feelInHouse = Reading{
	Dimension: word("feel", "feel", "turn it slowly between the fingers, wheel or fork free", "smooth", "notchy", "rough"),
	Judge: func(l Look) Advice {
		feel := l.Read["feel"].Word()
		if feel == "smooth" {
			return says(Keep, "turns smoothly")
		}
		turns := "turns " + feel + ": "
		switch kindOfHouse(l) {
		case looseInside:
			return says(Clean, turns+"open it; pitted races and cones decide what else is wanted", l.Build.BearingsIn(l.Place)...)
		case closedUnit:
			return says(Replace, turns+"a closed unit cannot be opened")
		case cartridgeInside:
			return bearingsOut(l, turns)
		}
		return whatIsInside(turns)
	},
}

var playInHouse = Reading{
	Dimension: word("play", "play", "rock it against its bearing", "none", "slight", "marked"),
	Judge: func(l Look) Advice {
		play := l.Read["play"].Word()
		if play == "none" {
			return says(Keep, "no play")
		}
		has := play + " play: "
		kind := kindOfHouse(l)
		switch {
		case l.Place == "headset":
			return says(Adjust, has+"the preload takes it out")
		case kind == looseInside:
			return says(Adjust, has+"adjusting takes it out")
		case kind == closedUnit:
			return says(Replace, has+"a closed unit cannot be adjusted")
		case kind == cartridgeInside:
			return bearingsOut(l, has+"where the axle has a preload ring try that first; else ")
		}
		return whatIsInside(has)
	},
}

// bearingsOut leaves the house and replaces the bearings in it.
func bearingsOut(l Look, words string) Advice {
	in := l.Build.CartridgesOf(l.Place)
	if len(in) == 0 {
		return Advice{Words: words + "its cartridges are replaced where the maker sells them", Source: byPractice,
			Asks: "say clean, with the maker's own bearings, or replace"}
	}
	a := says(Keep, words+"its cartridge bearings are replaced, and it stays", in...)
	a.Inside = Replace
	return a
}

// whatIsInside asks for the kind of house: loose balls are adjusted or opened, cartridges and closed units replaced.
func whatIsInside(words string) Advice {
	return Advice{Words: words + "what is to be done depends on what turns in it", Source: byPractice,
		Asks: "look what turns in it: loose balls, cartridges, or a closed unit"}
}

var feelOfBearing = Reading{
	Dimension: feelInHouse.Dimension,
	Says: map[string]Advice{
		"smooth": says(Keep, "turns smoothly"),
		"notchy": says(Replace, "turns notchy: its races are marked"),
		"rough":  says(Replace, "turns rough: its races are marked"),
	},
}

// playOfBearing is the play of one bearing that is changed whole. A headset's is taken out by its preload; elsewhere a
// cartridge that is loose is worn, or sits loosely, and wants looking at either way.
var playOfBearing = Reading{
	Dimension: playInHouse.Dimension,
	Judge: func(l Look) Advice {
		play := l.Read["play"].Word()
		switch {
		case play == "none":
			return says(Keep, "no play")
		case l.Place.House() == "headset":
			return says(Adjust, play+" play: take it out by the preload first")
		}
		return says(Replace, play+" play: a cartridge is not adjusted; where the axle has a preload ring try that first, and see that it is not loose in its seat")
	},
}

// The readings of houses and of bearings that are changed whole.
var (
	houseReadings   = []Reading{feelInHouse, playInHouse, inside}
	bearingReadings = []Reading{feelOfBearing, playOfBearing}
)
