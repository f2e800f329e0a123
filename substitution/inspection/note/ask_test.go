package note_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution/inspection/note"
)

// What is understood and handed back leaves a question, in the note's own words.
func TestQuestionsAreAsked(t *testing.T) {
	for _, tc := range []struct{ text, words, question string }{
		{"headset a bit loose", "headset a bit loose", "slight or marked play?"},
		{"Rear hub's got play.", "Rear hub's got play", "slight or marked play?"},
		{"Front wheel is true", "Front wheel is true", "how many mm does the rim run out?"},
		{"cassette worn", "cassette worn", "are its teeth hooked?"},
		{"The rear tyre is a bit worn.", "The rear tyre is a bit worn", "worn down to its mark?"},
		{"chain badly worn", "chain badly worn", "how worn, in per cent?"},
		{"Both wheels need truing.", "Both wheels need truing", "how many mm does the rim run out?"},
	} {
		r := note.Read(tc.text, nil)
		require.Equal(t, []note.Ask{{Words: tc.words, Question: tc.question}}, r.Asks, "%s", tc.text)
		require.Empty(t, r.Findings, "%s", tc.text)
	}
}
