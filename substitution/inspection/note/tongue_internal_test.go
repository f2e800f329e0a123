package note

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestEveryMeaningIsKnown checks that what the phrases of other languages are written out in are words of the tables.
func TestEveryMeaningIsKnown(t *testing.T) {
	known := map[string]bool{"x": true, "the rest": true} // only beside figures, or before "is fine"
	for k, tongue := range tongues() {
		for _, s := range tongue.senses {
			if s == nil {
				continue
			}
			says := [][]token{tongue.says[s]}
			for _, w := range tongue.where[s] {
				says = append(says, w.says)
			}
			for _, ts := range says {
				if text := textOf(ts); !known[text] && !prepositions[text] && text != strangeWord {
					require.Zero(t, trade().strangeIn(ts), "%s: %q", languages[k], text)
				}
			}
		}
	}
}

// TestOursStaysOurs checks that no note of the sets in our own language is taken for one in another.
func TestOursStaysOurs(t *testing.T) {
	sets, err := filepath.Glob("../../../testdata/notes/*.txt")
	require.NoError(t, err)
	require.Greater(t, len(sets), 30)
	for _, set := range sets {
		if filepath.Base(set) == "languages.txt" {
			continue
		}
		data, err := os.ReadFile(set)
		require.NoError(t, err)
		for line := range strings.SplitSeq(string(data), "\n") {
			text, ok := strings.CutPrefix(line, "> ")
			if !ok {
				continue
			}
			ours := tokens(text)
			hear(ours)
			require.Equal(t, textOf(ours), textOf(trade().wordsOf(text)), "%s: %s", set, text)
		}
	}
}

// TestTongueFolds says how words are spelt without their accents, and that a plural keeps its umlaut.
func TestTongueFolds(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"Bremsbeläge verölt", "brake pads contaminated"},
		{"Bremsbelaege veroelt", "brake pads contaminated"},
		{"Bremsbelage verolt", "brake pads contaminated"},
		{"Mantel gerissen", "tyre cracked"},
		{"Mäntel gerissen", "tyres cracked"},
		{"siebenundzwanzig Zähne, Kette", "twenty seven teeth , chain"},
		{"l'axe est tordu", "the axle is bent"},
		{"la catena è dura e la gomma è tagliata", "the chain is stiff and the tyre is cut"},
		{"cassette op", "cassette knackered"},
		{"vet op de rem", "contaminated on the brake"},
	} {
		t.Run(c.text, func(t *testing.T) { require.Equal(t, c.want, textOf(trade().wordsOf(c.text))) })
	}
}

// TestFalseFriends checks that a word of another language is none of ours, though it be spelt like one.
func TestFalseFriends(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"Kette gut, Kassette tire not", "chain fine , cassette ¿ ¿"},
		{"catena fine, cassetta sole", "chain ¿ , cassette ¿"},           // "fine" is an end
		{"pneu coin, cassette pain, moyeu", "tyre ¿ , cassette ¿ , hub"}, // a corner, and bread
	} {
		t.Run(c.text, func(t *testing.T) { require.Equal(t, c.want, textOf(trade().wordsOf(c.text))) })
	}
}

// TestAnswersAreReadInEveryLanguage puts the answers to our questions, which are in our words, into notes in others.
func TestAnswersAreReadInEveryLanguage(t *testing.T) {
	for _, text := range []string{
		"Beläge vorne verölt", "garnitures de frein avant 1,2 mm", "remblokjes voor 1,2 mm, ketting goed",
		"corona con denti a uncino, catena a posto", "dirección con juego, cadena bien",
	} {
		t.Run(text, func(t *testing.T) {
			r := (&Reader{trade()}).ReadAsking(text, nil)
			require.NotEmpty(t, r.Asks)
			require.True(t, r.Asks[0].Says[0].Reads, "%+v", r.Asks[0])
		})
	}
}
