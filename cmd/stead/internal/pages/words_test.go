package pages_test

import (
	"html"
	"net/http"
	"net/url"
	"regexp"
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

// What is handed back has a tap beside it: an answer to the question which part is meant, read with the rest of the note, or
// the place where somebody has looked.
func TestHandedBackIsAnsweredByATap(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	path := v.get("/book").form("book").send(v, "customer", "Nils Aaberg", "contact", "01632 960099", "bike", "old roadster").path
	note := v.get(path + "/note?said=" + url.QueryEscape("chain's at point nine; cassette worn; rear brake pads down to the line"))
	tap := func(words string) string {
		found := regexp.MustCompile(`href="([^"]*)">` + words + `<`).FindStringSubmatch(note.source)
		require.NotEmpty(t, found, "%s: %s", words, note.text)
		return html.UnescapeString(found[1])
	}
	require.Contains(t, v.get(tap("rear rim brake pads")).text, "rear rim brake pads: worn to its mark")
	require.Contains(t, v.get(tap("rear disc pads")).text, "What did you find at the rear brake pads?", "a disc pad has no line to be at")
	require.Contains(t, v.get(tap("cassette")).text, "What did you find at the cassette?")
}
