package pages

import (
	"os"
	"strings"
	"testing"

	"github.com/spf13/pflag"
	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/measuring"
	"stead/substitution"
)

// Where the jaws go follows from the words that say how: a few of each kind, as a mechanic holds the caliper (common
// practice, no source).
func TestWhereTheJawsGo(t *testing.T) {
	for how, want := range map[string]jaws{
		"outside diameter":        outside,
		"diameter of the hole":    inside,
		"width of the outer ring": outside,
		"between the hooks":       inside,
		"inside jaws of a caliper; below 10 mm they read low": inside,
		"caliper under the head":                              depth,
		"from a hole to its neighbour, centre to centre":      centres,
		"middle of a spoke hole to that opposite, caliper":    centres,
		"or a tape round the tread":                           tape,
		"inside faces of the dropouts, caliper or rule":       inside,
		"over the pins, outside":                              outside,
		"caliper from the rim's edge to its inner side":       depth,
		"outside faces of the locknuts, caliper":              outside,
		"end to end, with a tape":                             tape,
	} {
		require.Equal(t, want, jawsFor(how, true), how)
	}
	for _, how := range []string{"the frame maker's specification", "read the mark; a caliper cannot tell", "look: post, flat, is; for a rim brake its reach", "count them", "read the box", ""} {
		require.Equal(t, noJaws, jawsFor(how, false), how)
	}
}

// Every length that is asked for, and every dimension that a caliper finds out, is drawn.
func TestEveryLengthIsDrawn(t *testing.T) {
	drawn, err := os.ReadFile("templates/parts-jaws.html")
	require.NoError(t, err)
	requireDrawn := func(j jaws, of string) {
		require.NotEqual(t, noJaws, j, of)
		require.Contains(t, string(drawn), `id="j-`+string(j)+`"`, of)
		require.NotEmpty(t, j.Words(), of)
	}
	for _, s := range measuring.Subjects() {
		s.Flags.VisitAll(func(flag *pflag.Flag) {
			if flag.Value.Type() == "length" {
				requireDrawn(readingField(flag, "").Jaws, s.Name+" "+flag.Name)
			}
		})
	}
	for _, family := range substitution.Families() {
		table, err := substitution.TableOf(family)
		require.NoError(t, err)
		for _, d := range dimensionsOf(table, nil) {
			if how := d.Measure; strings.Contains(how, "caliper") && !strings.HasPrefix(how, "look") && !strings.Contains(how, "cannot tell") && strings.HasSuffix(d.Name, "_mm") {
				requireDrawn(dimensionField(&Form{}, d, "").Jaws, string(family)+" "+d.Name+": "+how)
			}
		}
	}
}
