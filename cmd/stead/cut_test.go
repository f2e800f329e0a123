package main

import (
	"bytes"
	"context"
	"io"
	"net"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
)

// line is a line to the database that can be cut: a real one, through which every byte goes.
type line struct {
	address  string
	server   *pgconn.Config
	down     atomic.Bool  // no new connection is taken
	cut      atomic.Value // func(conn, server net.Conn, commit []byte): what becomes of the next commit of a change
	listener net.Listener
}

// newLine lays a line to a pool's database.
func newLine(t *testing.T, pool *pgxpool.Pool) *line {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	config := pool.Config().ConnConfig
	address := url.URL{Scheme: "postgres", User: url.UserPassword(config.User, config.Password), Host: listener.Addr().String(),
		Path: config.Database, RawQuery: "sslmode=disable"}
	l := &line{server: &config.Config, listener: listener, address: address.String()}
	l.cut.Store(func(net.Conn, net.Conn, []byte) bool { return false })
	t.Cleanup(func() { listener.Close() })
	go func() {
		for {
			conn, err := listener.Accept()
			if err != nil {
				return
			}
			go l.carry(conn)
		}
	}()
	return l
}

func (l *line) carry(conn net.Conn) {
	defer conn.Close()
	if l.down.Load() {
		return
	}
	network, address := pgconn.NetworkAddress(l.server.Host, l.server.Port)
	server, err := net.Dial(network, address)
	if err != nil {
		return
	}
	defer server.Close()
	go func() {
		io.Copy(conn, server)
		conn.Close()
	}()
	change := false
	buffer := make([]byte, 64<<10)
	for {
		n, err := conn.Read(buffer)
		if err != nil {
			return
		}
		said := buffer[:n]
		change = change || bytes.Contains(said, []byte("INSERT INTO request"))
		if change && bytes.Contains(said, []byte("commit\x00")) && l.cut.Load().(func(net.Conn, net.Conn, []byte) bool)(conn, server, said) {
			return
		}
		if _, err := server.Write(said); err != nil {
			return
		}
	}
}

// cutBefore loses the commit on its way; cutAfter loses the answer to it.
func (l *line) cutBefore(then func()) {
	l.cut.Store(func(conn, server net.Conn, _ []byte) bool {
		l.mend()
		then()
		return true
	})
}

func (l *line) cutAfter(t *testing.T, witness *pgxpool.Pool, then func()) {
	l.cut.Store(func(conn, server net.Conn, commit []byte) bool {
		l.mend()
		then()
		conn.Close()
		server.Write(commit)
		// It is done when another sees it.
		for until := time.Now().Add(5 * time.Minute); time.Now().Before(until); time.Sleep(2 * time.Millisecond) {
			var done int
			if witness.QueryRow(context.Background(), `SELECT count(*) FROM request WHERE what LIKE 'stock receive%'`).Scan(&done) == nil && done > 0 {
				return true
			}
		}
		t.Error("the change that was committed is not seen")
		return true
	})
}

func (l *line) mend() { l.cut.Store(func(net.Conn, net.Conn, []byte) bool { return false }) }

// TestCutAtTheCommit cuts a real connection between a commit and its answer, before and after the database has it, and
// lets the database be asked at once or only later. The program says what is so, and the same command again does it once.
func TestCutAtTheCommit(t *testing.T) {
	t.Setenv("STEAD_DATA", t.TempDir())
	for name, c := range map[string]struct {
		after, dead bool
		code        int
		says        string // the first time
		again       string // the same command again
		pieces      int    // on the shelf after that
	}{
		"lost on its way, then asked": {code: 1, pieces: 10, again: `^10 of `,
			says: `^stead: the connection to the database was cut before stock receive BALL 10 --bin=A1 was done: nothing was changed; `},
		"lost answer, then asked": {after: true, pieces: 20, again: `^10 of `, // a second delivery
			says: `^10 of .* put into A1\n$`},
		"lost on its way, nobody there": {dead: true, code: 1, pieces: 10, again: `^10 of `,
			says: "^stead: the connection .* was cut while stock receive .* was being written, and it cannot be asked yet .*: ask with `stead db request [A-Z0-9]+`, or give the very same command again"},
		"lost answer, nobody there": {after: true, dead: true, code: 1, pieces: 10,
			says:  "ask with `stead db request [A-Z0-9]+`",
			again: `broke off; it was done then, the database says, so nothing was changed now`},
	} {
		t.Run(name, func(t *testing.T) {
			pool := testdb.New(t)
			stocked(t, pool)
			l := newLine(t, pool)
			say := func(args ...string) (int, string) {
				var out bytes.Buffer
				code := run(t.Context(), append(args, "--database", l.address), strings.NewReader(""), &out, &out)
				return code, unfolded(out.String())
			}
			then := func() { l.down.Store(c.dead) }
			if c.after {
				l.cutAfter(t, pool, then)
			} else {
				l.cutBefore(then)
			}
			code, said := say("stock", "receive", "BALL", "10", "--bin", "A1")
			require.Equal(t, c.code, code, said)
			require.Regexp(t, c.says, said)
			l.down.Store(false)
			if key := regexp.MustCompile("db request ([A-Z0-9]+)").FindStringSubmatch(said); key != nil {
				left, err := filepath.Glob(filepath.Join(os.Getenv("STEAD_DATA"), "requests", "*"))
				require.NoError(t, err)
				require.Len(t, left, 1, "the key is remembered")
			}
			_, said = say("stock", "receive", "BALL", "10", "--bin", "A1")
			require.Regexp(t, c.again, said)
			left, err := filepath.Glob(filepath.Join(os.Getenv("STEAD_DATA"), "requests", "*"))
			require.NoError(t, err)
			require.Empty(t, left, "nothing is remembered of which the end is known")
			var pieces int
			require.NoError(t, pool.QueryRow(t.Context(), `SELECT sum(pieces) FROM movement`).Scan(&pieces))
			require.Equal(t, c.pieces, pieces)
		})
	}
}

// stocked gives a workshop a part and a bin for it.
func stocked(t *testing.T, pool *pgxpool.Pool) {
	t.Helper()
	for _, of := range []string{"shop bin A1", "part add loose-balls balls ball_mm=6.35 --brand Kestle --code BALL"} {
		var out bytes.Buffer
		code := run(t.Context(), append(strings.Fields(of), "--database", pool.Config().ConnString()), strings.NewReader(""), &out, &out)
		require.Zero(t, code, out.String())
	}
}

// TestAskAfterACut asks by the key that was told.
func TestAskAfterACut(t *testing.T) {
	t.Setenv("STEAD_DATA", t.TempDir())
	for name, after := range map[string]bool{"done": true, "not done": false} {
		t.Run(name, func(t *testing.T) {
			pool := testdb.New(t)
			stocked(t, pool)
			l := newLine(t, pool)
			say := func(args ...string) string {
				var out bytes.Buffer
				run(t.Context(), append(args, "--database", l.address), strings.NewReader(""), &out, &out)
				return out.String()
			}
			then := func() { l.down.Store(true) }
			if after {
				l.cutAfter(t, pool, then)
			} else {
				l.cutBefore(then)
			}
			key := regexp.MustCompile("db request ([A-Z0-9]+)").FindStringSubmatch(say("stock", "receive", "BALL", "10", "--bin", "A1"))
			require.NotNil(t, key)
			l.down.Store(false)
			require.Regexp(t, `^`+name+`( on .*)?: stock receive BALL 10 --bin=A1\n$`, say("db", "request"))
			require.Equal(t, "of every change it is known whether it was done\n", say("db", "request"))
			if after {
				require.Regexp(t, `^done on .*: stock receive BALL 10 --bin=A1\n$`, say("db", "request", key[1]))
			} else {
				require.Equal(t, "nothing was done under "+key[1]+"\n", say("db", "request", key[1]))
			}
		})
	}
}

// TestCutWithNoPlaceForTheKey loses the answer where no key can be kept, so that the very same command would be done twice:
// the sentence names the key, with which it is not.
func TestCutWithNoPlaceForTheKey(t *testing.T) {
	noFolder := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(noFolder, nil, 0o600))
	t.Setenv("STEAD_DATA", noFolder)
	pool := testdb.New(t)
	stocked(t, pool)
	l := newLine(t, pool)
	say := func(more ...string) string {
		var out bytes.Buffer
		run(t.Context(), append([]string{"stock", "receive", "BALL", "10", "--bin", "A1", "--database", l.address}, more...), strings.NewReader(""), &out, &out)
		return unfolded(out.String())
	}
	l.cutAfter(t, pool, func() { l.down.Store(true) })
	said := say()
	key := regexp.MustCompile("`stead db request ([A-Z0-9]+)`, or give the same command again with --request ([A-Z0-9]+), which is not done twice").FindStringSubmatch(said)
	require.NotNil(t, key, said)
	require.Equal(t, key[1], key[2])
	l.down.Store(false)
	say("--request", key[2])
	var pieces int
	require.NoError(t, pool.QueryRow(t.Context(), `SELECT sum(pieces) FROM movement`).Scan(&pieces))
	require.Equal(t, 10, pieces)
}
