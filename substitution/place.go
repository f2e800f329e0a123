package substitution

import (
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
	Family Family
	Words  string
	Safety bool // the rider's safety hangs on this part: brakes, steering, wheels, axles, post
}

// sites lists every place. Inspection walks the bike in this order.
var sites = []Site{
	{"frame", "frame", "frame", true},
	{"fork", "fork", "fork", true},
	{"chain", "chain", "chain", false},
	{"chain.joiner", "chain-joiner", "chain joining link", false},
	{"rear.cassette", "cassette", "cassette", false},
	{"rear.freewheel", "freewheel", "freewheel", false},
	{"rear.sprocket", "sprocket", "sprocket", false},
	{"crank", "crankset", "crankset", true},
	{"crank.outer-ring", "chainring", "outer chainring", false},
	{"crank.middle-ring", "chainring", "middle chainring", false},
	{"crank.inner-ring", "chainring", "inner chainring", false},
	{"crank.ring", "chainring", "single chainring", false},
	{"crank.ring-bolts", "chainring-bolt", "chainring bolts", false},
	{"pedals", "pedal", "pedals", true},
	{"rear.derailleur", "rear-derailleur", "rear derailleur", false},
	{"rear.derailleur.upper-jockey", "jockey-wheel", "upper jockey wheel", false},
	{"rear.derailleur.lower-jockey", "jockey-wheel", "lower jockey wheel", false},
	{"front.derailleur", "front-derailleur", "front derailleur", false},
	{"shifter.right", "shifter", "right shifter", false},
	{"shifter.left", "shifter", "left shifter", false},
	{"rear.gear-cable", "cable-inner", "rear gear cable", false},
	{"rear.gear-housing", "cable-outer", "rear gear housing", false},
	{"front.gear-cable", "cable-inner", "front gear cable", false},
	{"front.gear-housing", "cable-outer", "front gear housing", false},
	{"bottom-bracket", "bottom-bracket", "bottom bracket", false},
	{"bottom-bracket.bearing-left", "cartridge-bearing", "left bottom bracket bearing", false},
	{"bottom-bracket.bearing-right", "cartridge-bearing", "right bottom bracket bearing", false},
	{"bottom-bracket.balls-left", "loose-balls", "left bottom bracket balls", false},
	{"bottom-bracket.balls-right", "loose-balls", "right bottom bracket balls", false},
	{"bottom-bracket.cage-left", "ball-cage", "left bottom bracket ball cage", false},
	{"bottom-bracket.cage-right", "ball-cage", "right bottom bracket ball cage", false},
	{"headset", "headset", "headset", true},
	{"headset.upper-bearing", "headset-bearing", "upper headset bearing", true},
	{"headset.lower-bearing", "headset-bearing", "lower headset bearing", true},
	{"headset.upper-balls", "loose-balls", "upper headset balls", true},
	{"headset.lower-balls", "loose-balls", "lower headset balls", true},
	{"headset.upper-cage", "ball-cage", "upper headset ball cage", true},
	{"headset.lower-cage", "ball-cage", "lower headset ball cage", true},
	{"front.hub", "hub", "front hub", true},
	{"front.hub.axle", "axle", "front hub axle", true},
	{"front.hub.cone-left", "hub-cone", "front hub cone, left", true},
	{"front.hub.cone-right", "hub-cone", "front hub cone, right", true},
	{"front.hub.balls-left", "loose-balls", "front hub balls, left", true},
	{"front.hub.balls-right", "loose-balls", "front hub balls, right", true},
	{"front.hub.bearing-left", "cartridge-bearing", "front hub bearing, left", true},
	{"front.hub.bearing-right", "cartridge-bearing", "front hub bearing, right", true},
	{"rear.hub", "hub", "rear hub", true},
	{"rear.hub.axle", "axle", "rear hub axle", true},
	{"rear.hub.cone-left", "hub-cone", "rear hub cone, left", true},
	{"rear.hub.cone-right", "hub-cone", "rear hub cone, right", true},
	{"rear.hub.balls-left", "loose-balls", "rear hub balls, left", true},
	{"rear.hub.balls-right", "loose-balls", "rear hub balls, right", true},
	{"rear.hub.bearing-left", "cartridge-bearing", "rear hub bearing, left", true},
	{"rear.hub.bearing-right", "cartridge-bearing", "rear hub bearing, right", true},
	{"rear.freehub", "freehub-body", "freehub body", false},
	{"rear.freehub.balls-inner", "loose-balls", "freehub balls, inner race", false},
	{"rear.freehub.balls-outer", "loose-balls", "freehub balls, outer race", false},
	{"rear.freehub.bearing-inner", "cartridge-bearing", "freehub bearing, inner", false},
	{"rear.freehub.bearing-outer", "cartridge-bearing", "freehub bearing, outer", false},
	{"front.brake-cable", "cable-inner", "front brake cable", true},
	{"front.brake-housing", "cable-outer", "front brake housing", true},
	{"front.rim-pads", "rim-pad", "front rim brake pads", true},
	{"front.rotor", "disc-rotor", "front brake rotor", true},
	{"front.caliper", "brake-caliper", "front brake caliper", true},
	{"front.pads", "disc-pad", "front brake pads", true},
	{"rear.brake-cable", "cable-inner", "rear brake cable", true},
	{"rear.brake-housing", "cable-outer", "rear brake housing", true},
	{"rear.rim-pads", "rim-pad", "rear rim brake pads", true},
	{"rear.rotor", "disc-rotor", "rear brake rotor", true},
	{"rear.caliper", "brake-caliper", "rear brake caliper", true},
	{"rear.pads", "disc-pad", "rear brake pads", true},
	{"front.rim", "rim", "front rim", true},
	{"front.rim-tape", "rim-tape", "front rim tape", true},
	{"front.spokes-left", "spoke", "front spokes, left", true},
	{"front.spokes-right", "spoke", "front spokes, right", true},
	{"front.nipples", "nipple", "front nipples", true},
	{"front.tube", "tube", "front tube", true},
	{"front.tyre", "tyre", "front tyre", true},
	{"rear.rim", "rim", "rear rim", true},
	{"rear.rim-tape", "rim-tape", "rear rim tape", true},
	{"rear.spokes-left", "spoke", "rear spokes, left", true},
	{"rear.spokes-right", "spoke", "rear spokes, right", true},
	{"rear.nipples", "nipple", "rear nipples", true},
	{"rear.tube", "tube", "rear tube", true},
	{"rear.tyre", "tyre", "rear tyre", true},
	{"seatpost", "seatpost", "seat post", true},
	{"stem", "stem", "stem", true},
	{"handlebar", "handlebar", "handlebar", true},
	{"handlebar.tape", "bar-tape", "bar tape", false},
	{"handlebar.grips", "grip", "grips", true},
	{"frame.bolt", "bolt", "bolt on the frame", false},
	{"bench.bolt", "bolt", "bolt", false},
	{"bench.grease", "grease", "grease", false},
	{"bench.lubricant", "lubricant", "lubricant", false},
	{"bench.cleaner", "cleaner", "cleaner", false},
	{"bench.consumable", "consumable", "bench consumable", false},
}

// siteAt is where in sites a place stands: rules ask often.
var siteAt = func() map[Place]int {
	at := make(map[Place]int, len(sites))
	for i, s := range sites {
		at[s.Place] = i
	}
	return at
}()

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
	if len(alike) == 0 {
		return Site{}, fmt.Errorf("a bike has no place %q: `stead place list` shows all places", p)
	}
	return Site{}, fmt.Errorf("a bike has no place %q: did you mean %s?", p, strings.Join(alike, ", "))
}

// beginningLike are the places whose last word begins as the mistyped one does: "casette" was meant for a cassette.
func beginningLike(places []string, last string) []string {
	return slices.DeleteFunc(slices.Clone(places), func(p string) bool {
		return len(last) < 3 || !strings.HasPrefix(p[strings.LastIndexByte(p, '.')+1:], last[:3])
	})
}

// PlacesOf are all places where a part of the family can sit.
func PlacesOf(f Family) []Place {
	var out []Place
	for _, s := range sites {
		if s.Family == f {
			out = append(out, s.Place)
		}
	}
	return out
}

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

// placeWords are the words of a place's name: "crank.outer-ring" is crank, outer, ring.
func placeWords(p Place) []string {
	return strings.FieldsFunc(string(p), func(r rune) bool { return r == '.' || r == '-' })
}
