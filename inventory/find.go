package inventory

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/jackc/pgx/v5/pgconn"

	"stead/substitution"
)

// Search says which parts to find. What is left empty does not matter.
type Search struct {
	Words  string // of the family, brand, maker's code and name, slightly misspelt too; or a GTIN, a maker's or a supplier's code
	Family substitution.Family
	Dims   map[string]substitution.Value // a list of counts must be among the part's own
	Limit  int                           // 50 if not positive
	// Typing says that somebody is still typing: what is begun is not looked for as if it were misspelt, which takes a
	// second in a large catalogue, and a word of one or two letters that no code begins with is waited for.
	Typing bool
}

const usualLimit = 50

// mostRanked is how many parts that have all words are put in order. A word that more have says too little.
const mostRanked = 1000

// lettersIndexed is the length from which on the index of words helps: it is one of three letters.
const lettersIndexed = 3

// FindParts finds parts: those that bear a code first, then those that have every word, and only without any such those
// spelt like it. Where looking for these takes too long it is a *[SpellingError].
func FindParts(ctx context.Context, db DB, s Search) ([]Part, error) {
	if s.Family != "" {
		if _, err := substitution.TableOf(s.Family); err != nil {
			return nil, err
		}
	}
	q := query{conditions: []string{stands}}
	if s.Family != "" {
		q.where(`part.family = ` + q.arg(s.Family))
	}
	if len(s.Dims) > 0 {
		q.where(`part.dims @> ` + q.arg(s.Dims))
	}
	words := strings.Fields(strings.ToLower(s.Words))
	if len(words) == 0 {
		return q.parts(ctx, db, `part.name, part.id`, s.Limit)
	}
	text := strings.Join(words, " ")

	coded := q.clone()
	coded.where(`part.id IN (` + bearers(coded.arg(text), coded.arg(gtinOf(text))) + `)`)
	if found, err := coded.parts(ctx, db, `part.name, part.id`, s.Limit); err != nil || len(found) > 0 {
		return found, err
	}

	if s.Typing && !slices.ContainsFunc(words, func(w string) bool { return utf8.RuneCountInString(w) >= lettersIndexed }) {
		return nil, nil
	}
	worded := q.clone()
	worded.atMost = mostRanked
	for _, w := range words {
		worded.where(`part.words LIKE ` + worded.arg(form(w)))
	}
	if found, err := worded.parts(ctx, db, `length(part.words), part.name, part.id`, s.Limit); err != nil || len(found) > 0 || s.Typing {
		return found, err
	}

	return q.spelt(ctx, db, text, s.Limit)
}

// alike is how like its words a part must be that is misspelt: one letter lost in "tarnhow" leaves 0.57 of it.
const alike = "0.5"

// spellTime bounds how long parts are looked for that are spelt like some words. How long it takes hangs on how many parts
// have some of the letters, which no index tells: 0.1 to 0.7 s in a million parts as a rule, but seconds for some words.
var spellTime = 1500 * time.Millisecond

// SpellingError says that no part has all of the words, and that it would take too long to look for what is spelt like them.
type SpellingError struct{ Words string }

func (e *SpellingError) Error() string {
	return fmt.Sprintf("no part has all of the words “%s”, and there are too many parts to look for what is spelt like them: mend the spelling, or give another word", e.Words)
}

// spelt finds the parts of which some words are spelt nearly like those of a text: first those that have every word or one
// spelt like it, in whatever order, then those of which a stretch is like the whole text. Where many are, not all are put in
// order. No question is begun, or lasts, after spellTime. Plans go by the index alone: without it a word that no part has is
// looked for in every part.
func (q *query) spelt(ctx context.Context, db DB, text string, limit int) ([]Part, error) {
	tx, err := db.Begin(ctx)
	if err != nil {
		return nil, fmt.Errorf("search the catalogue: %w", err)
	}
	defer tx.Rollback(context.WithoutCancel(ctx)) // it only reads; what was set is set back
	until := time.Now().Add(spellTime)
	var found []Part
	for _, near := range []func(*query, context.Context, DB, string, int) ([]Part, error){(*query).eachWordLike, (*query).stretchLike} {
		left := max(1, time.Until(until).Milliseconds()) // no bound at all is what 0 would mean
		for setting, value := range map[string]string{"pg_trgm.word_similarity_threshold": alike, "statement_timeout": fmt.Sprint(left), "enable_seqscan": "off"} {
			if _, err := tx.Exec(ctx, `SELECT set_config($1, $2, true)`, setting, value); err != nil {
				return nil, fmt.Errorf("search the catalogue: %w", err)
			}
		}
		found, err = near(q, ctx, tx, text, limit)
		if pg := (*pgconn.PgError)(nil); errors.As(err, &pg) && pg.Code == queryCancelled && ctx.Err() == nil {
			return nil, &SpellingError{text}
		}
		if err != nil || len(found) > 0 {
			break
		}
	}
	return found, err
}

// stretchLike finds the parts of whose words a stretch is like a whole text.
func (q *query) stretchLike(ctx context.Context, db DB, text string, limit int) ([]Part, error) {
	near := q.clone()
	near.atMost = mostRanked
	sign := near.arg(text)
	near.where(sign + ` <% part.words`)
	return near.parts(ctx, db, `word_similarity(`+sign+`, part.words) DESC, part.name, part.id`, limit)
}

// eachWordLike finds the parts that have each word of a text: as it stands; or, where no part has it so, with two letters
// exchanged; or one that is spelt like it. Those whose words are most like it come first.
func (q *query) eachWordLike(ctx context.Context, db DB, text string, limit int) ([]Part, error) {
	near := q.clone()
	near.atMost = mostRanked
	var misspelt bool
	var order []string // a sum of likenesses
	for _, w := range strings.Fields(text) {
		mended, err := mend(ctx, db, w)
		if err != nil {
			return nil, fmt.Errorf("search the catalogue: %w", err)
		}
		misspelt = misspelt || mended != w
		if mended != "" {
			near.where(`part.words LIKE ` + near.arg(form(mended)))
			continue
		}
		sign := near.arg(w)
		near.where(sign + ` <% part.words`)
		order = append(order, `word_similarity(`+sign+`, part.words)`)
	}
	if !misspelt { // what has all of them was looked for before
		return nil, nil
	}
	nearest := `length(part.words), part.name, part.id`
	if len(order) > 0 {
		nearest = strings.Join(order, ` + `) + ` DESC, ` + nearest
	}
	return near.parts(ctx, db, nearest, limit)
}

// mend gives a word that some part has: the word itself, or it with two neighbouring letters exchanged, "chain" for "chian",
// which leaves too little of a short word for its letters to be like. It gives none where neither is in the catalogue.
func mend(ctx context.Context, db DB, word string) (string, error) {
	if !canBeMisspelt(word) {
		return word, nil
	}
	letters := []rune(word)
	for i := range min(len(letters), mostExchanged) {
		tried := slices.Clone(letters)
		if i > 0 {
			tried[i-1], tried[i] = letters[i], letters[i-1]
		}
		var known bool
		if err := db.QueryRow(ctx, `SELECT EXISTS (SELECT FROM part WHERE part.words LIKE $1)`, form(string(tried))).Scan(&known); err != nil || known {
			return string(tried), err
		}
	}
	return "", nil
}

// mostExchanged bounds how many of a word's letters are tried the other way round.
const mostExchanged = 16

// canBeMisspelt is true of what is a word: a figure, or a code that holds one, is right or another.
func canBeMisspelt(word string) bool {
	return utf8.RuneCountInString(word) >= lettersIndexed && !strings.ContainsFunc(word, unicode.IsDigit)
}

// form is the pattern by which LIKE finds a word within others.
func form(word string) string { return "%" + literal.Replace(word) + "%" }

const queryCancelled = "57014"

// literal takes the meaning from LIKE's own signs.
var literal = strings.NewReplacer(`\`, `\\`, `%`, `\%`, `_`, `\_`)

// PartNamed is the one part that bears a number, GTIN, maker's, supplier's or given code; one that has become one with
// another is that other. None is an *[UnknownError] with the nearest names; several are an error that lists them.
func PartNamed(ctx context.Context, db DB, name string) (Part, error) {
	name = strings.TrimSpace(name)
	number, err := strconv.ParseInt(name, 10, 64)
	if err != nil {
		number = 0 // no part's
	}
	found, err := Collect(ctx, db, partReader(), `
		SELECT `+partColumns+` FROM part WHERE id IN (
			SELECT COALESCE(merged_into, id) FROM part WHERE id = $2
			UNION ALL `+bearers("$1", "$3")+`)
		ORDER BY id LIMIT 10`, name, number, gtinOf(name))
	if err != nil {
		return Part{}, fmt.Errorf("look for part %q: %w", name, err)
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		near, err := FindParts(ctx, db, Search{Words: name, Limit: 3})
		if spelling := (*SpellingError)(nil); err != nil && !errors.As(err, &spelling) {
			return Part{}, err
		}
		return Part{}, &UnknownError{Kind: OfPart, Name: name, Near: numbered(near)}
	}
	return Part{}, fmt.Errorf("%q names several parts, %s: say which by its number", name, substitution.Few(numbered(found)))
}

func numbered(parts []Part) []string {
	var names []string
	for _, p := range parts {
		names = append(names, fmt.Sprintf("%d (%s)", p.ID, p.Name))
	}
	return names
}

// query is a search of the catalogue as it is put together.
type query struct {
	inner      string // what stands for part, if not the table itself
	from       string // joined to part
	conditions []string
	args       []any
	atMost     int // how many parts are looked at, if not all
}

// arg adds a value and gives the sign that stands for it.
func (q *query) arg(v any) string {
	q.args = append(q.args, v)
	return fmt.Sprintf("$%d", len(q.args))
}

func (q *query) where(condition string) { q.conditions = append(q.conditions, condition) }

func (q *query) clone() *query {
	return &query{from: q.from, conditions: append([]string(nil), q.conditions...), args: append([]any(nil), q.args...)}
}

// sql is the whole statement for parts in an order.
func (q *query) sql(order string, limit int) string {
	where := "true"
	if len(q.conditions) > 0 {
		where = strings.Join(q.conditions, "\n\t\t  AND ")
	}
	from := cmp.Or(q.inner, `part`) + ` ` + q.from + ` WHERE ` + where
	if q.atMost > 0 {
		from = fmt.Sprintf(`(SELECT part.* FROM %s LIMIT %d) AS part`, from, q.atMost)
	}
	if limit <= 0 {
		limit = usualLimit
	}
	return fmt.Sprintf(`SELECT %s FROM %s ORDER BY %s LIMIT %d`, partColumns, from, order, limit)
}

func (q *query) parts(ctx context.Context, db DB, order string, limit int) ([]Part, error) {
	found, err := Collect(ctx, db, partReader(), q.sql(order, limit), q.args...)
	if err != nil {
		return nil, fmt.Errorf("search the catalogue: %w", err)
	}
	return found, nil
}
