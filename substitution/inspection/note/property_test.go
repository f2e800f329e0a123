package note_test

import (
	"regexp"
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

// everyNote calls a check with every note of every set and what is read of it.
func everyNote(t *testing.T, check func(e example, want []string)) {
	for _, set := range sets {
		for _, e := range examples(t, set+".txt") {
			check(e, claimsOf(note.Read(e.text, e.record)))
		}
	}
}

func TestCaseMeansNothing(t *testing.T) {
	everyNote(t, func(e example, want []string) {
		require.Equal(t, want, claimsOf(note.Read(strings.ToLower(e.text), e.record)), "%s", e.text)
		require.Equal(t, want, claimsOf(note.Read(strings.ToUpper(e.text), e.record)), "%s", e.text)
	})
}

// What ends a sentence may be any mark that does, on the keys or said aloud, and what stands before and after the note
// nothing.
func TestMarksMeanTheSame(t *testing.T) {
	stop := regexp.MustCompile(`([a-z])\. ([A-Z])`)
	everyNote(t, func(e example, want []string) {
		marks := []string{"$1! $2", "$1.  $2", "$1 . $2", "$1… $2", "$1 full stop $2"}
		marked := stop.ReplaceAllString(e.text, marks[len(e.text)%len(marks)]) // each note with one of them
		for _, text := range []string{marked, "  " + strings.TrimRight(e.text, ".") + "\n", strings.ReplaceAll(e.text, "'", "’")} {
			require.Equal(t, want, claimsOf(note.Read(text, e.record)), "%s", text)
		}
	})
}

func TestAmericanIsBritish(t *testing.T) {
	american := strings.NewReplacer("tyre", "tire", "Tyre", "Tire", "centre", "center", "grey", "gray", "colour", "color", "aluminium", "aluminum", "metre", "meter", "derailleur", "derailer")
	everyNote(t, func(e example, want []string) {
		text := american.Replace(e.text)
		require.Equal(t, want, claimsOf(note.Read(text, e.record)), "%s", text)
	})
}

// A sentence about another bike, a price or a plan changes nothing of any note, before it or after it.
func TestAsidesChangeNoNote(t *testing.T) {
	everyNote(t, func(e example, want []string) {
		asides := []string{"The other bike's chain is at point nine.", "Twenty-four pounds.", "He says the front tyre is cut.", "Order two chains."}
		for k, text := range []string{asides[len(e.text)%4] + " " + e.text, asides[len(e.text)/4%4] + " " + e.text, e.text + "\n" + asides[len(e.text)%4]} {
			require.Equal(t, want, claimsOf(note.Read(text, e.record)), "%d: %s", k, text)
		}
	})
}

// What a correction takes back is handed back, unless what is said instead of it is understood.
func TestNothingIsLostInACorrection(t *testing.T) {
	parts := []string{"rear hub", "headset", "chain", "front tyre", "stem", "rear brake cable", "pedals", "cassette", "left shifter", "rear rim"}
	says := []string{"rough", "has slight play", "at point six", "cut", "cracked", "frayed", "fine", "needs replacing", "notchy", "hooked", "adjust"}
	words := []string{"no", "sorry", "I mean", "no, make that", "correction", "or rather", "wait, no"}
	instead := []string{"marked", "slight", "point seven", "smooth", "cracked", "the stem", "front", "left", "gribbled", "the flange", "banana", "replace", "clean it", "perished", "bottom bracket rough"}
	small := []string{"the", "has", "at", "it", "needs"}
	rapid.Check(t, func(t *rapid.T) {
		said := rapid.SampledFrom(parts).Draw(t, "part") + " " + rapid.SampledFrom(says).Draw(t, "says")
		other := rapid.SampledFrom(instead).Draw(t, "instead")
		text := said + ", " + rapid.SampledFrom(words).Draw(t, "word") + ", " + other + ". Saddle torn."
		r := note.Read(text, nil)
		var claimed []string
		for _, f := range r.Findings {
			claimed = append(claimed, f.Words)
		}
		for _, f := range r.Fitted {
			claimed = append(claimed, f.Words)
		}
		kept, back := strings.Join(claimed, " "), strings.Join(r.Unread, " ")
		content := func(text string) []string {
			return slices.DeleteFunc(strings.Fields(text), func(w string) bool { return slices.Contains(small, w) })
		}
		understood := !slices.ContainsFunc(content(other), func(w string) bool { return !strings.Contains(kept, w) })
		for _, w := range append(content(said), content(other)...) {
			require.True(t, understood || strings.Contains(kept, w) || strings.Contains(back, w), "%q of %q: kept %q, handed back %q", w, text, kept, back)
		}
	})
}

// digits are number words that stand alone between other words, and the same in digits.
var digits = regexp.MustCompile(`\b(?:(?:nought|zero) )?point (one|two|three|four|five|six|seven|eight|nine)\b`)

func TestDigitsForWords(t *testing.T) {
	of := map[string]string{"one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8", "nine": "9"}
	more := regexp.MustCompile(`(?i)(one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|teen|ty|oh|nought|zero|hundred)[ -]$`)
	after := regexp.MustCompile(`(?i)^[ -](one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen|\w+ty|oh|nought|zero|hundred|or|to)\b`)
	everyNote(t, func(e example, want []string) {
		for _, at := range digits.FindAllStringSubmatchIndex(e.text, -1) {
			if more.MatchString(e.text[:at[0]]) || after.MatchString(e.text[at[1]:]) {
				continue // a part of a longer number
			}
			for _, before := range []string{"0.", "."} {
				text := e.text[:at[0]] + before + of[e.text[at[2]:at[3]]] + e.text[at[1]:]
				require.Equal(t, want, claimsOf(note.Read(text, e.record)), "%s", text)
			}
		}
	})
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
	everyNote(t, func(e example, _ []string) { standsIn(t, e.text, note.Read(e.text, e.record)) })
}

// Words of all the notes, thrown together, stop the reader nowhere: a fuzzer alone seldom says "sorry" in the right place.
func TestAnyWordsAreRead(t *testing.T) {
	var words []string
	everyNote(t, func(e example, _ []string) { words = append(words, strings.Fields(e.text)...) })
	record := substitution.Build{"rear.pads": nil, "front.pads": nil, "crank.ring": nil, "rear.hub.bearing-left": nil, "rear.hub.bearing-right": nil}
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom(words), 3, 40).Draw(t, "words"), " ")
		standsIn(t, text, note.Read(text, record))
	})
}

// goesOn are sentences that go on about what was named before.
var goesOn = []string{"they're fine", "they're shot", "it's fine", "replace them", "both rough", "the rear one is too", "same at the back", "no, the front", "sorry, cracked", "service it", "left one gritty", "all to be replaced", "the other way round"}

// Sentences of all the notes, put together and parted otherwise, stop the reader nowhere.
func TestAnySentencesAreRead(t *testing.T) {
	var said []string
	everyNote(t, func(e example, _ []string) {
		said = append(said, regexp.MustCompile(`[.!?\n;]\s*`).Split(strings.TrimSpace(e.text), -1)...)
	})
	record := substitution.Build{"rear.pads": nil, "front.rim-pads": nil, "crank.outer-ring": nil, "crank.inner-ring": nil, "rear.gear-cable": nil, "front.gear-cable": nil}
	rapid.Check(t, func(t *rapid.T) {
		joint := rapid.SampledFrom([]string{". ", ", ", " and ", " ", "; ", ", but "}).Draw(t, "joint")
		for range 20 {
			parts := append(rapid.SliceOfN(rapid.SampledFrom(said), 2, 5).Draw(t, "said"), rapid.SampledFrom(goesOn).Draw(t, "goes on"))
			text := strings.Join(parts, joint)
			standsIn(t, text, note.Read(text, record))
		}
	})
}

func FuzzRead(f *testing.F) {
	for _, e := range examples(f, "worked.txt") {
		f.Add(e.text)
	}
	f.Add("and chain the sound. sorry, cut, hooked, kinked, no tire and right cut six on, cracked.")
	f.Add("two spokes snapped in the back wheel, they measure 292 and 14 gauge") // a figure of what no part was named of
	f.Add("basket fine, frame lock sorry, a touch of play,")                     // a degree after a correction of nothing
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

// Fragments that break off after an article or before a mark are handed back; drawn notes found that the reader went on
// past them.
func TestFragmentsAreHandedBack(t *testing.T) {
	for _, text := range []string{"shifter left the chain's", "spokes drive side the hub's", "Cassette can wait till next time, Drivetrain - chain , they're fine"} {
		r := note.Read(text, nil)
		require.Empty(t, claimsOf(r), text)
		require.NotEmpty(t, r.Unread, text)
	}
}
