package catalogue

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/pricelist"
	"stead/inventory/pricelist/describe"
)

// PutMapping keeps a supplier's mapping, confirmed by a person.
func PutMapping(ctx context.Context, tx pgx.Tx, supplierID int64, m pricelist.Mapping) error {
	if err := m.Complete(); err != nil {
		return err
	}
	_, err := tx.Exec(ctx, `
		INSERT INTO list_mapping (supplier_id, mapping) VALUES ($1, $2)
		ON CONFLICT (supplier_id) DO UPDATE SET mapping = EXCLUDED.mapping, confirmed_at = now()`, supplierID, m)
	if err != nil {
		return fmt.Errorf("keep the mapping: %w", err)
	}
	return nil
}

// MappingOf is a supplier's mapping; ok is false when none was confirmed yet.
func MappingOf(ctx context.Context, db inventory.DB, supplierID int64) (m pricelist.Mapping, ok bool, err error) {
	err = db.QueryRow(ctx, `SELECT mapping FROM list_mapping WHERE supplier_id = $1`, supplierID).Scan(&m)
	switch {
	case errors.Is(err, pgx.ErrNoRows):
		return pricelist.Mapping{}, false, nil
	case err != nil:
		return pricelist.Mapping{}, false, fmt.Errorf("read the mapping: %w", err)
	}
	return m, true, nil
}

// WordsOf are the shop's own words for a supplier.
func WordsOf(ctx context.Context, db inventory.DB, supplierID int64) (describe.Words, error) {
	rows, err := db.Query(ctx, `SELECT word, meaning FROM list_word WHERE supplier_id = $1`, supplierID)
	if err != nil {
		return nil, fmt.Errorf("read the shop's words: %w", err)
	}
	words := describe.Words{}
	var word, meaning string
	if _, err := pgx.ForEachRow(rows, []any{&word, &meaning}, func() error { words[word] = meaning; return nil }); err != nil {
		return nil, fmt.Errorf("read the shop's words: %w", err)
	}
	return words, nil
}

// Unread is one word that could not be read, with how much depends on it.
type Unread struct {
	Word     string   `json:"word"`
	Lines    int      `json:"lines"`
	Waiting  int      `json:"waiting"`  // of these, lines that are no offers yet because no family is known
	Examples []string `json:"examples"` // descriptions with the word, three at most
}

// Review is the review list of a supplier: the words that could not be read, those of the most lines first. One answer
// settles all lines of a word.
func Review(ctx context.Context, db inventory.DB, supplierID int64) ([]Unread, error) {
	rows, err := db.Query(ctx, `
		SELECT word, count(*)::int, count(waiting.code)::int,
		       (array_agg(COALESCE(waiting.name, offer.description) ORDER BY u.code))[1:3]
		FROM list_unread u
		LEFT JOIN list_waiting waiting USING (supplier_id, code)
		LEFT JOIN offer USING (supplier_id, code)
		WHERE u.supplier_id = $1
		GROUP BY word
		ORDER BY count(*) DESC, word`, supplierID)
	if err != nil {
		return nil, fmt.Errorf("read the review list: %w", err)
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[Unread])
	if err != nil {
		return nil, fmt.Errorf("read the review list: %w", err)
	}
	return list, nil
}

// Answer says what a word of a supplier means, as in [describe.Words], and reads again every line that has it. The word is
// known in the next list too. Prices stay as they are.
func Answer(ctx context.Context, tx pgx.Tx, supplierID int64, word, meaning string) (Summary, error) {
	word = strings.ToLower(strings.Join(strings.Fields(word), " "))
	if _, err := describe.NewReader(describe.Words{word: meaning}); err != nil {
		return Summary{}, err
	}
	_, err := tx.Exec(ctx, `
		INSERT INTO list_word (supplier_id, word, meaning) VALUES ($1, $2, $3)
		ON CONFLICT (supplier_id, word) DO UPDATE SET meaning = EXCLUDED.meaning, answered_at = now()`, supplierID, word, strings.TrimSpace(meaning))
	if err != nil {
		return Summary{}, fmt.Errorf("keep the answer for %q: %w", word, err)
	}
	words, err := WordsOf(ctx, tx, supplierID)
	if err != nil {
		return Summary{}, err
	}
	reader, err := describe.NewReader(words)
	if err != nil {
		return Summary{}, err
	}
	rows, asOf, err := rowsWith(ctx, tx, supplierID, word)
	if err != nil || len(rows) == 0 {
		return Summary{}, err
	}
	st := stage{supplierID: supplierID, asOf: asOf, reader: reader}
	err = st.fill(ctx, tx, func(yield func(pricelist.Row, error) bool) {
		for _, row := range rows {
			if !yield(row, nil) {
				return
			}
		}
	})
	if err != nil {
		return Summary{}, fmt.Errorf("read the lines of %q again: %w", word, err)
	}
	s, err := st.apply(ctx, tx, usualJump, false)
	if err != nil {
		return Summary{}, fmt.Errorf("read the lines of %q again: %w", word, err)
	}
	s.Rows = len(rows)
	return s, nil
}

// rowsWith are the lines of a supplier that have an unread word, as they stand in the database, and when they were said.
func rowsWith(ctx context.Context, tx pgx.Tx, supplierID int64, word string) ([]pricelist.Row, time.Time, error) {
	rows, err := tx.Query(ctx, `
		SELECT u.code, COALESCE(w.name, o.description), COALESCE(w.brand, ''), COALESCE(w.maker_code, ''), COALESCE(w.gtin, o.gtin, ''),
		       COALESCE(w.price, b.price), w.rrp, COALESCE(w.pack, o.pack), COALESCE(w.minimum, o.minimum_packs), COALESCE(w.stock, o.stock),
		       COALESCE(w.as_of, o.as_of)
		FROM list_unread u
		LEFT JOIN list_waiting w USING (supplier_id, code)
		LEFT JOIN offer o USING (supplier_id, code)
		LEFT JOIN price_break b ON b.offer_id = o.id AND b.from_packs = 1
		WHERE u.supplier_id = $1 AND u.word = $2 AND COALESCE(w.price, b.price) IS NOT NULL
		ORDER BY u.code`, supplierID, word)
	if err != nil {
		return nil, time.Time{}, fmt.Errorf("find the lines of %q: %w", word, err)
	}
	var out []pricelist.Row
	var last, asOf time.Time
	var r pricelist.Row
	var price decimal.Decimal
	_, err = pgx.ForEachRow(rows, []any{&r.Code, &r.Name, &r.Brand, &r.MakerCode, &r.GTIN, &price, &r.RRP, &r.Pack, &r.Minimum, &r.Stock, &asOf}, func() error {
		r.Line, r.Price = len(out)+1, decimal.NewNullDecimal(price)
		out = append(out, r)
		if asOf.After(last) {
			last = asOf
		}
		return nil
	})
	if err != nil {
		return nil, time.Time{}, fmt.Errorf("find the lines of %q: %w", word, err)
	}
	return out, last, nil
}
