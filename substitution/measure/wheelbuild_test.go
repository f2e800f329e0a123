package measure

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The worked examples that four wheel-building pages print, both sides.
func TestSpokeLengthsOfPublishedExamples(t *testing.T) {
	mm := func(v float64) *Reading { return &Reading{MM: v, Tool: "page"} }
	for _, test := range []struct {
		name        string
		wheel       WheelBuild
		left, right float64
		within      float64
	}{
		{"tristable.net: one side", WheelBuild{ERD: mm(555), FlangeLeft: mm(58), OffsetLeft: mm(39), Hole: mm(2.6), Spokes: 36, CrossLeft: 3, CrossRight: 3}, 265.8, 265.8, 0.05},
		{"arekore-iroiro 2015/10", WheelBuild{ERD: mm(540), FlangeLeft: mm(45), OffsetLeft: mm(35), OffsetRight: mm(19), Hole: mm(2.5), Spokes: 36, CrossLeft: 3, CrossRight: 3}, 260.582, 258.927, 0.001},
		{"pluginok 2010-11: from the locknuts, whole millimetres", WheelBuild{ERD: mm(327), FlangeLeft: mm(89), OLN: mm(116), LeftNut: mm(25), RightNut: mm(35), Hole: mm(3.1), Spokes: 36, CrossLeft: 2, CrossRight: 2}, 135, 133, 0.5},
		{"bikeforums 10752838: 1 mm taken off for the hole", WheelBuild{ERD: mm(536), FlangeLeft: mm(44), FlangeRight: mm(45), OffsetLeft: mm(35.3), OffsetRight: mm(22.1), DeductMM: 1, Spokes: 36, CrossLeft: 3, CrossRight: 3}, 259.11, 257.44, 0.01},
	} {
		t.Run(test.name, func(t *testing.T) {
			left, right, err := test.wheel.Lengths()
			require.NoError(t, err)
			require.InDelta(t, test.left, left, test.within)
			require.InDelta(t, test.right, right, test.within)
			result, err := test.wheel.Identify()
			require.NoError(t, err)
			require.Len(t, result.Matches, 2)
		})
	}
}

func TestWheelsThatCannotBe(t *testing.T) {
	whole := WheelBuild{ERD: Caliper(540), FlangeLeft: Caliper(45), OffsetLeft: Caliper(35), Spokes: 36, CrossLeft: 3, CrossRight: 3}
	for problem, change := range map[string]func(*WheelBuild){
		"ERD was not measured":           func(w *WheelBuild) { w.ERD = nil },
		"flange circle was not measured": func(w *WheelBuild) { w.FlangeLeft = nil },
		"distance of the flanges":        func(w *WheelBuild) { w.OffsetLeft = nil },
		"given twice":                    func(w *WheelBuild) { w.OLN, w.LeftNut, w.RightNut = Caliper(100), Caliper(15), Caliper(15) },
		"even number of spokes":          func(w *WheelBuild) { w.Spokes = 35 },
		"36 spokes cross 0 to 9 times":   func(w *WheelBuild) { w.CrossLeft = 10 },
		"beyond the hub's middle": func(w *WheelBuild) {
			w.OffsetLeft, w.OLN, w.LeftNut, w.RightNut = nil, Caliper(100), Caliper(60), Caliper(15)
		},
		"was it read in inches":              func(w *WheelBuild) { w.ERD = Caliper(21) },
		"half a spoke hole is about 1.25 mm": func(w *WheelBuild) { w.DeductMM = 12 },
	} {
		t.Run(problem, func(t *testing.T) {
			w := whole
			change(&w)
			_, err := w.Identify()
			require.ErrorContains(t, err, problem)
		})
	}
}

// A larger rim wants longer spokes, and the side whose flange stands nearer the middle shorter ones.
func TestSpokesGrowWithTheWheel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := WheelBuild{ERD: Caliper(rapid.Float64Range(250, 620).Draw(t, "erd")), FlangeLeft: Caliper(rapid.Float64Range(30, 90).Draw(t, "flange")),
			OffsetLeft: Caliper(rapid.Float64Range(25, 40).Draw(t, "left")), OffsetRight: Caliper(rapid.Float64Range(15, 24).Draw(t, "right")),
			Spokes: 36, CrossLeft: 3, CrossRight: 3}
		left, right, err := w.Lengths()
		require.NoError(t, err)
		require.Greater(t, left, right)
		w.ERD = Caliper(w.ERD.MM + 4)
		longer, _, err := w.Lengths()
		require.NoError(t, err)
		require.InDelta(t, left+2, longer, 0.6)
	})
}
