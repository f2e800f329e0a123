package standard

import (
	"strconv"
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
	for in, says := range map[string]string{"27.1": "27.2 mm, 27 mm", "350 mm": "not in the list", "long": "write millimetres", "": "write millimetres"} {
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
	for _, made := range []string{"22.2", "23.8", "25.0", "25.4", "25.8", "26.0", "26.4", "31.8", "35"} { // the handlebar table
		_, err := ParseHandlebarClamp(made)
		require.NoError(t, err)
	}
	_, err := ParseHandlebarClamp("25.6")
	require.ErrorContains(t, err, "25.8 mm, 25.4 mm", "between the two that are confused")
}

// 25.0 to 32.4 in steps of 0.2 (bikemag.com 2024-05-30), and the sizes of today's frames.
func TestSeatpostsThatAreMade(t *testing.T) {
	for mm := 25.0; mm < 32.5; mm += 0.2 {
		_, err := ParseSeatpost(strconv.FormatFloat(mm, 'f', 1, 64))
		require.NoError(t, err)
	}
	for _, made := range []string{"27.2", "30.9", "31.6", "34.9", "33.9", "22.2"} {
		_, err := ParseSeatpost(made)
		require.NoError(t, err)
	}
	posts := Seatposts()
	for i := 1; i < len(posts); i++ {
		require.Greater(t, posts[i].MM, posts[i-1].MM+0.05, "no size stands twice")
	}
}

func TestParseRotor(t *testing.T) { // two rotor pages
	for _, want := range []Rotor{{140, refRotor}, {203, refRotor}, {200, refRotor}} {
		got, err := ParseRotor(want.String())
		require.NoError(t, err)
		require.Equal(t, want, got)
	}
	for in, says := range map[string]string{"202": "200 mm, 203 mm", "6 in": "in millimetres", "disc": "in millimetres", "90": "not in my list of rotors"} {
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
