package catalogue

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
)

const benchLines = 100_000

// benchList is a list of 100,000 lines in the manner of a wholesaler.
func benchList() []byte {
	shapes := []string{
		"C/RING %dT 110PCD 5-BOLT INNER SILVER 9/10SPD", "CASS 9SPD 11-%dT HG SIL", "TYRE 700X%dC FOLDING BLK", "SPOKE 14G 2%dMM SS SIL GROSS", "S/POST 27.2X3%dMM ALY BLK",
		"CHAIN 9SPD 1%dL SIL", "STEM A/HEAD 31.8X%d 1-1/8 6DEG BLK", "BRG 6902 2RS C3 PK%d",
	}
	var b strings.Builder
	b.WriteString(head)
	for i := range benchLines {
		fmt.Fprintf(&b, "NQ%06d,"+shapes[i%len(shapes)]+",Hullin,H%06d,,%d.%02d,%d.99,,%d\n", i, 24+i%30, i, 3+i%40, i%100, 90+i%9, i%30)
	}
	return []byte(b.String())
}

// BenchmarkLoad reads, describes and stores 100,000 lines, and beside it copies the same rows bare into tables with the same
// indexes; "times-copy" is the ratio of the two in this run. The bar is 3.
func BenchmarkLoad(b *testing.B) {
	pool, ctx := testdb.New(b), b.Context()
	data := benchList()
	var loading, copying time.Duration
	for range b.N {
		tx, err := pool.Begin(ctx)
		require.NoError(b, err)
		supplier := addSupplier(b, tx)
		begun := time.Now()
		s, err := Load{SupplierID: supplier, File: open(b, data), Mapping: mapping, AsOf: march}.Run(ctx, tx)
		require.NoError(b, err)
		require.Equal(b, benchLines, s.New)
		loading += time.Since(begun)
		copying += bareCopy(b, tx, supplier)
		require.NoError(b, tx.Rollback(ctx))
	}
	b.ReportMetric(loading.Seconds()/copying.Seconds(), "times-copy")
	b.ReportMetric(float64(b.N*benchLines)/loading.Seconds(), "lines/s")
}

// bareCopy copies what the load has written, from memory, into empty tables with the indexes of the real ones.
func bareCopy(b *testing.B, tx pgx.Tx, supplier int64) time.Duration {
	ctx := b.Context()
	read := func(sql string) [][]any {
		rows, err := tx.Query(ctx, sql, supplier)
		require.NoError(b, err)
		out, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) ([]any, error) { return row.Values() })
		require.NoError(b, err)
		return out
	}
	parts := read(`SELECT p.id, p.family, p.brand, p.maker_code, p.name, p.dims::text, p.origins::text FROM part p JOIN offer o ON o.part_id = p.id WHERE o.supplier_id = $1`)
	offers := read(`SELECT id, supplier_id, code, part_id, description, pack, minimum_packs, stock, as_of FROM offer WHERE supplier_id = $1`)
	prices := read(`SELECT offer_id, from_packs, price FROM price_break JOIN offer ON offer.id = offer_id WHERE supplier_id = $1`)
	_, err := tx.Exec(ctx, `CREATE SCHEMA bare; CREATE TABLE bare.part (LIKE part INCLUDING ALL); CREATE TABLE bare.offer (LIKE offer INCLUDING ALL); CREATE TABLE bare.price_break (LIKE price_break INCLUDING ALL)`)
	require.NoError(b, err)
	begun := time.Now()
	for _, c := range []struct {
		table   string
		columns []string
		rows    [][]any
	}{
		{"part", []string{"id", "family", "brand", "maker_code", "name", "dims", "origins"}, parts},
		{"offer", []string{"id", "supplier_id", "code", "part_id", "description", "pack", "minimum_packs", "stock", "as_of"}, offers},
		{"price_break", []string{"offer_id", "from_packs", "price"}, prices},
	} {
		_, err := tx.CopyFrom(ctx, pgx.Identifier{"bare", c.table}, c.columns, pgx.CopyFromRows(c.rows))
		require.NoError(b, err)
	}
	return time.Since(begun)
}
