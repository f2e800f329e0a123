package shelf

import (
	"context"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/substitution"
)

// Limit is how many pieces of a part can be kept, whatever sells.
type Limit struct {
	Holds  int `json:"holds,omitempty"`  // pieces that its place holds; 0: any number
	Months int `json:"months,omitempty"` // until it perishes, or nobody rides what it is for; 0: for ever
}

// Check says what cannot be meant.
func (l Limit) Check() error {
	if l.Holds < 0 || l.Holds > 1_000_000 {
		return fmt.Errorf("a place that holds %d pieces cannot be meant", l.Holds)
	}
	if l.Months < 0 || l.Months > 600 {
		return fmt.Errorf("a part that keeps for %d months cannot be meant: from 1 to 600", l.Months)
	}
	return nil
}

// Words say the limits: "its place holds 12; it keeps 18 months"; empty for none.
func (l Limit) Words() string {
	var words []string
	if l.Holds > 0 {
		words = append(words, fmt.Sprintf("its place holds %d", l.Holds))
	}
	switch {
	case l.Months == 1:
		words = append(words, "it keeps 1 month")
	case l.Months > 1:
		words = append(words, fmt.Sprintf("it keeps %d months", l.Months))
	}
	return strings.Join(words, "; ")
}

// within are the words as a sentence beside others.
func within(l Limit) string {
	if l == (Limit{}) {
		return ""
	}
	return " " + sentence(l.Words())
}

// tooFew say why none can be kept of a part that is ordered by so many at a time.
func tooFew(l Limit, ordered int) string {
	switch {
	case l.Holds > 0 && l.Holds < ordered:
		return fmt.Sprintf("Its place holds %d, and no fewer than %d are ordered at a time.", l.Holds, ordered)
	case ordered == 1:
		return sentence(Limit{Months: l.Months}.Words() + ", and hardly one sells in that time")
	}
	return sentence(fmt.Sprintf("%s, and fewer than the %d that are ordered at a time sell in that time", Limit{Months: l.Months}.Words(), ordered))
}

// SetLimit says how many of a part its place holds and how long it keeps; twice 0 takes that back. What is already
// to be kept beyond what the place holds is refused.
func SetLimit(ctx context.Context, tx pgx.Tx, partID int64, l Limit) error {
	p, err := inventory.PartByID(ctx, tx, partID)
	if err != nil {
		return err
	}
	if err := l.Check(); err != nil {
		return fmt.Errorf("part %q: %w", p.Name, err)
	}
	if l.Holds > 0 {
		if p.ReorderTo != nil && *p.ReorderTo > l.Holds {
			return &NoRoomError{Part: p, Pieces: *p.ReorderTo, Holds: l.Holds}
		}
		said, err := LoadSaid(ctx, tx)
		if err != nil {
			return err
		}
		if least := said[partID].AtLeast(); least > l.Holds {
			return &NoRoomError{Part: p, Pieces: least, Holds: l.Holds}
		}
	}
	if _, err := tx.Exec(ctx, `DELETE FROM shelf_limit WHERE part_id = $1`, partID); err != nil {
		return fmt.Errorf("limit part %q: %w", p.Name, err)
	}
	if l == (Limit{}) {
		return nil
	}
	if _, err := tx.Exec(ctx, `INSERT INTO shelf_limit (part_id, holds, months) VALUES ($1, NULLIF($2, 0), NULLIF($3, 0))`, partID, l.Holds, l.Months); err != nil {
		return fmt.Errorf("limit part %q: %w", p.Name, err)
	}
	return nil
}

// SetFamilyLife says for how many months parts of a family keep; 0: for ever.
func SetFamilyLife(ctx context.Context, tx pgx.Tx, family substitution.Family, months int) error {
	if _, err := substitution.TableOf(family); err != nil {
		return err
	}
	if err := (Limit{Months: months}).Check(); err != nil {
		return fmt.Errorf("%s: %w", family, err)
	}
	if _, err := tx.Exec(ctx, `DELETE FROM shelf_limit WHERE family = $1`, family); err != nil {
		return fmt.Errorf("limit %s: %w", family, err)
	}
	if months == 0 {
		return nil
	}
	if _, err := tx.Exec(ctx, `INSERT INTO shelf_limit (family, months) VALUES ($1, $2)`, family, months); err != nil {
		return fmt.Errorf("limit %s: %w", family, err)
	}
	return nil
}

// NoRoomError is that more of a part is to be kept than its place holds.
type NoRoomError struct {
	Part          inventory.Part
	Pieces, Holds int
}

func (e *NoRoomError) Error() string {
	return fmt.Sprintf("%d of %s are to be kept, and its place holds %d", e.Pieces, e.Part.Name, e.Holds)
}

// Limits are those of parts and of families.
type Limits struct {
	Parts    map[int64]Limit
	Families map[substitution.Family]int // months
}

// LoadLimits reads all limits. Of parts that were joined the tightest holds.
func LoadLimits(ctx context.Context, db inventory.DB) (Limits, error) {
	l := Limits{Parts: map[int64]Limit{}, Families: map[substitution.Family]int{}}
	rows, err := db.Query(ctx, `
		SELECT coalesce(part.merged_into, part.id, 0), coalesce(shelf_limit.family, ''), coalesce(min(holds), 0), coalesce(min(months), 0)
		FROM shelf_limit LEFT JOIN part ON part.id = part_id GROUP BY 1, 2`)
	if err != nil {
		return l, fmt.Errorf("read what the shelf holds: %w", err)
	}
	var part int64
	var family substitution.Family
	var holds, months int
	_, err = pgx.ForEachRow(rows, []any{&part, &family, &holds, &months}, func() error {
		if family != "" {
			l.Families[family] = months
		} else {
			l.Parts[part] = Limit{Holds: holds, Months: months}
		}
		return nil
	})
	if err != nil {
		return l, fmt.Errorf("read what the shelf holds: %w", err)
	}
	return l, nil
}

// Of is what holds for a part.
func (l Limits) Of(partID int64, family substitution.Family) Limit {
	own := l.Parts[partID]
	if own.Months == 0 {
		own.Months = l.Families[family]
	}
	return own
}

// Levels are when a part is ordered again, and up to how many pieces; both nil: never by itself.
type Levels struct {
	PartID    int64
	Level, To *int
}

// SetReorder sets when a part is ordered again and up to how many pieces; twice nil: never by itself.
func SetReorder(ctx context.Context, tx pgx.Tx, partID int64, level, to *int) error {
	return SetLevels(ctx, tx, []Levels{{partID, level, to}})
}

// SetLevels sets the levels of parts, of all of them or of none.
func SetLevels(ctx context.Context, tx pgx.Tx, all []Levels) error {
	ids, levels, tos := make([]int64, len(all)), make([]*int, len(all)), make([]*int, len(all))
	for i, l := range all {
		ids[i], levels[i], tos[i] = l.PartID, l.Level, l.To
	}
	parts, err := inventory.Parts(ctx, tx, ids)
	if err != nil {
		return err
	}
	limits, err := LoadLimits(ctx, tx)
	if err != nil {
		return err
	}
	for _, l := range all {
		p, there := parts[l.PartID]
		if !there {
			_, err := inventory.PartByID(ctx, tx, l.PartID)
			return err
		}
		p.ReorderLevel, p.ReorderTo = l.Level, l.To
		if _, err := p.Check(); err != nil {
			return fmt.Errorf("part %q: %w", p.Name, err)
		}
		if l.To != nil {
			if err := limits.room(p, *l.To); err != nil {
				return err
			}
		}
	}
	if _, err := tx.Exec(ctx, `
		UPDATE part SET reorder_level = said.level, reorder_to = said.up
		FROM unnest($1::bigint[], $2::int[], $3::int[]) AS said (part, level, up) WHERE id = said.part`, ids, levels, tos); err != nil {
		return fmt.Errorf("set the reorder level of %s: %w", partsWords(ids), err)
	}
	return nil
}

// checkRoom refuses to keep more of a part than its place holds.
func checkRoom(ctx context.Context, db inventory.DB, p inventory.Part, pieces int) error {
	limits, err := LoadLimits(ctx, db)
	if err != nil {
		return err
	}
	return limits.room(p, pieces)
}

func (l Limits) room(p inventory.Part, pieces int) error {
	if holds := l.Parts[p.ID].Holds; holds > 0 && pieces > holds {
		return &NoRoomError{Part: p, Pieces: pieces, Holds: holds}
	}
	return nil
}
