package describe

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution"
)

// Every dimension that a grammar gives stands in its family's table, with the same form: there is one vocabulary.
func TestGrammarsKeepToTheVocabulary(t *testing.T) {
	t.Parallel()
	for family, g := range grammars() {
		if g.of != "" {
			family = g.of
		}
		table, err := substitution.TableOf(family)
		require.NoError(t, err)
		for i := range g.slots {
			d, ok := table.Dimension(g.slots[i].dim)
			require.True(t, ok, "%s has no %s", family, g.slots[i].dim)
			require.Equal(t, d.Form, g.slots[i].form, "%s: %s", family, g.slots[i].dim)
		}
	}
}
