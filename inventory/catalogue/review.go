package catalogue

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/pricelist"
	"stead/inventory/pricelist/describe"
)

// PutMapping keeps a supplier's mapping, confirmed by a person.
func PutMapping(ctx context.Context, tx pgx.Tx, supplierID int64, m pricelist.Mapping) error {
	if err := m.CheckComplete(); err != nil {
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

// WaitingLine is a line of a list that is no offer yet.
type WaitingLine struct {
	Code   string          `json:"code"`
	Name   string          `json:"name"`
	Pack   int             `json:"pack"`
	Price  decimal.Decimal `json:"price"` // of a pack
	Reason string          `json:"reason"`
	AsOf   time.Time       `json:"as_of"`
}

// Waiting are the lines of a supplier's list that are no offers yet, each with why.
func Waiting(ctx context.Context, db inventory.DB, supplierID int64) ([]WaitingLine, error) {
	rows, err := db.Query(ctx, `SELECT code, name, pack, price, reason, as_of FROM list_waiting WHERE supplier_id = $1 ORDER BY code`, supplierID)
	if err != nil {
		return nil, fmt.Errorf("read the lines that wait: %w", err)
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[WaitingLine])
	if err != nil {
		return nil, fmt.Errorf("read the lines that wait: %w", err)
	}
	return list, nil
}
