package standard

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestWhatIsExportedIsUsed wants for every function, method, constant and variable that this package shows the program to
// use it: a reader that only tests call reads nothing. Types are shown by what gives them, and of constants that are given
// together one is enough.
func TestWhatIsExportedIsUsed(t *testing.T) {
	shown := map[string]token.Position{}
	used := map[string]bool{"String": true, "Error": true, "MarshalJSON": true, "UnmarshalJSON": true, "MarshalText": true, "UnmarshalText": true} // called by the library
	var constants [][]string
	files := token.NewFileSet()
	require.NoError(t, filepath.WalkDir("../..", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		if file.Name.Name != "standard" {
			ast.Inspect(file, func(n ast.Node) bool {
				if s, ok := n.(*ast.SelectorExpr); ok { // standard.X, or a method or field of something
					used[s.Sel.Name] = true
				}
				return true
			})
			return nil
		}
		for _, d := range file.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				shown[d.Name.Name] = files.Position(d.Pos())
			case *ast.GenDecl:
				var together []string
				for _, spec := range d.Specs {
					if value, ok := spec.(*ast.ValueSpec); ok {
						for _, name := range value.Names {
							shown[name.Name] = files.Position(name.Pos())
							together = append(together, name.Name)
						}
					}
				}
				if d.Tok == token.CONST {
					constants = append(constants, together)
				}
			}
		}
		return nil
	}))
	require.Greater(t, len(shown), 50)
	for _, together := range constants {
		if slices.ContainsFunc(together, func(name string) bool { return used[name] }) {
			for _, name := range together {
				used[name] = true
			}
		}
	}
	for name, at := range shown {
		if ast.IsExported(name) && !used[name] {
			t.Errorf("%s: nothing in the program uses %s: use it, hide it or remove it", at, name)
		}
	}
}
