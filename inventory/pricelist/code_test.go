package pricelist

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// What lists write where they have no code is none, so that it joins no two things.
func TestWhatIsNoCode(t *testing.T) {
	t.Parallel()
	for _, cell := range []string{"", "N/A", "n/a", "N.A.", "NA", "-", "--", "–", "0", "000000", "0.00", ".", "?", "TBA", "tbc", "None", "NULL", "#N/A", "#REF!", "#NAME?",
		"#VALUE!", "#DIV/0!", "unknown", "Various", "xxx", "XXXX", "99999999", "no code", "keine", "n.v.t.", "*", "(none)"} {
		require.False(t, isCode(cell), cell)
	}
	for _, cell := range []string{"R110-50", "1", "10", "A", "XX", "11", "X100", "NA-4471", "0815", "TBA-12", "4-0", "None-34"} {
		require.True(t, isCode(cell), cell)
	}
}
