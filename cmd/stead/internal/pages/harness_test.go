package pages_test

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"stead/cmd/stead/internal/demoshop"
	"stead/cmd/stead/internal/pages"
	"stead/inventory"
	"stead/inventory/people"
	"stead/inventory/photo"
	"stead/inventory/photo/picture"
	"stead/migrations"
	"stead/migrations/testdb"
	"stead/testdata/demo"
)

func TestMain(m *testing.M) {
	code := testdb.Run(m)
	closeBrowser()
	os.Exit(code)
}

// The tests stand on Wednesday 2 December 2026 in the demo workshop, where beside its owner somebody works who owns
// nothing.
var moment = time.Date(2026, time.December, 2, 9, 30, 0, 0, time.UTC)

const (
	ownerName    = demoshop.Hands
	mechanicName = "Bram Oakes"
	password     = "four worn chainrings"
	pin          = "2580"
)

// shop is the demo workshop, served for one test.
type shop struct {
	t      testing.TB
	db     *pgxpool.Pool
	server *pages.Server
	web    *httptest.Server
	later  atomic.Int64 // how much time has passed since the moment
	once   sync.Once
	secret string // of a link: see example
}

// open serves a copy of the demo workshop.
func open(t testing.TB) *shop {
	s := &shop{t: t, db: copyOfDemo(t)}
	var err error
	s.server, err = pages.New(pages.Options{DB: s.db, Now: s.now, Public: "http://stead.test", Log: slog.New(slog.NewTextHandler(t.Output(), nil))})
	require.NoError(t, err)
	s.web = httptest.NewServer(s.server.Handler())
	ctx, stop := context.WithCancel(t.Context())
	var listening sync.WaitGroup
	listening.Go(func() { s.server.Listen(ctx) })
	t.Cleanup(func() {
		stop()
		listening.Wait()
		s.server.Close()
		s.web.CloseClientConnections()
		s.web.Close()
	})
	return s
}

func (s *shop) now() time.Time { return moment.Add(time.Duration(s.later.Load())) }

// pass lets time pass.
func (s *shop) pass(d time.Duration) { s.later.Add(int64(d)) }

// copyOfDemo is the demo workshop in a database of the test's own: filling it takes a second, copying it a twentieth.
func copyOfDemo(t testing.TB) *pgxpool.Pool {
	return testdb.NewFilled(t, "the demo", func(dsn string) { fill(t, dsn) })
}

// fill takes the demo workshop through its week.
func fill(t testing.TB, dsn string) {
	db, err := migrations.Connect(t.Context(), dsn)
	require.NoError(t, err)
	defer db.Close()
	_, err = demoshop.Week(t.Context(), db, demo.Files, password, moment.AddDate(0, 0, -4))
	require.NoError(t, err)
	_, _, err = inventory.Once(t.Context(), db, inventory.NewKey(), "take on", func(ctx context.Context, tx pgx.Tx) (people.Person, error) {
		return people.Add(ctx, tx, mechanicName, people.Mechanic, password, pin)
	})
	require.NoError(t, err)
	require.NoError(t, pgx.BeginFunc(t.Context(), db, func(tx pgx.Tx) error { return photograph(t, tx) }))
}

// photograph takes a photo of a part. Those of the demo are 1 and 2 of what was found on job 101, of which the customer is
// shown the first, 3 of its bike, shown too, and 4 of another's job, shown to them; this is 5.
func photograph(t testing.TB, tx pgx.Tx) error {
	taken, err := picture.Read(bytes.NewReader(aPhoto(t, 400, 300)))
	require.NoError(t, err)
	_, err = photo.Add(t.Context(), tx, photo.Photo{Of: photo.Of{PartID: 1}, TakenAt: moment}, taken)
	return err
}

// aPhoto is the file of a photo of nothing.
func aPhoto(t testing.TB, w, h int) []byte {
	var out bytes.Buffer
	require.NoError(t, jpeg.Encode(&out, image.NewGray(image.Rect(0, 0, w, h)), nil))
	return out.Bytes()
}

// visitor is somebody with a browser that runs no script.
type visitor struct {
	t    testing.TB
	shop *shop
	http *http.Client
}

// cookie is what says who they are.
func (v *visitor) cookie() *http.Cookie {
	at, err := url.Parse(v.shop.web.URL)
	require.NoError(v.t, err)
	return v.http.Jar.Cookies(at)[0]
}

// answer is a page as it was answered.
type answer struct {
	status int
	path   string // where one is in the end, with the query
	text   string // as it is read, tags left out
	source string
	doc    *html.Node
	header http.Header
}

func (s *shop) stranger() *visitor {
	jar, err := cookiejar.New(nil)
	require.NoError(s.t, err)
	return &visitor{s.t, s, &http.Client{Jar: jar}}
}

// as is somebody who has signed in; signsIn does so by the page, where it is asked whether it lets them in.
func (s *shop) as(name string) *visitor {
	v := s.stranger()
	at, err := url.Parse(s.web.URL)
	require.NoError(s.t, err)
	v.http.Jar.SetCookies(at, []*http.Cookie{s.server.SignedIn(s.t, name)})
	return v
}

func (s *shop) signsIn(name string) *visitor {
	v := s.stranger()
	v.get("/sign-in").form("sign-in").send(v, "name", name, "password", password)
	require.Equal(s.t, http.StatusOK, v.get("/").status, "%s is signed in", name)
	return v
}

func (v *visitor) get(path string) answer {
	v.t.Helper()
	r, err := v.http.Get(v.shop.web.URL + path)
	require.NoError(v.t, err)
	return v.read(r)
}

func (v *visitor) post(path string, values url.Values) answer {
	v.t.Helper()
	r, err := v.http.PostForm(v.shop.web.URL+path, values)
	require.NoError(v.t, err)
	return v.read(r)
}

func (v *visitor) read(r *http.Response) answer {
	v.t.Helper()
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	require.NoError(v.t, err)
	return answer{status: r.StatusCode, path: r.Request.URL.RequestURI(), source: string(body), header: r.Header}.parsed(v.t)
}

// parsed is the answer with what stands in its source.
func (a answer) parsed(t testing.TB) answer {
	t.Helper()
	var err error
	a.doc, err = html.Parse(strings.NewReader(a.source))
	require.NoError(t, err)
	a.text = strings.Join(strings.Fields(textOf(a.doc)), " ")
	return a
}

// each visits the elements of a tree.
func each(n *html.Node, visit func(*html.Node)) {
	if n.Type == html.ElementNode {
		visit(n)
	}
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		each(c, visit)
	}
}

func textOf(n *html.Node) string {
	if n.Type == html.TextNode {
		return n.Data
	}
	var out strings.Builder
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		out.WriteString(textOf(c))
	}
	if n.Type == html.ElementNode && n.Data != "span" && n.Data != "b" && n.Data != "strong" && n.Data != "a" {
		out.WriteString(" ")
	}
	return out.String()
}

func attribute(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// sent is a form of a page with what stands in it.
type sent struct {
	path   string
	values url.Values
}

// form is the form of a button, of a row where there are several, filled in as the page has it.
func (a answer) form(act string, row ...string) sent {
	var out *sent
	each(a.doc, func(n *html.Node) {
		if n.Data != "form" || attribute(n, "method") != "post" || out != nil {
			return
		}
		f := sent{path: attribute(n, "action"), values: url.Values{}}
		each(n, func(field *html.Node) {
			name, value, kind := attribute(field, "name"), attribute(field, "value"), attribute(field, "type")
			_, checked := attributes(field)["checked"]
			switch {
			case name == "" || field.Data == "button":
			case field.Data == "textarea":
				f.values.Add(name, strings.TrimSuffix(textOf(field), " "))
			case field.Data == "select":
				each(field, func(o *html.Node) {
					if _, chosen := attributes(o)["selected"]; chosen {
						f.values.Add(name, attribute(o, "value"))
					}
				})
			case field.Data == "input" && (kind == "radio" || kind == "checkbox") && !checked:
			case field.Data == "input":
				f.values.Add(name, value)
			}
		})
		if f.values.Get("act") == act && (len(row) == 0 || f.values.Get("row") == row[0]) {
			out = &f
		}
	})
	if out == nil {
		panic(fmt.Sprintf("%s has no form %s %v: %s", a.path, act, row, a.text))
	}
	return *out
}

func attributes(n *html.Node) map[string]string {
	out := map[string]string{}
	for _, a := range n.Attr {
		out[a.Key] = a.Val
	}
	return out
}

// with fills in fields, name and value by turns; an empty value clears one.
func (f sent) with(fields ...string) sent {
	values := url.Values{}
	for name, v := range f.values {
		values[name] = v
	}
	for i := 0; i+1 < len(fields); i += 2 {
		values.Set(fields[i], fields[i+1])
	}
	return sent{f.path, values}
}

// send sends the form with some fields filled in.
func (f sent) send(v *visitor, fields ...string) answer {
	v.t.Helper()
	return v.post(f.path, f.with(fields...).values)
}

// link makes a link to the quote of job 101, as a mechanic does.
func (s *shop) link() string {
	v := s.as(mechanicName)
	sent := v.get("/jobs/101/send").form("link").send(v)
	_, secret, found := strings.Cut(sent.path, "?link=")
	require.True(s.t, found, sent.text)
	require.Contains(s.t, sent.text, "It is shown here only")
	return secret
}

// example is a path of the access table, with a link in the place of LINK.
func (s *shop) example(path string) string {
	if !strings.Contains(path, "LINK") {
		return path
	}
	s.once.Do(func() { s.secret = s.link() })
	return strings.Replace(path, "LINK", s.secret, 1)
}

// pathOf is a path with numbers in it.
func pathOf(format string, numbers ...any) string { return fmt.Sprintf(format, numbers...) }
