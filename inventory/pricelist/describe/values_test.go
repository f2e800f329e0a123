package describe_test

import (
	"bufio"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
)

// TestValuesInEveryLanguage reads what each dimension that is a word may be, as a list says it in English, German,
// French, Dutch and Italian. A line of the table is a family and a value, then the descriptions of each language, which
// say both. The table was written before the words were looked at: of its 2,110 descriptions 1,500 were read at first.
func TestValuesInEveryLanguage(t *testing.T) {
	t.Parallel()
	f, err := os.Open("../../../testdata/pricelist/values.txt")
	require.NoError(t, err)
	defer f.Close()
	n := 0
	for lines := bufio.NewScanner(f); lines.Scan(); {
		columns := strings.Split(lines.Text(), "; ")
		require.Len(t, columns, 6, lines.Text())
		family, said, _ := strings.Cut(columns[0], " ")
		dim, value, _ := strings.Cut(said, "=")
		for _, language := range columns[1:] {
			for text := range strings.SplitSeq(language, "|") {
				n++
				got := describe.Read(text)
				if assert.Equal(t, family, string(got.Family), text) {
					assert.Equal(t, value, got.Spec[dim].Value.String(), "%s: %s", text, dim)
				}
			}
		}
	}
	require.Greater(t, n, 1000)
}
