package main

import (
	"context"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/mailing"
	"stead/inventory"
	"stead/migrations"
	"stead/migrations/backup"
	"stead/migrations/privatepg"
	"stead/pricing"
	"stead/pricing/billing"
	"stead/pricing/orderplan"
	"stead/substitution"
)

// TestTheSubjectKnowsNoCommands: what is wrong is said where it is found, what to type is said here; a page says it
// otherwise.
func TestTheSubjectKnowsNoCommands(t *testing.T) {
	asMark := "\"stead demo: emptied by each `stead demo`\"" // which databases bear, whatever the command is called
	flag := regexp.MustCompile(`(^|[\s"'(])--[a-z]`)
	runsPrograms := map[string]bool{"backup": true, "privatepg": true} // of Postgres, which have flags
	for _, folder := range []string{"pricing", "inventory", "substitution", "migrations"} {
		require.NoError(t, filepath.WalkDir(filepath.Join(readmeFolder, folder), func(path string, _ fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			if err != nil {
				return err
			}
			ast.Inspect(file, func(n ast.Node) bool {
				if text, ok := n.(*ast.BasicLit); ok && text.Kind == token.STRING && text.Value != asMark {
					require.NotContains(t, text.Value, "`stead ", "%s names a command", path)
					if !runsPrograms[filepath.Base(filepath.Dir(path))] {
						require.NotRegexp(t, flag, text.Value, "%s names a flag", path)
					}
				}
				return true
			})
			return nil
		}))
	}
}

func TestHint(t *testing.T) {
	_, noPlace := substitution.SiteOf("handlebars")
	_, misspelt := substitution.SiteOf("rear.casette")
	_, noRule := substitution.RuleByID("moon.rule")
	for _, c := range []struct {
		err  error
		want string
	}{
		{&pricing.StuckError{JobID: 7, Remedy: pricing.GiveItUp}, "approve its quote first, or give it up with `stead job cancel 7 --why REASON`"},
		{&pricing.StuckError{JobID: 7, Remedy: pricing.MakeItsQuote}, "make a quote with `stead job quote 7`"},
		{&pricing.NoLabourError{Labour: pricing.Labour{Family: "chain", Action: "replace", Words: "fit and size chain", Minutes: 15}},
			"record it with `stead shop labour chain replace --words \"fit and size chain\" --minutes 15 --price …`"},
		{&billing.BehindError{Series: billing.Bills, Number: 12},
			"put the clock right; where that cannot be, --dated last dates it as bill 12, and --dated today by the clock, where bill 12 bears a wrong day"},
		{&inventory.NoRateError{Currency: "EUR"}, "record it with `stead shop rate EUR RATE`"},
		{&mailing.NoAddressError{Of: inventory.OfCustomer, ID: 3}, "keep it with `stead customer set 3 --email ADDRESS`, or give one with --to"},
		{&mailing.NoAddressError{Of: inventory.OfSupplier, Code: "harbour"}, "keep it with `stead supplier set harbour --email ADDRESS`, or give one with --to"},
		{&mailing.NoAddressError{Of: inventory.OfCustomer}, "give one with --to"},
		{&inventory.UnknownError{Kind: inventory.OfLine, Of: 501}, "`stead order show 501` lists its lines"},
		{&inventory.UnknownError{Kind: inventory.OfPart, Near: []string{"A"}}, ""},
		{noPlace, "`stead place list` shows all places"},
		{misspelt, ""},
		{noRule, "`stead rule list` shows all rules"},
		{&migrations.NoDemoError{Database: "shop_demo"}, "`stead demo` makes it"},
		{&migrations.ForeignDemoError{Database: "shop"}, "drop or rename it, or name another database with --database"},
		{&backup.OccupiedError{Database: "shop"}, "save it with `stead db backup` if it is of worth, then repeat the restore with --replace"},
		{&privatepg.NoBinariesError{Install: true}, "`stead demo --yes` installs it"},
		{&privatepg.NoBinariesError{}, ""},
		{fs.ErrNotExist, ""},
	} {
		require.Equal(t, c.want, hint(c.err), "%T", c.err)
	}
}

// TestASlowPlanIsNoSlowDatabase: the planner's own deadline is no database that did not answer, and one who stopped it
// is known.
func TestASlowPlanIsNoSlowDatabase(t *testing.T) {
	late := fmt.Errorf("planning the orders: %w", &orderplan.UnfinishedError{LowerBound: 1234, Cause: context.DeadlineExceeded})
	require.Equal(t, "planning the orders: no plan found in the time given (any plan costs at least 1234 pence): plan fewer lines at a time", failure(t.Context(), late))
	require.ErrorIs(t, &orderplan.UnfinishedError{Cause: context.Canceled}, context.Canceled)
}
