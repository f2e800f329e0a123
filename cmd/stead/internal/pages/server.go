package pages

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"strings"
	"time"

	"github.com/alexedwards/scs/pgxstore"
	"github.com/alexedwards/scs/v2"
	"github.com/jackc/pgx/v5/pgxpool"

	"stead/cmd/stead/internal/postkey"
	"stead/inventory/people"
)

// Options say what is served, and how it is reached.
type Options struct {
	DB     *pgxpool.Pool
	Now    func() time.Time // by the clock on the shop's wall
	Public string           // the address that tablets and customers use, without a slash at its end
	As     *people.Person   // whoever asks is this person: the demo's mechanic; nil: people sign in
	Log    *slog.Logger

	PostKeys postkey.Folder // where the password of the server for outgoing mail is kept
}

// Server answers the workshop's pages.
type Server struct {
	Options
	sessions *scs.SessionManager
	store    *pgxstore.PostgresStore
	live     *hub
	looks    looks
	sent     uploads
	salt     []byte // of the secrets of links
	handler  http.Handler
}

// How long a tablet stays signed in.
const signedInFor = 30 * 24 * time.Hour

// New makes a server. [Server.Serve] runs it; a test may ask its Handler.
func New(o Options) (*Server, error) {
	s := &Server{Options: o, live: newHub(), store: pgxstore.NewWithCleanupInterval(o.DB, time.Hour), salt: []byte(rand.Text())}
	var err error
	if s.looks, err = theLooks(); err != nil {
		return nil, err
	}
	s.sessions = scs.New()
	s.sessions.Store = s.store
	s.sessions.HashTokenInStore = true
	s.sessions.Lifetime = signedInFor
	s.sessions.Cookie.Name = "stead"
	s.sessions.Cookie.Secure = s.secure()
	s.sessions.ErrorFunc = func(w http.ResponseWriter, r *http.Request, err error) { s.fail(w, r, err) }
	s.handler = s.routes()
	return s, nil
}

// secure reports whether the pages are reached by TLS, which something in front of this server does.
func (s *Server) secure() bool { return strings.HasPrefix(s.Public, "https://") }

// Handler answers all requests. Changes reach open pages only while [Server.Listen] runs.
func (s *Server) Handler() http.Handler { return s.handler }

// Close lets go of what the server keeps going beside its answers. [Server.Serve] does so at its end.
func (s *Server) Close() {
	s.live.close()
	s.store.StopCleanup()
}

// Bounds of a connection. A page is written at once; only news are written for as long as somebody reads them.
const (
	headerTime = 10 * time.Second
	readTime   = 30 * time.Second
	writeTime  = 60 * time.Second
	idleTime   = 2 * time.Minute
	goodbye    = 5 * time.Second
	mostHeader = 32 << 10
)

// Serve answers on a listener until the context ends; then it lets what is under way come to its end.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	defer s.Close()
	server := &http.Server{
		Handler: s.handler, ReadHeaderTimeout: headerTime, ReadTimeout: readTime, WriteTimeout: writeTime, IdleTimeout: idleTime,
		MaxHeaderBytes: mostHeader, ErrorLog: slog.NewLogLogger(s.Log.Handler(), slog.LevelDebug),
	}
	server.RegisterOnShutdown(s.live.close)
	listening := make(chan struct{})
	go func() { defer close(listening); s.Listen(ctx) }()
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(l) }()
	select {
	case err := <-ended:
		return fmt.Errorf("serve the pages: %w", err)
	case <-ctx.Done():
	}
	last, stop := context.WithTimeout(context.WithoutCancel(ctx), goodbye)
	defer stop()
	err := server.Shutdown(last)
	if errors.Is(err, context.DeadlineExceeded) { // somebody reads very slowly
		err = server.Close()
	}
	<-listening
	return err
}
