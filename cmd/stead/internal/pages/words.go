package pages

import (
	"context"
	"fmt"
	"maps"
	"slices"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/pricing"
	"stead/substitution"
	"stead/substitution/inspection/note"
)

// wordsPage is what the shop's own words mean that are said at the bench.
type wordsPage struct{ Words []benchWord }

// benchWord is a word with its meaning, as it is said.
type benchWord struct{ Word, Means string }

func showWords(v *visit) (string, any, error) {
	words, err := pricing.NoteWords(v.ctx, v.db())
	if err != nil {
		return "", nil, err
	}
	var p wordsPage
	for _, word := range slices.Sorted(maps.Keys(words)) {
		p.Words = append(p.Words, benchWord{word, meaningWords(words[word])})
	}
	return "The shop’s words at the bench", p, nil
}

// meaningWords says a place by its name, and that a word is passed over.
func meaningWords(meaning string) string {
	if site, err := substitution.SiteOf(substitution.Place(meaning)); err == nil {
		return desk.SiteWords(site.Place)
	}
	if meaning == "ignore" {
		return "nothing: it is passed over"
	}
	return meaning
}

// tellWord keeps what a word means at the bench.
func tellWord(v *visit, t *typed) (string, error) {
	word := t.needed("word", "give the word that was handed back")
	meaning := t.needed("meaning", "say what it means: a place, such as bottom-bracket, words that are known, such as gritty, or ignore")
	if word != "" && meaning != "" {
		_, err := note.NewReader(note.Words{word: meaning})
		t.take("meaning", err)
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done("/words", fmt.Sprintf("%s means %s", word, meaningWords(meaning)), v.do("said what "+word+" means at the bench", func(ctx context.Context, tx pgx.Tx, _ string) error {
		return pricing.TellNoteWord(ctx, tx, word, meaning, v.now)
	}))
}
