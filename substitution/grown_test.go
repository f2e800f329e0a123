package substitution

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A new family is one file and its cases. Whatever it lacks is said here in one sentence.
func TestEveryFamilyIsWhole(t *testing.T) {
	files, err := filepath.Glob("family_*.go")
	require.NoError(t, err)
	var source strings.Builder
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		source.Write(text)
	}
	all, err := Cases()
	require.NoError(t, err)
	for _, table := range tables {
		lacks := lacking(table, source.String(), all[table.Family])
		require.Empty(t, lacks, "the family %s lacks %s", table.Family, strings.Join(lacks, ", "))
	}
}

func lacking(table *Table, source string, cases []Case) []string {
	var lacks []string
	lack := func(what string, missing bool) {
		if missing {
			lacks = append(lacks, what)
		}
	}
	lack("a file family_*.go of its own or its group's", !strings.Contains(source, `Family: "`+string(table.Family)+`"`) && !strings.Contains(source, `bottled("`+string(table.Family)+`"`) && !strings.Contains(source, `byMakersNumber("`+string(table.Family)+`"`))
	lack("a plural", table.Plural == "")
	lack("a place where it sits", len(table.Sites) == 0)
	for _, site := range table.Sites {
		lack("words for "+string(site.Place), site.Words == "")
	}
	lack("dimensions", len(table.Dimensions) == 0)
	for _, d := range table.Dimensions {
		lack("how to measure "+d.Name, d.Measure == "")
		lack("what "+d.Name+" means", d.Means == "")
		bounded := d.Form == Word || d.Form == Flag || d.High > d.Low
		lack("bounds for "+d.Name, !bounded)
	}
	lack("rules", len(table.Rules) == 0 && !table.NeverSold)
	lack("cases/"+string(table.Family)+".json", len(table.Rules) > 0 && len(cases) == 0)
	for _, r := range table.Rules {
		lack("a source for "+r.ID, r.Source.Text == "")
		custom, code := r.Test.(Custom)
		lack("for "+r.ID+" either the conditions that narrow a search or the word that none follow", code && (custom.Narrow == nil) == !custom.Geometry)
	}
	return lacks
}

// How rules are put and on whose word they stand, printed for whoever keeps them.
func TestCountOfRules(t *testing.T) {
	kinds, code, sure := map[string]int{}, 0, map[string]int{}
	for _, r := range Rules() {
		kinds[r.Severity.String()]++
		sure[r.Source.Confidence.String()]++
		if _, custom := r.Test.(Custom); custom && r.Severity.Stops() {
			code++
		}
	}
	t.Logf("%d families, %d rules %v, of those that stop a part %d in code; sources %v", len(tables), len(Rules()), kinds, code, sure)
	require.LessOrEqual(t, code, 27, "a rule that a table, a limit or a match can put is no code")
}
