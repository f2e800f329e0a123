package migrations_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/migrations"
	"stead/migrations/testdb"
)

func TestTheDemoEmptiesItsOwnDatabaseOnly(t *testing.T) {
	t.Parallel()
	pool := testdb.New(t)
	dsn, name := pool.Config().ConnString(), pool.Config().ConnConfig.Database
	_, err := pool.Exec(t.Context(), `UPDATE shop SET name = 'a real one'`)
	require.NoError(t, err)
	err = migrations.EmptyDemo(t.Context(), dsn, name, false)
	require.ErrorAs(t, err, new(*migrations.ForeignDemoError))
	var shop string
	require.NoError(t, pool.QueryRow(t.Context(), `SELECT name FROM shop`).Scan(&shop))
	require.Equal(t, "a real one", shop)
	require.ErrorContains(t, migrations.EmptyDemo(t.Context(), dsn, "another", false), "nothing was thrown away")

	_, err = pool.Exec(t.Context(), `DROP SCHEMA public CASCADE; CREATE SCHEMA public`)
	require.NoError(t, err)
	require.NoError(t, migrations.EmptyDemo(t.Context(), dsn, name, false), "one that holds nothing is taken")
	_, err = pool.Exec(t.Context(), `CREATE TABLE last_week ()`)
	require.NoError(t, err)
	require.NoError(t, migrations.EmptyDemo(t.Context(), dsn, name, false), "and is the demo's from then on")
	var left bool
	require.NoError(t, pool.QueryRow(t.Context(), `SELECT to_regclass('last_week') IS NOT NULL`).Scan(&left))
	require.False(t, left)
}
