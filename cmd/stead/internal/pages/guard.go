package pages

import (
	"errors"
	"mime/multipart"
	"net"
	"net/http"
	"runtime/debug"
	"strings"
)

// mostBody bounds what a form may send.
const mostBody = 1 << 20

// policy is the Content-Security-Policy: nothing but our own style sheet, script, pictures and forms, and none of them
// inside a page.
const policy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// guard stands before all pages: headers, the size of a body, and where a form may come from.
func (s *Server) guard(next http.Handler) http.Handler {
	origin := http.NewCrossOriginProtection()
	if s.Public != "" {
		if err := origin.AddTrustedOrigin(s.Public); err != nil { // it was checked when it was given
			panic(err)
		}
	}
	origin.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.sentence(w, r, http.StatusForbidden, "this form came from another site, so nothing was done: open the page here and send it again")
	}))
	protected := origin.Handler(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer s.caught(w, r)
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		if s.secure() {
			h.Set("Strict-Transport-Security", "max-age=31536000")
		}
		if s.As != nil && !loopback(r.Host) { // a name that leads here without being ours
			s.sentence(w, r, http.StatusForbidden, "the demo is for this machine alone")
			return
		}
		bound(w, r, bodyOf(r))
		protected.ServeHTTP(w, r)
	})
}

// caught answers a request at which the program itself has failed: who asked is told so, and the log where.
func (s *Server) caught(w http.ResponseWriter, r *http.Request) {
	fault := recover()
	if fault == nil {
		return
	}
	if fault == http.ErrAbortHandler { // said by a handler that wants the line cut
		panic(fault)
	}
	s.Log.Error("a fault of the program", "path", r.URL.Path, "fault", fault, "stack", string(debug.Stack()))
	s.sentence(w, r, http.StatusInternalServerError, "the program has failed at this: ask again, which does nothing twice; if it stays so, tell whoever looks after it what you were at, for its log says where it failed")
}

// loopback reports whether a host, with a port or without, is this machine.
func loopback(host string) bool {
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	ip := net.ParseIP(strings.Trim(host, "[]"))
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

// Loopback reports whether an address to listen on reaches no other machine.
func Loopback(address string) bool { return loopback(address) }

// from is the address that a request comes from: behind what does TLS on this machine, the one that it tells.
func (s *Server) from(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		host = r.RemoteAddr
	}
	if told := r.Header.Get("X-Forwarded-For"); told != "" && s.secure() && loopback(host) {
		host = strings.TrimSpace(told[strings.LastIndex(told, ",")+1:])
	}
	return host
}

// tooLarge reports whether a body was beyond its bound, or what is typed in a form that brings a file.
func tooLarge(err error) bool {
	return errors.As(err, new(*http.MaxBytesError)) || errors.Is(err, multipart.ErrMessageTooLarge)
}
