package terminal

import (
	"encoding/json"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestVisible(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"plain":              {"Kettenöl ½\" Ø\n\tgrün", "Kettenöl ½\" Ø\n\tgrün"},
		"a colour":           {"\x1b[31mred\x1b[0m", `\u001b[31mred\u001b[0m`},
		"a bell and a back":  {"a\a\b\r", `a\u0007\u0008\u000d`},
		"a C1 control":       {"\u009b2J", `\u009b2J`},
		"direction override": {"chain\u202egnir\u202c", `chain\u202egnir\u202c`},
		"isolate":            {"\u2067x\u2069", `\u2067x\u2069`},
		"hidden tag":         {"a\U000e0041", `a\udb40\udc41`},
		"joiners stay":       {"👩\u200d🔧", "👩\u200d🔧"},
	} {
		t.Run(name, func(t *testing.T) {
			require.Equal(t, c.want, Visible(c.text))
			var in, out string
			quoted, err := json.Marshal(c.text)
			require.NoError(t, err)
			require.NoError(t, json.Unmarshal(quoted, &in))
			require.NoError(t, json.Unmarshal([]byte(Visible(string(quoted))), &out), "JSON stays JSON")
			require.Equal(t, in, out, "and says the same")
		})
	}
}

// Whatever is written, in whatever pieces, nothing that a terminal obeys comes through.
func TestWriterIsTheLastWall(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var out strings.Builder
		w := NewWriter(&out)
		for _, piece := range rapid.SliceOf(rapid.SliceOf(rapid.Byte())).Draw(t, "pieces") {
			n, err := w.Write(piece)
			require.NoError(t, err)
			require.Equal(t, len(piece), n)
		}
		for _, r := range out.String() {
			require.False(t, r != '\n' && r != '\t' && (unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r)), "%U", r)
		}
		text := rapid.String().Draw(t, "text")
		out.Reset()
		w = NewWriter(&out)
		cut := rapid.IntRange(0, len(text)).Draw(t, "cut")
		_, _ = w.Write([]byte(text[:cut]))
		_, _ = w.Write([]byte(text[cut:]))
		require.Equal(t, Visible(text), out.String(), "a letter in two pieces")
	})
}

func TestTableShowsWhatIsInItsCells(t *testing.T) {
	var out strings.Builder
	Table(&out, []string{"PART", "FROM"}, [][]string{{"ring\x1b[2J", "harbour"}})
	require.Equal(t, "PART           FROM\nring\\u001b[2J  harbour\n", out.String())
	require.Equal(t, `  a\u202eb`, Wrap("  ", "a\u202eb"))
}
