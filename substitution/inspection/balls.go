package inspection

import (
	"strings"

	"stead/substitution"
)

// usual is how many balls of which size a race usually takes.
type usual struct {
	count  int
	size   string
	source string
}

const (
	byCribSheet = "Sheldon Brown, crib sheet of numbers"
	bySuther    = "Sutherland's Handbook, one maker's models; counts differ between models"
)

// usualBallsOf are the counts by the beginning of the place. Where a headset's balls are concerned the size decides
// between two published examples, and neither is a rule.
var usualBallsOf = []struct {
	place string
	usual usual
}{
	{"front.hub", usual{10, "3/16 in", byCribSheet}},
	{"rear.hub", usual{9, "1/4 in", byCribSheet}},
	{"rear.freehub", usual{25, "1/8 in", "common practice, no source"}},
	{"bottom-bracket", usual{11, "1/4 in", byCribSheet}},
}

func usualBalls(build substitution.Build, place substitution.Place) usual {
	for _, row := range usualBallsOf {
		if strings.HasPrefix(string(place), row.place+".") {
			return row.usual
		}
	}
	if mm, known := build[place].Get("ball_mm"); known && mm.Float() > 4.5 {
		return usual{22, "3/16 in", bySuther}
	}
	return usual{25, "5/32 in", bySuther}
}
