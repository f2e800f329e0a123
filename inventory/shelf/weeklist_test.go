package shelf

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// What waits dearest comes first: a brake hose seldom asked for before the tube that is asked for each week, where the
// shop says what a wait costs it; else what is likeliest to be missed.
func TestTheDearestWaitComesFirst(t *testing.T) {
	lines := []WeekLine{
		{Name: "tape", Risk: 0.1},
		{Name: "tube", Risk: 0.3, regret: 1.2},
		{Name: "hose", Risk: 0.05, regret: 4},
		{Name: "cable", Risk: 0.2},
	}
	slices.SortStableFunc(lines, dearer)
	var names []string
	for _, l := range lines {
		names = append(names, l.Name)
	}
	require.Equal(t, []string{"hose", "tube", "cable", "tape"}, names)
}
