package desk

import (
	"context"

	"stead/inventory"
)

// ShelfLine is what lies of one part in one bin.
type ShelfLine struct {
	Part   int64           `json:"part"`
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
		out = append(out, ShelfLine{Part: c.PartID, Name: p.Name, Bin: c.Bin, Pieces: c.Pieces, Stock: stock[c.PartID], ReorderLevel: p.ReorderLevel})
	}
	return out, nil
}
