package note_test

import (
	"bytes"
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution"
	"stead/substitution/inspection/note"
)

// The twelve notes that the conventions explain are read word for word as they say: places, readings, facts, and the words
// that say each. How finely the unread is cut is free.
func TestWorkedNotesWordForWord(t *testing.T) {
	data, err := os.ReadFile("../../../testdata/notes/worked.jsonl")
	require.NoError(t, err)
	for line := range bytes.Lines(data) {
		var worked struct {
			Note   string
			Fitted []substitution.Place
			Answer struct {
				Findings, Fitted []map[string]any
				Unread           []string
			}
		}
		require.NoError(t, json.Unmarshal(line, &worked))
		record := substitution.Build{}
		for _, place := range worked.Fitted {
			record[place] = nil
		}
		r := note.Read(worked.Note, record)
		require.ElementsMatch(t, worked.Answer.Findings, plain(t, r.Findings), "%s", worked.Note)
		require.ElementsMatch(t, worked.Answer.Fitted, plain(t, r.Fitted), "%s", worked.Note)
		require.Equal(t, len(worked.Answer.Unread) > 0, len(r.Unread) > 0, "%s: unread %q", worked.Note, r.Unread)
	}
}

// plain is a list as its JSON says it.
func plain(t *testing.T, list any) (out []map[string]any) {
	text, err := json.Marshal(list)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &out))
	return out
}
