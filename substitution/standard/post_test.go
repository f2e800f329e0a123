package standard

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestParseSeatpost(t *testing.T) { // two workshop pages on seat posts
	for in, want := range map[string]float64{"27.2": 27.2, "27.18 mm": 27.2, "31.6mm": 31.6, "26.8": 26.8, "30,9": 30.9, "34.9": 34.9, "1 in": 25.4} {
		p, err := ParseSeatpost(in)
		require.NoError(t, err, in)
		require.Equal(t, want, p.MM)
		again, err := ParseSeatpost(p.String())
		require.NoError(t, err)
		require.Equal(t, p, again)
	}
	for in, says := range map[string]string{"27.1": "27.2 mm, 27 mm", "350 mm": "none is made", "long": "write millimetres", "": "write millimetres"} {
		_, err := ParseSeatpost(in)
		require.ErrorContains(t, err, says, in)
	}
}

func TestParseHandlebarClamp(t *testing.T) { // Sheldon Brown on handlebar clamps
	for in, want := range map[string]float64{"25.4": 25.4, "26.0 mm": 26, "31.8": 31.8} {
		d, err := ParseHandlebarClamp(in)
		require.NoError(t, err)
		require.Equal(t, want, d.MM)
	}
	_, err := ParseHandlebarClamp("25.7")
	require.ErrorContains(t, err, "25.4 mm, 26 mm", "between the two that are confused")
}

func TestSeatpostsAreTwoTenthsApart(t *testing.T) {
	posts := Seatposts()
	require.Len(t, posts, 17)
	for i := 1; i < len(posts); i++ {
		require.GreaterOrEqual(t, posts[i].MM-posts[i-1].MM, 0.2-1e-9)
	}
}

func TestParseRotor(t *testing.T) { // two rotor pages
	for _, want := range []Rotor{{140, refRotor}, {203, refRotor}, {200, refRotor}} {
		got, err := ParseRotor(want.String())
		require.NoError(t, err)
		require.Equal(t, want, got)
	}
	for in, says := range map[string]string{"202": "200 mm, 203 mm", "6 in": "in millimetres", "disc": "in millimetres", "90": "no rotor is made"} {
		_, err := ParseRotor(in)
		require.ErrorContains(t, err, says, in)
	}
}

func TestCableUse(t *testing.T) { // two cable pages: 1.6 never enters a gear part drilled for 1.2
	for mm, want := range map[float64]string{1.1: "gear", 1.2: "gear", 1.5: "brake", 1.6: "brake", 1.4: "", 2: ""} {
		require.Equal(t, want, CableUse(mm))
	}
}

// A rotor page: one maker's limit is 1.5 mm, so 1.49 is scrap and 1.51 in use.
func TestWearLimits(t *testing.T) {
	require.Less(t, 1.49, RotorMinimumThickness.MM)
	require.Greater(t, 1.51, RotorMinimumThickness.MM)
	require.Equal(t, 0.5, PadMinimumLiningMM, "one brake maker's manual")
}

// A brake page's table: cantilever levers suit short-arm direct-pull brakes, direct-pull levers no road brake.
func TestCablePulls(t *testing.T) {
	pull := func(list []CablePull, part string) float64 {
		for _, p := range list {
			if p.Part == part {
				return p.MM
			}
		}
		t.Fatalf("no %s", part)
		return 0
	}
	require.Equal(t, pull(LeverPulls(), "cantilever"), pull(CaliperPulls(), "short-arm direct-pull"))
	require.Greater(t, pull(LeverPulls(), "direct-pull"), pull(CaliperPulls(), "newer road"))
}
