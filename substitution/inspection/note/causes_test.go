package note_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution/inspection/note"
)

// TestCauses reads sentences of each cause for which something was once read wrongly: all that they say, and no more.
func TestCauses(t *testing.T) { readsWhole(t, "causes.txt") }

// TestLanguages reads notes in German, French, Dutch, Italian and Spanish, all that they say, and no more.
func TestLanguages(t *testing.T) { readsWhole(t, "languages.txt") }

// readsWhole reads a file of notes of which every claim is read, and no other.
func readsWhole(t *testing.T, file string) {
	for _, e := range examples(t, file) {
		t.Run(e.class, func(t *testing.T) {
			r := note.Read(e.text, e.record)
			require.ElementsMatch(t, e.claims, claimsOf(r), "%s", e.text)
			if e.handed {
				require.NotEmpty(t, r.Unread, "%s", e.text)
			}
		})
	}
}
