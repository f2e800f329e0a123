package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Every test package that draws values draws the same ones in every run.
func TestEveryPackageThatDrawsIsOfTheSameSeed(t *testing.T) {
	drawing, fixed := map[string]bool{}, map[string]bool{}
	require.NoError(t, fs.WalkDir(os.DirFS(readmeFolder), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(name, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(readmeFolder, name), nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, imported := range file.Imports {
			switch imported.Path.Value {
			case `"pgregory.net/rapid"`:
				drawing[path.Dir(name)] = true
			case `"stead/testdata/drawn"`:
				fixed[path.Dir(name)] = true
			}
		}
		return nil
	}))
	delete(drawing, "testdata/drawn") // itself
	require.NotEmpty(t, drawing)
	require.Equal(t, slices.Sorted(maps.Keys(drawing)), slices.Sorted(maps.Keys(fixed)), `a test file of each needs: import _ "stead/testdata/drawn"`)
}
