package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

// TestTheSubjectKnowsNoCommands: what is wrong is said where it is found, what to type is said here; a page says it
// otherwise.
func TestTheSubjectKnowsNoCommands(t *testing.T) {
	for _, folder := range []string{"pricing", "inventory", "substitution"} {
		require.NoError(t, filepath.WalkDir(filepath.Join(readmeFolder, folder), func(path string, _ fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			if err != nil {
				return err
			}
			ast.Inspect(file, func(n ast.Node) bool {
				if text, ok := n.(*ast.BasicLit); ok && text.Kind == token.STRING {
					require.NotContains(t, text.Value, "`stead ", "%s names a command", path)
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
		{&inventory.NoRateError{Currency: "EUR"}, "record it with `stead shop rate EUR RATE`"},
		{&inventory.UnknownError{Kind: "line", Of: 501}, "`stead order show 501` lists its lines"},
		{&inventory.UnknownError{Kind: "part", Near: []string{"A"}}, ""},
		{noPlace, "`stead place list` shows all places"},
		{misspelt, ""},
		{noRule, "`stead rule list` shows all rules"},
		{fs.ErrNotExist, ""},
	} {
		require.Equal(t, c.want, hint(c.err), "%T", c.err)
	}
}
