package catalogue

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
)

// List is a list that was loaded.
type List struct {
	SupplierID  int64      `json:"supplier"`
	File        string     `json:"file"`
	AsOf        time.Time  `json:"as_of"` // when the supplier said all this
	LoadedAt    time.Time  `json:"loaded_at"`
	TakenBackAt *time.Time `json:"taken_back_at,omitempty"`
	Did         Summary    `json:"did"`
}

// Lists are the lists that were loaded, the newest first: those of the suppliers named, or with none named all.
func Lists(ctx context.Context, db inventory.DB, supplierIDs ...int64) ([]List, error) {
	rows, err := db.Query(ctx, `
		SELECT supplier_id, file, as_of, loaded_at, taken_back_at, summary FROM list_load
		WHERE cardinality($1::bigint[]) = 0 OR supplier_id = ANY($1) ORDER BY loaded_at DESC, id DESC`, append([]int64{}, supplierIDs...))
	if err != nil {
		return nil, fmt.Errorf("read which lists were loaded: %w", err)
	}
	lists, err := pgx.CollectRows(rows, pgx.RowToStructByPos[List])
	if err != nil {
		return nil, fmt.Errorf("read which lists were loaded: %w", err)
	}
	return lists, nil
}
