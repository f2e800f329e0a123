package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
	"stead/pricing/books"
)

// What the demo workshop has, and what a shop has that has billed a job and given some of it back, is taken in by an empty
// shop and written again: every byte is the same.
func TestBooksGoRound(t *testing.T) {
	t.Setenv("STEAD_NOW", "2026-12-02T09:30:00Z")
	t.Chdir(t.TempDir())
	billed := inShop(t, testdb.New(t), "stead bill make")
	for _, step := range [][]string{{"job", "pay", "101", "--amount", "20", "--how", "card"}, {"bill", "credit", "1", "--line", "1=5", "--why", "=cmd|' /C calc'!A0"},
		{"stock", "receive", "1", "3", "--bin", "A1"}, {"stock", "sell", "1", "2", "--paid", "cash"},
		{"shop", "shelf", "--target", "97.5", "--carrying", "30", "--waiting", "3", "--season", "3,4,6,8,10,11,10,10,9,8.5,6,4"},
		{"stock", "limit", "1", "--holds", "12", "--months", "18"}, {"stock", "limit", "--family", "lubricant", "--months", "36"},
		{"reorder", "at-least", "1", "3", "--note", "=the post bikes"}, {"reorder", "snooze", "1", "--until", "2027-02-01"},
		{"scan", "ACR-7 / inner", "--give", "1"}, {"supplier", "add", "fell", "=Fell & Sons, \"the yard\"", "--closed", "none", "--carriage-paid-at", "75", "--cut-off", "15:30", "--email", "orders@fell.example"},
		{"supplier", "closed", "fell", "2026-12-24", "2027-01-02", "--why", "stocktaking"}, {"supplier", "add", "tarn", "Tarn", "--closed", "monday,sunday", "--country", "DE"},
		{"job", "new", "--customer", "=HYPERLINK(1)", "--bike", "'t Hoen's\nred one", "--contact", "+44 1632 960001", "--wish", "@noon, \"please\""}} {
		code, said := billed(step...)
		require.Zero(t, code, "%v: %s", step, said)
	}
	for name, shop := range map[string]func(...string) (int, string){"billed": billed, "demo": inDemo(t)} {
		t.Run(name, func(t *testing.T) {
			run := func(say func(...string) (int, string), args ...string) string {
				code, said := say(args...)
				require.Zero(t, code, "%v: %s", args, said)
				return said
			}
			run(shop, "export", name)
			empty := inShop(t, testdb.New(t), "")
			require.Contains(t, run(empty, "import", name), "taken in: ")
			run(empty, "export", name+"-again")
			for _, file := range books.Files {
				was, err := os.ReadFile(filepath.Join(name, file))
				require.NoError(t, err)
				is, err := os.ReadFile(filepath.Join(name+"-again", file))
				require.NoError(t, err)
				require.Equal(t, string(was), string(is), file)
				require.NotRegexp(t, `(?m)(^|,)"?[=@]`, string(is), "nothing runs")
			}
			require.Greater(t, len(run(empty, "stock", "list")), 100)
			run(empty, "bill", "list")
			if name == "billed" {
				require.Contains(t, run(empty, "bill", "show", "1"), "Ines Falkner")
				require.Contains(t, run(empty, "job", "show", "101"), "closed")
				require.Contains(t, run(empty, "job", "new", "--customer", "Bo Marsh", "--bike", "green city bike"), "job 103", "numbers go on")
				require.Contains(t, run(empty, "scan", "acr-7 / INNER"), "part 1")
				require.Contains(t, run(empty, "shop", "show"), "the shelf is to meet 97.5 sales in 100")
				require.Contains(t, strings.Join(strings.Fields(run(empty, "reorder")), " "), "put off until Monday 1", "wherever the line ends")
				require.Contains(t, run(empty, "supplier", "show", "fell"), "closed on the bank holidays of GB")
				code, said := empty("import", name)
				require.Equal(t, 1, code)
				require.Contains(t, said, "the books have begun here")
			}
		})
	}
}
