package pages_test

import (
	"net/http"
	"net/url"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// accessRow is a row of testdata/access.txt.
type accessRow struct {
	path, example string
	answers       map[string]string // by who asks
}

func accessRows(t *testing.T) (rows []accessRow) {
	data, err := os.ReadFile("testdata/access.txt")
	require.NoError(t, err)
	var heads []string
	for line := range strings.Lines(string(data)) {
		words := strings.Fields(line)
		switch {
		case len(words) == 0 || words[0] == "#":
		case heads == nil:
			heads = words
		default:
			require.Len(t, words, len(heads), line)
			row := accessRow{words[0], words[1], map[string]string{}}
			for i, who := range heads[2:] {
				row.answers[who] = words[i+2]
			}
			rows = append(rows, row)
		}
	}
	return rows
}

// TestWhoMaySeeWhat crawls every page as everybody against the table.
func TestWhoMaySeeWhat(t *testing.T) {
	s := open(t)
	rows := accessRows(t)
	listed := map[string]bool{}
	for _, row := range rows {
		listed[row.path] = true
	}
	for path := range s.server.Paths() {
		require.True(t, listed[path], "%s has no row in testdata/access.txt", path)
	}
	for path := range listed {
		require.Contains(t, s.server.Paths(), path, "testdata/access.txt has a page that is not there")
	}
	for who, v := range map[string]*visitor{"stranger": s.stranger(), "customer": s.stranger(), "mechanic": s.as(mechanicName), "owner": s.as(ownerName)} {
		v.http.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
		for _, row := range rows {
			t.Run(who+" "+row.example, func(t *testing.T) {
				v := &visitor{t, s, v.http}
				a := v.get(s.example(row.example))
				got := http.StatusText(a.status)
				if strings.HasPrefix(a.header.Get("Location"), "/sign-in?next=") {
					got = "sign-in"
				}
				want := row.answers[who]
				if status := statuses[want]; status != 0 {
					want = http.StatusText(status)
				}
				require.Equal(t, want, got, a.text)
				require.Contains(t, a.header.Get("Content-Security-Policy"), "default-src 'none'")
				if row.answers[who] == "file" {
					require.NotContains(t, a.header.Get("Content-Type"), "html")
					require.Equal(t, "nosniff", a.header.Get("X-Content-Type-Options"))
					require.Regexp(t, "^(no-store|private, no-cache)$", a.header.Get("Cache-Control"))
					return
				}
				require.NotRegexp(t, `<[^>]+ (style|on[a-z]+)=`, a.source, "what the policy forbids")
				if who != "mechanic" && want == "sign-in" {
					requireKeptOut(t, v, s.example(row.example), s.server.Paths()[row.path])
				}
			})
		}
	}
}

var statuses = map[string]int{"200": 200, "file": 200, "303": 303, "403": 403, "404": 404, "410": 410}

// requireKeptOut tries the buttons of a page without having signed in.
func requireKeptOut(t *testing.T, v *visitor, path string, acts []string) {
	for _, act := range acts {
		a := v.post(path, url.Values{"act": {act}, "key": {"AAAAAAAAAAAAAAAAAAAAAAAAAA"}, "why": {"typed"}})
		require.Equal(t, http.StatusUnauthorized, a.status, act)
		require.Equal(t, path, a.form("sign-in").values.Get("next"))
	}
}
