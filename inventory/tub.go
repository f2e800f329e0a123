package inventory

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
)

// Tub is a tub, tube or bottle that is open on the bench. What is left of it is a share of a full one: nobody counts smears.
type Tub struct {
	ID       int64               `json:"tub"`
	PartID   int64               `json:"part_id"`
	Grams    decimal.NullDecimal `json:"grams,omitzero"` // when full; absent: not known
	Left     decimal.Decimal     `json:"left"`           // of a full one
	OpenedAt time.Time           `json:"opened_at"`
}

// tubLow is the share of a tub at which the next is ordered, where none stands sealed on the shelf or is on its way.
var tubLow = decimal.RequireFromString("0.2")

// What a smear takes of a tub of which the weight is not known: a hundredth of grease, and of a bottle, whose label gives
// millilitres that no list tells, its grams of half a litre. Common practice, no source.
var (
	unknownShare  = decimal.RequireFromString("0.01")
	unknownBottle = decimal.NewFromInt(500)
)

const tubColumns = `id, part_id, grams, left_over, opened_at`

// Tubs are those that are open, the first opened first.
func Tubs(ctx context.Context, db DB) ([]Tub, error) {
	all, err := Collect(ctx, db, pgx.RowToStructByPos[Tub], `SELECT `+tubColumns+` FROM tub WHERE empty_at IS NULL ORDER BY id`)
	if err != nil {
		return nil, fmt.Errorf("read what is open on the bench: %w", err)
	}
	return all, nil
}

// opens reports whether a part stands open on the bench and is used up bit by bit.
func opens(p Part) bool {
	switch p.Family {
	case "grease", "lubricant", "cleaner", "suspension-oil":
		return true
	case "consumable":
		purpose, _ := p.Get("purpose")
		return slices.Contains([]string{"brake-fluid", "sealant", "tubular-glue"}, purpose.String())
	}
	return false
}

// OpenTub takes a sealed tub off the shelf and opens it on the bench.
func OpenTub(ctx context.Context, tx pgx.Tx, request string, partID int64) (Tub, error) {
	part, err := PartByID(ctx, tx, partID)
	if err != nil {
		return Tub{}, err
	}
	if !opens(part) {
		return Tub{}, fmt.Errorf("%s is no grease, oil, cleaner, brake fluid, sealant or glue: it is not opened but fitted", part.Name)
	}
	if err := Lock(ctx, tx, nil, []int64{partID}); err != nil {
		return Tub{}, err
	}
	if err := checkFree(ctx, tx, partID, 1); err != nil {
		return Tub{}, err
	}
	if err := takeOut(ctx, tx, entry{request: request, partID: partID, pieces: 1, reason: Opened}); err != nil {
		return Tub{}, err
	}
	t := Tub{PartID: partID, Left: decimal.NewFromInt(1)}
	if mass, known := part.Get("mass_g"); known {
		t.Grams = decimal.NewNullDecimal(decimal.NewFromFloat(mass.Float()))
	} else if volume, known := part.Get("volume_ml"); known { // greases and oils weigh 0.8 to 1 g a millilitre: near enough for smears
		t.Grams = decimal.NewNullDecimal(decimal.NewFromFloat(volume.Float()).Mul(decimal.RequireFromString("0.9")).Round(1))
	}
	err = tx.QueryRow(ctx, `INSERT INTO tub (part_id, grams, opened_at) VALUES ($1, $2, shop_clock()) RETURNING id, opened_at`, partID, t.Grams).Scan(&t.ID, &t.OpenedAt)
	if err != nil {
		return Tub{}, fmt.Errorf("open %s: %w", part.Name, err)
	}
	return t, nil
}

// SetTub says what is left of a tub, by the eye or by the scales: a share of a full one. Nothing left ends it.
func SetTub(ctx context.Context, tx pgx.Tx, id int64, left decimal.Decimal) (Tub, error) {
	if left.IsNegative() || left.GreaterThan(decimal.NewFromInt(1)) {
		return Tub{}, fmt.Errorf("a share of %s cannot be meant: 0 is empty and 1 is full", left)
	}
	list, err := Collect(ctx, tx, pgx.RowToStructByPos[Tub], `
		UPDATE tub SET left_over = $2::numeric, empty_at = CASE WHEN $2::numeric = 0 THEN shop_clock() END WHERE id = $1 AND empty_at IS NULL RETURNING `+tubColumns, id, left)
	if err != nil {
		return Tub{}, fmt.Errorf("tub %d: %w", id, err)
	}
	if len(list) == 0 {
		return Tub{}, fmt.Errorf("no tub %d is open", id)
	}
	return list[0], nil
}

// Smear is a smear that a job takes out of a tub.
type Smear struct {
	JobID   int64
	Place   string
	Family  string
	Purpose string // as the tub's label says it
	Fluid   string // of brake fluid: dot or mineral-oil; empty for all else
	Grams   float64
}

// shareOf is what the smear takes of a full tub.
func (s Smear) shareOf(t Tub) decimal.Decimal {
	grams := decimal.NewFromFloat(s.Grams)
	switch {
	case t.Grams.Valid:
		return grams.DivRound(t.Grams.Decimal, 6)
	case s.Family == "consumable":
		return grams.DivRound(unknownBottle, 6)
	}
	return unknownShare
}

// TakeSmear takes a smear out of the tub that was opened first of those that are for its purpose; false where none is
// open, or where the job has taken that smear before. A tub that gives its last is empty.
func TakeSmear(ctx context.Context, tx pgx.Tx, s Smear) (bool, error) {
	tubs, err := Collect(ctx, tx, pgx.RowToStructByPos[Tub], `
		SELECT tub.id, tub.part_id, tub.grams, tub.left_over, tub.opened_at
		FROM tub JOIN part ON part.id = tub.part_id
		WHERE tub.empty_at IS NULL AND part.family = $1 AND part.dims ->> 'purpose' = $2 AND ($5 = '' OR part.dims ->> 'fluid' = $5)
		  AND NOT EXISTS (SELECT FROM smear WHERE job_id = $3 AND place = $4 AND purpose = $2)
		ORDER BY tub.id LIMIT 1 FOR UPDATE OF tub`, s.Family, s.Purpose, s.JobID, s.Place, s.Fluid)
	if err != nil {
		return false, fmt.Errorf("look for %s for %s: %w", s.Family, s.Purpose, err)
	}
	if len(tubs) == 0 {
		return false, nil
	}
	t := tubs[0]
	share := decimal.Min(s.shareOf(t), t.Left)
	if !share.IsPositive() {
		return false, nil
	}
	if _, err := SetTub(ctx, tx, t.ID, t.Left.Sub(share)); err != nil {
		return false, err
	}
	_, err = tx.Exec(ctx, `INSERT INTO smear (job_id, place, purpose, tub_id, share, at) VALUES ($1, $2, $3, $4, $5, shop_clock())`,
		s.JobID, s.Place, s.Purpose, t.ID, share)
	if err != nil {
		return false, fmt.Errorf("take a smear of %s for job %d: %w", s.Purpose, s.JobID, err)
	}
	return true, nil
}

// LowTubs are the parts whose open tubs together are low.
func LowTubs(ctx context.Context, db DB) ([]int64, error) {
	low, err := Collect(ctx, db, pgx.RowTo[int64], `
		SELECT part_id FROM tub GROUP BY part_id
		HAVING sum(left_over) FILTER (WHERE empty_at IS NULL) <= $1 OR bool_and(empty_at IS NOT NULL)`, tubLow)
	if err != nil {
		return nil, fmt.Errorf("read which tubs are low: %w", err)
	}
	return low, nil
}

// WeighTub says what is left of a tub by the scales, in grams without the tub itself.
func WeighTub(ctx context.Context, tx pgx.Tx, id int64, grams decimal.Decimal) (Tub, error) {
	full, err := Collect(ctx, tx, pgx.RowTo[decimal.NullDecimal], `SELECT grams FROM tub WHERE id = $1 AND empty_at IS NULL FOR UPDATE`, id)
	switch {
	case err != nil:
		return Tub{}, fmt.Errorf("tub %d: %w", id, err)
	case len(full) == 0:
		return Tub{}, fmt.Errorf("no tub %d is open", id)
	case !full[0].Valid:
		return Tub{}, fmt.Errorf("nobody has said what tub %d weighs when it is full: say what share is left", id)
	}
	return SetTub(ctx, tx, id, grams.DivRound(full[0].Decimal, 6))
}
