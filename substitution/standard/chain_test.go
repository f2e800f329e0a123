package standard

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestChainLengthPublished(t *testing.T) {
	type row struct {
		cite
		Stay     float64 `json:"stay_mm"`
		Ring     int     `json:"ring"`
		Sprocket int     `json:"sprocket"`
		Exact    float64 `json:"exact"`
		BigBig   int     `json:"big_big"`
		Simple   int     `json:"simple"`
	}
	for _, c := range readCases[row](t, "chain_lengths.json") {
		t.Run(c.Case, func(t *testing.T) {
			require.InDelta(t, c.Exact, ChainPitches(c.Stay, c.Ring, c.Sprocket), 0.005)
			require.Equal(t, c.BigBig, ChainLinksBigBig(c.Stay, c.Ring, c.Sprocket))
			require.Equal(t, c.Simple, ChainLinksSimple(c.Stay, c.Ring, c.Sprocket))
		})
	}
}

func TestChainWearPublished(t *testing.T) {
	type row struct {
		cite
		Length  float64 `json:"length_mm"`
		Pitches int     `json:"pitches"`
		Percent float64 `json:"percent"`
	}
	for _, c := range readCases[row](t, "chain_wear.json") {
		t.Run(c.Case, func(t *testing.T) {
			require.InDelta(t, c.Percent, ChainWearPercent(c.Length, c.Pitches), 0.005)
		})
	}
}

func TestChainWearLimit(t *testing.T) { // a chain wear page that cites a tool maker
	for speeds, want := range map[int]float64{1: 1.0, 5: 0.75, 8: 0.75, 10: 0.75, 11: 0.5, 13: 0.5} {
		limit, ok := ChainWearLimit(speeds)
		require.True(t, ok)
		require.Equal(t, want, limit.Percent)
	}
	for _, speeds := range []int{0, 2, 4, 14} {
		_, ok := ChainWearLimit(speeds)
		require.False(t, ok, "no limit is published for %d", speeds)
	}
}

func TestParseChainWidth(t *testing.T) { // a chain reference page
	for in, want := range map[string]float64{"1/8": 3.175, "3/32": 2.38, `1/2" x 3/32"`: 2.38, "1/2 x 1/8": 3.175, "11/128": 2.18, "2.38 mm": 2.38, "2.18mm": 2.18, "5/32": 3.97} {
		w, err := ParseChainWidth(in)
		require.NoError(t, err, in)
		require.Equal(t, want, w.InnerMM, in)
		again, err := ParseChainWidth(w.String())
		require.NoError(t, err)
		require.Equal(t, w, again)
	}
	for _, in := range []string{"3/8", "2.7 mm", "10 speed", "", "1/2"} {
		_, err := ParseChainWidth(in)
		require.Error(t, err, in)
	}
}

// Rounding never shortens the chain, and a chain with a derailleur has an even number of links.
func TestChainLinksAreEvenAndEnough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stay := rapid.Float64Range(350, 500).Draw(t, "stay")
		ring, sprocket := rapid.IntRange(22, 56).Draw(t, "ring"), rapid.IntRange(11, 52).Draw(t, "sprocket")
		links := ChainLinksBigBig(stay, ring, sprocket)
		if links%2 != 0 || float64(links) < ChainPitches(stay, ring, sprocket)+2-1e-6 {
			t.Fatalf("%d links", links)
		}
		if ChainPitches(stay, ring, sprocket)-ChainPitches(stay, sprocket, ring) > 1e-9 {
			t.Fatal("ring and sprocket are not alike to the chain")
		}
	})
}
