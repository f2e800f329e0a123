package note_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/substitution"
	"stead/substitution/inspection/note"
)

// sentences each name their part in full, so that their order means nothing.
var sentences = []string{
	"Chain at point nine.", "Front tyre has a split in it.", "Rear hub rough.", "Headset: marked play, smooth.", "Service the bottom bracket.",
	"Pedals OK.", "Rear brake cable frayed.", "Replace the bar tape.", "Stem cracked.", "Left shifter is broken.", "Front hub: smooth, no play.",
	"Rear tyre isn't cut.", "Cassette runs fine.", "Seatpost is 27.2.", "Chain has a stiff link.", "Rear rim worn past the groove.",
}

// asides say nothing of this bike.
var asides = []string{
	"The other bike's chain is at point nine.", "My own bike needs a new rear tyre.", "Twenty-four pounds.", "The headset is forty minutes.",
	"He says the front tyre is cut.", "New chain is £24.", "Could be the bottom bracket.", "Does he want new pedals?", "We'll do the stem next year.",
	"Rear tyre was replaced last month.", "If the rear rim is cracked replace it.", "Order two chains.", "Brake lever's bent.", "Chain whip's broken.",
}

func read(text string) []string {
	out := claimsOf(note.Read(text, nil))
	slices.Sort(out)
	return out
}

func some(t *rapid.T, from []string) []string {
	return rapid.SliceOfNDistinct(rapid.SampledFrom(from), 1, 6, rapid.ID[string]).Draw(t, "sentences")
}

func TestOrderOfSentencesMeansNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		said := some(t, sentences)
		turned := rapid.Permutation(said).Draw(t, "turned")
		require.Equal(t, read(strings.Join(said, " ")), read(strings.Join(turned, " ")))
	})
}

func TestAsidesChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		said := some(t, sentences)
		aside := rapid.SampledFrom(asides).Draw(t, "aside")
		at := rapid.IntRange(0, len(said)).Draw(t, "at")
		require.Equal(t, read(strings.Join(said, " ")), read(strings.Join(slices.Insert(slices.Clone(said), at, aside), " ")), "%s", aside)
	})
}

func TestCaseMeansNothing(t *testing.T) {
	for _, set := range []string{"worked.txt", "tuning.txt"} {
		for _, e := range examples(t, set) {
			want := claimsOf(note.Read(e.text, e.record))
			require.Equal(t, want, claimsOf(note.Read(strings.ToLower(e.text), e.record)), "%s", e.text)
			require.Equal(t, want, claimsOf(note.Read(strings.ToUpper(e.text), e.record)), "%s", e.text)
		}
	}
}

func TestSpellingsMeanTheSame(t *testing.T) {
	for _, pair := range [][2]string{
		{"rear tyre cut", "rear tire cut"},
		{"rear brake cable frayed", "rear break cable frayed"},
		{"pedals rough", "petals rough"},
		{"centre the front brake caliper", "center the front brake caliper"},
		{"rear derailleur slow", "rear derailer slow"},
		{"chain at point nine", "chain at 0.9"},
		{"chain at nought point seven five", "chain at .75"},
		{"chain three quarters of a percent", "chain 0.75%"},
		{"front rotor one point seven two", "front rotor 1.72 mm"},
		{"front rotor one eighty", "front rotor 180"},
		{"cassette is eleven twenty-eight", "cassette is 11-28"},
		{"seatpost twenty-seven two", "seatpost 27.2"},
		{"tyres are thirty-twos", "tyres are 32s"},
		{"rear hub nine quarter-inch a side", "rear hub 9 1/4\" a side"},
		{"bottom bracket sixty-eight by one thirteen", "bottom bracket 68x113"},
		{"front tyre seven hundred by twenty-eight", "front tyre 700x28"},
		{"rear tyre isn't cut", "rear tyre isnt cut"},
		{"rear tyre isn't cut", "rear tyre is not cut"},
	} {
		got := read(pair[0])
		require.NotEmpty(t, got, "%s", pair[0])
		require.Equal(t, got, read(pair[1]), "%s / %s", pair[0], pair[1])
	}
}

// A denial turns a reading and is never an action.
func TestDenialIsNoAction(t *testing.T) {
	parts := []string{"chain", "rear tyre", "front hub", "headset", "stem", "rear rim", "bar tape", "cassette", "bottom bracket"}
	said := []string{"shot", "worn out", "fine", "cracked", "rough", "needing replacing", "to be replaced", "finished", "OK", "hooked", "worn to the line", "loose"}
	rapid.Check(t, func(t *rapid.T) {
		part, what := rapid.SampledFrom(parts).Draw(t, "part"), rapid.SampledFrom(said).Draw(t, "said")
		not := rapid.SampledFrom([]string{"isn't", "is not", "not", "doesn't look", "is never"}).Draw(t, "not")
		for _, f := range note.Read(part+" "+not+" "+what, nil).Findings {
			require.Empty(t, f.Action, "%s %s %s", part, not, what)
		}
	})
}

// standsIn checks that every claim is shown by the note's own words.
func standsIn(t require.TestingT, text string, r note.Reading) {
	check := func(words string) {
		require.NotEmpty(t, words)
		for piece := range strings.SplitSeq(words, " … ") {
			require.Contains(t, text, piece)
		}
	}
	for _, f := range r.Findings {
		check(f.Words)
	}
	for _, f := range r.Fitted {
		check(f.Words)
	}
	for _, words := range r.Unread {
		require.Contains(t, text, words)
	}
}

func TestWordsStandInTheNote(t *testing.T) {
	for _, set := range []string{"worked.txt", "tuning.txt", "held-out.txt"} {
		for _, e := range examples(t, set) {
			standsIn(t, e.text, note.Read(e.text, e.record))
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, e := range examples(f, "worked.txt") {
		f.Add(e.text)
	}
	f.Add("1/2 3/0 0.0.0 ½ \x00 é’s ” – … ' - / and and no no 99999999999999999999 hundred hundred point point")
	record := substitution.Build{"rear.pads": nil, "crank.ring": nil, "rear.hub.bearing-left": nil}
	f.Fuzz(func(t *testing.T, text string) {
		r := note.Read(text, record)
		standsIn(t, text, r)
		require.Equal(t, r, note.Read(text, record))
		for _, c := range r.Findings {
			site, err := substitution.SiteOf(c.Place)
			require.NoError(t, err)
			_, err = c.Readings.Check(site.Family)
			require.NoError(t, err)
		}
	})
}
