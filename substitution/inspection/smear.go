package inspection

import (
	"fmt"
	"slices"
	"strings"

	"stead/substitution"
)

// Smear is what a place takes of a grease, a paste, an oil or a fluid when it is put together again: out of the tub that is
// open on the bench, and covered by the price of the work.
type Smear struct {
	Place   substitution.Place  `json:"place"`
	Family  substitution.Family `json:"family"`          // grease, lubricant or consumable
	Purpose string              `json:"purpose"`         // as the label says: bearing, carbon, chain, brake-fluid
	Fluid   string              `json:"fluid,omitempty"` // of brake fluid: dot or mineral-oil
	Words   string              `json:"words"`           // "seatpost: carbon assembly paste"
	Grams   float64             `json:"grams"`           // usual; common practice, no source
}

// smearing is what work at the places of a family takes. Common practice, no source; what a maker says of a part stands
// above it.
type smearing struct {
	family  substitution.Family
	actions []Action
	of      substitution.Family
	purpose string
	words   string
	grams   float64
}

// closing are the actions after which something is put together again.
var closing = []Action{Replace, Clean}

var smearings = []smearing{
	{"hub", closing, "grease", "bearing", "bearing grease", 6},
	{"headset", closing, "grease", "bearing", "bearing grease", 5},
	{"bottom-bracket", closing, "grease", "general", "grease on the threads", 3},
	{"pedal", closing, "grease", "general", "grease on the threads", 1},
	{"freehub-body", closing, "grease", "freehub", "freehub grease", 2},
	{"freewheel", []Action{Replace}, "grease", "general", "grease on the threads", 1},
	{"cable-inner", []Action{Clean}, "grease", "cable", "cable grease", 1},
	{"chain", []Action{Clean}, "lubricant", "chain", "chain oil", 3},
	{"hub-cone", closing, "grease", "bearing", "bearing grease", 2},
	{"headset-bearing", closing, "grease", "bearing", "bearing grease", 2},
	{"axle", closing, "grease", "bearing", "bearing grease", 2},
	{"thru-axle", closing, "grease", "general", "grease", 1},
	{"hub-internals", closing, "lubricant", "hub-gear", "hub gear oil, as its maker names it", 10},
	{"service-kit", closing, "lubricant", "suspension", "suspension oil, weight and volume by its maker's list", 60},
	{"fork", []Action{Clean}, "lubricant", "suspension", "suspension oil, weight and volume by its maker's list", 60},
	{"fork-seal", closing, "lubricant", "suspension", "suspension oil, weight and volume by its maker's list", 20},
	{"rear-derailleur", []Action{Clean}, "lubricant", "pivot", "oil on the pivots", 1},
	{"front-derailleur", []Action{Clean}, "lubricant", "pivot", "oil on the pivots", 1},
	{"jockey-wheel", []Action{Clean}, "lubricant", "derailleur", "oil", 1},
	{"shifter", []Action{Clean}, "lubricant", "pivot", "oil", 1},
	{"skewer", []Action{Clean}, "lubricant", "general", "oil on its cam", 1},
	{"seat-clamp", []Action{Clean}, "grease", "general", "grease on the bolt", 1},
	{"frame-lock", []Action{Clean}, "lubricant", "general", "oil", 1},
}

// clamped are the families that are clamped on bare tube: carbon takes a paste that grips, titanium one that does not seize,
// and other metal grease.
var clamped = []substitution.Family{"seatpost", "handlebar", "stem"}

// Smears are what the findings take of greases, pastes, oils and fluids, in the order of the findings.
func Smears(build substitution.Build, findings []Finding) []Smear {
	var out []Smear
	bled := map[string]bool{}
	for _, f := range findings {
		site, err := substitution.SiteOf(f.Place)
		if err != nil || f.Action != Replace && f.Action != Clean {
			continue
		}
		for _, s := range smearings {
			if s.family == site.Family && contains(s.actions, f.Action) {
				purpose, words := s.purpose, s.words
				if s.family == "hub" && geared(build[f.Place]) {
					purpose, words = "hub-gear", "hub gear grease"
				}
				out = append(out, Smear{f.Place, s.of, purpose, "", fmt.Sprintf("%s: %s", site.Words, words), s.grams})
			}
		}
		if s, ok := fluidOf(build, f.Place, site.Family); ok && !bled[s.Words] {
			bled[s.Words] = true
			out = append(out, s)
		}
		if purpose, words := clampPaste(build, f.Place, site.Family); purpose != "" {
			out = append(out, Smear{f.Place, "grease", purpose, "", fmt.Sprintf("%s: %s", site.Words, words), 1})
		}
	}
	return out
}

// opened are the families whose work lets the fluid out of a brake; bleeding is what "clean" means for a lever.
var opened = []substitution.Family{"brake-lever", "brake-caliper", "brake-hose", "seal-kit"}

// fluidOf is the fluid of a brake that is bled, once a brake, or the sealant of a tyre that runs without a tube. Of a brake
// whose fluid nobody knows none is taken.
func fluidOf(build substitution.Build, place substitution.Place, family substitution.Family) (Smear, bool) {
	end, _, _ := strings.Cut(string(place), ".")
	if v, known := build[place].Get("tubeless"); family == "tyre" && known && v.Equal(substitution.Yes(true)) {
		return Smear{place, "consumable", "sealant", "", end + " tyre: sealant", 60}, true
	}
	if !slices.Contains(opened, family) {
		return Smear{}, false
	}
	for _, of := range []string{".lever", ".caliper"} {
		if v, known := build[substitution.Place(end+of)].Get("fluid"); known {
			return Smear{place, "consumable", "brake-fluid", v.String(), fmt.Sprintf("%s brake: brake fluid, %s", end, v), 30}, true
		}
	}
	return Smear{}, false
}

// clampPaste is what goes between a part and what clamps it, by what either is made of.
func clampPaste(build substitution.Build, place substitution.Place, family substitution.Family) (purpose, words string) {
	clamps := false
	for _, c := range clamped {
		clamps = clamps || c == family
	}
	if !clamps {
		return "", ""
	}
	of := map[string]bool{}
	beside := map[substitution.Family]substitution.Place{"seatpost": "frame", "handlebar": "stem", "stem": "handlebar"}[family]
	for _, p := range []substitution.Place{place, beside} {
		if part := build[p]; part != nil {
			if v, known := part.Get("material"); known {
				of[v.String()] = true
			}
		}
	}
	switch {
	case of["carbon"]:
		return "carbon", "carbon assembly paste"
	case of["titanium"]:
		return "anti-seize", "anti-seize paste"
	case family == "seatpost":
		return "general", "grease"
	}
	return "", ""
}

// geared reports whether a hub is known to hold gears.
func geared(hub *substitution.Part) bool {
	if hub == nil {
		return false
	}
	gears, known := hub.Get("gears")
	return known && gears.Float() > 1
}

func contains(actions []Action, a Action) bool {
	for _, b := range actions {
		if a == b {
			return true
		}
	}
	return false
}
