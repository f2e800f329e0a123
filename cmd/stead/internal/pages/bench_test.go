package pages_test

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os/exec"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/invented"
)

// BenchmarkSearch sets the page of a search beside a bare handler that asks the database the same: what the pages cost
// beyond the question.
func BenchmarkSearch(b *testing.B) {
	s := open(b)
	cookie := s.as(mechanicName).cookie()
	bare := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		found, err := desk.FindCustomers(r.Context(), s.db, r.URL.Query().Get("q"))
		if err != nil || len(found) == 0 {
			http.Error(w, "nothing", http.StatusNotFound)
		}
	})
	for name, handler := range map[string]http.Handler{"page": s.server.Handler(), "bare": bare} {
		b.Run(name, func(b *testing.B) {
			b.RunParallel(func(pb *testing.PB) {
				for pb.Next() {
					r := httptest.NewRequest(http.MethodGet, "/book?q=falk", nil)
					r.AddCookie(cookie)
					w := httptest.NewRecorder()
					handler.ServeHTTP(w, r)
					require.Equal(b, http.StatusOK, w.Code)
				}
			})
		})
	}
}

// BenchmarkMillion serves the demo's week over a catalogue of a million parts (which takes a few minutes to fill) and
// has wrk ask for pages as 20 tablets do, each beside a bare handler that asks the database the same. It prints
// requests a second and the slowest in a hundred; then how long a search takes as one types it, and what 10,000
// requests leave in memory.
func BenchmarkMillion(b *testing.B) {
	if _, err := exec.LookPath("wrk"); err != nil {
		b.Skip("wrk is missing")
	}
	s := open(b)
	invented.Fill(b, s.db, 1_000_000)
	cookie := s.as(mechanicName).cookie()
	bare := func(do func(r *http.Request) error) string {
		web := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if err := do(r); err != nil {
				http.Error(w, err.Error(), http.StatusInternalServerError)
			}
		}))
		b.Cleanup(web.Close)
		return web.URL
	}
	find := func(r *http.Request) error {
		_, err := inventory.FindParts(r.Context(), s.db, inventory.Search{Words: r.URL.Query().Get("q"), Limit: 50})
		return err
	}
	for _, c := range []struct {
		path string
		same func(r *http.Request) error
	}{
		{"/", func(r *http.Request) error { _, err := desk.LoadToday(r.Context(), s.db, moment); return err }},
		{"/jobs/102", func(r *http.Request) error { _, err := desk.LoadJob(r.Context(), s.db, 102, moment); return err }},
		{"/book?q=falk", func(r *http.Request) error { _, err := desk.FindCustomers(r.Context(), s.db, "falk"); return err }},
		{"/shelf?q=eskdale+chainring", find},
		{"/parts/1", func(r *http.Request) error {
			_, err := desk.LoadPartNumbered(r.Context(), s.db, 1, moment)
			return err
		}},
	} {
		fmt.Printf("%-28s  page  %s\n%-28s  bare  %s\n", c.path, wrk(b, s.web.URL+c.path, cookie), "", wrk(b, bare(c.same)+c.path, nil))
	}

	var took []time.Duration
	for _, words := range []string{"eskdale chainring", "chain 9", "hub rear 32", "eskdle chainrng", "es-4711"} {
		for n := 2; n <= len(words); n++ {
			began := time.Now()
			require.Equal(b, http.StatusOK, s.status("/shelf?typing=yes&q="+url.QueryEscape(words[:n]), cookie))
			took = append(took, time.Since(began))
		}
	}
	slices.Sort(took)
	fmt.Printf("search as one types: half within %v, 95 in 100 within %v, all within %v\n", took[len(took)/2], took[len(took)*95/100], took[len(took)-1])

	before := heap()
	for i := range 10_000 {
		s.status([]string{"/", "/shelf?q=chain", "/jobs/101", "/orders", "/hands"}[i%5], cookie)
	}
	fmt.Printf("in memory: %d MB before 10,000 requests, %d MB after\n", before>>20, heap()>>20)
}

// wrk asks for a page as 20 do at once.
func wrk(b *testing.B, address string, cookie *http.Cookie) string {
	args := []string{"-t2", "-c20", "-d10s", "--latency", address}
	if cookie != nil {
		args = append([]string{"-H", "Cookie: " + cookie.String()}, args...)
	}
	out, err := exec.CommandContext(b.Context(), "wrk", args...).Output()
	require.NoError(b, err)
	found := regexp.MustCompile(`(?s)50%\s+(\S+).*99%\s+(\S+).*Requests/sec:\s+(\S+)`).FindStringSubmatch(string(out))
	require.NotNil(b, found, string(out))
	require.NotContains(b, string(out), "Non-2xx", address)
	return fmt.Sprintf("%9s a second, half within %s, 99 in 100 within %s", found[3], found[1], found[2])
}

// status asks a page without a network between.
func (s *shop) status(path string, cookie *http.Cookie) int {
	r := httptest.NewRequest(http.MethodGet, path, nil)
	r.AddCookie(cookie)
	w := httptest.NewRecorder()
	s.server.Handler().ServeHTTP(w, r)
	return w.Code
}

// heap is what is in use, in bytes.
func heap() uint64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// What is found is said where the eyes are: before the long list of places. Of a bike of which nothing is known that list
// stands open, for the page asks for a place of it.
func TestTheNoteIsNotBelowTheList(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	for path, listed := range map[string]string{"/jobs/101/inspect": `<details id="others">`, "/jobs/101/inspect?place=chain": `<details id="others">`} {
		page := v.get(path)
		require.Less(t, strings.Index(page.source, `name="said"`), strings.Index(page.source, listed), path)
	}
	booked := v.get("/book").form("book").send(v, "customer", "Nils Aaberg", "bike", "old roadster")
	require.Contains(t, v.get(strings.Split(booked.path, "?")[0]+"/inspect").source, `<details id="others" open>`)
}
