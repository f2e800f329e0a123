package measure

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// identifier is what every measured part can do; it exists for the tests below, which treat all parts alike.
type identifier interface{ Identify() (Result, error) }

func TestBadReadingsAreSentences(t *testing.T) {
	for name, c := range map[string]struct {
		part identifier
		says string
	}{
		"nothing":                   {Bearing{}, "nothing was measured"},
		"bore over outer":           {Bearing{Bore: Caliper(28), Outer: Caliper(15)}, "were the two turned round?"},
		"mixed units":               {Bearing{Bore: Caliper(15), Outer: Caliper(1.1), Width: Caliper(7)}, "was the outer read in inches? 1.1 in is 27.94 mm"},
		"inches":                    {Bearing{Bore: Caliper(0.59)}, "was it read in inches? 0.59 in is 14.986 mm"},
		"lost point":                {Bearing{Outer: Caliper(280)}, "was the point lost? 28 mm would be possible"},
		"negative":                  {Bearing{Bore: Caliper(-15)}, "above nothing"},
		"zero":                      {Bearing{Bore: Caliper(0)}, "above nothing"},
		"no number":                 {Bearing{Bore: Caliper(math.NaN())}, "above nothing"},
		"a number for a bore":       {Bearing{Bore: Caliper(6902)}, "6902 is a bearing's number and no bore: it is 15 × 28 × 7 mm"},
		"an impossible width":       {Bearing{Bore: Caliper(15), Outer: Caliper(17), Width: Caliper(7)}, "is it a stack of two?"},
		"a tool of no use":          {Bearing{Bore: &Reading{15, 25, "eye"}}, "tool's error"},
		"a negative error":          {Bearing{Bore: &Reading{15, -1, "eye"}}, "tool's error"},
		"no balls":                  {Balls{}, "nothing was measured"},
		"a row of nobody knows":     {Balls{Row: Caliper(39.7)}, "at least two balls"},
		"a mass of nobody knows":    {Balls{MassG: 25}, "number of balls"},
		"two bolts":                 {Chainring{Bolts: 2, Adjacent: Caliper(64)}, "three to six bolts"},
		"no bolts":                  {Chainring{Adjacent: Caliper(64)}, "direct mount"},
		"opposite on five":          {Chainring{Bolts: 5, Opposite: Caliper(110)}, "no hole lies opposite"},
		"next but one on four":      {Chainring{Bolts: 4, NonAdjacent: Caliper(104)}, "is for five bolts"},
		"neighbours turned round":   {Chainring{Bolts: 5, Adjacent: Caliper(104), NonAdjacent: Caliper(64)}, "turned round"},
		"holes in inches":           {Chainring{Bolts: 5, Adjacent: Caliper(2.54)}, "was it read in inches?"},
		"no diameter":               {Thread{PerInch: 24}, "diameter was not measured"},
		"pitch and tpi":             {Thread{Diameter: Caliper(10), PitchMM: 1, PerInch: 26}, "given twice"},
		"tpi as pitch":              {Thread{Diameter: Caliper(10), PitchMM: 26}, "were turns to the inch meant?"},
		"pitch as tpi":              {Thread{Diameter: Caliper(10), PerInch: 1}, "was a pitch in millimetres meant?"},
		"one turn":                  {Thread{Diameter: Caliper(10), Over: Ruler(1), Turns: 1}, "at least two turns"},
		"a hand that is none":       {Thread{Diameter: Caliper(10), Hand: "both"}, "left or right"},
		"a chain without a count":   {ChainWear{Length: Caliper(306)}, "count its half-links"},
		"a link too many counted":   {ChainWear{Length: Caliper(304.8), Pitches: 25}, "one counted too many"},
		"a link not counted":        {ChainWear{Length: Caliper(304.8), Pitches: 23}, "one not counted"},
		"no chain":                  {ChainWidth{}, "nothing was measured"},
		"no fork":                   {Fork{HeadTube: Caliper(30)}, "nothing was measured"},
		"crown under steerer":       {Fork{Steerer: Caliper(28.6), Crown: Caliper(26.4)}, "turned round"},
		"no post":                   {Seatpost{}, "nothing was measured"},
		"a post in inches":          {Seatpost{Post: Caliper(1.07)}, "was it read in inches?"},
		"no bar":                    {Handlebar{}, "nothing was measured"},
		"no spoke":                  {Spoke{}, "nothing was measured"},
		"a spoke's length":          {Spoke{Elbow: Caliper(265)}, "outside what such a part has"},
		"no shell":                  {Shell{}, "nothing was measured"},
		"a hand without a thread":   {Shell{Inside: Caliper(41), DriveHand: LeftHand}, "is it threaded?"},
		"no rim":                    {Rim{}, "nothing was measured"},
		"a rim in inches":           {Rim{BeadSeat: Ruler(24.5)}, "was it read in inches? 24.5 in is 622.3 mm"},
		"a tyre with half the news": {Tyre{Outer: Ruler(696)}, "measure both"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := c.part.Identify()
			require.ErrorContains(t, err, c.says)
		})
	}
}

func TestThousandthsAreCalledOut(t *testing.T) {
	r, err := Bearing{Bore: Caliper(14.983), Outer: Caliper(27.97), Width: Caliper(6.95)}.Identify()
	require.NoError(t, err)
	require.True(t, r.Firm(), "the size is still known")
	require.Contains(t, r.Words(), "the thousandths of 14.983 mean nothing")
}

func TestBallRing(t *testing.T) {
	for name, c := range map[string]struct {
		ring BallRing
		says []string // chord formula for balls on a circle; the workshop's rule of one fewer is common practice
	}{
		"nine quarter inch":       {BallRing{Pitch: Caliper(20), BallMM: 6.35}, []string{"At most 9 balls fit, with room for 0.72", "Count what comes out"}},
		"across the outside":      {BallRing{Across: Caliper(26.35), BallMM: 6.35}, []string{"At most 9 balls fit"}},
		"one fewer came out":      {BallRing{Pitch: Caliper(20), BallMM: 6.35, Found: 8}, []string{"8 came out", "put back what came out"}},
		"too few came out":        {BallRing{Pitch: Caliper(20), BallMM: 6.35, Found: 6}, []string{"balls may be missing"}},
		"a ruler is too blunt":    {BallRing{Pitch: Ruler(20.5), BallMM: 6.35}, []string{"Between 9 and 10 balls fit", "Fill the race with new balls"}},
		"a ring that would jam":   {BallRing{Pitch: &Reading{18.6, 0.01, "gauge"}, BallMM: 6.35}, []string{"may jam: fit 8"}},
		"as many came out as fit": {BallRing{Pitch: Caliper(24), BallMM: 6.35, Found: 11}, []string{"At most 11 balls fit"}},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := c.ring.Count()
			require.NoError(t, err)
			for _, says := range c.says {
				require.Contains(t, r.Words(), says)
			}
		})
	}
	for name, ring := range map[string]BallRing{
		"nothing": {BallMM: 6.35}, "ball as large as the ring": {Pitch: Caliper(6), BallMM: 6.35}, "no ball": {Pitch: Caliper(20)},
		"a negative ball": {Pitch: Caliper(20), BallMM: -1},
	} {
		_, err := ring.Count()
		require.Error(t, err, name)
	}
}

func TestResultAsJSON(t *testing.T) {
	r, err := Bearing{Bore: Caliper(33), Outer: Caliper(61), Width: Caliper(9)}.Identify()
	require.NoError(t, err)
	text, err := json.Marshal(r)
	require.NoError(t, err)
	require.Contains(t, string(text), `"matches":[]`, "no match is an empty list, not null")

	r, err = Balls{Diameter: Caliper(3.97)}.Identify()
	require.NoError(t, err)
	text, err = json.Marshal(r)
	require.NoError(t, err)
	var back Result
	require.NoError(t, json.Unmarshal(text, &back))
	require.Equal(t, r, back)
	require.Contains(t, string(text), `"confidence":"published standard"`)
}
