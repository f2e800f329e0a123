package main

import (
	"archive/zip"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"io"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
)

// All that is kept of a customer is theirs to have; after they are forgotten no table names them but the bills.
func TestCustomerIsForgotten(t *testing.T) {
	t.Setenv("STEAD_NOW", "2026-12-02T09:30:00Z")
	t.Chdir(t.TempDir())
	db := testdb.New(t)
	say := inShop(t, db, "stead bill make")
	run := func(want int, args ...string) string {
		t.Helper()
		code, said := say(args...)
		require.Equal(t, want, code, "%v: %s", args, said)
		return said
	}
	run(0, "customer", "set", "1", "--phone", "01632 960001", "--email", "ines@falkner.example", "--contact", "rings twice", "--why", "Ines Falkner asked")
	run(0, "bike", "set", "1", "--frame-number", "FT 4471 K")
	photo, err := os.Create("teeth.png")
	require.NoError(t, err)
	require.NoError(t, png.Encode(photo, image.NewGray(image.Rect(0, 0, 40, 30))))
	require.NoError(t, photo.Close())
	run(0, "photo", "add", "teeth.png", "--bike", "1", "--words", "Ines Falkner's teeth", "--show")
	run(0, "post", "server", "mail.example", "--sender", "bench@tannery.example")
	run(0, "post", "bill", "1")
	require.Contains(t, run(1, "customer", "forget", "1", "--yes"), "of job 101 is still to be paid")
	run(2, "customer", "forget", "1")
	run(0, "bill", "pay", "1", "--how", "card")
	run(0, "job", "new", "--customer", "1", "--bike", "1", "--wish", "Ines Falkner wants it quiet")
	require.Contains(t, run(1, "customer", "forget", "1", "--yes"), "job 102 is open")
	run(0, "job", "inspect", "102", "headset", "--action", "adjust")
	run(0, "job", "quote", "102")
	run(0, "job", "decline", "102", "--version", "1", "--by", "Ines Falkner", "--because", "price", "--words", "a Falkner mends it")
	run(0, "job", "cancel", "102", "--why", "Ines Falkner sold the bike")

	run(0, "customer", "data", "1", "--out", "falkner.zip")
	z, err := zip.OpenReader("falkner.zip")
	require.NoError(t, err)
	defer z.Close()
	f, err := z.Open("data.json")
	require.NoError(t, err)
	text, err := io.ReadAll(f)
	require.NoError(t, err)
	var data map[string][]map[string]any
	require.NoError(t, json.Unmarshal(text, &data))
	require.Equal(t, "ines@falkner.example", data["customer"][0]["email"])
	for _, section := range []string{"bikes", "jobs", "quotes", "answers", "why not", "bills", "payments", "corrections", "messages"} {
		require.NotEmpty(t, data[section], section)
	}
	require.NotContains(t, string(text), `"hash"`)
	require.True(t, slices.ContainsFunc(z.File, func(f *zip.File) bool { return strings.HasSuffix(f.Name, ".jpg") && f.UncompressedSize64 > 0 }), "the photo goes along")
	require.Contains(t, run(1, "customer", "data", "9", "--out", "none.zip"), "there is no customer 9")

	require.Contains(t, run(0, "customer", "forget", "1", "--yes"), "customer 1 is forgotten")
	where := db.Config().ConnConfig.Copy()
	where.Database += fmt.Sprint("_shop", shops)
	conn, err := pgx.ConnectConfig(t.Context(), where)
	require.NoError(t, err)
	defer conn.Close(t.Context())
	rows, err := conn.Query(t.Context(), `SELECT table_name::text FROM information_schema.tables WHERE table_schema = 'public' AND table_type = 'BASE TABLE' AND table_name <> 'bill'`)
	require.NoError(t, err)
	tables, err := pgx.CollectRows(rows, pgx.RowTo[string])
	require.NoError(t, err)
	require.Greater(t, len(tables), 40)
	for _, table := range tables {
		for _, word := range []string{"Falkner", "falkner", "01632 960001", "rings twice", "FT 4471"} {
			var found []string
			require.NoError(t, conn.QueryRow(t.Context(), `SELECT coalesce(array_agg(t::text), '{}') FROM `+pgx.Identifier{table}.Sanitize()+` t WHERE position($1 in t::text) > 0`, word).Scan(&found))
			require.Empty(t, found, "%s names %s", table, word)
		}
	}
	var photos int
	require.NoError(t, conn.QueryRow(t.Context(), `SELECT count(*) FROM photo`).Scan(&photos))
	require.Zero(t, photos, "photos of the bike are taken off")
	require.Contains(t, run(0, "bill", "show", "1"), "Ines Falkner", "a bill names whom it was written for")
	shown := run(0, "customer", "show", "1")
	require.Contains(t, shown, "(forgotten)")
	require.Contains(t, shown, "all but their bills")
	run(0, "job", "show", "101")
	require.Contains(t, run(1, "customer", "forget", "1", "--yes"), "nothing to correct")
}

// A short name, and one that somebody or something else goes by too, is taken out of all that concerned the customer,
// however it is written, and out of nothing of anybody else's.
func TestForgottenNameOfOthersToo(t *testing.T) {
	t.Setenv("STEAD_NOW", "2026-12-02T09:30:00Z")
	db := testdb.New(t)
	say := inShop(t, db, "")
	run := func(args ...string) string {
		t.Helper()
		code, said := say(args...)
		require.Zero(t, code, "%v: %s", args, said)
		return said
	}
	run("supplier", "add", "falkner", "Falkner Factors")
	run("job", "new", "--customer", "Bo", "--bike", "Bo's bottom bracket bike", "--wish", "Ask BO: \"Bo\nknows\"")
	run("job", "new", "--customer", "Bo Marsh", "--bike", "green city bike", "--wish", "Bo Marsh wants it quiet")
	run("job", "new", "--customer", "Ada Falkner", "--bike", "old roadster")
	run("customer", "set", "1", "--phone", "07700 900123", "--why", "Bo asked, and rode by a bolted bobbin")
	run("bike", "set", "1", "--frame-number", "BO 17 X")
	run("job", "cancel", "101", "--why", "Bo sold the bike")
	run("job", "cancel", "103", "--why", "Falkner sold it, said Ada")
	run("customer", "forget", "1", "--yes")
	run("customer", "forget", "3", "--yes")

	where := db.Config().ConnConfig.Copy()
	where.Database += fmt.Sprint("_shop", shops)
	conn, err := pgx.ConnectConfig(t.Context(), where)
	require.NoError(t, err)
	defer conn.Close(t.Context())
	rows, err := conn.Query(t.Context(), `SELECT concat_ws(' | ', what, words, by_whom, outcome::text) FROM request ORDER BY done_at, key`)
	require.NoError(t, err)
	all, err := pgx.CollectRows(rows, pgx.RowTo[string])
	require.NoError(t, err)
	history := strings.Join(all, "\n")
	require.Equal(t, strings.Count(history, "Bo Marsh"), strings.Count(history, "Bo"), "of Bo alone nothing is left: %s", history)
	require.GreaterOrEqual(t, strings.Count(history, "Bo Marsh"), 2)
	require.NotRegexp(t, `\bBO\b|07700 900123|Ada`, history)
	require.Contains(t, history, "bottom bracket bike")
	require.Contains(t, history, "rode by a bolted bobbin", "part of a word is none")
	require.Contains(t, history, `supplier add falkner "Falkner Factors"`, "the supplier is called so")
	require.NotContains(t, history, "Falkner sold it")
}
