package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// numberNames are the fields that hold somebody's number, and their one name in JSON. What people call by its number carries
// its own name; a part has words, so "part" is a part written out and its number is "part_id".
var numberNames = map[string]string{
	"JobID": "job", "OrderID": "order", "LineID": "line", "BikeID": "bike", "PartID": "part_id", "QuoteID": "quote",
}

// TestNumbersHaveOneName reads every field of the program that is written as JSON: the same number has the same name in
// whatever a command, a page or a file says with --json.
func TestNumbersHaveOneName(t *testing.T) {
	fields := 0
	for _, folder := range []string{"../../cmd", "../../inventory", "../../pricing"} {
		require.NoError(t, filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
			if err != nil || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
				return err
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
			if err != nil {
				return err
			}
			ast.Inspect(file, func(n ast.Node) bool {
				if f, is := n.(*ast.Field); is && f.Tag != nil {
					if tag, written := jsonName(f); written {
						fields++
						requireOneName(t, path, f, tag)
					}
				}
				return true
			})
			return nil
		}))
	}
	require.Greater(t, fields, 500)
}

// jsonName is what a field is called in JSON, if it is written.
func jsonName(f *ast.Field) (string, bool) {
	tag, err := strconv.Unquote(f.Tag.Value)
	if err != nil {
		return "", false
	}
	name, _, _ := strings.Cut(reflect.StructTag(tag).Get("json"), ",")
	return name, name != "" && name != "-"
}

func requireOneName(t *testing.T, path string, f *ast.Field, tag string) {
	kind := f.Type
	if star, points := kind.(*ast.StarExpr); points {
		kind = star.X
	}
	basic, _ := kind.(*ast.Ident)
	whole := basic != nil && (basic.Name == "int" || basic.Name == "int64")
	for _, name := range f.Names {
		if want, is := numberNames[name.Name]; is && whole {
			require.Equal(t, want, tag, "%s: %s", path, name.Name)
		}
	}
	require.NotContains(t, []string{"job_id", "order_id", "line_id", "bike_id", "quote_id"}, tag, path)
	require.False(t, whole && tag == "part", "%s: \"part\" is a part written out, its number is \"part_id\"", path)
	require.False(t, basic != nil && basic.Name == "int" && tag == "order", "%s: \"order\" is an order's number, pieces to order are \"to_order\"", path)
}
