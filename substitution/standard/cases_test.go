package standard

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// cite is carried by every row of a case table: where the figure is published and how sure that is.
type cite struct {
	Case   string     `json:"case"`
	Source string     `json:"source"`
	Sure   Confidence `json:"sure"`
}

func (c cite) cited() cite { return c }

// readCases reads a table of published cases. A key that the test does not know is an error, so that a case cannot
// pass by being misspelt; so are a row without a source and a row from memory, which is no check.
func readCases[C interface{ cited() cite }](t *testing.T, name string) []C {
	t.Helper()
	file, err := os.Open(filepath.Join("..", "..", "testdata", "standard", name))
	require.NoError(t, err)
	defer file.Close()
	rows := json.NewDecoder(file)
	rows.DisallowUnknownFields()
	var cases []C
	require.NoError(t, rows.Decode(&cases), name)
	require.NotEmpty(t, cases)
	for _, c := range cases {
		require.NotEmpty(t, c.cited().Case, "%s: a row has no name", name)
		require.NotEmpty(t, c.cited().Source, "%s: %s has no source", name, c.cited().Case)
		require.True(t, c.cited().Sure.Firm(), "%s: %s is from memory and checks nothing", name, c.cited().Case)
	}
	t.Logf("%s: %d published cases", name, len(cases))
	return cases
}
