package inventory

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/inventory/calendar"
)

// ByHand is what a person has decided of how a part is ordered, whatever would be cheapest: from one supplier alone,
// not before a day, or for the shelf as another part that stands in for it. It stands until it is taken back or the day
// has come; each change is in the part's trail.
type ByHand struct {
	PartID     int64         `json:"part_id"`
	SupplierID *int64        `json:"supplier_id,omitempty"` // from this one alone
	Until      *calendar.Day `json:"until,omitempty"`       // not before
	StandInID  *int64        `json:"stand_in_id,omitempty"` // as this part
	Why        string        `json:"why"`
	By         string        `json:"by"`
}

// OrderByHand sets how a part is ordered, or takes back what was set where nothing is given. It needs a reason. A
// supplier that does not offer the part, a day that is not to come, or a stand-in that nobody offers, is an error.
func OrderByHand(ctx context.Context, tx pgx.Tx, h ByHand, today calendar.Day, hand Hand) error {
	if err := h.check(today, hand); err != nil {
		return err
	}
	if _, err := tx.Exec(ctx, `SELECT FROM part WHERE id = $1 FOR NO KEY UPDATE`, h.PartID); err != nil {
		return fmt.Errorf("lock part %d: %w", h.PartID, err)
	}
	part, err := PartByID(ctx, tx, h.PartID)
	if err != nil {
		return err
	}
	if h.SupplierID != nil {
		if err := checkSells(ctx, tx, part, *h.SupplierID); err != nil {
			return err
		}
	}
	if h.StandInID != nil {
		if err := checkStandIn(ctx, tx, part, *h.StandInID); err != nil {
			return err
		}
	}
	before, err := OrderedByHand(ctx, tx, []int64{h.PartID})
	if err != nil {
		return err
	}
	was, err := before[h.PartID].words(ctx, tx)
	if err != nil {
		return err
	}
	became, err := h.words(ctx, tx)
	if err != nil {
		return err
	}
	if err := Correct(ctx, tx, hand, OfPart, h.PartID, Change{"how it is ordered", was, became}); err != nil {
		return err
	}
	return h.keep(ctx, tx, part, hand)
}

// check refuses what cannot be meant, whatever part it is of.
func (h ByHand) check(today calendar.Day, hand Hand) error {
	switch {
	case strings.TrimSpace(hand.Why) == "":
		return errors.New("why a part is ordered otherwise than planned is to be said")
	case h.SupplierID != nil && h.Until != nil, h.StandInID != nil && (h.SupplierID != nil || h.Until != nil):
		return errors.New("a part is bought from one supplier, as another part, or put off: one of the three")
	case h.Until != nil && *h.Until <= today:
		return fmt.Errorf("nothing can be put off until %s: that is not a day to come", h.Until)
	}
	return nil
}

// keep writes what was decided in place of what stood.
func (h ByHand) keep(ctx context.Context, tx pgx.Tx, part Part, hand Hand) error {
	if _, err := tx.Exec(ctx, `DELETE FROM ordered_by_hand WHERE part_id = $1`, h.PartID); err != nil {
		return fmt.Errorf("take back how %s is ordered: %w", part.Name, err)
	}
	if h.SupplierID == nil && h.Until == nil && h.StandInID == nil {
		return nil
	}
	if _, err := tx.Exec(ctx, `INSERT INTO ordered_by_hand (part_id, supplier_id, until, stand_in_id, why, by_whom) VALUES ($1, $2, $3, $4, $5, $6)`,
		h.PartID, h.SupplierID, h.Until, h.StandInID, strings.TrimSpace(hand.Why), strings.TrimSpace(hand.By)); err != nil {
		return fmt.Errorf("keep how %s is ordered: %w", part.Name, err)
	}
	return nil
}

// checkSells is an error for a supplier that does not offer a part.
func checkSells(ctx context.Context, db DB, part Part, supplierID int64) error {
	s, err := SupplierByID(ctx, db, supplierID)
	if err != nil {
		return err
	}
	offers, err := OffersOf(ctx, db, []int64{part.ID})
	if err != nil {
		return err
	}
	if !slices.ContainsFunc(offers[part.ID], func(o Offer) bool { return o.SupplierID == s.ID }) {
		return fmt.Errorf("%s does not offer %s: it cannot be bought there", s.Name, part.Name)
	}
	return nil
}

// checkStandIn is an error for a part that cannot be bought in place of another.
func checkStandIn(ctx context.Context, db DB, part Part, standIn int64) error {
	other, err := PartByID(ctx, db, standIn)
	if err != nil {
		return err
	}
	if other.ID == part.ID {
		return fmt.Errorf("%s does not stand in for itself: name another part", part.Name)
	}
	offers, err := OffersOf(ctx, db, []int64{other.ID})
	if err != nil {
		return err
	}
	if len(offers[other.ID]) == 0 {
		return fmt.Errorf("nobody offers %s: it cannot be bought in place of %s", other.Name, part.Name)
	}
	its, err := OrderedByHand(ctx, db, []int64{other.ID})
	if err != nil {
		return err
	}
	if its[other.ID].StandInID != nil {
		return fmt.Errorf("%s is itself bought as another part: name that one", other.Name)
	}
	return nil
}

// OrderedByHand is what stands of some parts, by part. One that has become one with another is that other.
func OrderedByHand(ctx context.Context, db DB, partIDs []int64) (map[int64]ByHand, error) {
	all, err := Collect(ctx, db, pgx.RowToStructByPos[ByHand], `
		SELECT coalesce(p.merged_into, p.id), supplier_id, until, coalesce(s.merged_into, s.id), why, by_whom
		FROM ordered_by_hand JOIN part p ON p.id = part_id LEFT JOIN part s ON s.id = stand_in_id
		WHERE coalesce(p.merged_into, p.id) = ANY($1)`, partIDs)
	if err != nil {
		return nil, fmt.Errorf("read what is ordered by hand: %w", err)
	}
	out := map[int64]ByHand{}
	for _, h := range all {
		out[h.PartID] = h
	}
	return out, nil
}

// words are how the part is ordered, as the trail says it.
func (h ByHand) words(ctx context.Context, db DB) (string, error) {
	switch {
	case h.SupplierID != nil:
		s, err := SupplierByID(ctx, db, *h.SupplierID)
		return "from " + s.Code, err
	case h.StandInID != nil:
		p, err := PartByID(ctx, db, *h.StandInID)
		return fmt.Sprintf("as part %d, %s", p.ID, p.Name), err
	case h.Until != nil:
		return "not before " + h.Until.String(), nil
	}
	return "as planned", nil
}
