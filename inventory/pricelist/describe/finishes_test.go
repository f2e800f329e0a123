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

// TestFinishesInEveryLanguage reads colours, materials and treatments of a handlebar as they are declined and cut in
// five languages. A line of the table is a value and what each language calls it. The words were written down before
// the reader was asked.
func TestFinishesInEveryLanguage(t *testing.T) {
	t.Parallel()
	f, err := os.Open("../../../testdata/pricelist/finishes.txt")
	require.NoError(t, err)
	defer f.Close()
	bars := []string{"handlebar 31.8 620mm ", "Lenker 31,8 620 mm ", "guidon 31,8 620 mm ", "stuur 31,8 620 mm ", "manubrio 31,8 620 mm "}
	n := 0
	for lines := bufio.NewScanner(f); lines.Scan(); {
		columns := strings.Split(lines.Text(), "; ")
		require.Len(t, columns, 6, lines.Text())
		dim, value, _ := strings.Cut(columns[0], "=")
		for k, words := range columns[1:] {
			for word := range strings.SplitSeq(words, "|") {
				n++
				got := describe.Read(bars[k] + word)
				assert.Equal(t, "handlebar", string(got.Family), got.Text)
				assert.Equal(t, value, got.Spec[dim].Value.String(), got.Text)
				assert.Len(t, got.Spec, 3, "%s: %v", got.Text, got.Spec)
			}
		}
	}
	require.Greater(t, n, 500)
}
