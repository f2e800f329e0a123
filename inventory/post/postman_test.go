package post

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/stretchr/testify/require"
)

// One server and one database are enough for all that is asked of a server without TLS.
func TestPost(t *testing.T) {
	server := startServer(t)
	o := newOffice(t, server.port)
	for _, c := range []struct {
		name string
		is   func(*testing.T, *mailServer, *office)
	}{
		{"each message arrives once", eachMessageArrivesOnce},
		{"unsure is sent again only when asked", unsureIsSentAgainOnlyWhenAsked},
		{"many postmen hand each over once", manyPostmenHandEachOverOnce},
		{"a postman is cut off", postmanIsCutOff},
		{"a message is read again", messageIsReadAgain},
	} {
		t.Run(c.name, func(t *testing.T) {
			server.forget()
			server.t, o.t, o.Bounds, o.now = t, t, patient, morning
			c.is(t, server, o)
		})
	}
}

// What a server may do, and what comes of a message: tried until nothing waits, it arrives once, or not at all where the
// server says so. The replies are those of RFC 5321, 4.2; that nobody can know what became of a message when the line is cut
// before the last answer is RFC 1047's.
func eachMessageArrivesOnce(t *testing.T, server *mailServer, o *office) {
	for _, c := range []struct {
		name, to string // what the server does: see testdata/server.py
		bounds   Bounds
		first    State // after the first try
		last     State
		arrives  int
		answer   string // the last
	}{
		{"takes it", "ines", patient, Sent, Sent, 1, "the server has taken it"},
		{"greylists it", "greylisted", patient, Waiting, Sent, 1, ""},
		{"has no room for it", "full", patient, Waiting, Sent, 1, ""},
		{"knows nobody of the name", "nobody", patient, Refused, Refused, 0, "550 5.1.1 nobody of this name here"},
		{"refuses the text", "refuses-text", patient, Refused, Refused, 0, "554 5.7.1 this looks like what nobody wants"},
		{"is too slow to take the address", "slow", Bounds{time.Minute, 200 * time.Millisecond, time.Minute}, Waiting, Sent, 1, ""},
		{"is killed before the text", "dies-early", patient, Waiting, Sent, 1, ""},
		{"is killed with the text, and has not kept it", "dies-untaken", patient, Unsure, Unsure, 0, "it may have arrived"},
		{"is killed with the text, and has kept it", "dies-taken", patient, Unsure, Unsure, 1, "it may have arrived"},
		{"keeps it and is too slow to say so", "thinks", Bounds{time.Minute, time.Minute, 3 * time.Second}, Unsure, Unsure, 1, "it may have arrived"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := o.queue(c.to + "@customer.example")
			o.Bounds = c.bounds
			_, err := o.Round(t.Context())
			require.NoError(t, err)
			require.Equal(t, c.first, o.at(m.ID).State, o.at(m.ID).Answer)
			if strings.HasPrefix(c.to, "dies-") {
				server.revive()
			}
			for tried := 1; o.at(m.ID).State == Waiting && tried < 20; tried++ {
				o.Bounds, o.now = patient, o.at(m.ID).NextAt
				_, err = o.Round(t.Context())
				require.NoError(t, err)
			}
			// Whatever is not open any more stays so.
			o.now = o.now.Add(5 * 24 * time.Hour)
			_, err = o.Round(t.Context())
			require.NoError(t, err)
			now := o.at(m.ID)
			require.Equal(t, c.last, now.State)
			require.Contains(t, now.Answer, c.answer)
			arrived := server.taken(c.to + "@")
			require.Len(t, arrived, c.arrives)
			for _, l := range arrived {
				require.Equal(t, "<"+m.MessageID+">", l.Header.Get("Message-Id"))
			}
			t.Logf("the server %-45s after the first try %-8s in the end %-8s tries %d, arrived %d", c.name+":", string(c.first)+",", string(c.last)+",", now.Tries, len(arrived))
			if now.State != Sent {
				o.change(func(ctx context.Context, tx pgx.Tx) error { return Cancel(ctx, tx, m.ID, o.now) })
			}
		})
	}
}

func unsureIsSentAgainOnlyWhenAsked(t *testing.T, server *mailServer, o *office) {
	m := o.queue("dies-untaken@customer.example")
	_, err := o.Round(t.Context())
	require.NoError(t, err)
	require.Equal(t, Unsure, o.at(m.ID).State)
	server.revive()
	o.change(func(ctx context.Context, tx pgx.Tx) error { return Again(ctx, tx, m.ID, o.now) })
	_, err = o.Round(t.Context())
	require.NoError(t, err)
	require.Equal(t, Sent, o.at(m.ID).State)
	require.Len(t, server.taken("dies-untaken"), 1)
	require.Equal(t, "<"+m.MessageID+">", server.taken("dies-untaken")[0].Header.Get("Message-Id"))

	var state *StateError
	require.ErrorAs(t, pgx.BeginFunc(t.Context(), o.DB, func(tx pgx.Tx) error { return Again(t.Context(), tx, m.ID, o.now) }), &state)
	require.ErrorAs(t, pgx.BeginFunc(t.Context(), o.DB, func(tx pgx.Tx) error { return Cancel(t.Context(), tx, m.ID, o.now) }), &state)
	_, err = o.DB.Exec(t.Context(), `UPDATE message SET state = 'waiting', content = 'x' WHERE id = $1`, m.ID)
	var refusal *pgconn.PgError
	require.ErrorAs(t, err, &refusal, "the database says so too")
	require.Equal(t, "message_leaves_once", refusal.ConstraintName)

	asked := o.queue("dies-taken@customer.example")
	_, err = o.Round(t.Context())
	require.NoError(t, err)
	server.revive()
	o.change(func(ctx context.Context, tx pgx.Tx) error { return Arrived(ctx, tx, asked.ID, "Otis", o.now) })
	require.Equal(t, Sent, o.at(asked.ID).State)
	require.Equal(t, "it arrived, says Otis", o.at(asked.ID).Answer)
}

func manyPostmenHandEachOverOnce(t *testing.T, server *mailServer, o *office) {
	const letters = 24
	for i := range letters {
		o.queue(fmt.Sprintf("rider-%d@customer.example", i))
	}
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			_, err := o.Round(t.Context())
			require.NoError(t, err)
		})
	}
	all.Wait()
	for i := range letters {
		require.Len(t, server.taken(fmt.Sprintf("rider-%d@", i)), 1, "rider %d", i)
	}
}

// A postman whose line to the database is cut while the server thinks has let go of its message: another finds it so. What
// the server then says is kept all the same.
func postmanIsCutOff(t *testing.T, server *mailServer, o *office) {
	m := o.queue("waits@customer.example")
	first := *o.Postman
	first.DB = closePool(t, o.DB)
	done := make(chan error, 1)
	go func() { _, err := first.Round(t.Context()); done <- err }()
	require.Eventually(t, func() bool { return o.at(m.ID).State == HandingOver && len(server.taken("waits@")) == 1 }, time.Minute, 10*time.Millisecond)

	_, err := o.Round(t.Context())
	require.NoError(t, err)
	require.Equal(t, HandingOver, o.at(m.ID).State, "the first is at it")

	_, err = o.DB.Exec(t.Context(), `
		SELECT pg_terminate_backend(pid) FROM pg_locks
		WHERE locktype = 'advisory' AND classid = $1 AND database = (SELECT oid FROM pg_database WHERE datname = current_database())`, holding)
	require.NoError(t, err)
	require.Eventually(t, func() bool {
		_, err := o.Round(t.Context())
		return err == nil && o.at(m.ID).State == Unsure
	}, time.Minute, 10*time.Millisecond)

	require.NoError(t, os.WriteFile(filepath.Join(server.folder, "go-on"), nil, 0o600))
	require.NoError(t, <-done)
	require.Equal(t, Sent, o.at(m.ID).State)
	require.Len(t, server.taken("waits@"), 1)
}

func TestGivenUp(t *testing.T) {
	o := newOffice(t, 1) // nobody listens there
	m := o.queue("ines@customer.example")
	later := o.queue("bo@customer.example")
	var pausesTaken []time.Duration
	for o.at(m.ID).State == Waiting {
		o.now = o.at(m.ID).NextAt
		_, err := o.Round(t.Context())
		require.NoError(t, err)
		pausesTaken = append(pausesTaken, o.at(m.ID).NextAt.Sub(o.now))
		require.Less(t, len(pausesTaken), 60)
	}
	require.Equal(t, pauses, pausesTaken[:len(pauses)], "they grow")
	given := o.at(m.ID)
	require.Equal(t, GivenUp, given.State)
	require.Regexp(t, `^not taken in \d+ tries since 30 November, at last: 127.0.0.1:1 cannot be reached: .*refused`, given.Answer)
	require.Equal(t, morning.Add(patience).Format("2 January"), o.now.Format("2 January"))
	require.Less(t, o.at(later.ID).Tries, given.Tries, "a server that is away is not asked again for each")
}

// A shop's own account, over STARTTLS, with a password of letters beyond ASCII; and what is wrong with it.
func TestServerWantsTLSAndPassword(t *testing.T) {
	roots, cert, key := certificate(t)
	server := startServer(t, cert, key)
	o := newOffice(t, server.port)
	setUp := func(security Security, account string) {
		o.change(func(ctx context.Context, tx pgx.Tx) error {
			_, err := SetServer(ctx, tx, Server{Host: "127.0.0.1", Port: server.port, Security: security, Account: account, Sender: "bench@tannery.example"})
			return err
		})
	}
	m := o.queue("ines@customer.example")
	for _, c := range []struct {
		name, password string
		security       Security
		account        string
		trusts         bool
		state          State
		answer         string
	}{
		{"no TLS", "", NoTLS, "", true, Waiting, "530"},
		{"a server that nobody vouches for", "pässword", StartTLS, "shop", false, Waiting, "cannot prove that it is 127.0.0.1, so nothing was said to it"},
		{"a wrong password", "wrong", StartTLS, "shop", true, Waiting, "does not know the account shop with this password"},
		{"TLS from the first byte where it is not", "pässword", TLS, "shop", true, Waiting, "cannot be reached"},
		{"all right", "pässword", StartTLS, "shop", true, Sent, "taken"},
	} {
		setUp(c.security, c.account)
		o.Password = func(Server) (string, error) { return c.password, nil }
		if o.Roots = nil; c.trusts {
			o.Roots = roots
		}
		o.now = o.at(m.ID).NextAt
		_, err := o.Round(t.Context())
		require.NoError(t, err, c.name)
		require.Equal(t, c.state, o.at(m.ID).State, c.name)
		require.Contains(t, o.at(m.ID).Answer, c.answer, c.name)
	}
	require.Len(t, server.taken("ines"), 1)

	o.Password = func(Server) (string, error) { return "", errors.New("the password is not here") }
	none := o.queue("bo@customer.example")
	_, err := o.Round(t.Context())
	require.NoError(t, err)
	require.Equal(t, "the password is not here", o.at(none.ID).Answer)
	require.Equal(t, Waiting, o.at(none.ID).State)
}

func TestNoServer(t *testing.T) {
	o := newOffice(t, 25)
	m := o.queue("ines@customer.example")
	o.change(NoMoreServer)
	_, err := o.Round(t.Context())
	require.ErrorIs(t, err, ErrNoServer)
	require.Equal(t, Waiting, o.at(m.ID).State, "what waits goes on waiting")
	err = pgx.BeginFunc(t.Context(), o.DB, func(tx pgx.Tx) error {
		_, err := Queue(t.Context(), tx, Draft{What: "bill 1", To: Address{Mail: "ines@customer.example"}}, o.now)
		return err
	})
	require.ErrorIs(t, err, ErrNoServer)
	require.Error(t, pgx.BeginFunc(t.Context(), o.DB, func(tx pgx.Tx) error { return NoMoreServer(t.Context(), tx) }))
}

func TestServerIsChecked(t *testing.T) {
	for _, c := range []struct {
		name   string
		server Server
		wrong  string
	}{
		{"usual", Server{Host: "Mail.Example", Sender: "bench@tannery.example"}, ""},
		{"clear on this machine", Server{Host: "localhost", Security: NoTLS, Sender: "bench@tannery.example"}, ""},
		{"clear elsewhere", Server{Host: "mail.example", Security: NoTLS, Sender: "bench@tannery.example"}, "anybody on the way to read"},
		{"an address for a name", Server{Host: "https://mail.example/", Sender: "bench@tannery.example"}, "give its name alone"},
		{"a port in the name", Server{Host: "mail.example:587", Sender: "bench@tannery.example"}, "the port beside it"},
		{"no port", Server{Host: "mail.example", Port: 70000, Sender: "bench@tannery.example"}, "1 to 65535"},
		{"no such line", Server{Host: "mail.example", Security: "ssl", Sender: "bench@tannery.example"}, "starttls or tls"},
		{"no sender", Server{Host: "mail.example"}, "the sender: an e-mail needs an address"},
		{"account of two lines", Server{Host: "mail.example", Account: "a\r\nb", Sender: "bench@tannery.example"}, "line break"},
	} {
		s, err := c.server.check()
		if c.wrong != "" {
			require.ErrorContains(t, err, c.wrong, c.name)
			continue
		}
		require.NoError(t, err, c.name)
		require.Equal(t, strings.ToLower(c.server.Host), s.Host)
	}
	s, err := Server{Host: "mail.example", Sender: "bench@tannery.example"}.check()
	require.NoError(t, err)
	require.Equal(t, Server{"mail.example", 587, StartTLS, "", "bench@tannery.example"}, s)
}
