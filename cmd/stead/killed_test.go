package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
)

// served is `stead serve` as a process of its own, to be killed.
type served struct {
	t   *testing.T
	db  *pgxpool.Pool
	cmd *exec.Cmd
	at  string // its address
}

// serve starts it, and returns when its pages are there.
func serve(t *testing.T, db *pgxpool.Pool) *served {
	address, err := url.Parse(db.Config().ConnString())
	require.NoError(t, err)
	own := address.Query()
	own.Set("application_name", "served")
	address.RawQuery = own.Encode()
	s := &served{t: t, db: db, cmd: exec.Command(filepath.Join(build(t), "stead"), "serve", "--listen", "127.0.0.1:0", "--database", address.String())}
	out, err := s.cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, s.cmd.Start())
	t.Cleanup(s.die)
	s.at = addressSaid(t, out)
	return s
}

// addressSaid is where a `stead serve` says that its pages are, once they are there.
func addressSaid(t *testing.T, out io.Reader) string {
	says := regexp.MustCompile(`the workshop is at (\S+);`)
	for lines := bufio.NewScanner(out); lines.Scan(); {
		if m := says.FindStringSubmatch(lines.Text()); m != nil {
			return m[1]
		}
	}
	require.Fail(t, "it does not say where it is")
	return ""
}

// die ends it as `kill -9` does, gone returns when its lines to the database are gone, and kill does both.
func (s *served) die() {
	if s.cmd.ProcessState == nil {
		require.NoError(s.t, s.cmd.Process.Kill())
		_ = s.cmd.Wait() // it was killed
	}
}

func (s *served) kill() {
	s.die()
	s.gone()
}

func (s *served) gone() {
	require.Eventually(s.t, func() bool { return s.backends(`true`) == 0 }, time.Minute, 5*time.Millisecond)
}

// backends counts its lines to the database.
func (s *served) backends(which string) (n int) {
	require.NoError(s.t, s.db.QueryRow(context.Background(), `
		SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND application_name = 'served' AND `+which).Scan(&n))
	return n
}

// TestServeKilledInAChange kills the program while it books a bike in: customer and bike are written and the job waits for a
// lock. Nothing of it is left, and the form that was sent does it once when it is sent again.
func TestServeKilledInAChange(t *testing.T) {
	db := testdb.New(t)
	_, said := inWorkshopOf(t, db, strings.NewReader("four worn chainrings\n"), "person", "add", "Tamsin Reeve", "--owner")
	require.Contains(t, said, "may sign in")
	jar, err := cookiejar.New(nil)
	require.NoError(t, err)
	browser := &http.Client{Jar: jar}
	first := serve(t, db)
	signIn := formOf(t, browser, first.at+"/sign-in")
	signIn.Set("name", "Tamsin Reeve")
	signIn.Set("password", "four worn chainrings")
	_, err = browser.PostForm(first.at+"/sign-in", signIn)
	require.NoError(t, err)
	booking := formOf(t, browser, first.at+"/book")
	booking.Set("customer", "Ines Falkner")
	booking.Set("bike", "blue touring bike")
	before := rows(t, db)

	blocks, err := db.Begin(t.Context())
	require.NoError(t, err)
	defer blocks.Rollback(context.Background()) // ended below
	_, err = blocks.Exec(t.Context(), `LOCK TABLE job IN SHARE MODE`)
	require.NoError(t, err)
	answered := make(chan error, 1)
	go func() { _, err := browser.PostForm(first.at+"/book", booking); answered <- err }()
	require.Eventually(t, func() bool { return first.backends(`wait_event_type = 'Lock' AND xact_start IS NOT NULL`) == 1 }, time.Minute, 5*time.Millisecond, "it waits for the lock")
	first.die()
	require.Error(t, <-answered)
	require.NoError(t, blocks.Rollback(t.Context()))
	first.gone()
	require.Equal(t, before, rows(t, db), "nothing is half-written")

	second := serve(t, db)
	for range 2 { // and a second time changes nothing
		r, err := browser.PostForm(second.at+"/book", booking)
		require.NoError(t, err)
		require.Equal(t, http.StatusOK, r.StatusCode)
		require.Regexp(t, `/jobs/101`, r.Request.URL.Path)
		after := rows(t, db)
		for table, n := range before {
			require.Equal(t, n+1, after[table], table)
		}
	}
}

// TestServeKilledAtThePost kills the program at each step of handing a message over, to a server that says nothing
// more. What was cut before its text goes out when the program is started again; what was cut with it may have arrived,
// and does not go out a second time. The order of the commands is that of RFC 5321, 3.3.
func TestServeKilledAtThePost(t *testing.T) {
	db := testdb.New(t)
	server := listen(t)
	_, port, err := net.SplitHostPort(server.Addr().String())
	require.NoError(t, err)
	for _, step := range []string{"shop set --hourly 45", "shop tax VAT 20 --from 2011-01-04", "job new --customer Ines --bike blue", "job inspect 101 headset --action adjust", "job quote 101",
		"post server 127.0.0.1 --port " + port + " --sender bench@tannery.example --security none"} {
		code, said := inWorkshopOf(t, db, nil, strings.Fields(step)...)
		require.Zero(t, code, "%s: %s", step, said)
	}
	for i, c := range []struct {
		at    string // what the server has read when it falls silent
		state string
	}{
		{"EHLO", "sent"}, {"MAIL FROM", "sent"}, {"RCPT TO", "sent"}, {"DATA", "sent"}, {".", "unsure"},
	} {
		t.Run(c.at, func(t *testing.T) {
			to := fmt.Sprintf("rider-%d@customer.example", i)
			code, said := inWorkshopOf(t, db, nil, "post", "quote", "101", "--to", to)
			require.Zero(t, code, said)
			silent := server.silentAt(c.at)
			first := serve(t, db)
			<-silent
			first.kill()
			server.silentAt("")
			second := serve(t, db)
			require.Eventually(t, func() bool { return stateOf(t, db, to) == c.state }, time.Minute, 10*time.Millisecond)
			second.kill()
			require.Equal(t, 1, server.taken(to))
		})
	}
	_, said := inWorkshopOf(t, db, nil, "post", "list")
	require.Contains(t, said, "it may have arrived")
}

// mailServer is an SMTP server that can fall silent (RFC 5321), without extensions.
type mailServer struct {
	net.Listener
	silent atomic.Pointer[silence]
	texts  chan string
	all    []string
}

// silence is after which command a server says nothing, and tells when it came to that.
type silence struct {
	after   string
	reached chan struct{}
}

func listen(t *testing.T) *mailServer {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	s := &mailServer{Listener: l, texts: make(chan string, 100)}
	s.silentAt("")
	t.Cleanup(func() { l.Close() })
	go func() {
		for {
			conn, err := l.Accept()
			if err != nil {
				return
			}
			go s.converse(conn)
		}
	}()
	return s
}

// silentAt has it fall silent after a command once it is spoken to again; "" has it answer.
func (s *mailServer) silentAt(after string) (reached <-chan struct{}) {
	next := &silence{after, make(chan struct{})}
	s.silent.Store(next)
	return next.reached
}

// converse speaks with one client. A text is taken when it has come whole, whether or not that is said.
func (s *mailServer) converse(conn net.Conn) {
	defer conn.Close()
	quiet, text := s.silent.Load(), ""
	say := func(read, answer string) {
		if quiet.after != "" && strings.HasPrefix(read, quiet.after) {
			close(quiet.reached)
			_, _ = io.Copy(io.Discard, conn) // until the client is gone
			return
		}
		fmt.Fprintf(conn, "%s\r\n", answer)
	}
	say("", "220 bench.example")
	for lines, inText := bufio.NewScanner(conn), false; lines.Scan(); {
		line := lines.Text()
		switch {
		case inText && line != ".":
			text += line + "\n"
		case inText:
			s.texts <- text
			inText, text = false, ""
			say(line, "250 taken")
		case line == "DATA":
			inText = true
			say(line, "354 go on")
		case line == "QUIT":
			say(line, "221 bye")
		default:
			say(line, "250 good")
		}
	}
}

// taken is how many messages it has taken for an address.
func (s *mailServer) taken(to string) (n int) {
	for len(s.texts) > 0 {
		s.all = append(s.all, <-s.texts)
	}
	for _, text := range s.all {
		if strings.Contains(text, to) {
			n++
		}
	}
	return n
}

func stateOf(t *testing.T, db *pgxpool.Pool, to string) (state string) {
	require.NoError(t, db.QueryRow(context.Background(), `SELECT state FROM message WHERE recipient = $1`, to).Scan(&state))
	return state
}

// rows is how many rows some tables have.
func rows(t *testing.T, db *pgxpool.Pool) map[string]int {
	out := map[string]int{}
	for _, table := range []string{"customer", "bike", "job", "request"} {
		var n int
		require.NoError(t, db.QueryRow(t.Context(), `SELECT count(*) FROM `+table).Scan(&n))
		out[table] = n
	}
	return out
}

// inWorkshopOf runs a command in this process on a database.
func inWorkshopOf(t *testing.T, db *pgxpool.Pool, stdin io.Reader, args ...string) (int, string) {
	var out bytes.Buffer
	code := run(t.Context(), append(args, "--database", db.Config().ConnString()), stdin, &out, &out)
	return code, unfolded(out.String())
}

// formOf are the hidden fields of a page's only form that changes something.
func formOf(t *testing.T, browser *http.Client, at string) url.Values {
	r, err := browser.Get(at)
	require.NoError(t, err)
	defer r.Body.Close()
	page, err := io.ReadAll(r.Body)
	require.NoError(t, err)
	form := url.Values{}
	for _, m := range regexp.MustCompile(`<input type="hidden" name="([a-z]+)" value="([^"]*)"`).FindAllStringSubmatch(string(page), -1) {
		form.Set(m[1], m[2])
	}
	require.NotEmpty(t, form.Get("key"), "%s", page)
	return form
}
