package pages_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"
)

// A word that a note hands back is given a meaning, and the next note is read with it.
func TestAWordIsGivenItsMeaning(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	note := "/jobs/104/note?said=donk+is+clarty"
	require.Contains(t, v.get(note).text, "Nothing that can be kept")

	page := v.get("/words")
	wrong := page.form("tell").send(v, "word", "donk", "meaning", "clunk of a thing")
	require.Equal(t, http.StatusUnprocessableEntity, wrong.status)
	require.Equal(t, "donk", wrong.form("tell").values.Get("word"), "what was typed is kept")

	require.Contains(t, page.form("tell").send(v, "word", "Donk", "meaning", "bottom-bracket").text, "bottom bracket")
	require.Contains(t, v.get("/words").form("tell").send(v, "word", "clarty", "meaning", "gritty").text, "clarty")
	require.Contains(t, v.get(note).text, "feel rough")
}
