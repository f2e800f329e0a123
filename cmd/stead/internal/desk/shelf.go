package desk

import (
	"context"
	"fmt"
	"time"

	"stead/inventory"
)

// ShelfLine is what lies of one part in one bin.
type ShelfLine struct {
	PartID int64           `json:"part_id"`
	Name   string          `json:"name"`
	Bin    string          `json:"bin"`
	Pieces int             `json:"pieces"`
	Stock  inventory.Stock `json:"stock"` // of the part, in all bins

	ReorderLevel *int `json:"-"`
}

// LoadShelf lists what is on the shelf, bin by bin.
func LoadShelf(ctx context.Context, db inventory.DB) ([]ShelfLine, error) {
	contents, err := inventory.Contents(ctx, db)
	if err != nil {
		return nil, err
	}
	var ids []int64
	for _, c := range contents {
		ids = append(ids, c.PartID)
	}
	parts, err := inventory.Parts(ctx, db, ids)
	if err != nil {
		return nil, err
	}
	stock, err := inventory.StockOf(ctx, db, ids)
	if err != nil {
		return nil, err
	}
	out := []ShelfLine{}
	for _, c := range contents {
		p := parts[c.PartID]
		out = append(out, ShelfLine{PartID: c.PartID, Name: p.Name, Bin: c.Bin, Pieces: c.Pieces, Stock: stock[c.PartID], ReorderLevel: p.ReorderLevel})
	}
	return out, nil
}

// Ledger is every movement of a part.
type Ledger struct {
	Clock
	Part      inventory.Part
	Movements []inventory.Movement
}

// LoadLedger gathers a part's movements, the oldest first.
func LoadLedger(ctx context.Context, db inventory.DB, part string, now time.Time) (v Ledger, err error) {
	v.Clock = At(now)
	if v.Part, err = inventory.PartNamed(ctx, db, part); err != nil {
		return v, err
	}
	v.Movements, err = inventory.History(ctx, db, v.Part.ID)
	return v, err
}

// MovementWords say why pieces moved.
func MovementWords(m inventory.Movement) string {
	why := string(m.Reason)
	if m.JobID != nil {
		why += fmt.Sprintf(" on job %d", *m.JobID)
	}
	if m.OrderID != nil {
		why += fmt.Sprintf(" with order %d", *m.OrderID)
	}
	if m.Note != "" {
		why += ": " + m.Note
	}
	return why
}
