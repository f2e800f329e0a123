package substitution

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

const leastCases = 8 // a family

// unpublished are families whose fit nobody has published anything about.
var unpublished = map[Family]bool{"bar-tape": true, "grip": true, "lubricant": true, "cleaner": true, "handlebar": true}

// onlyAsk are rules that hold or ask, because no dimension in a catalogue could prove a misfit.
var onlyAsk = map[string]bool{"hub-cone.track": true, "seatpost.length": true}

var sureness = []Confidence{Standard, Catalogue, Handbook, Practice, Arithmetic}

func TestCases(t *testing.T) {
	all, err := Cases()
	require.NoError(t, err)
	total, published := 0, 0
	for _, table := range tables {
		if len(table.Rules) == 0 {
			continue
		}
		cases := all[table.Family]
		least := leastCases
		if unpublished[table.Family] {
			least = 2 * len(table.Rules)
		}
		require.GreaterOrEqual(t, len(cases), least, "cases of %s", table.Family)
		total += len(cases)
		for _, c := range cases {
			t.Run(string(table.Family)+"/"+c.Name, func(t *testing.T) { tryCase(t, table.Family, c) })
		}
		sourced := len(slices.DeleteFunc(slices.Clone(cases), func(c Case) bool { return c.Sure == Practice.String() }))
		published += sourced
		t.Logf("%-18s %3d cases, %3d of them published, %2d rules", table.Family, len(cases), sourced, len(table.Rules))
	}
	t.Logf("%-18s %3d cases, %3d of them published", "all families", total, published)
}

func tryCase(t *testing.T, family Family, c Case) {
	require.NotEmpty(t, c.Source)
	require.Contains(t, fmt.Sprint(sureness), c.Sure)
	require.NotEmpty(t, c.Sure)
	f, err := c.Try()
	require.NoError(t, err)
	require.Equal(t, family, f.Rule.Family())
	require.Equal(t, c.Answer, f.Answer.String(), "%s: %s", c.Rule, f.Words)
	require.Contains(t, f.Words, c.Says)
	var brings []string
	for _, b := range f.Brings {
		brings = append(brings, b.Words)
		_, err := Part{Family: b.Family, Spec: b.Spec}.Check()
		require.NoError(t, err, "what it brings must be a part of the vocabulary")
	}
	require.Equal(t, c.Brings, brings)
}

// Every rule has an example that holds and one that breaks.
func TestEveryRuleHasExamples(t *testing.T) {
	for _, rule := range Rules() {
		t.Run(rule.ID, func(t *testing.T) {
			examples, err := ExamplesOf(rule)
			require.NoError(t, err)
			answers := map[string]int{}
			for _, c := range examples {
				answers[c.Answer]++
			}
			require.Positive(t, answers[Holds.String()], "no example that holds")
			if onlyAsk[rule.ID] {
				require.Positive(t, answers[CantTell.String()], "no example that asks")
				return
			}
			require.Positive(t, answers[Breaks.String()], "no example that breaks")
		})
	}
}

func TestRulesAreWellMade(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Rules() {
		require.False(t, seen[r.ID], "%s stands twice", r.ID)
		seen[r.ID] = true
		_, err := TableOf(r.Family())
		require.NoError(t, err, r.ID)
		require.NotEmpty(t, r.Says, r.ID)
		require.NotEmpty(t, r.Source.Text, r.ID)
		require.NotEmpty(t, r.Source.String()+r.Severity.String(), r.ID)
		for _, in := range Instances(r.Places()...) {
			for _, ref := range in.Reads() {
				site, err := SiteOf(ref.Place)
				require.NoError(t, err, "%s reads %s", in.Rule().ID, ref.Place)
				if ref.Dimension == "" {
					continue
				}
				table, err := TableOf(site.Family)
				require.NoError(t, err)
				_, ok := table.Dimension(ref.Dimension)
				require.True(t, ok, "%s reads %s of %s", in.Rule().ID, ref.Dimension, ref.Place)
			}
		}
	}
}
