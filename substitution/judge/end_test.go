package judge

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const (
	tyre28   = `{"family": "tyre", "spec": {"bead_mm": "622", "width_mm": "28"}}`
	tyre32   = `{"family": "tyre", "spec": {"bead_mm": "622", "width_mm": "32"}}`
	rim622   = `{"family": "rim", "spec": {"bead_mm": "622", "inner_width_mm": "19"}}`
	tube28   = `{"family": "tube", "spec": {"bead_mm": "622", "width_min_mm": "28", "width_max_mm": "47", "valve": "presta", "valve_mm": "48"}}`
	pads     = `{"family": "disc-pad", "spec": {}}`
	padsS1   = `{"family": "disc-pad", "spec": {"pad_shape": "s1"}}`
	takesS1  = `{"family": "brake-caliper", "spec": {"pad_shape": "s1"}}`
	takesS2  = `{"family": "brake-caliper", "spec": {"pad_shape": "s2"}}`
	rotor160 = `{"family": "disc-rotor", "spec": {"rotor_mm": "160"}}`
	sixBolt  = `{"family": "disc-rotor", "spec": {"rotor_mm": "160", "rotor_mount": "6-bolt"}}`
	hub6Bolt = `{"family": "hub", "spec": {"rotor_mount": "6-bolt"}}`
)

func asked(kind, a, b, more string) Reply {
	return Line([]byte(`{"kind": "` + kind + `", "a": ` + a + `, "b": ` + b + `, ` + more + `}`))
}

// A question that names the parts of one end asks of that end alone; what only one end has names none.
func TestAsksOfTheNamedEnd(t *testing.T) {
	t.Parallel()
	for bike, want := range map[string]string{
		`{"rear.rim": {"family": "rim", "spec": {"bead_mm": "622"}}}`:                                                                    "rear",
		`{"front.rim": {"family": "rim", "spec": {"bead_mm": "622"}}}`:                                                                   "front",
		`{"rear.cassette": {"family": "cassette", "spec": {"speeds": "9"}}, "front.rim": {"family": "rim", "spec": {"bead_mm": "622"}}}`: "front",
	} {
		r := asked("instead", tyre28, tyre32, `"bike": `+bike)
		require.Equal(t, CantTell, r.Answer)
		require.Contains(t, strings.Join(r.Measure, "; "), "of the "+want+" rim")
		require.NotContains(t, strings.Join(r.Measure, "; "), map[string]string{"rear": "of the fork", "front": "of the frame"}[want])
	}
}

// One end answers for the question only where nothing speaks against the old part having sat there, and nothing that is known of
// the other end is wrong. By arithmetic and by what the questions say: no source beside it is needed.
func TestOneEndAnswersOnlyWhereItIsMeant(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		a, b, bike string
		want       Answer
	}{
		"the record is of the rear":                            {pads, padsS1, `{"rear.caliper": ` + takesS1 + `}`, Fits},
		"the front is on record, and nothing known of it":      {pads, padsS1, `{"rear.caliper": ` + takesS1 + `, "front.caliper": {}}`, CantTell},
		"the rear is on record, and nothing known of it":       {pads, padsS1, `{"front.caliper": ` + takesS1 + `, "rear.caliper": null}`, CantTell},
		"each end takes another":                               {pads, padsS1, `{"front.caliper": ` + takesS1 + `, "rear.caliper": ` + takesS2 + `}`, No},
		"both ends take it":                                    {pads, padsS1, `{"front.caliper": ` + takesS1 + `, "rear.caliper": ` + takesS1 + `}`, Fits},
		"the rear tyre is too wide for the tube":               {`{"family": "tube", "spec": {}}`, tube28, `{"front.tyre": ` + tyre32 + `, "rear.tyre": {"family": "tyre", "spec": {"bead_mm": "622", "width_mm": "60"}}}`, No},
		"a tyre of another size has not sat on that rim":       {`{"family": "tyre", "spec": {"bead_mm": "559", "width_mm": "28"}}`, tyre28, `{"rear.rim": ` + rim622 + `}`, No},
		"the frame is known to be too narrow":                  {tyre28, tyre32, `{"front.rim": ` + rim622 + `, "frame": {"family": "frame", "spec": {"tyre_max_mm": "28"}}, "fork": {"family": "fork", "spec": {"tyre_max_mm": "45"}}}`, No},
		"the front rotor is the old one":                       {rotor160, sixBolt, `{"front.hub": ` + hub6Bolt + `, "front.rotor": ` + rotor160 + `}`, Fits},
		"the front rotor is another, so the rear one is meant": {rotor160, sixBolt, `{"front.hub": ` + hub6Bolt + `, "front.rotor": {"family": "disc-rotor", "spec": {"rotor_mm": "180"}}}`, CantTell},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := asked("instead", c.a, c.b, `"bike": `+c.bike)
			require.Equal(t, c.want, r.Answer, "%v %v", r.Why, r.Measure)
		})
	}
}

// A pair is judged at the place or the end that its question names.
func TestAPairAtTheNamedEnd(t *testing.T) {
	t.Parallel()
	frontHub, rim := `{"family": "hub", "spec": {"holes": "32", "position": "front"}}`, `{"family": "rim", "spec": {"holes": "32"}}`
	fork := `{"family": "fork", "spec": {"tyre_max_mm": "45"}}`
	for name, c := range map[string]struct {
		a, b, more string
		want       Answer
		why        string
	}{
		"a place behind":                      {tyre28, rim622, `"place": "rear.tyre"`, Fits, "rear tyre width 28 mm on a rim 19 mm wide"},
		"the place of another part":           {tyre28, rim622, `"place": "rear.hub"`, Fits, "rear tyre width 28 mm on a rim 19 mm wide"},
		"a bike of which the rear is known":   {tyre28, rim622, `"bike": {"rear.hub": {}}`, Fits, "rear tyre width 28 mm on a rim 19 mm wide"},
		"a place in front":                    {tyre28, rim622, `"place": "front.rim"`, Fits, "front tyre width 28 mm on a rim 19 mm wide"},
		"a front hub behind":                  {frontHub, rim, `"place": "rear.hub"`, No, "made as front"},
		"a front hub, the rear on record":     {frontHub, rim, `"bike": {"rear.rotor": {}}`, Fits, "front hub spoke holes 32"},
		"a rear tyre meets no fork":           {tyre28, fork, `"place": "rear.tyre"`, NoRule, "no rule"},
		"a fork and a tyre, the rear on file": {tyre28, fork, `"bike": {"rear.hub": {}}`, Fits, "front tyre width 28 mm"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := asked("pair", c.a, c.b, c.more)
			require.Equal(t, c.want, r.Answer)
			require.Contains(t, strings.Join(r.Why, "; "), c.why)
		})
	}
}
