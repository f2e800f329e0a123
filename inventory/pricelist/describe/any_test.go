package describe

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/substitution"
	_ "stead/testdata/drawn" // the same values in every run
)

// Any of the trade's words in any order, with figures and marks between, before and behind them, can be read. A list has
// descriptions that break off, begin in the middle, or are a row of signs.
func TestAnyWordsCanBeRead(t *testing.T) {
	t.Parallel()
	words := slices.Sorted(func(yield func(string) bool) {
		for w := range base().ids {
			if !yield(w) {
				return
			}
		}
	})
	figures := []string{"0", "1", "2", "3", "5", "6", "9", "10", "11", "12", "14", "15", "16", "20", "24", "25.4", "26", "27.2", "27,5", "28", "1.37", "1.29", "32",
		"36", "45", "50", "68", "73", "100", "110", "1.1", "142", "144", "1,000", "622", "559", "700", "650", "6902", "61903", "0.0", "007", "99999999999999999999", "½"}
	marks := []string{"-", "/", "x", "X", ",", ";", ":", ".", "(", ")", "\"", "'", "+", "=", "#", "|", "&", "+/-", "°", "Ø", "×", "–", "£", "€", "*", "\x00", "\xff", "\u202e"}
	rapid.Check(t, func(t *rapid.T) {
		var text strings.Builder
		for range rapid.IntRange(1, 9).Draw(t, "pieces") {
			from := rapid.SampledFrom([][]string{words, words, figures, figures, marks}).Draw(t, "kind")
			text.WriteString(rapid.SampledFrom(from).Draw(t, "piece"))
			text.WriteString(rapid.SampledFrom([]string{"", " ", " "}).Draw(t, "gap"))
		}
		got := Read(text.String())
		require.NoError(t, got.Failed, "%q", text.String())
		if got.Family != "" {
			_, err := substitution.Part{Family: got.Family, Spec: got.Spec}.Check()
			require.NoError(t, err, "%q", text.String())
		}
	})
}

// Descriptions on which the reader broke once.
func TestDescriptionsThatBreakOff(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"CHAINRING 50T BCD -", "STEM 31.8 LENGTH -", "ball-", "C/RING BCD - ", "LENGTH -", "BORE:-", "HUB OLN =-"} {
		t.Run(text, func(t *testing.T) {
			t.Parallel()
			require.NoError(t, Read(text).Failed)
		})
	}
}

// Should the reader break all the same, it says so of the one description, which comes back unread, and reads the next.
func TestAFailureIsOfOneDescription(t *testing.T) {
	t.Parallel()
	broken := Reader{own: &lexicon{ids: map[string]int32{"krunk": 7}}} // a word that leads nowhere
	got := broken.Read("C/RING krunk 34T")
	require.ErrorContains(t, got.Failed, "C/RING krunk 34T")
	require.Equal(t, Reading{Text: "C/RING krunk 34T", Spec: substitution.Spec{}, Unread: []string{"C/RING krunk 34T"}, Failed: got.Failed}, got)
	require.Equal(t, substitution.Family("chainring"), broken.Read("C/RING 34T").Family)
}
