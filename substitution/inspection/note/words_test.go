package note

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution"
)

// A place that nobody can name at the bench is a place that no note reaches.
func TestEveryPlaceHasWords(t *testing.T) {
	named := filesOfPlaces(t)
	for _, site := range substitution.Sites() {
		require.NotEmpty(t, named[site.Place], "no note can name %s: write what a mechanic calls %s in the file of its family in words/", site.Place, site.Words)
	}
}

// What a family is called stands in one file, so that whoever adds to it has it all in sight.
func TestAFamilysWordsAreInOneFile(t *testing.T) {
	files := map[substitution.Family]map[string]bool{}
	for place, in := range filesOfPlaces(t) {
		site, err := substitution.SiteOf(place)
		require.NoError(t, err)
		for file := range in {
			if files[site.Family] == nil {
				files[site.Family] = map[string]bool{}
			}
			files[site.Family][file] = true
		}
	}
	for family, in := range files {
		require.Len(t, in, 1, "the words for %s stand in %s: keep them in one", family, slices.Sorted(maps.Keys(in)))
	}
}

// filesOfPlaces gives the files of words that name each place outright.
func filesOfPlaces(t *testing.T) map[substitution.Place]map[string]bool {
	out := map[substitution.Place]map[string]bool{}
	files, err := tables.ReadDir("words")
	require.NoError(t, err)
	for _, f := range files {
		text, err := tables.ReadFile("words/" + f.Name())
		require.NoError(t, err)
		for line := range strings.SplitSeq(string(text), "\n") {
			meaning, _, _ := strings.Cut(line, ": ")
			kind, rest, _ := strings.Cut(meaning, " ")
			if !slices.Contains([]string{"place", "places", "set"}, kind) {
				continue
			}
			h, err := newHead(kind, strings.Fields(rest))
			require.NoError(t, err)
			for _, p := range h.places {
				if out[p] == nil {
					out[p] = map[string]bool{}
				}
				out[p][f.Name()] = true
			}
		}
	}
	return out
}
