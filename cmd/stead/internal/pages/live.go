package pages

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"stead/inventory"
	"stead/pricing"
)

// hub passes on to open pages what the database tells of changes: "job 101", "shelf".
type hub struct {
	sync.Mutex
	open   map[chan string]bool
	closed bool
}

// mostOpen bounds how many pages listen at once; others are as without a script.
const mostOpen = 500

func newHub() *hub { return &hub{open: map[chan string]bool{}} }

// join gives a channel of news, which is closed when the server ends or the page is too slow; nil where there are too many.
func (h *hub) join() chan string {
	h.Lock()
	defer h.Unlock()
	if h.closed || len(h.open) >= mostOpen {
		return nil
	}
	news := make(chan string, 64)
	h.open[news] = true
	return news
}

func (h *hub) leave(news chan string) {
	h.Lock()
	defer h.Unlock()
	if h.open[news] {
		delete(h.open, news)
		close(news)
	}
}

func (h *hub) tell(what string) {
	h.Lock()
	defer h.Unlock()
	for news := range h.open {
		select {
		case news <- what:
		default: // it is told to come again, and asks then what has changed
			delete(h.open, news)
			close(news)
		}
	}
}

func (h *hub) close() {
	h.Lock()
	defer h.Unlock()
	h.closed = true
	for news := range h.open {
		delete(h.open, news)
		close(news)
	}
}

// everything is told when the line to the database was cut: what happened meanwhile is not known.
const everything = "*"

// Listen passes on what the database tells until the context ends. A line that is cut is made anew.
func (s *Server) Listen(ctx context.Context) {
	for ctx.Err() == nil {
		if err := s.listen(ctx); err != nil && ctx.Err() == nil {
			s.Log.Warn("the line for news was cut", "error", err)
			select {
			case <-ctx.Done():
			case <-time.After(time.Second):
			}
		}
	}
}

func (s *Server) listen(ctx context.Context) error {
	conn, err := s.DB.Acquire(ctx)
	if err != nil {
		return err
	}
	defer conn.Release()
	line := conn.Hijack() // it listens, so nobody else may have it
	defer line.Close(context.WithoutCancel(ctx))
	if _, err := line.Exec(ctx, `LISTEN stead`); err != nil {
		return err
	}
	s.live.tell(everything)
	for {
		n, err := line.WaitForNotification(ctx)
		if err != nil {
			return err
		}
		s.live.tell(n.Payload)
	}
}

// How long a page's line for news stays silent before it says that it is still there, and how long one word may take.
const (
	heartbeat = 15 * time.Second
	wordTime  = 10 * time.Second
)

// news writes to an open page what concerns it, as server-sent events: GET /live?on=job+101,shelf&state=17. A page whose
// subject is no more in the state that it shows is told so at once.
func (s *Server) news(w http.ResponseWriter, r *http.Request) {
	v, err := s.visit(w, r, page{})
	if err != nil {
		s.fail(w, r, err)
		return
	}
	topics := strings.Split(r.URL.Query().Get("on"), ",")
	if secret, holds := strings.CutPrefix(topics[0], "link "); holds {
		link, err := pricing.FollowLink(r.Context(), s.DB, secret, v.today())
		if err != nil {
			http.Error(w, "this link leads nowhere", http.StatusForbidden)
			return
		}
		topics = []string{inventory.Subject{Kind: inventory.OfJob, ID: link.JobID}.String()}
	} else if v.person.ID == 0 {
		http.Error(w, "sign in first", http.StatusForbidden)
		return
	}
	news := s.live.join()
	if news == nil {
		http.Error(w, "too many pages are open", http.StatusServiceUnavailable)
		return
	}
	defer s.live.leave(news)
	w.Header().Set("Content-Type", "text/event-stream")
	w.Header().Set("X-Accel-Buffering", "no") // some servers in front keep a stream back otherwise
	out := http.NewResponseController(w)
	write := func(format string, args ...any) bool {
		if err := out.SetWriteDeadline(time.Now().Add(wordTime)); err != nil {
			return false
		}
		if _, err := fmt.Fprintf(w, format, args...); err != nil {
			return false
		}
		return out.Flush() == nil
	}
	first := ": listening\n\n"
	if changed, err := s.changedSince(r, topics); err != nil || changed {
		first = "data: changed\n\n"
	}
	if !write("retry: 2000\n%s", first) {
		return
	}
	beat := time.NewTicker(heartbeat)
	defer beat.Stop()
	for {
		select {
		case <-r.Context().Done():
			return
		case what, more := <-news:
			if !more {
				return
			}
			kind, _, _ := strings.Cut(what, " ")
			concerns := what == everything && !strings.HasPrefix(topics[0], "progress-") || slices.Contains(topics, what) || slices.Contains(topics, kind) || slices.Contains(topics, everything)
			if concerns && !write("data: %s\n\n", what) {
				return
			}
		case <-beat.C:
			if !write(": still here\n\n") {
				return
			}
		}
	}
}

// changedSince reports whether the first topic has changed since the state that a page shows.
func (s *Server) changedSince(r *http.Request, topics []string) (bool, error) {
	state, err := strconv.Atoi(r.URL.Query().Get("state"))
	if err != nil {
		return false, nil // the page shows none
	}
	subject := inventory.Everything
	if topics[0] != everything {
		kind, id, _ := strings.Cut(topics[0], " ")
		n, err := strconv.ParseInt(id, 10, 64)
		if err != nil {
			return false, nil
		}
		subject = inventory.Subject{Kind: inventory.Kind(kind), ID: n}
	}
	now, err := inventory.StateOf(r.Context(), s.DB, subject)
	return now != state, err
}
