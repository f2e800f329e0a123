package judge

import (
	"bufio"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// pair is a question with the answer that the trade gives to it, and on whose authority.
type pair struct {
	ID       string `json:"id"`
	Expected string `json:"expected"`
	Source   string `json:"source"`
	Sure     string `json:"sure"`
	A        struct{ Family string }
	B        struct{ Family string }
	line     []byte
}

func pairs(t *testing.T) []pair {
	file, err := os.Open("../../testdata/fit/pairs.jsonl")
	require.NoError(t, err)
	defer file.Close()
	var all []pair
	seen := map[string]bool{}
	for lines := bufio.NewScanner(file); lines.Scan(); {
		one := pair{line: slices.Clone(lines.Bytes())}
		require.NoError(t, json.Unmarshal(one.line, &one))
		require.False(t, seen[one.ID], "%s stands twice", one.ID)
		require.NotEmpty(t, one.Source, one.ID)
		require.NotEmpty(t, one.Sure, one.ID)
		require.Contains(t, []string{Fits, Difference, No, CantTell, NoRule, Refused}, one.Expected, one.ID)
		seen[one.ID] = true
		all = append(all, one)
	}
	return all
}

// The faults that an answer can have, gravest first.
const (
	right       = "right"
	falseFit    = "false fit"
	unfounded   = "fits where nobody can tell"
	falseBreak  = "false break"
	needless    = "needless can't-tell"
	unasked     = "no rule asked, or a question refused"
	differently = "a difference more or less"
)

func faultOf(expected, got string) string {
	fits := func(answer string) bool { return answer == Fits || answer == Difference }
	switch {
	case expected == got:
		return right
	case fits(got) && fits(expected):
		return differently
	case fits(got) && expected == CantTell:
		return unfounded
	case fits(got):
		return falseFit
	case got == No:
		return falseBreak
	case got == CantTell:
		return needless
	}
	return unasked
}

// doubted are pairs that the program answers otherwise than the trade, each with its reason.
var doubted = map[string]string{
	"a disc-only rim for one with a track, the brakes not known":   "the rule answers no: a bare rim under pads is a failed brake, and nobody looked",
	"12 mm more stack, the spacers not known":                      "the rule answers no from 10 mm on: few steerers have so many spacers left",
	"a ring without bolts on a crankset of which a circle is told": "the rule asks whether the crankset has a direct mount as well",
	"a 7-speed set on a body of 31 mm":                             "the rule brings the spacer of the longer body",
}

// The trade's answers to worked pairs from every family: no false and no unfounded fit, at most one break in fifty that is
// none, at most one can't-tell in twenty for no need.
func TestWorkedPairs(t *testing.T) {
	all := pairs(t)
	require.GreaterOrEqual(t, len(all), 300)
	counts := map[string]int{}
	byFamily := map[string]map[string]int{}
	breaks := 0
	for _, p := range all {
		r := Line(p.line)
		fault := faultOf(p.Expected, r.Answer)
		counts[fault]++
		if p.Expected == No {
			breaks++
		}
		family := p.A.Family
		if family == "" {
			family = p.B.Family
		}
		if byFamily[family] == nil {
			byFamily[family] = map[string]int{}
		}
		byFamily[family][fault]++
		if fault != right {
			t.Logf("%s: %s: expected %s (%s), got %s: %s", p.ID, fault, p.Expected, p.Source, r.Answer, strings.Join(append(r.Why, r.Differences...), "; "))
		}
	}
	for _, family := range slices.Sorted(maps.Keys(byFamily)) {
		of, wrong := 0, ""
		for fault, n := range byFamily[family] {
			if of += n; fault != right {
				wrong += fmt.Sprintf("  %s %d", fault, n)
			}
		}
		t.Logf("%-18s %3d of %3d right%s", family, byFamily[family][right], of, wrong)
	}
	t.Logf("%d pairs, %d of them breaks: %v", len(all), breaks, counts)
	for what, why := range doubted {
		t.Logf("doubted: %s: %s", what, why)
	}
	require.GreaterOrEqual(t, 3*breaks, len(all), "a third of them break")
	require.Zero(t, counts[falseFit])
	require.Zero(t, counts[unfounded])
	require.LessOrEqual(t, 50*counts[falseBreak], len(all))
	require.LessOrEqual(t, 20*counts[needless], len(all))
	require.Zero(t, counts[unasked])
	require.LessOrEqual(t, len(all)-counts[right], len(doubted), "what remains is listed with its reason")
}
