// Package photo keeps photos: of a part of the catalogue, of a customer's bike, or of a place of it that was looked at for a
// job. The customer sees of their bike what was ticked for them, and nothing else. A photo that is taken off is gone, and
// what it was of, by whom and why stays with what it showed.
package photo

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"stead/inventory"
	"stead/inventory/photo/picture"
	"stead/substitution"
)

// Of is what a photo shows: a part, a bike, or a place of a job's bike. One of the three has a number.
type Of struct {
	PartID int64              `json:"part_id,omitempty"`
	BikeID int64              `json:"bike,omitempty"` // of a photo of a job too, once it is kept
	JobID  int64              `json:"job,omitempty"`
	Place  substitution.Place `json:"place,omitempty"` // with a job
}

// subject is the kind and number of the thing that a photo belongs to.
func (o Of) subject() (kind inventory.Kind, number int64) {
	switch {
	case o.PartID != 0:
		return inventory.OfPart, o.PartID
	case o.JobID != 0:
		return inventory.OfJob, o.JobID
	}
	return inventory.OfBike, o.BikeID
}

// Photo is a photo without the picture itself.
type Photo struct {
	ID int64 `json:"photo"`
	Of
	Words   string    `json:"words,omitempty"`
	Shown   bool      `json:"shown"` // to the customer
	Width   int       `json:"width"` // pixels
	Height  int       `json:"height"`
	Bytes   int       `json:"bytes"`
	TakenAt time.Time `json:"taken_at"`
}

// ErrPartIsShops says that a photo of a part is the workshop's own.
var ErrPartIsShops = errors.New("a photo of a part is for the workshop: the customer is shown those of their bike")

// mostWords bounds what stands below a photo, in characters.
const mostWords = 200

// check tells what is wrong with a new photo's words.
func (p Photo) check() error {
	if p.JobID != 0 || p.Place != "" {
		if p.JobID == 0 || p.Place == "" {
			return errors.New("a photo of a job is of a place of its bike: name both")
		}
		if _, err := substitution.SiteOf(p.Place); err != nil {
			return err
		}
	}
	if n := utf8.RuneCountInString(p.Words); n > mostWords {
		return fmt.Errorf("what stands below a photo is at most %d characters long, not %d: shorten it", mostWords, n)
	}
	if p.Shown && p.PartID != 0 {
		return ErrPartIsShops
	}
	return nil
}

const columns = `id, COALESCE(part_id, 0), COALESCE(bike_id, 0), COALESCE(job_id, 0), place, words, shown, width, height, length(jpeg), taken_at`

func read(row pgx.CollectableRow) (p Photo, err error) {
	err = row.Scan(&p.ID, &p.PartID, &p.BikeID, &p.JobID, &p.Place, &p.Words, &p.Shown, &p.Width, &p.Height, &p.Bytes, &p.TakenAt)
	return p, err
}

// Add keeps a picture as a photo of something, with its words and whether it is shown. What it is of and is not there is
// an *[inventory.UnknownError].
func Add(ctx context.Context, tx pgx.Tx, p Photo, taken picture.Picture) (Photo, error) {
	p.Words = strings.Join(strings.Fields(p.Words), " ")
	if err := p.check(); err != nil {
		return Photo{}, err
	}
	kind, number := p.subject()
	rows, err := tx.Query(ctx, `
		INSERT INTO photo (part_id, bike_id, job_id, place, words, shown, jpeg, small, width, height, taken_at)
		VALUES (NULLIF($1, 0), NULLIF($2, 0), NULLIF($3, 0), $4, $5, $6, $7, $8, $9, $10, $11) RETURNING `+columns,
		p.PartID, p.BikeID, p.JobID, p.Place, p.Words, p.Shown, taken.JPEG, taken.Small, taken.Width, taken.Height, p.TakenAt)
	if err == nil {
		var kept Photo
		if kept, err = pgx.CollectExactlyOneRow(rows, read); err == nil {
			return kept, nil
		}
	}
	var refused *pgconn.PgError
	if errors.As(err, &refused) && (strings.HasPrefix(refused.ConstraintName, "photo_"+string(kind)+"_id") || refused.ConstraintName == "photo_is_of_one_thing") {
		return Photo{}, &inventory.UnknownError{Kind: inventory.Kind(kind), Name: fmt.Sprint(number)}
	}
	return Photo{}, fmt.Errorf("keep a photo of %s %d: %w", kind, number, err)
}

// OfJob are the photos of a job, the oldest first.
func OfJob(ctx context.Context, db inventory.DB, id int64) ([]Photo, error) {
	return list(ctx, db, `job_id = $1`, id)
}

// OfBike are the photos of a bike itself and of its jobs, the oldest first.
func OfBike(ctx context.Context, db inventory.DB, id int64) ([]Photo, error) {
	return list(ctx, db, `bike_id = $1`, id)
}

// OfPart are the photos of a part and of what has become one with it, the oldest first.
func OfPart(ctx context.Context, db inventory.DB, id int64) ([]Photo, error) {
	return list(ctx, db, `part_id IN (SELECT id FROM part WHERE id = $1 OR merged_into = $1)`, id)
}

func list(ctx context.Context, db inventory.DB, where string, id int64) ([]Photo, error) {
	rows, err := db.Query(ctx, `SELECT `+columns+` FROM photo WHERE `+where+` ORDER BY id`, id)
	if err == nil {
		var all []Photo
		if all, err = pgx.CollectRows(rows, read); err == nil {
			return all, nil
		}
	}
	return nil, fmt.Errorf("read the photos: %w", err)
}

// ByID is a photo by its number; an unknown one is an *[inventory.UnknownError].
func ByID(ctx context.Context, db inventory.DB, id int64) (Photo, error) {
	all, err := list(ctx, db, `id = $1`, id)
	if err == nil && len(all) == 0 {
		err = &inventory.UnknownError{Kind: inventory.OfPhoto, Name: fmt.Sprint(id)}
	}
	if err != nil {
		return Photo{}, err
	}
	return all[0], nil
}

// JPEG is the picture itself, or the same in small.
func JPEG(ctx context.Context, db inventory.DB, id int64, small bool) (data []byte, err error) {
	err = db.QueryRow(ctx, `SELECT CASE WHEN $2 THEN small ELSE jpeg END FROM photo WHERE id = $1`, id, small).Scan(&data)
	if errors.Is(err, pgx.ErrNoRows) {
		return nil, &inventory.UnknownError{Kind: inventory.OfPhoto, Name: fmt.Sprint(id)}
	}
	if err != nil {
		return nil, fmt.Errorf("read photo %d: %w", id, err)
	}
	return data, nil
}

// Set changes the words below a photo and whether the customer is shown it.
func Set(ctx context.Context, tx pgx.Tx, id int64, change func(*Photo)) (Photo, error) {
	p, err := ByID(ctx, tx, id)
	if err != nil {
		return Photo{}, err
	}
	change(&p)
	p.Words = strings.Join(strings.Fields(p.Words), " ")
	if err := p.check(); err != nil {
		return Photo{}, err
	}
	if _, err := tx.Exec(ctx, `UPDATE photo SET words = $2, shown = $3 WHERE id = $1`, id, p.Words, p.Shown); err != nil {
		return Photo{}, fmt.Errorf("change photo %d: %w", id, err)
	}
	return p, nil
}

// TakeOff takes a photo off for good, and keeps the trail with what it was of.
func TakeOff(ctx context.Context, tx pgx.Tx, id int64, hand inventory.Hand) (Photo, error) {
	p, err := ByID(ctx, tx, id)
	if err != nil {
		return Photo{}, err
	}
	kind, number := p.subject()
	was := fmt.Sprintf("%d × %d pixels", p.Width, p.Height)
	if p.Words != "" {
		was = p.Words + ", " + was
	}
	if p.Place != "" {
		was = string(p.Place) + ", " + was
	}
	if err := inventory.Correct(ctx, tx, hand, kind, number, inventory.Change{What: fmt.Sprintf("photo %d", id), Was: was, Became: "taken off"}); err != nil {
		return Photo{}, err
	}
	if _, err := tx.Exec(ctx, `DELETE FROM photo WHERE id = $1`, id); err != nil {
		return Photo{}, fmt.Errorf("take off photo %d: %w", id, err)
	}
	return p, nil
}
