package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What DEVELOPERS.md says is kept by a test is kept by one that is there, and every file that it names is.
func TestDevelopersNamesWhatIsThere(t *testing.T) {
	data, err := os.ReadFile("../../DEVELOPERS.md")
	require.NoError(t, err)
	var tests strings.Builder
	var files []string
	require.NoError(t, filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		files = append(files, path)
		if !strings.HasSuffix(path, "_test.go") {
			return nil
		}
		source, err := os.ReadFile(path)
		tests.Write(source)
		return err
	}))
	for _, name := range regexp.MustCompile("`(Test[A-Z]\\w*)(…?)`").FindAllStringSubmatch(string(data), -1) {
		end := "("
		if name[2] != "" {
			end = "" // only how it begins is told
		}
		require.Contains(t, tests.String(), "func "+name[1]+end, "no test has this name")
	}
	for _, name := range regexp.MustCompile("`([\\w/]+\\.(?:go|txt|js|json|sql|md|css))`").FindAllStringSubmatch(string(data), -1) {
		there := false
		for _, path := range files {
			there = there || strings.HasSuffix(path, "/"+name[1])
		}
		require.True(t, there, "no file is called %s", name[1])
	}
}
