package desk

import (
	"archive/zip"
	"context"
	"fmt"
	"io"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"stead/pricing/books"
)

// ExportBooks gives the tables of the shop's books by the names of their files, all as of one moment.
func ExportBooks(ctx context.Context, pool *pgxpool.Pool) (tables map[string][]byte, err error) {
	err = pgx.BeginTxFunc(ctx, pool, pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly}, func(tx pgx.Tx) error {
		tables, err = books.Export(ctx, tx)
		return err
	})
	return tables, err
}

// ZipBooks writes the tables into one file. The same tables are the same bytes.
func ZipBooks(out io.Writer, tables map[string][]byte) error {
	w := zip.NewWriter(out)
	for _, name := range books.Files {
		f, err := w.Create(name)
		if err == nil {
			_, err = f.Write(tables[name])
		}
		if err != nil {
			return fmt.Errorf("write %s: %w", name, err)
		}
	}
	if err := w.Close(); err != nil {
		return fmt.Errorf("write the books: %w", err)
	}
	return nil
}
