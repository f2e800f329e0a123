package note_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution/inspection/note"
)

// TestCauses reads sentences of each cause for which something was once read wrongly: all that they say, and no more.
func TestCauses(t *testing.T) {
	for _, e := range examples(t, "causes.txt") {
		t.Run(e.class, func(t *testing.T) {
			r := note.Read(e.text, e.record)
			require.ElementsMatch(t, e.claims, claimsOf(r), "%s", e.text)
			if e.handed {
				require.NotEmpty(t, r.Unread, "%s", e.text)
			}
		})
	}
}
