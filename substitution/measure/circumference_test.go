package measure

import (
	"bufio"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// 47 circumferences that a chip maker's open-source cycling library publishes, with the size that each is of: the true bead
// seat is among the answers, and a wrong one never stands alone.
func TestTyresOfPublishedCircumferences(t *testing.T) {
	file, err := os.Open("../../testdata/standard/tyre_circumferences.txt")
	require.NoError(t, err)
	defer file.Close()
	asked, among, wrongAlone, first := 0, 0, 0, 0
	for lines := bufio.NewScanner(file); lines.Scan(); {
		text := lines.Text()
		if text == "" || strings.HasPrefix(text, "#") {
			continue
		}
		round, size, ok := strings.Cut(text, " ")
		require.True(t, ok, text)
		mm, err := strconv.ParseFloat(round, 64)
		require.NoError(t, err)
		width, _, _ := strings.Cut(size, "-")
		wide, err := strconv.ParseFloat(width, 64)
		require.NoError(t, err)
		result, err := Tyre{Round: Tape(mm), Width: Caliper(wide)}.Identify()
		require.NoError(t, err)
		asked++
		names := matchNames(result.Matches)
		right := false
		for _, name := range names {
			right = right || name == size
		}
		if right {
			among++
		} else {
			t.Logf("%s: not among %v", text, names)
		}
		if right && names[0] == size {
			first++
		}
		if !right && len(names) == 1 {
			wrongAlone++
		}
		require.NotEmpty(t, result.Next)
	}
	t.Logf("%d published: the true bead among the answers %d times, first of them %d times, a wrong one alone %d times", asked, among, first, wrongAlone)
	require.Equal(t, 47, asked)
	require.GreaterOrEqual(t, among, 45)
	require.Zero(t, wrongAlone)
}
