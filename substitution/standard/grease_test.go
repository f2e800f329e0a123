package standard

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestNLGIPublished(t *testing.T) {
	type row struct {
		cite
		Penetration int    `json:"penetration"`
		Grade       string `json:"grade"` // empty: it lies in a gap between grades
	}
	for _, c := range readCases[row](t, "nlgi.json") {
		t.Run(c.Case, func(t *testing.T) {
			found := ""
			for _, g := range nlgiGrades {
				if c.Penetration >= g.Low && c.Penetration <= g.High {
					found = g.Grade
				}
			}
			require.Equal(t, c.Grade, found)
		})
	}
}

func TestNLGIRoundTrip(t *testing.T) {
	for _, g := range nlgiGrades {
		again, err := ParseNLGI(g.String())
		require.NoError(t, err)
		require.Equal(t, g, again)
		require.Equal(t, 30, g.High-g.Low, "every grade is 30 wide; a page that prints 185 to 115 for grade 6 has a slip")
	}
	for _, in := range []string{"7", "NLGI", "lithium", "", "0000"} {
		_, err := ParseNLGI(in)
		require.Error(t, err, in)
	}
}

func TestGreaseMixingPublished(t *testing.T) {
	type row struct {
		cite
		A      string        `json:"a"`
		B      string        `json:"b"`
		Mixing mixingOutcome `json:"mixing"`
	}
	for _, c := range readCases[row](t, "grease_mixing.json") {
		t.Run(c.Case, func(t *testing.T) {
			m, _, ok := mixGreases(c.A, c.B)
			require.True(t, ok)
			require.Equal(t, c.Mixing, m)
		})
	}
}

func TestGreaseMixingIsSymmetricAndCautious(t *testing.T) {
	for _, a := range thickeners {
		for _, b := range thickeners {
			ab, _, _ := mixGreases(a, b)
			ba, _, _ := mixGreases(b, a)
			require.Equal(t, ab, ba, "%s with %s", a, b)
			if ab != compatible {
				require.Contains(t, MixingAdvice(a, b), "clean out fully")
			} else {
				require.Contains(t, MixingAdvice(a, b), "purging")
			}
		}
	}
	require.Contains(t, MixingAdvice("lithium", "who knows"), "clean out fully")
	_, _, ok := mixGreases("lithium", "")
	require.False(t, ok)
}
