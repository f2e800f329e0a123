package describe_test

import (
	"bufio"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
)

// TestNamesOfParts reads what mechanics and wholesalers call each part in five languages, with no more beside the name
// than a list has. A line of a table is a family, or none, and its names with strokes between them.
func TestNamesOfParts(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../../../testdata/pricelist/names-*.txt")
	require.NoError(t, err)
	require.Len(t, files, 5)
	for _, file := range files {
		f, err := os.Open(file)
		require.NoError(t, err)
		n := 0
		for lines := bufio.NewScanner(f); lines.Scan(); {
			family, names, ok := strings.Cut(lines.Text(), ": ")
			require.True(t, ok, lines.Text())
			for name := range strings.SplitSeq(names, "|") {
				n++
				got := describe.Read(name)
				if family == "none" {
					assert.Empty(t, got.Family, name)
					assert.NotEmpty(t, got.Other, name)
					continue
				}
				assert.Equal(t, family, string(got.Family), name)
			}
		}
		require.NoError(t, f.Close())
		require.Greater(t, n, 300, file)
	}
}

// TestNoneOfOurParts reads what lists sell beside parts, in five languages: tools, kits, whole wheels and brakes, bags,
// locks, clothes.
func TestNoneOfOurParts(t *testing.T) {
	t.Parallel()
	f, err := os.Open("../../../testdata/pricelist/none.txt")
	require.NoError(t, err)
	defer f.Close()
	n := 0
	for lines := bufio.NewScanner(f); lines.Scan(); n++ {
		assert.Empty(t, describe.Read(lines.Text()).Family, lines.Text())
	}
	require.Greater(t, n, 200)
}
