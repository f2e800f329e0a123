package backup

import (
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
)

// How far a dump is, is asked of Postgres while a COPY of it is under way, with another connection in the part of pg_dump.
func TestDumped(t *testing.T) {
	dsn := testdb.New(t).Config().ConnString()
	dump, err := connect(t.Context(), dsn, "")
	require.NoError(t, err)
	defer dump.Close(t.Context())
	asks, err := connect(t.Context(), dsn, "")
	require.NoError(t, err)
	defer asks.Close(t.Context())
	_, err = dump.Exec(t.Context(), `CREATE TABLE a_first AS SELECT g AS n FROM generate_series(1, 20000) g; CREATE TABLE b_next AS SELECT repeat('x', 4000) AS x FROM generate_series(1, 6000)`)
	require.NoError(t, err)

	_, _, known := dumped(t.Context(), asks)
	require.False(t, known, "nothing is under way")
	var first int64
	require.NoError(t, asks.QueryRow(t.Context(), `SELECT pg_table_size('a_first')`).Scan(&first))
	// 24 MB are more than what lies between the two ends of a connection, so that the COPY is under way when its first
	// bytes come.
	_, err = dump.PgConn().CopyTo(t.Context(), &askingWriter{ask: func() {
		done, all, known := dumped(t.Context(), asks)
		require.True(t, known)
		require.GreaterOrEqual(t, done, first, "the tables before it are done")
		require.GreaterOrEqual(t, all, done)
	}}, `COPY b_next TO STDOUT`)
	require.NoError(t, err)
}

// askingWriter asks at the first bytes that come.
type askingWriter struct {
	ask  func()
	once sync.Once
}

func (w *askingWriter) Write(p []byte) (int, error) { w.once.Do(w.ask); return len(p), nil }

func TestTaken(t *testing.T) {
	path := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(path, make([]byte, 100), 0o600))
	file, err := os.Open(path)
	require.NoError(t, err)
	defer file.Close()
	_, err = file.Read(make([]byte, 30))
	require.NoError(t, err)
	done, all, known := taken(file)
	require.True(t, known)
	require.Equal(t, []int64{30, 100}, []int64{done, all})
}
