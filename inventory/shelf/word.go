package shelf

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/calendar"
)

// Answer is what a mechanic says to a line of the week's list.
type Answer string

// The answers. The first three hold once, the others for good.
const (
	Take      Answer = "take"       // order so many, as the list advised
	Less      Answer = "less"       // order only so many
	Snooze    Answer = "snooze"     // ask again on a day
	Never     Answer = "never"      // never for the shelf
	AtLeast   Answer = "at least"   // so many are always to be there, whatever sells
	UseUp     Answer = "use up"     // quotes prefer it where it fits, until no more than so many are free
	AsAdvised Answer = "as advised" // what held for good holds no more
)

// Word is what was said of a part.
type Word struct {
	PartID int64         `json:"part_id"`
	Answer Answer        `json:"answer"`
	Pieces int           `json:"pieces,omitempty"`
	Until  *calendar.Day `json:"until,omitempty"`
	Note   string        `json:"note,omitempty"`
	At     time.Time     `json:"at"`
	// Ordered is how many pieces for the shelf were ordered since, and will come or have come.
	Ordered int `json:"ordered,omitempty"`
}

// Say keeps what is said of parts, now where it does not say when, all of it at once or none. What is never ordered for the
// shelf has no level any more at which it would be.
func Say(ctx context.Context, tx pgx.Tx, said ...Word) error {
	rows := struct {
		parts          []int64
		answers, notes []string
		pieces         []*int
		until, at      []*time.Time
	}{}
	for _, w := range said {
		counted, err := w.check(ctx, tx)
		if err != nil {
			return err
		}
		var pieces *int
		if counted {
			pieces = &w.Pieces
		}
		var until, at *time.Time
		if w.Until != nil {
			day := w.Until.Time()
			until = &day
		}
		if !w.At.IsZero() {
			at = &w.At
		}
		rows.parts, rows.answers, rows.notes = append(rows.parts, w.PartID), append(rows.answers, string(w.Answer)), append(rows.notes, strings.TrimSpace(w.Note))
		rows.pieces, rows.until, rows.at = append(rows.pieces, pieces), append(rows.until, until), append(rows.at, at)
	}
	if _, err := tx.Exec(ctx, `
		INSERT INTO shelf_word (part_id, answer, pieces, until, note, at)
		SELECT part, answer, pieces, until, note, coalesce(at, shop_clock())
		FROM unnest($1::bigint[], $2::text[], $3::int[], $4::date[], $5::text[], $6::timestamptz[]) WITH ORDINALITY
		     AS said (part, answer, pieces, until, note, at, number)
		ORDER BY number`, rows.parts, rows.answers, rows.pieces, rows.until, rows.notes, rows.at); err != nil {
		return fmt.Errorf("keep what was said of %s: %w", partsWords(rows.parts), err)
	}
	return nil
}

// partsWords name one part by its number, and count several.
func partsWords(ids []int64) string {
	if len(ids) == 1 {
		return fmt.Sprintf("part %d", ids[0])
	}
	return fmt.Sprintf("%d parts", len(ids))
}

// check refuses what cannot be meant, and tells whether a number of pieces goes with the answer. It does what follows from
// an answer beside keeping it.
func (w Word) check(ctx context.Context, tx pgx.Tx) (counted bool, err error) {
	switch w.Answer {
	case Take, Less:
		return true, inventory.CheckPieces(w.Pieces)
	case AtLeast:
		if err := inventory.CheckPieces(w.Pieces); err != nil {
			return true, err
		}
		p, err := inventory.PartByID(ctx, tx, w.PartID)
		if err != nil {
			return true, err
		}
		return true, checkRoom(ctx, tx, p, w.Pieces)
	case UseUp:
		if w.Pieces < 0 || w.Pieces > 1_000_000 {
			return true, fmt.Errorf("a part cannot be used up down to %d pieces", w.Pieces)
		}
		return true, nil
	case Never:
		return false, SetReorder(ctx, tx, w.PartID, nil, nil)
	}
	return false, nil
}

// Said is the last that was said of a part: what holds once, and what holds for good.
type Said struct {
	Once *Word `json:"once,omitempty"`
	Ever *Word `json:"ever,omitempty"`
}

// LoadSaid reads the last words on all parts of which anything was said, by part.
func LoadSaid(ctx context.Context, db inventory.DB) (map[int64]Said, error) {
	words, err := inventory.Collect(ctx, db, pgx.RowToStructByPos[Word], `
		WITH said AS (
			SELECT coalesce(part.merged_into, part.id) AS of, shelf_word.answer IN ('take', 'less', 'snooze') AS once, shelf_word.*
			FROM shelf_word JOIN part ON part.id = shelf_word.part_id
		), back AS (
			SELECT of, max(id) AS id FROM said WHERE answer = 'as advised' GROUP BY of
		), last AS (
			SELECT DISTINCT ON (of, once) of AS part_id, once, answer, coalesce(pieces, 0) AS pieces, until, note, at
			FROM said LEFT JOIN back USING (of)
			WHERE NOT once OR back.id IS NULL OR back.id < said.id
			ORDER BY of, once, said.id DESC
		)
		SELECT part_id, answer, pieces, until, note, at, CASE WHEN NOT once THEN 0 ELSE (
			SELECT coalesce(sum(greatest(0, packs * pack - cancelled -
				coalesce((SELECT sum(claim.pieces) FROM claim WHERE claim.order_line_id = order_line.id), 0))), 0)
			FROM order_line JOIN purchase_order ON purchase_order.id = order_line.order_id
			WHERE order_line.part_id = last.part_id AND placed_at >= last.at)::int END
		FROM last`)
	if err != nil {
		return nil, fmt.Errorf("read what was said of the shelf: %w", err)
	}
	all := map[int64]Said{}
	for _, w := range words {
		s := all[w.PartID]
		switch w.Answer {
		case Take, Less, Snooze:
			s.Once = &w
		default:
			s.Ever = &w
		}
		all[w.PartID] = s
	}
	return all, nil
}

// wordHolds is how long what was taken keeps the list from asking again, while it may still be on its way into an order.
const wordHolds = 7 * 24 * time.Hour

// Never reports whether the part is not to be ordered for the shelf at all.
func (s Said) Never() bool { return s.Ever != nil && s.Ever.Answer == Never }

// AtLeast is how many pieces are always to be there.
func (s Said) AtLeast() int {
	if s.Ever != nil && s.Ever.Answer == AtLeast {
		return s.Ever.Pieces
	}
	return 0
}

// Stay is how many pieces may stay of a part that jobs are to use up.
func (s Said) Stay() (pieces int, useUp bool) {
	if s.Ever == nil || s.Ever.Answer != UseUp {
		return 0, false
	}
	return s.Ever.Pieces, true
}

// Snoozed reports whether the part is put off beyond today.
func (s Said) Snoozed(today calendar.Day) bool {
	return s.Once != nil && s.Once.Answer == Snooze && *s.Once.Until > today
}

// Pending is how many pieces were taken and are still to be ordered.
func (s Said) Pending() int {
	if s.Once == nil || s.Once.Answer == Snooze {
		return 0
	}
	return max(0, s.Once.Pieces-s.Once.Ordered)
}

// settled reports whether what was taken was said so lately that the part need not be asked of again.
func (s Said) settled(now time.Time) bool {
	return s.Once != nil && s.Once.Answer != Snooze && now.Sub(s.Once.At) < wordHolds
}

// ToOrder is how many pieces of a part to order for the shelf, by what was said of it and by its level, if it has one.
func (s Said) ToOrder(p inventory.Part, stock inventory.Stock, now time.Time, today calendar.Day) int {
	if n := s.Pending(); n > 0 && !s.Never() {
		return n
	}
	if s.Never() || s.Snoozed(today) || s.settled(now) {
		return 0
	}
	level, to := p.ReorderLevel, p.ReorderTo
	if least := s.AtLeast(); least > 0 {
		at, up := least-1, least
		if level != nil {
			at, up = max(at, *level), max(up, *to)
		}
		level, to = &at, &up
	}
	if level == nil {
		return 0
	}
	return toReorder(stock, *level, *to)
}

// Words tell what was said: "3 taken on Tuesday 24 November: the big order".
func (w Word) Words(zone *time.Location, today calendar.Day) string {
	said := calendar.DayOf(w.At.In(zone)).Words(today)
	var words string
	switch w.Answer {
	case Take:
		words = fmt.Sprintf("%d taken on %s", w.Pieces, said)
	case Less:
		words = fmt.Sprintf("only %d taken on %s", w.Pieces, said)
	case Snooze:
		words = fmt.Sprintf("on %s put off until %s", said, w.Until.Words(today))
	case Never:
		words = "never, you said on " + said
	case AtLeast:
		words = fmt.Sprintf("always at least %d, you said on %s", w.Pieces, said)
	case UseUp:
		if words = "to be used up on jobs, you said on " + said; w.Pieces > 0 {
			words = fmt.Sprintf("to be used up on jobs down to %d, you said on %s", w.Pieces, said)
		}
	case AsAdvised:
		words = "as advised, you said on " + said
	}
	if w.Note != "" {
		words += ": " + w.Note
	}
	return words
}
