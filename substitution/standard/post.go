package standard

import (
	"fmt"
	"math"
	"sort"
)

// Diameter is a clamped or pushed-in diameter that parts are made in, and for what.
type Diameter struct {
	MM  float64 `json:"mm"`
	Use string  `json:"use"`
	Reference
}

// String is "27.2 mm".
func (d Diameter) String() string { return trim(d.MM) + " mm" }

var (
	refPost      = Reference{"two workshop pages on seat posts", Practice}
	refPostSteps = Reference{"a cycling magazine on seat post sizes: 25.0 to 32.4 mm in steps of 0.2 were and are met", Practice}
	refBar       = Reference{"Sheldon Brown on handlebar clamps", Practice}
	refBarTable  = Reference{"Sheldon Brown's handlebar table, as lovecitycycles.com has it", Handbook}
)

// Seatposts are the diameters that seat posts are made in, smallest first: the common ones that two pages list, and the
// steps of 0.2 mm from 25.0 to 32.4 that are and were met.
func Seatposts() []Diameter {
	common := map[float64]bool{25.4: true, 26.8: true, 27.0: true, 27.2: true, 27.4: true, 30.0: true, 30.9: true, 31.6: true, 34.9: true}
	posts := []Diameter{{22.2, "seat post, small and folding bikes", fromMemory("seat posts of 22.2 mm")}, {33.9, "seat post", fromMemory("seat posts of 33.9 mm")}}
	for mm := range common {
		posts = append(posts, Diameter{mm, "seat post", refPost})
	}
	for fifth := 125; fifth <= 162; fifth++ {
		if mm := float64(fifth) / 5; !common[mm] {
			posts = append(posts, Diameter{mm, "seat post", refPostSteps})
		}
	}
	sort.Slice(posts, func(i, j int) bool { return posts[i].MM < posts[j].MM })
	return posts
}

// HandlebarClamps are the diameters of bars where the stem holds them. 25.4 and 26.0 are 0.6 mm apart and not
// interchangeable: the one will not enter, the other is loose.
func HandlebarClamps() []Diameter {
	return []Diameter{
		{22.2, "small-wheel and old mountain bars", refBarTable}, {23.8, "old British bars", refBarTable}, {25.0, "old French bars", refBarTable},
		{25.4, "flat and upright bars, ISO", refBar}, {25.8, "older drop bars; goes with 26.0", refBarTable}, {26.0, "older drop bars", refBar},
		{26.4, "old Italian drop bars", refBarTable}, {31.8, "oversize bars", refBar},
		{35, "oversize mountain bars", Reference{"two general pages on stem and bar clamps (brilliaz.com, ora.it.com)", Practice}},
	}
}

// ParseSeatpost reads a seat-post diameter, "27.2" or "27.2 mm", and refuses what no post is made in: 27.1 lies between
// two steps and is either worn, oval or misread.
func ParseSeatpost(s string) (Diameter, error) {
	return parseDiameter("a seat-post diameter", s, Seatposts())
}

// ParseHandlebarClamp reads the diameter of a bar at the stem: "31.8".
func ParseHandlebarClamp(s string) (Diameter, error) {
	return parseDiameter("a handlebar clamp diameter", s, HandlebarClamps())
}

func parseDiameter(what, s string, sizes []Diameter) (Diameter, error) {
	value, unit, err := length(s)
	if err != nil {
		return Diameter{}, &ReadingError{What: what, Input: s, Problem: "write millimetres, such as " + trim(sizes[len(sizes)/2].MM)}
	}
	if unit == UnitInch {
		value *= Inch
	}
	sort.SliceStable(sizes, func(i, j int) bool { return math.Abs(sizes[i].MM-value) < math.Abs(sizes[j].MM-value) })
	if math.Abs(sizes[0].MM-value) < 0.05 {
		return sizes[0], nil
	}
	return Diameter{}, &ReadingError{What: what, Input: s, Problem: fmt.Sprintf("%s mm is not in the list", trim(round(value, 3))),
		Nearest: []string{sizes[0].String(), sizes[1].String()}}
}
