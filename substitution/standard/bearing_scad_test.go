package standard

import (
	"os"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// The small ISO sizes against a table that somebody else typed: bearing.scad of Debian's openscad-mcad, read where the
// package is installed. Its widths are those of closed bearings. On a desk without it the test says why it does
// nothing; in CI (STEAD_CI=1) the package must be there.
func TestISOSizesAgainstDebianTable(t *testing.T) {
	const path = "/usr/share/openscad/libraries/MCAD/bearing.scad"
	text, err := os.ReadFile(path)
	if os.IsNotExist(err) && os.Getenv("STEAD_CI") != "1" {
		t.Skipf("%s is not here: apt-get install openscad-mcad compares 41 bearing sizes with an independent table", path)
	}
	require.NoError(t, err, "CI needs the Debian package openscad-mcad")

	row := regexp.MustCompile(`model == (\d+) \? \[([\d.]+)\*mm, +([\d.]+)\*mm, +([\d.]+)\*mm\]`)
	rows := row.FindAllStringSubmatch(string(text), -1)
	require.Len(t, rows, 41, "the table has grown or changed its form: look at it")
	for _, r := range rows {
		var mm [3]float64
		for i := range mm {
			mm[i], err = strconv.ParseFloat(r[i+2], 64)
			require.NoError(t, err)
		}
		require.NoError(t, checkBearing(r[1]+"-2RS", mm[0], mm[1], mm[2]))
		size, ok := BearingByName(r[1])
		require.True(t, ok)
		require.Equal(t, mm[2], size.ClosedMM, "%s closed", r[1])
	}
}
