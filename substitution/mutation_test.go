package substitution_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution"
	"stead/substitution/judge"
)

// worked is an example whose whole answer is known: a case of the rules' own, or a question of testdata/fit.
type worked struct {
	name     string
	families []substitution.Family
	ask      func(family substitution.Family, unknown string) string
}

// answerOf is all that a verdict says apart from its words: whether it fits, what differs, what is brought and asked for.
func answerOf(v substitution.Verdict) string {
	var text strings.Builder
	fmt.Fprint(&text, v.Fits)
	for _, f := range v.Deviations() {
		fmt.Fprint(&text, "; ", f.Rule.Severity)
	}
	for _, b := range v.Brings() {
		fmt.Fprint(&text, "; ", b)
	}
	if v.Fits == substitution.CantTell {
		for _, m := range v.Missing() {
			fmt.Fprint(&text, "; ", m.Place, " ", m.Dimension)
		}
	}
	for _, f := range v.Untold() {
		fmt.Fprint(&text, "; untold ", f.Rule.Severity)
	}
	return text.String()
}

func workedExamples(t *testing.T) []worked {
	var all []worked
	cases, err := substitution.Cases()
	require.NoError(t, err)
	for _, table := range substitution.Families() {
		for _, c := range cases[table] {
			one := worked{name: c.Name}
			for _, build := range []map[substitution.Place]string{c.Bike, c.New} {
				for place := range build {
					site, err := substitution.SiteOf(place)
					require.NoError(t, err)
					one.families = append(one.families, site.Family)
				}
			}
			one.ask = func(family substitution.Family, unknown string) string {
				v, err := c.Whole(family, unknown)
				require.NoError(t, err)
				return answerOf(v)
			}
			all = append(all, one)
		}
	}
	files, err := filepath.Glob("../testdata/fit/*.jsonl")
	require.NoError(t, err)
	var lines [][]byte
	for _, path := range files {
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		lines = append(lines, bytes.Split(bytes.TrimSpace(text), []byte("\n"))...)
	}
	for _, line := range lines {
		q, err := judge.Read(line)
		if err != nil {
			continue // one that is to be refused
		}
		one := worked{name: q.ID}
		parts := []*substitution.Part{q.A, q.B}
		for _, p := range q.Bike {
			parts = append(parts, p)
		}
		for _, p := range parts {
			if p != nil {
				one.families = append(one.families, p.Family)
			}
		}
		one.ask = func(family substitution.Family, unknown string) string {
			q, err := judge.Read(line)
			require.NoError(t, err)
			parts := []*substitution.Part{q.A, q.B}
			for _, p := range q.Bike {
				parts = append(parts, p)
			}
			for _, p := range parts {
				if p != nil && p.Family == family {
					delete(p.Spec, unknown)
				}
			}
			r := q.Answer()
			text, err := json.Marshal([]any{r.Answer, len(r.Differences), r.Measure})
			require.NoError(t, err)
			return string(text)
		}
		all = append(all, one)
	}
	return all
}

// fails tells whether an example of the family answers otherwise while something is changed.
func fails(all []worked, before []string, near func(worked) bool, family substitution.Family, unknown string) bool {
	for i, w := range all {
		if near(w) && w.ask(family, unknown) != before[i] {
			return true
		}
	}
	return false
}

// Each rule taken out in turn makes a worked example answer otherwise: none is there for nothing, and none can be lost
// unseen. So does each dimension that a rule reads, when nobody knows it any more.
func TestEveryRuleAndDimensionIsMissedByAnExample(t *testing.T) {
	all := workedExamples(t)
	before := make([]string, len(all))
	for i, w := range all {
		before[i] = w.ask("", "")
	}
	var survivors []string
	rules := substitution.Rules()
	for _, rule := range rules {
		near := func(w worked) bool { return slices.Contains(w.families, rule.Family()) }
		substitution.Without(rule, func() {
			if !fails(all, before, near, "", "") {
				survivors = append(survivors, "rule "+rule.ID)
			}
		})
	}
	dimensions := 0
	for _, family := range substitution.Families() {
		table, err := substitution.TableOf(family)
		require.NoError(t, err)
		for _, d := range table.Dimensions {
			if !slices.ContainsFunc(rules, func(r *substitution.Rule) bool { return r.Decides(family, d.Name) }) {
				continue
			}
			dimensions++
			near := func(w worked) bool { return slices.Contains(w.families, family) }
			if !fails(all, before, near, family, d.Name) {
				survivors = append(survivors, fmt.Sprintf("dimension %s of a %s", d.Name, family))
			}
		}
	}
	t.Logf("%d rules and %d dimensions taken out in turn, against %d worked examples; survivors: %d", len(rules), dimensions, len(all), len(survivors))
	require.Empty(t, survivors)
}
