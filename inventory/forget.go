package inventory

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/jackc/pgx/v5"
)

// Forgotten stands where a name was of somebody who asked to be forgotten.
const Forgotten = "(forgotten)"

// Forget blanks what the trail of corrections says of things, of one kind and with these numbers: that each was corrected,
// when and by whom stays.
func Forget(ctx context.Context, tx pgx.Tx, of Kind, numbers []int64) error {
	if _, err := tx.Exec(ctx, `SELECT set_config('stead.forgets', 'on', true)`); err != nil {
		return fmt.Errorf("forget: %w", err)
	}
	if _, err := tx.Exec(ctx, `UPDATE correction SET was = '', became = '', why = '' WHERE of = $1 AND number = ANY($2)`, of, numbers); err != nil {
		return fmt.Errorf("forget what was corrected: %w", err)
	}
	return nil
}

// Forgetting is what is to be blanked in the history.
type Forgetting struct {
	Customers, Bikes, Jobs []int64  // who they are, and what was theirs
	Words                  []string // by which they are known, in small letters or large
	Parts                  []string // parts of their name, as they are written
	Anywhere               []string // of the words those that no other customer goes by
}

// ForgetRequests blanks in the history what names somebody: the words and the parts of the name in what touched anything of
// theirs, elsewhere only words that no supplier, part, person or the shop goes by either. A word is looked for whole: the
// name Bo is not in “bottom bracket”. A request that is blanked keeps its key, and is not done again.
func ForgetRequests(ctx context.Context, tx pgx.Tx, f Forgetting) error {
	var theirs []string
	rows, err := tx.Query(ctx, `SELECT DISTINCT request FROM touched WHERE request IS NOT NULL AND (kind = 'customer' AND id = ANY($1) OR kind = 'bike' AND id = ANY($2) OR kind = 'job' AND id = ANY($3))`,
		f.Customers, f.Bikes, f.Jobs)
	if err == nil {
		theirs, err = pgx.CollectRows(rows, pgx.RowTo[string])
	}
	if err != nil {
		return fmt.Errorf("look for what concerned them: %w", err)
	}
	for _, word := range f.Anywhere {
		shared, err := goneBy(ctx, tx, word)
		if err != nil {
			return err
		}
		if !shared {
			if err := blank(ctx, tx, "(?i)", word, nil); err != nil {
				return err
			}
		}
	}
	for _, word := range f.Words {
		if err := blank(ctx, tx, "(?i)", word, theirs); err != nil {
			return err
		}
	}
	for _, word := range f.Parts {
		if err := blank(ctx, tx, "", word, theirs); err != nil {
			return err
		}
	}
	return nil
}

// goneBy reports whether a supplier, a part, a person who works here or the shop itself goes by a word.
func goneBy(ctx context.Context, tx pgx.Tx, word string) (shared bool, err error) {
	err = tx.QueryRow(ctx, `
		SELECT EXISTS (SELECT FROM supplier WHERE concat_ws(' ', code, name, email) ~ $1) OR EXISTS (SELECT FROM person WHERE name ~ $1)
		    OR EXISTS (SELECT FROM shop WHERE concat_ws(' ', name, address) ~ $1) OR EXISTS (SELECT FROM part WHERE words LIKE '%' || $2 || '%' AND words ~ $1)`,
		"(?i)"+Whole(word), literal.Replace(strings.ToLower(word))).Scan(&shared)
	if err != nil {
		return false, fmt.Errorf("look for who else goes by a name: %w", err)
	}
	return shared, nil
}

// blank puts [Forgotten] in the place of a word, in some requests or, without them, in all. Who works here keeps their
// name as who did it.
func blank(ctx context.Context, tx pgx.Tx, how, word string, requests []string) error {
	written, err := json.Marshal(word) // as it stands in an outcome
	if err != nil {
		return fmt.Errorf("forget in the history: %w", err)
	}
	inJSON := `(?:(?<=\\[nrtbf])|(?<![[:alnum:]]))` + strings.TrimPrefix(Whole(strings.Trim(string(written), `"`)), before)
	_, err = tx.Exec(ctx, `
		UPDATE request SET what = regexp_replace(what, $1, $3, 'g'), words = regexp_replace(words, $1, $3, 'g'), outcome = regexp_replace(outcome::text, $2, $3, 'g')::jsonb,
		       by_whom = CASE WHEN EXISTS (SELECT FROM person WHERE name = by_whom) THEN by_whom ELSE regexp_replace(by_whom, $1, $3, 'g') END
		WHERE ($4::text[] IS NULL OR key = ANY($4)) AND (what ~ $1 OR words ~ $1 OR by_whom ~ $1 OR outcome::text ~ $2)`,
		how+Whole(word), how+inJSON, Forgotten, requests)
	if err != nil {
		return fmt.Errorf("forget in the history: %w", err)
	}
	return nil
}

// What stands before a word, and after it, for it to be a whole one.
const (
	before = `(?<![[:alnum:]])`
	after  = `(?![[:alnum:]])`
)

// Whole is a regular expression of the database for a word, or for several in a row, where nothing goes on before or after.
func Whole(word string) string {
	var out strings.Builder
	for _, r := range word {
		if r < utf8.RuneSelf && !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			out.WriteByte('\\')
		}
		out.WriteRune(r)
	}
	return before + out.String() + after
}
