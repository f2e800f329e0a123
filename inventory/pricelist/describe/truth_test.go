package describe_test

import (
	"bufio"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
	"stead/substitution"
)

// wrong prints every line of the tuning set that is read otherwise than it should be. The held-out set never prints a line.
var wrong = flag.Bool("wrong", false, "print the lines of the tuning set that are read wrongly")

// truth is one line of a truth file: an invented description and what it says.
type truth struct {
	Text   string                        `json:"text"`
	Family *substitution.Family          `json:"family"`
	Spec   map[string]substitution.Value `json:"spec"`
}

// since are the dimensions, and the family, that came into the vocabulary after the truth was written down. Where it is
// silent on them the reader may speak: TestNewerDimensions holds it to them.
var since = map[string]bool{
	"roller": true, "lockring": true, "offset_mm": true, "chainline_mm": true, "pads": true, "fluid": true, "hose": true, "kind": true, "pistons": true, "shape": true,
	"head": true, "brake_track": true, "valve_hole_mm": true, "depth_mm": true, "setback_mm": true, "rails": true, "rise_mm": true, "reach_mm": true, "drop_mm": true,
	"cleat": true, "strength": true, "rows": true, "full_complement": true,
}

var familiesSince = map[substitution.Family]bool{"brake-lever": true, "bleed-kit": true, "seal-kit": true, "headset-spacer": true, "brake-adapter": true}

// score counts what a set of descriptions came to.
type score struct {
	lines, wrongFamily           int
	inText, right, wrong, missed int

	rightFamily int // lines whose family is the one meant, or rightly none
	takenFor    int // tools, kits and other things taken for a part
}

func (s score) precision() float64 { return float64(s.right) / float64(s.right+s.wrong) }
func (s score) recall() float64    { return float64(s.right) / float64(s.inText) }

// The bar that the price-list work set itself: a wrong dimension is far worse than a missing one.
const (
	leastPrecision = 0.995
	leastRecall    = 0.95
	mostWrong      = 0.005
)

func TestTruth(t *testing.T) {
	t.Parallel()
	for _, set := range []string{"tuning", "held"} {
		t.Run(set, func(t *testing.T) {
			files, err := filepath.Glob("../../../testdata/pricelist/truth-" + set + "-*.jsonl")
			require.NoError(t, err)
			require.Len(t, files, 5, "one file for each of five invented wholesalers")
			var all score
			for _, file := range files {
				s := scoreFile(t, file, set == "tuning" && *wrong, since)
				t.Logf("%s: %d lines, precision %.4f, recall %.4f, wrong family %d", filepath.Base(file), s.lines, s.precision(), s.recall(), s.wrongFamily)
				all = score{lines: all.lines + s.lines, wrongFamily: all.wrongFamily + s.wrongFamily,
					inText: all.inText + s.inText, right: all.right + s.right, wrong: all.wrong + s.wrong, missed: all.missed + s.missed}
			}
			t.Logf("%s: %d lines, %d dimensions in the text: precision %.4f (%d wrong), recall %.4f (%d missed), wrong family %.4f (%d)",
				set, all.lines, all.inText, all.precision(), all.wrong, all.recall(), all.missed, float64(all.wrongFamily)/float64(all.lines), all.wrongFamily)
			require.GreaterOrEqual(t, all.lines, 300)
			require.GreaterOrEqual(t, all.precision(), leastPrecision)
			require.GreaterOrEqual(t, all.recall(), leastRecall)
			require.Less(t, float64(all.wrongFamily)/float64(all.lines), mostWrong)
		})
	}
}

// scoreFile reads every description of a file and compares. A family that is wrongly named, or named where there is
// none, is a wrong family; one that is not named where there is one costs recall. Of the dimensions that are younger
// than the file, the file says nothing.
func scoreFile(t *testing.T, file string, show bool, younger map[string]bool) score {
	f, err := os.Open(file)
	require.NoError(t, err)
	defer f.Close()
	var s score
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		var want truth
		require.NoError(t, json.Unmarshal(lines.Bytes(), &want))
		got := describe.Read(want.Text)
		s.lines++
		family := substitution.Family("")
		if want.Family != nil {
			family = *want.Family
		}
		before := s
		if family == "" && len(younger) > 0 && familiesSince[got.Family] {
			continue
		}
		if got.Family != family && got.Family != "" {
			s.wrongFamily++
		}
		switch {
		case got.Family == family:
			s.rightFamily++
		case family == "":
			s.takenFor++
		}
		s.inText += len(want.Spec)
		for name, v := range want.Spec {
			fact, ok := got.Spec[name]
			switch {
			case !ok:
				s.missed++
			case same(fact.Value, v):
				s.right++
			default:
				s.wrong++
			}
		}
		for name := range got.Spec {
			if _, ok := want.Spec[name]; !ok && !younger[name] {
				s.wrong++
			}
		}
		if show && (s.wrong != before.wrong || s.missed != before.missed || got.Family != family) {
			line, err := json.Marshal(got)
			require.NoError(t, err)
			t.Logf("want %s\n       got  %s", lines.Text(), line)
		}
	}
	require.NoError(t, lines.Err())
	return s
}

// same compares values; a list read from JSON is already a list.
func same(a, b substitution.Value) bool { return a.Equal(b) }
