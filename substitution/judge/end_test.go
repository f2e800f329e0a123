package judge

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A question that names the parts of one end asks of that end alone; what only one end has names none.
func TestAsksOfTheNamedEnd(t *testing.T) {
	t.Parallel()
	for bike, want := range map[string]string{
		`{"rear.rim": {"family": "rim", "spec": {"bead_mm": "622"}}}`:                                                                    "rear",
		`{"front.rim": {"family": "rim", "spec": {"bead_mm": "622"}}}`:                                                                   "front",
		`{"rear.cassette": {"family": "cassette", "spec": {"speeds": "9"}}, "front.rim": {"family": "rim", "spec": {"bead_mm": "622"}}}`: "front",
	} {
		r := Line([]byte(`{"kind": "instead", "a": {"family": "tyre", "spec": {"bead_mm": "622", "width_mm": "28"}},
			"b": {"family": "tyre", "spec": {"bead_mm": "622", "width_mm": "32"}}, "bike": ` + bike + "}"))
		require.Equal(t, CantTell, r.Answer)
		require.Contains(t, strings.Join(r.Measure, "; "), "of the "+want+" rim")
		require.NotContains(t, strings.Join(r.Measure, "; "), map[string]string{"rear": "of the fork", "front": "of the frame"}[want])
	}
}
