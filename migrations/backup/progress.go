package backup

import (
	"context"
	"io"
	"os"
	"time"

	"github.com/jackc/pgx/v5"
)

// Told is told now and then how many bytes of all are done; nil where nobody asks.
type Told func(done, all int64)

// tellEvery is how often.
const tellEvery = 500 * time.Millisecond

// watch tells how far something is, as ask says it, until the function that it returns has returned.
func watch(told Told, ask func() (done, all int64, known bool)) (stop func()) {
	if told == nil {
		return func() {}
	}
	quit, gone := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(gone)
		tick := time.NewTicker(tellEvery)
		defer tick.Stop()
		for {
			select {
			case <-quit:
				return
			case <-tick.C:
				if done, all, known := ask(); known {
					told(done, all)
				}
			}
		}
	}()
	return func() { close(quit); <-gone }
}

// dumped is how far pg_dump is with the database of the connection. It takes the tables one after the other by their names,
// and Postgres says which it is at; their sizes on the disk stand for the text that is written.
func dumped(ctx context.Context, conn *pgx.Conn) (done, all int64, known bool) {
	err := conn.QueryRow(ctx, `
		WITH tables AS (
			SELECT c.oid, pg_table_size(c.oid) AS size, sum(pg_table_size(c.oid)) OVER (ORDER BY n.nspname COLLATE "C", c.relname COLLATE "C") AS upto
			FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace
			WHERE c.relkind = 'r' AND n.nspname NOT IN ('pg_catalog', 'information_schema'))
		SELECT (upto - size + least(size, p.bytes_processed))::bigint, (SELECT sum(size) FROM tables)::bigint
		FROM pg_stat_progress_copy p JOIN tables ON tables.oid = p.relid
		WHERE p.datname = current_database() AND p.command = 'COPY TO'
		LIMIT 1`).Scan(&done, &all)
	return done, all, err == nil // between two tables there is nothing to tell
}

// taken is how far a program has read a file that it was given open.
func taken(file *os.File) (done, all int64, known bool) {
	info, err := file.Stat()
	if err != nil {
		return 0, 0, false
	}
	at, err := file.Seek(0, io.SeekCurrent)
	return at, info.Size(), err == nil
}
