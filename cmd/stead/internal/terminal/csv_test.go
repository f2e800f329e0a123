package terminal

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	_ "stead/testdata/drawn" // the same values in every run
)

// A cell that a spreadsheet would run is written as text; every other cell stays as it is.
func TestSafeCells(t *testing.T) {
	t.Parallel()
	for cell, want := range map[string]string{
		"=HYPERLINK(\"x\")": "'=HYPERLINK(\"x\")", "+44 1632": "'+44 1632", "-1+1": "'-1+1", "@SUM(A1)": "'@SUM(A1)", "\t=1": "'\t=1", "\r=1": "'\r=1", "＝1": "'＝1",
		"-12.50": "-12.50", "+7": "+7", "-": "'-", "CHAIN": "CHAIN", "": "", "5-BOLT": "5-BOLT",
	} {
		require.Equal(t, want, safeCell(cell))
	}
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.String().Draw(t, "cell")
		var b bytes.Buffer
		w, err := NewCSV(&b)
		require.NoError(t, err)
		require.NoError(t, w.Write(cell, "x"))
		require.NoError(t, w.Close())
		got, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(b.String(), "\ufeff"))).Read()
		require.NoError(t, err)
		if s := got[0]; s != "" && strings.ContainsAny(s[:1], "=+-@") {
			require.True(t, isNumber(s[1:]), "%q would be run", s)
		}
	})
}
