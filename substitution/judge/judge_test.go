package judge

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestLine(t *testing.T) {
	for _, test := range []struct {
		name, question string
		answer         Answer
		says           string // in why, differences or measure
	}{
		{"a pair", `{"id":"1","kind":"pair","a":{"family":"chain","spec":{"speeds":"9"}},"b":{"family":"cassette","spec":{"speeds":[8,9]}}}`, Fits, "9-speed chain"},
		{"turned round", `{"id":"1","kind":"pair","b":{"family":"chain","spec":{"speeds":"9"}},"a":{"family":"cassette","spec":{"speeds":9}}}`, Fits, "9-speed chain"},
		{"values in the trade's spelling", `{"id":"1","kind":"pair","a":{"family":"hub","spec":{"axle":"12 x 142","oln_mm":"142mm","position":"rear"}},"b":{"family":"frame","spec":{"axle":"12X142","oln_mm":142}}}`, Fits, "12x142"},
		{"no rule", `{"id":"1","kind":"pair","a":{"family":"grip","spec":{}},"b":{"family":"chain","spec":{}}}`, NoRule, "no rule"},
		{"in the stead of another", `{"id":"1","kind":"instead","a":{"family":"tyre","spec":{"bead_mm":622,"width_mm":28}},"b":{"family":"tyre","spec":{"bead_mm":630,"width_mm":28}}}`, No, "630 mm"},
		{"and a colour", `{"id":"1","kind":"instead","a":{"family":"bolt","spec":{"thread":"M5","length_mm":16,"colour":"black"}},"b":{"family":"bolt","spec":{"thread":"M5x0.8","length_mm":16,"colour":"silver"}}}`, Difference, "silver in place of black"},
		{"beside what the bike has", `{"id":"1","kind":"instead","a":{"family":"tyre","spec":{"bead_mm":622,"width_mm":28}},"b":{"family":"tyre","spec":{"bead_mm":622,"width_mm":40}},"place":"rear.tyre","bike":{"frame":{"family":"frame","spec":{"tyre_max_mm":32}},"rear.rim":{"family":"rim","spec":{"bead_mm":622,"inner_width_mm":19}}}}`, No, "40 mm"},
		{"at a place", `{"id":"1","kind":"place","place":"seatpost","b":{"family":"seatpost","spec":{"diameter_mm":"27,0","length_mm":350}},"bike":{"frame":{"family":"frame","spec":{"seatpost_mm":"27.2"}}}}`, No, "27 mm"},
		{"nobody knows", `{"id":"1","kind":"place","place":"seatpost","b":{"family":"seatpost","spec":{"diameter_mm":27.2,"length_mm":350}},"bike":{"frame":{}}}`, CantTell, "seatpost_mm of the frame"},
		{"another family", `{"id":"1","kind":"instead","a":{"family":"freewheel","spec":{}},"b":{"family":"cassette","spec":{}}}`, No, "a cassette cannot stand in for a freewheel"},

		{"no JSON", `{"id":"1",`, Refused, "it is no JSON"},
		{"no object", `[1]`, Refused, "a question is an object"},
		{"no kind", `{"id":"1","a":{"family":"chain"},"b":{"family":"chain"}}`, Refused, "kind is one of pair, instead, place, not nothing"},
		{"another kind", `{"id":"1","kind":"banana"}`, Refused, `not "banana"`},
		{"no part", `{"id":"1","kind":"pair","a":{"family":"chain"}}`, Refused, "b is missing"},
		{"no such family", `{"id":"1","kind":"pair","a":{"family":"chian"},"b":{"family":"chain"}}`, Refused, `a: there is no part family "chian"`},
		{"no such place", `{"id":"1","kind":"place","b":{"family":"cassette"},"place":"rear.casette"}`, Refused, "rear.cassette"},
		{"no place", `{"id":"1","kind":"place","b":{"family":"cassette"}}`, Refused, "place is missing"},
		{"a part of another place", `{"id":"1","kind":"place","b":{"family":"chain"},"place":"rear.cassette"}`, Refused, "takes a cassette, not a chain"},
		{"no such dimension", `{"id":"1","kind":"pair","a":{"family":"chain","spec":{"wobble":1}},"b":{"family":"chain"}}`, Refused, `a chain has no dimension "wobble"`},
		{"no such word", `{"id":"1","kind":"pair","a":{"family":"hub","spec":{"axle":"banana"}},"b":{"family":"chain"}}`, Refused, "axle"},
		{"a wrong unit", `{"id":"1","kind":"pair","a":{"family":"seatpost","spec":{"diameter_mm":"27.2kg"}},"b":{"family":"chain"}}`, Refused, "diameter_mm"},
		{"a list for a number", `{"id":"1","kind":"pair","a":{"family":"chainring","spec":{"teeth":[50,34]}},"b":{"family":"chain"}}`, Refused, "teeth is a whole number"},
		{"two values for one", `{"id":"1","kind":"pair","a":{"family":"chainring","spec":{"teeth":50,"teeth":34}},"b":{"family":"chain"}}`, Refused, "teeth is given twice"},
		{"a bike that is none", `{"id":"1","kind":"pair","a":{"family":"chain"},"b":{"family":"chain"},"bike":7}`, Refused, "bike is an object"},
		{"a bike's part in a wrong place", `{"id":"1","kind":"pair","a":{"family":"chain"},"b":{"family":"chain"},"bike":{"rear.rim":{"family":"chain"}}}`, Refused, "bike: the rear rim takes a rim"},
	} {
		t.Run(test.name, func(t *testing.T) {
			r := Line([]byte(test.question))
			require.Equal(t, test.answer, r.Answer, r)
			require.Contains(t, strings.Join(append(append(r.Why, r.Differences...), r.Measure...), "\n"), test.says)
			if strings.Contains(test.question, `"id":"1"`) && test.name != "no JSON" {
				require.Equal(t, `"1"`, string(r.ID))
			}
			written, err := json.Marshal(r)
			require.NoError(t, err)
			var back map[string]any
			require.NoError(t, json.Unmarshal(written, &back))
			require.Len(t, back, 5, "no list is left out")
			for _, list := range []string{"differences", "measure", "why"} {
				require.NotNil(t, back[list])
			}
			for _, why := range r.Why {
				require.NotContains(t, why, "\n")
			}
		})
	}
}

// A question's name comes back as it was, whatever it is.
func TestNames(t *testing.T) {
	for _, id := range []string{`"a1"`, `7`, `null`, `"ä\"\\"`} {
		r := Line(fmt.Appendf(nil, `{"id":%s,"kind":"pair","a":{"family":"grip"},"b":{"family":"grip"}}`, id))
		require.JSONEq(t, id, string(r.ID))
	}
}

// Whatever a line holds, it gets one answer that can be written.
func FuzzLine(f *testing.F) {
	for _, seed := range []string{
		`{"id":"1","kind":"pair","a":{"family":"chain","spec":{"speeds":"9"}},"b":{"family":"cassette","spec":{"speeds":[8,9]}}}`,
		`{"id":2,"kind":"place","place":"rear.tyre","b":{"family":"tyre","spec":{"bead_mm":622}},"bike":{"rear.rim":{}}}`,
		`{`, `null`, "{\"id\":\"\x0f\"}", `{"id":1.}`, `"x"`, `{"id":{},"kind":"instead"}`,
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, line []byte) {
		r := Line(line)
		require.NotEmpty(t, r.Answer)
		if r.Answer == Refused || r.Answer == No || r.Answer == NoRule {
			require.NotEmpty(t, r.Why)
		}
		_, err := json.Marshal(r)
		require.NoError(t, err)
	})
}
