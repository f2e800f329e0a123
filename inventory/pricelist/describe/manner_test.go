package describe_test

import (
	"bufio"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
	"stead/substitution"
)

// TestMannersOfWriting writes each line as other wholesalers would, in capitals or without, without accents or with an
// e for the umlaut, with other marks between its fields, behind an article's number: it says the same.
func TestMannersOfWriting(t *testing.T) {
	t.Parallel()
	plain := strings.NewReplacer("é", "e", "è", "e", "ê", "e", "à", "a", "â", "a", "ä", "a", "ö", "o", "ü", "u", "ô", "o", "î", "i", "ï", "i", "û", "u", "ç", "c",
		"ß", "ss", "É", "E", "ë", "e", "Ä", "A", "Ö", "O", "Ü", "U", "À", "A")
	umlaut := strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss", "Ä", "AE", "Ö", "OE", "Ü", "UE")
	manners := map[string]func(string) string{
		"capitals":      strings.ToUpper,
		"small letters": strings.ToLower,
		"no accents":    plain.Replace,
		"e for umlaut":  umlaut.Replace,
		"semicolons":    func(s string) string { return strings.ReplaceAll(s, ", ", ";") },
		"two blanks":    func(s string) string { return strings.ReplaceAll(s, " ", "  ") },
	}
	for _, line := range languageLines(t) {
		want := describe.Read(line)
		for name, write := range manners {
			got := describe.Read(write(line))
			assert.Equal(t, want.Family, got.Family, "%s: %s", name, write(line))
			assert.True(t, sameSpec(want.Spec, got.Spec), "%s: %s: %v, not %v", name, write(line), got.Spec, want.Spec)
		}
		if behind := describe.Read("ZK-4471 " + line); want.Family != "" && behind.Family != "" {
			assert.Equal(t, want.Family, behind.Family, "behind an article's number: %s", line)
		}
	}
}

// sameSpec reports whether two specs say the same. A pad's shape is kept as it was written.
func sameSpec(a, b substitution.Spec) bool {
	if len(a) != len(b) {
		return false
	}
	for name, fact := range a {
		if other, ok := b[name]; !ok || !fact.Value.Equal(other.Value) && !strings.EqualFold(fact.Value.String(), other.Value.String()) {
			return false
		}
	}
	return true
}

// languageLines are the descriptions of all languages' truth files.
func languageLines(t *testing.T) []string {
	var out []string
	for _, l := range languages {
		files, err := filepath.Glob("../../../testdata/pricelist/truth-" + l.file + "-*.jsonl")
		require.NoError(t, err)
		for _, file := range files {
			f, err := os.Open(file)
			require.NoError(t, err)
			for lines := bufio.NewScanner(f); lines.Scan(); {
				var line truth
				require.NoError(t, json.Unmarshal(lines.Bytes(), &line))
				out = append(out, line.Text)
			}
			require.NoError(t, f.Close())
		}
	}
	require.Greater(t, len(out), 2000)
	return out
}
