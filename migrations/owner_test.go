package migrations_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/migrations"
)

// named is a table that an SQL statement reads or writes.
var named = regexp.MustCompile(`\b(?:FROM|JOIN|UPDATE|INTO|USING|TRUNCATE|COPY)\s+(?:ONLY\s+)?"?([a-z_]+)`)

// Each table belongs to one subject: inventory's are not read by pricing nor pricing's by inventory, and the commands
// have no SQL of their own. (Tests may look where they like, and what runs the schema has no table but its own.)
func TestEachTableHasOneOwner(t *testing.T) {
	conn, dsn := empty(t)
	require.NoError(t, migrations.Apply(t.Context(), dsn))
	rows, err := conn.Query(t.Context(), `SELECT table_name::text FROM information_schema.tables WHERE table_schema = 'public'`)
	require.NoError(t, err)
	tables, err := pgx.CollectRows(rows, pgx.RowTo[string])
	require.NoError(t, err)
	require.Contains(t, tables, "job")

	users := map[string]map[string]string{} // table, top folder, file
	for _, table := range tables {
		users[table] = map[string]string{}
	}
	for _, top := range []string{"substitution", "inventory", "pricing", "cmd"} {
		require.NoError(t, filepath.WalkDir(filepath.Join("..", top), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			for _, table := range tablesIn(t, path) {
				if _, ours := users[table]; ours {
					users[table][top] = path
				}
			}
			return nil
		}))
	}
	used := 0
	for table, by := range users {
		require.LessOrEqual(t, len(by), 1, "table %s: %v", table, by)
		require.NotContains(t, by, "cmd", "table %s: %v", table, by)
		require.NotContains(t, by, "substitution", "table %s: %v", table, by)
		used += len(by)
	}
	require.Greater(t, used, 30, "the statements were found")
}

// tablesIn are the tables that the SQL of a source file names.
func tablesIn(t *testing.T, path string) (tables []string) {
	file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
	require.NoError(t, err)
	ast.Inspect(file, func(n ast.Node) bool {
		literal, ok := n.(*ast.BasicLit)
		if !ok || literal.Kind != token.STRING {
			return true
		}
		text, err := strconv.Unquote(literal.Value)
		require.NoError(t, err)
		for _, m := range named.FindAllStringSubmatch(text, -1) {
			tables = append(tables, m[1])
		}
		return true
	})
	return tables
}
