package inspection

import (
	"fmt"
	"math"

	"stead/substitution"
)

// Need is a part that the findings call for.
type Need struct {
	Place    substitution.Place  `json:"place"`
	Family   substitution.Family `json:"family"`
	Quantity int                 `json:"quantity"`
	Unit     Unit                `json:"unit"`
	Metres   float64             `json:"metres,omitempty"` // so much off a roll, of which each piece is a metre; zero: not said
	Was      *substitution.Part  `json:"was,omitempty"`
	Why      string              `json:"why"`
}

// Unit is what is counted of a need.
type Unit string

// The units. A smear of grease is taken from a tub and bought with no piece.
const (
	InPieces Unit = "pieces"
	InSmears Unit = "smears"
)

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
			if f.Place.House() != "" {
				add(smear(build, f.Place))
			}
		case Clean:
			if f.Place.IsHouse() {
				for _, p := range build.BearingsIn(f.Place) {
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

func replacement(build substitution.Build, found map[substitution.Place]Finding, place substitution.Place, why string) Need {
	site, err := substitution.SiteOf(place)
	if err != nil {
		panic("inspection: a finding at no place: " + string(place))
	}
	n := Need{Place: place, Family: site.Family, Quantity: 1, Unit: InPieces, Was: build[place], Why: site.Words + " " + why}
	if table, err := substitution.TableOf(site.Family); err == nil && table.Pieces > 0 {
		n.Quantity = table.Pieces
	}
	if counted, told := found[place].Readings["wanted"]; told {
		n.Quantity = int(counted.Float())
		n.Why += fmt.Sprintf("; %d wanted", n.Quantity)
	}
	if metres, told := found[place].Readings["metres"]; told {
		n.Metres = metres.Float()
		n.Quantity = int(math.Ceil(n.Metres - 1e-9))
		n.Why += fmt.Sprintf("; %s m off the roll", metres)
	}
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
	return Need{Place: "bench.grease", Family: "grease", Quantity: 1, Unit: InSmears, Was: build["bench.grease"], Why: "for the " + site.Words}
}
