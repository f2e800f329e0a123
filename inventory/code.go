package inventory

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/inventory/barcode"
)

// bearers are the numbers of the parts that bear a code: a GTIN, of the part or of what a supplier sells it as, a maker's
// code, a supplier's, or one that the workshop gave. text and gtin are the signs of its text and of [gtinOf] it.
func bearers(text, gtin string) string {
	return strings.NewReplacer("$text", text, "$gtin", gtin).Replace(`
		SELECT COALESCE(merged_into, id) FROM part WHERE gtin = $gtin
		UNION ALL SELECT COALESCE(merged_into, id) FROM part WHERE lower(maker_code) = lower($text) AND brand <> '' AND maker_code <> ''
		UNION ALL SELECT part_id FROM offer WHERE lower(code) = lower($text)
		UNION ALL SELECT part_id FROM offer WHERE gtin = $gtin
		UNION ALL SELECT COALESCE(p.merged_into, p.id) FROM part_code JOIN part p ON p.id = part_code.part_id WHERE part_code.code = lower($text)`)
}

// gtinOf is the GTIN that a text is read as, empty where it is none: of 8, 12, 13 or 14 digits, or as a scanner hands it on.
func gtinOf(text string) string {
	code, err := barcode.Read(text)
	if err != nil {
		return "" // it is too long for any
	}
	return code.GTIN
}

// PartsCoded are the parts that bear a code, in the order of their numbers.
func PartsCoded(ctx context.Context, db DB, code barcode.Code) ([]Part, error) {
	found, err := Collect(ctx, db, partReader(), `SELECT `+partColumns+` FROM part WHERE id IN (`+bearers("$1", "$2")+`) ORDER BY id LIMIT 50`, code.Text, code.GTIN)
	if err != nil {
		return nil, fmt.Errorf("look for code %q: %w", code.Text, err)
	}
	return found, nil
}

// GiveCode gives a part a code that none bears yet, with the trail. The GTIN of an article becomes the part's own where it
// has none; any other code is kept beside it. One that is borne already is a *[TakenError].
func GiveCode(ctx context.Context, tx pgx.Tx, scanned string, partID int64, hand Hand) (Part, error) {
	code, err := barcode.Read(scanned)
	if err != nil {
		return Part{}, err
	}
	if code.Label != nil {
		return Part{}, fmt.Errorf("“%s” is a label of the workshop's own: it is of that %s and of nothing else", code.Text, code.Label.Kind)
	}
	if partID, err = Became(ctx, tx, partID); err != nil {
		return Part{}, err
	}
	part, err := PartByID(ctx, tx, partID)
	if err != nil {
		return Part{}, err
	}
	taken, err := PartsCoded(ctx, tx, code)
	if err != nil {
		return Part{}, err
	}
	if slices.ContainsFunc(taken, func(p Part) bool { return p.ID == partID }) {
		return Part{}, &NothingToCorrectError{"part", partID}
	}
	if len(taken) > 0 {
		return Part{}, &TakenError{What: "code", Value: code.Text, By: fmt.Sprintf("part %d, %s,", taken[0].ID, taken[0].Name)}
	}
	if code.GTIN != "" && !code.Box && part.GTIN == "" {
		return CorrectPart(ctx, tx, partID, hand, func(p *Part) error { p.GTIN = code.GTIN; return nil })
	}
	if err := Correct(ctx, tx, hand, OfPart, partID, Change{What: "code", Became: code.Text}); err != nil {
		return Part{}, err
	}
	if _, err := tx.Exec(ctx, `INSERT INTO part_code (code, part_id, given_at) VALUES (lower($1), $2, $3)`, code.Text, partID, hand.At); err != nil {
		return Part{}, fmt.Errorf("give code %q to part %d: %w", code.Text, partID, err)
	}
	return part, nil
}

// TakeCode takes a code away again that [GiveCode] kept beside a part's own, with the trail. It says of which part it was.
func TakeCode(ctx context.Context, tx pgx.Tx, scanned string, hand Hand) (partID int64, err error) {
	err = tx.QueryRow(ctx, `DELETE FROM part_code WHERE code = lower($1) RETURNING part_id`, strings.TrimSpace(scanned)).Scan(&partID)
	if errors.Is(err, pgx.ErrNoRows) {
		return 0, &UnknownError{Kind: OfGivenCode, Name: scanned}
	}
	if err != nil {
		return 0, fmt.Errorf("take code %q away: %w", scanned, err)
	}
	return partID, Correct(ctx, tx, hand, OfPart, partID, Change{What: "code", Was: strings.TrimSpace(scanned)})
}

// GivenCodes are the codes that the workshop gave to a part beside its own, and to what has become one with it.
func GivenCodes(ctx context.Context, db DB, partID int64) ([]string, error) {
	codes, err := Collect(ctx, db, pgx.RowTo[string], `
		SELECT code FROM part_code WHERE part_id IN (SELECT id FROM part WHERE id = $1 OR merged_into = $1) ORDER BY code`, partID)
	if err != nil {
		return nil, fmt.Errorf("read the codes of part %d: %w", partID, err)
	}
	return codes, nil
}
