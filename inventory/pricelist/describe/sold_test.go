package describe_test

import (
	"bufio"
	"encoding/json"
	"io/fs"
	"path"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution"
	"stead/testdata/pricelist"
)

const leastLanguages = 3 // in which a family stands in wholesalers' lines whose truth is known

// Every family that is sold stands in wholesalers' lines of several languages, so that its words are tried.
func TestEveryFamilyStandsInTheLists(t *testing.T) {
	t.Parallel()
	names, err := fs.Glob(pricelist.Files, "truth-??-*.jsonl")
	require.NoError(t, err)
	languages := map[substitution.Family]map[string]bool{}
	for _, name := range names {
		file, err := pricelist.Files.Open(name)
		require.NoError(t, err)
		lines := bufio.NewScanner(file)
		lines.Buffer(nil, 1<<20)
		for lines.Scan() {
			var line struct{ Family substitution.Family }
			require.NoError(t, json.Unmarshal(lines.Bytes(), &line), name)
			if languages[line.Family] == nil {
				languages[line.Family] = map[string]bool{}
			}
			languages[line.Family][path.Base(name)[len("truth-"):len("truth-")+2]] = true
		}
		require.NoError(t, lines.Err())
		require.NoError(t, file.Close())
	}
	for _, family := range substitution.Families() {
		table, err := substitution.TableOf(family)
		require.NoError(t, err)
		if !table.NeverSold {
			require.GreaterOrEqual(t, len(languages[family]), leastLanguages, "%s: lines of how a list names it", family)
		}
	}
}
