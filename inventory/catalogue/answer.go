package catalogue

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/pricelist"
	"stead/inventory/pricelist/describe"
)

// Answer says what a word of a supplier means, as in [describe.Words], and reads again every line that has it, whether
// it could not be read or was read otherwise. The word is known in the next list too. Prices stay as they are.
func Answer(ctx context.Context, tx pgx.Tx, supplierID int64, word, meaning string) (Summary, error) {
	word, meaning = strings.ToLower(strings.Join(strings.Fields(word), " ")), strings.TrimSpace(meaning)
	if _, err := describe.NewReader(describe.Words{word: meaning}); err != nil {
		return Summary{}, err
	}
	tag, err := tx.Exec(ctx, `
		INSERT INTO list_word (supplier_id, word, meaning) VALUES ($1, $2, $3)
		ON CONFLICT (supplier_id, word) DO UPDATE SET meaning = EXCLUDED.meaning, answered_at = now() WHERE list_word.meaning <> EXCLUDED.meaning`, supplierID, word, meaning)
	if err != nil {
		return Summary{}, fmt.Errorf("keep the answer for %q: %w", word, err)
	}
	if tag.RowsAffected() == 0 {
		return Summary{Again: true}, nil
	}
	rows, asOf, err := linesAgain(ctx, tx, supplierID, `strpos(lower(COALESCE(w.name, o.description)), $2) > 0`, longestRun(word))
	if err != nil {
		return Summary{}, fmt.Errorf("find the lines of %q: %w", word, err)
	}
	rows = slices.DeleteFunc(rows, func(r pricelist.Row) bool { return !describe.Has(r.Name, word) })
	s, err := readAgain(ctx, tx, supplierID, rows, asOf, false)
	if err != nil {
		return Summary{}, fmt.Errorf("read the lines of %q again: %w", word, err)
	}
	return s, nil
}

// longestRun is the longest run of letters and digits in a word: every line with the word has it, however its marks and
// blanks are written.
func longestRun(word string) string {
	longest := ""
	for run := range strings.FieldsFuncSeq(word, func(r rune) bool { return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r > 127) }) {
		if len(run) > len(longest) {
			longest = run
		}
	}
	return longest
}

// UnknownLineError says that a supplier has no line of that code.
type UnknownLineError struct{ Code string }

func (e *UnknownLineError) Error() string {
	return fmt.Sprintf("no line of the supplier's lists has the code %q", e.Code)
}

// SayLine says of one line what it is, as [describe.Reader.ReadAs] takes it, and reads the line again; no meanings take back
// what was said. It holds for the next list too.
func SayLine(ctx context.Context, tx pgx.Tx, supplierID int64, code string, meanings []string) (Summary, error) {
	if err := describe.CheckSaid(meanings); err != nil {
		return Summary{}, err
	}
	rows, asOf, err := linesAgain(ctx, tx, supplierID, `COALESCE(w.code, o.code) = $2`, code)
	if err != nil {
		return Summary{}, fmt.Errorf("find the line of %q: %w", code, err)
	}
	if len(rows) == 0 {
		return Summary{}, &UnknownLineError{code}
	}
	if len(meanings) == 0 {
		_, err = tx.Exec(ctx, `DELETE FROM list_line WHERE supplier_id = $1 AND code = $2`, supplierID, code)
	} else {
		_, err = tx.Exec(ctx, `
			INSERT INTO list_line (supplier_id, code, meanings) VALUES ($1, $2, $3)
			ON CONFLICT (supplier_id, code) DO UPDATE SET meanings = EXCLUDED.meanings, said_at = now()`, supplierID, code, meanings)
	}
	if err != nil {
		return Summary{}, fmt.Errorf("keep what was said of %q: %w", code, err)
	}
	s, err := readAgain(ctx, tx, supplierID, rows, asOf, len(meanings) == 0)
	if err != nil {
		return Summary{}, fmt.Errorf("read the line of %q again: %w", code, err)
	}
	return s, nil
}

// readAgain takes lines that are known already through the stage once more, with what is known of words and lines now.
func readAgain(ctx context.Context, tx pgx.Tx, supplierID int64, rows []pricelist.Row, asOf time.Time, forgotten bool) (Summary, error) {
	if len(rows) == 0 {
		return Summary{}, nil
	}
	reader, err := ReaderOf(ctx, tx, supplierID)
	if err != nil {
		return Summary{}, err
	}
	st := stage{supplierID: supplierID, asOf: asOf, reader: reader, forgotten: forgotten, lines: &lineNumbers{}}
	err = st.fill(ctx, tx, func(yield func(pricelist.Row, error) bool) {
		for _, row := range rows {
			if !yield(row, nil) {
				return
			}
		}
	})
	if err != nil {
		return Summary{}, err
	}
	s, err := st.apply(ctx, tx, usualJump, false)
	s.Rows = len(rows)
	return s, err
}

// linesAgain are the lines of a supplier under a condition, waiting or on offer, as they stand in the database, and
// when they were said. An offer that is gone is in no list.
func linesAgain(ctx context.Context, tx pgx.Tx, supplierID int64, condition string, arg any) ([]pricelist.Row, time.Time, error) {
	rows, err := tx.Query(ctx, `
		SELECT COALESCE(w.code, o.code), COALESCE(w.name, o.description), COALESCE(w.brand, ''), COALESCE(w.maker_code, ''), COALESCE(w.gtin, o.gtin, ''),
		       COALESCE(w.price, b.price), w.rrp, COALESCE(w.pack, o.pack), COALESCE(w.minimum, o.minimum_packs), COALESCE(w.stock, o.stock),
		       COALESCE(w.as_of, o.as_of), w.from_packs, w.for_many, COALESCE(w.due_on, o.due_on)
		FROM (SELECT * FROM list_waiting WHERE supplier_id = $1) AS w
		FULL JOIN (SELECT * FROM offer WHERE supplier_id = $1 AND gone_at IS NULL) AS o USING (code)
		LEFT JOIN price_break b ON b.offer_id = o.id AND b.from_packs = 1
		WHERE `+condition+` AND COALESCE(w.price, b.price) IS NOT NULL
		ORDER BY 1`, supplierID, arg)
	if err != nil {
		return nil, time.Time{}, err
	}
	var out []pricelist.Row
	var last, asOf time.Time
	var r pricelist.Row
	var price decimal.Decimal
	var from []int
	var prices []decimal.Decimal
	_, err = pgx.ForEachRow(rows, []any{&r.Code, &r.Name, &r.Brand, &r.MakerCode, &r.GTIN, &price, &r.RRP, &r.Pack, &r.Minimum, &r.Stock, &asOf, &from, &prices, &r.Due}, func() error {
		r.Breaks = nil
		for i := range from {
			r.Breaks = append(r.Breaks, inventory.Break{FromPacks: from[i], Price: prices[i]})
		}
		r.Line, r.Price = len(out)+1, decimal.NewNullDecimal(price)
		out = append(out, r)
		if asOf.After(last) {
			last = asOf
		}
		return nil
	})
	return out, last, err
}

// KnownLine is a line of a supplier's list as it stands.
type KnownLine struct {
	Code   string           `json:"code"`
	Said   []string         `json:"said,omitempty"` // of this line by a person
	Read   describe.Reading `json:"read"`
	Reason string           `json:"reason,omitempty"`  // why it waits
	PartID int64            `json:"part_id,omitempty"` // that it is an offer of
	Part   string           `json:"name,omitempty"`
}

// LineOf is how a line of a supplier's list reads now, and what became of it.
func LineOf(ctx context.Context, db inventory.DB, supplierID int64, code string) (KnownLine, error) {
	l := KnownLine{Code: code}
	var name string
	err := db.QueryRow(ctx, `
		SELECT COALESCE(w.name, o.description), COALESCE(w.reason, ''), CASE WHEN w.code IS NULL THEN part.id ELSE 0 END, CASE WHEN w.code IS NULL THEN part.name ELSE '' END
		FROM (SELECT $2::text AS code) AS given
		LEFT JOIN list_waiting w ON w.supplier_id = $1 AND w.code = given.code
		LEFT JOIN offer o ON o.supplier_id = $1 AND o.code = given.code
		LEFT JOIN part ON part.id = o.part_id
		WHERE w.code IS NOT NULL OR o.id IS NOT NULL`, supplierID, code).Scan(&name, &l.Reason, &l.PartID, &l.Part)
	if errors.Is(err, pgx.ErrNoRows) {
		return l, &UnknownLineError{code}
	}
	if err != nil {
		return l, fmt.Errorf("read the line %q: %w", code, err)
	}
	reader, err := ReaderOf(ctx, db, supplierID)
	if err != nil {
		return l, err
	}
	l.Said, l.Read = reader.lines[code], reader.read(code, name)
	return l, nil
}
