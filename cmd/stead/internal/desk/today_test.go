package desk_test

import (
	"context"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/desk"
)

// counting counts the statements that read all past deliveries, which is what takes long where there are many.
type counting struct {
	pgx.Tx
	read int
}

func (c *counting) Query(ctx context.Context, sql string, args ...any) (pgx.Rows, error) {
	if strings.Contains(sql, "AS arrived_at") {
		c.read++
	}
	return c.Tx.Query(ctx, sql, args...)
}

// Today asks of late promises, of a strain of all suppliers and of wishes, and learns once from what has come.
func TestPastDeliveriesAreReadOnce(t *testing.T) {
	ctx, tx, _ := week(t)
	for name, load := range map[string]func(db *counting) error{
		"today": func(db *counting) error { _, err := desk.LoadToday(ctx, db, now); return err },
		"late":  func(db *counting) error { _, err := desk.LoadLate(ctx, db, now); return err },
	} {
		t.Run(name, func(t *testing.T) {
			db := &counting{Tx: tx}
			require.NoError(t, load(db))
			require.Equal(t, 1, db.read)
		})
	}
}
