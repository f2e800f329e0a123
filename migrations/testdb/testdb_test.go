package testdb

import (
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/migrations"
)

func TestMain(m *testing.M) { Main(m) }

func TestNewHasTheSchema(t *testing.T) {
	t.Parallel()
	pool := New(t)
	version, err := migrations.Version(t.Context(), pool)
	require.NoError(t, err)
	require.Equal(t, migrations.Latest(), version)
}

func TestNewIsTheTestsOwn(t *testing.T) {
	t.Parallel()
	one, other := New(t), New(t)
	_, err := one.Exec(t.Context(), `CREATE TABLE only_here (n int)`)
	require.NoError(t, err)
	var seen bool
	require.NoError(t, other.QueryRow(t.Context(), `SELECT to_regclass('only_here') IS NOT NULL`).Scan(&seen))
	require.False(t, seen)
}

func TestCopyHasWhatTheOtherHas(t *testing.T) {
	t.Parallel()
	one := New(t)
	_, err := one.Exec(t.Context(), `CREATE TABLE in_both (n int)`)
	require.NoError(t, err)
	one.Reset()
	config := one.Config().ConnConfig.Copy()
	config.Database += "_copy"
	Copy(t, one.Config().ConnConfig.Database, config.Database)
	other, err := pgx.ConnectConfig(t.Context(), config)
	require.NoError(t, err)
	defer other.Close(t.Context())
	var seen bool
	require.NoError(t, other.QueryRow(t.Context(), `SELECT to_regclass('in_both') IS NOT NULL`).Scan(&seen))
	require.True(t, seen)
}

func TestNewFilledIsFilledOnce(t *testing.T) {
	t.Parallel()
	times := 0
	fill := func(dsn string) {
		times++
		conn, err := pgx.Connect(t.Context(), dsn)
		require.NoError(t, err)
		defer conn.Close(t.Context())
		_, err = conn.Exec(t.Context(), `CREATE TABLE once (n int)`)
		require.NoError(t, err)
	}
	one, other := NewFilled(t, "a table", fill), NewFilled(t, "a table", fill)
	require.Equal(t, 1, times)
	_, err := one.Exec(t.Context(), `INSERT INTO once VALUES (1)`)
	require.NoError(t, err)
	var n int
	require.NoError(t, other.QueryRow(t.Context(), `SELECT count(*) FROM once`).Scan(&n))
	require.Zero(t, n, "each has its own")
}

func TestPoolWithAConnectionOut(t *testing.T) {
	t.Parallel()
	pool := New(t)
	tx, err := pool.Begin(t.Context())
	require.NoError(t, err)
	require.False(t, closeWithin(pool, 10*time.Millisecond))
	require.NoError(t, tx.Rollback(t.Context()))
	require.True(t, closeWithin(pool, goodbye))
}

func TestTxIsRolledBack(t *testing.T) {
	t.Run("first", func(t *testing.T) {
		_, err := Tx(t).Exec(t.Context(), `CREATE TABLE gone_after (n int)`)
		require.NoError(t, err)
	})
	t.Run("second", func(t *testing.T) {
		var seen bool
		require.NoError(t, Tx(t).QueryRow(t.Context(), `SELECT to_regclass('gone_after') IS NOT NULL`).Scan(&seen))
		require.False(t, seen)
	})
}

func TestNumericIsDecimal(t *testing.T) {
	var price decimal.Decimal
	require.NoError(t, Tx(t).QueryRow(t.Context(), `SELECT 0.10::numeric + 0.20::numeric`).Scan(&price))
	require.Equal(t, "0.3", price.String())
}
