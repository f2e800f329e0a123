package pages_test

import (
	"fmt"
	"io"
	"maps"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
)

// hostile is what a field may be sent that it was not made for.
var hostile = map[string]string{
	"nothing":                "",
	"too long":               strings.Repeat("long ", 4000),
	"a wrong unit":           "12 parsec",
	"a comma decimal":        "12,5",
	"two marks":              "1,234.50",
	"below zero":             "-3",
	"beyond all":             "99999999999999999999",
	"markup":                 `"><script>alert(1)</script><b x='`,
	"a template":             "{{.Shop}} ${1} %s",
	"from right to left":     "שרשרת שחוקה",
	"turned":                 "chain\u202Egnir",
	"a null":                 "chain\x00ring",
	"a bell":                 "chain\aring",
	"bytes that are no text": "chain\xff\xfe",
	"a day that is none":     "2026-02-30",
}

// TestBadInput sends every field of every form of every page what it was not made for: each is answered with a page, what
// was typed comes back as text, and a form that is refused has changed nothing. Forms that differ by the row or the number
// of their subject alone are one form, tried once.
func TestBadInput(t *testing.T) {
	looked := open(t)
	owner := looked.as(ownerName)
	seen := map[string]bool{}
	tried := 0
	for _, row := range accessRows(t) {
		if row.answers["owner"] != "200" || row.path == "/sign-in" || row.path == "/hands" { // guessing there is throttled: see TestThrottled
			continue
		}
		fresh := false
		for _, f := range owner.get(looked.example(row.example)).forms() {
			fresh = fresh || !seen[f.shape(row.path)]
		}
		if !fresh {
			continue
		}
		t.Run(row.example, func(t *testing.T) {
			s := open(t) // some of what is sent is taken, and done
			path := s.example(row.example)
			v := s.as(ownerName)
			for _, f := range v.get(path).forms() {
				if shape := f.shape(row.path); !seen[shape] {
					seen[shape] = true
					tried += tryBadInput(t, v, path, f)
				}
			}
		})
	}
	require.Greater(t, tried, 200)
}

// tryBadInput tries a form of a page and tells how often it was sent. What is taken makes the form old: the next is sent
// by the form that the page has then, if it still has one.
func tryBadInput(t *testing.T, v *visitor, path string, f whole) (tried int) {
	before := changes(t, v.shop)
	known := map[string]bool{}
	for _, field := range f.fields {
		if kind := figures.ReplaceAllString(field, "#"); known[kind] {
			continue
		} else {
			known[kind] = true
		}
		for name, value := range hostile {
			if f.chosen[field] && name != "nothing" && name != "markup" && name != "a null" {
				continue // it is looked up among the choices, not read
			}
			what := fmt.Sprintf("%s of %s, %s", field, f.values.Get("act"), name)
			a := v.unread(f.path, f.with(field, value).values)
			tried++
			require.Less(t, a.status, 500, "%s: %s", what, a.source)
			require.NotContains(t, a.source, "<script>alert", what)
			require.NotContains(t, a.source, "ZgotmplZ", what)
			now := changes(t, v.shop)
			if a.status >= 400 {
				require.Equal(t, before, now, "%s: it was refused, and something was changed: %s", what, a.source)
				require.NotContains(t, a.source, "SQLSTATE", what)
			}
			if now == before {
				continue
			}
			before = now
			if next, found := a.parsed(t).again(f, path); found {
				f = next
			} else if next, found := v.get(path).again(f, path); found {
				f = next
			}
		}
	}
	return tried
}

// unread sends a form and leaves the answer as it came: of a thousand few are looked into.
func (v *visitor) unread(path string, values url.Values) answer {
	r, err := v.http.PostForm(v.shop.web.URL+path, values)
	require.NoError(v.t, err)
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	require.NoError(v.t, err)
	return answer{status: r.StatusCode, source: string(body)}
}

var figures = regexp.MustCompile(`[0-9]+`)

// again is the form as a page has it now.
func (a answer) again(f whole, page string) (whole, bool) {
	forms := a.forms()
	i := slices.IndexFunc(forms, func(next whole) bool {
		return next.shape(page) == f.shape(page) && next.values.Get("row") == f.values.Get("row")
	})
	if i < 0 {
		return whole{}, false
	}
	return forms[i], true
}

// shape is what forms have in common that one function reads.
func (w whole) shape(page string) string {
	kinds := map[string]bool{}
	for _, field := range w.fields {
		kinds[figures.ReplaceAllString(field, "#")] = true
	}
	return fmt.Sprintln(page, w.values.Get("act"), slices.Sorted(maps.Keys(kinds)))
}

// changes counts what was ever done.
func changes(t *testing.T, s *shop) (n int) {
	require.NoError(t, s.db.QueryRow(t.Context(), `SELECT (SELECT count(*) FROM request) + (SELECT count(*) FROM touched)`).Scan(&n))
	return n
}

// whole is a form with the names of the fields that one types into.
type whole struct {
	sent
	fields []string
	chosen map[string]bool // those in which one chooses and types nothing
}

// forms are the forms of a page that change something.
func (a answer) forms() (out []whole) {
	each(a.doc, func(n *html.Node) {
		if n.Data != "form" || attribute(n, "method") != "post" {
			return
		}
		f := whole{sent: sent{path: attribute(n, "action"), values: url.Values{}}, chosen: map[string]bool{}}
		each(n, func(field *html.Node) {
			name := attribute(field, "name")
			switch {
			case name == "" || field.Data == "button":
			case attribute(field, "type") == "hidden":
				f.values.Add(name, attribute(field, "value"))
			case !slices.Contains(f.fields, name):
				f.fields = append(f.fields, name)
				f.chosen[name] = field.Data == "select" || slices.Contains([]string{"checkbox", "radio"}, attribute(field, "type"))
			}
		})
		out = append(out, f)
	})
	return out
}

func TestBodyTooLarge(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	a := v.get("/book").form("book").send(v, "wish", strings.Repeat("x", 2<<20))
	require.Equal(t, http.StatusRequestEntityTooLarge, a.status)
	require.Contains(t, a.text, "larger than 1 MB")
}

// A form of another site is refused, whoever is signed in.
func TestOtherSites(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	form := v.get("/book").form("book").with("customer", "Nils Aaberg", "bike", "old roadster")
	for name, header := range map[string][2]string{"by its origin": {"Origin", "https://elsewhere.example"}, "by what the browser says": {"Sec-Fetch-Site", "cross-site"}} {
		t.Run(name, func(t *testing.T) {
			r, err := http.NewRequest(http.MethodPost, s.web.URL+form.path, strings.NewReader(form.values.Encode()))
			require.NoError(t, err)
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			r.Header.Set(header[0], header[1])
			answered, err := v.http.Do(r)
			require.NoError(t, err)
			a := (&visitor{t, s, v.http}).read(answered)
			require.Equal(t, http.StatusForbidden, a.status)
			require.Contains(t, a.text, "This form came from another site")
		})
	}
}
