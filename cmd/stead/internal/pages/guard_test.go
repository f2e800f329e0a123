package pages_test

import (
	"bytes"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/pages"
	"stead/inventory/people"
)

// serveAs is the same workshop, served otherwise.
func (s *shop) serveAs(t *testing.T, o pages.Options) *httptest.Server {
	o.DB, o.Now, o.Log = s.db, s.now, slog.New(slog.NewTextHandler(t.Output(), nil))
	server, err := pages.New(o)
	require.NoError(t, err)
	web := httptest.NewServer(server.Handler())
	t.Cleanup(func() { web.Close(); server.Close() })
	return web
}

// Behind a server that does TLS cookies travel by TLS only, and tries to sign in count by the address that it tells.
func TestBehindTLS(t *testing.T) {
	s := open(t)
	web := s.serveAs(t, pages.Options{Public: "https://bench.example"})
	try := func(from, password string) *http.Response {
		form := strings.NewReader("act=sign-in&name=" + strings.ReplaceAll(ownerName, " ", "+") + "&password=" + strings.ReplaceAll(password, " ", "+"))
		r, err := http.NewRequest(http.MethodPost, web.URL+"/sign-in", form)
		require.NoError(t, err)
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Origin", "https://bench.example")
		r.Header.Set("X-Forwarded-For", "203.0.113.9, "+from)
		answer, err := http.DefaultTransport.RoundTrip(r)
		require.NoError(t, err)
		answer.Body.Close()
		return answer
	}
	in := try("198.51.100.7", password)
	require.Equal(t, http.StatusSeeOther, in.StatusCode)
	require.Contains(t, in.Header.Get("Set-Cookie"), "; HttpOnly; Secure; SameSite=Lax")
	require.NotEmpty(t, in.Header.Get("Strict-Transport-Security"))
	require.Equal(t, http.StatusUnauthorized, try("198.51.100.8", "guessed wrong").StatusCode)
	var address string
	require.NoError(t, s.db.QueryRow(t.Context(), `SELECT address FROM sign_in_try`).Scan(&address))
	require.Equal(t, "198.51.100.8", address, "the last address, which the server in front adds, and none that the asker made up")
}

// A fault of the program itself is told to who asks and to the log, and the next page is answered.
func TestFaultOfTheProgram(t *testing.T) {
	s := open(t)
	var broken atomic.Bool
	var log bytes.Buffer
	server, err := pages.New(pages.Options{DB: s.db, Log: slog.New(slog.NewTextHandler(&log, nil)), Now: func() time.Time {
		if broken.CompareAndSwap(true, false) {
			panic("the clock has stopped")
		}
		return s.now()
	}})
	require.NoError(t, err)
	web := httptest.NewServer(server.Handler())
	t.Cleanup(func() { web.Close(); server.Close() })
	get := func() (int, string) {
		r, err := http.Get(web.URL + "/sign-in")
		require.NoError(t, err)
		defer r.Body.Close()
		said, err := io.ReadAll(r.Body)
		require.NoError(t, err)
		return r.StatusCode, string(said)
	}
	broken.Store(true)
	status, said := get()
	require.Equal(t, http.StatusInternalServerError, status)
	require.Contains(t, said, "The program has failed at this: ask again")
	require.NotContains(t, said, "has stopped", "what failed is for the log")
	require.Contains(t, log.String(), "the clock has stopped")
	require.Contains(t, log.String(), "guard_test.go")
	status, _ = get()
	require.Equal(t, http.StatusOK, status)
}

// The demo is signed in, so it answers nobody who comes by a name that merely leads to this machine.
func TestDemoIsForThisMachine(t *testing.T) {
	s := open(t)
	web := s.serveAs(t, pages.Options{As: &people.Person{ID: 1, Name: ownerName, Role: people.Owner}})
	for host, want := range map[string]int{"127.0.0.1:8017": 200, "localhost": 200, "[::1]:8017": 200, "elsewhere.example": 403, "127.0.0.1.elsewhere.example": 403} {
		r, err := http.NewRequest(http.MethodGet, web.URL+"/", nil)
		require.NoError(t, err)
		r.Host = host
		answer, err := http.DefaultClient.Do(r)
		require.NoError(t, err)
		answer.Body.Close()
		require.Equal(t, want, answer.StatusCode, host)
	}
}

// Where the database is not running nobody is told that the program has failed: the page is not to be had now.
func TestDatabaseIsNotRunning(t *testing.T) {
	nowhere, err := pgxpool.New(t.Context(), "postgres://nobody@127.0.0.1:1/nowhere")
	require.NoError(t, err)
	t.Cleanup(nowhere.Close)
	s := open(t)
	mechanic := s.as(mechanicName)
	s.db = nowhere
	web := s.serveAs(t, pages.Options{})
	for name, v := range map[string]*visitor{"a stranger": s.stranger(), "who is signed in": mechanic} {
		t.Run(name, func(t *testing.T) {
			cookies := v.http.Jar.Cookies(must(url.Parse(s.web.URL)))
			r, err := http.NewRequest(http.MethodGet, web.URL+"/sign-in", nil)
			require.NoError(t, err)
			for _, c := range cookies {
				r.AddCookie(c)
			}
			out, err := http.DefaultClient.Do(r)
			require.NoError(t, err)
			a := v.read(out)
			require.Equal(t, http.StatusServiceUnavailable, a.status)
			require.Contains(t, a.text, "The database nowhere at 127.0.0.1:1 is not running: start it, or correct the address of the database, then try again")
		})
	}
}

func must[T any](value T, err error) T {
	if err != nil {
		panic(err)
	}
	return value
}
