package pages_test

import (
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
)

// alikeEnough is how many pages of one path, asked with the same words, are looked into: those of other jobs are alike.
const alikeEnough = 7

// TestLinksLeadSomewhere follows every link, and every form's address, from Today on, as an owner sees them: none leads to a
// page that is not there, and every page can be come to.
func TestLinksLeadSomewhere(t *testing.T) {
	s := open(t)
	v := s.as(ownerName)
	secret := s.live(t, v)
	mux := http.NewServeMux()
	reached := map[string]string{} // a path of the table, and from where
	for path := range s.server.Paths() {
		mux.HandleFunc(path, http.NotFound)
		reached[path] = ""
	}
	patternOf := func(address string) string {
		r, err := http.NewRequest(http.MethodGet, address, nil)
		require.NoError(t, err, address)
		_, pattern := mux.Handler(r)
		return pattern
	}
	typed := "/fit?job=104&place=crank.ring&b=COR-R130-46S-G" // into the form of /fit
	queue, from, seen := []string{"/", secret, typed}, map[string]string{"/": "the beginning", secret: "the button that makes a link", typed: "/fit"}, map[string]int{}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		pattern := patternOf(at)
		u, err := url.Parse(at)
		require.NoError(t, err)
		kind := pattern + " " + strings.Join(slices.Sorted(maps.Keys(u.Query())), ",")
		if seen[kind]++; seen[kind] > alikeEnough {
			continue
		}
		a := v.get(at)
		require.Equal(t, http.StatusOK, a.status, "%s, from %s: %s", at, from[at], a.text)
		if strings.HasPrefix(a.header.Get("Content-Type"), "text/html") {
			requirePlain(t, at, a)
		}
		if pattern != "" && reached[pattern] == "" {
			reached[pattern] = from[at]
		}
		for _, to := range a.leads(at) {
			if _, known := from[to]; !known {
				from[to] = at
				queue = append(queue, to)
			}
		}
	}
	delete(reached, "/sign-in") // nobody who is signed in is led there
	var alone []string
	for path, from := range reached {
		if from == "" {
			alone = append(alone, path)
		}
	}
	require.Empty(t, alone, "no link leads to these")
}

// live takes the demo workshop on, so that each kind of page has something to be of, and gives the page of a link just made:
// a sale with its credit note, and a ring of which a quote cannot tell whether it fits.
func (s *shop) live(t *testing.T, v *visitor) string {
	sold := v.get("/parts/"+partNumber(t, s, "TAR-CH9")).form("sell").send(v, "pieces", "1", "paid", "cash")
	require.Contains(t, sold.text, "bill 1 is written")
	require.Equal(t, "/credits/1", v.get("/bills/1").form("credit").send(v, "why", "scratched", "all", "yes").path)
	ring := v.get("/parts/new?family=chainring").form("add").send(v, "name", "ring 50T, of unknown width", "d-teeth", "50", "d-bcd_mm", "110", "d-bolts", "5", "d-bolt_pattern", "even")
	offered := v.get(ring.path+"/set").form("offer").send(v, "supplier", "harbour", "offered", "HL-4711", "price", "1,90", "stock", "in-stock")
	require.Contains(t, offered.text, "offers it as HL-4711")
	v.get("/jobs/101/options").form("quote").send(v)
	sent := v.get("/jobs/101/send").form("link").send(v)
	require.Contains(t, sent.path, "?link=")
	return sent.path
}

// leads are the addresses that a page leads to: by its links, and by its forms as they stand.
func (a answer) leads(at string) (out []string) {
	base, err := url.Parse(at)
	if err != nil {
		return nil
	}
	add := func(to string, query url.Values) {
		u, err := base.Parse(strings.TrimPrefix(to, "http://stead.test"))
		if err != nil || u.Scheme != "" || u.Host != "" || strings.HasPrefix(u.Path, "/static/") {
			return
		}
		if u.Fragment = ""; query != nil {
			u.RawQuery = query.Encode()
		}
		out = append(out, u.String())
	}
	each(a.doc, func(n *html.Node) {
		switch {
		case n.Data == "a" && attribute(n, "href") != "":
			add(attribute(n, "href"), nil)
		case n.Data == "input" && attribute(n, "id") == "address": // a link to copy
			add(attribute(n, "value"), nil)
		case n.Data == "img":
			add(attribute(n, "src"), nil)
		case n.Data == "form" && attribute(n, "method") == "post":
			add(attribute(n, "action"), nil)
		case n.Data == "form":
			for _, query := range asked(n) {
				add(attribute(n, "action"), query)
			}
		}
	})
	return out
}

// asked is what a form that asks would ask as it stands; of each choice of a list that is unfolded, once.
func asked(form *html.Node) []url.Values {
	values, lists := url.Values{}, map[string][]string{}
	each(form, func(n *html.Node) {
		name, value := attribute(n, "name"), attribute(n, "value")
		_, checked := attributes(n)["checked"]
		switch kind := attribute(n, "type"); {
		case name == "":
		case n.Data == "select":
			each(n, func(o *html.Node) {
				if o.Data == "option" {
					lists[name] = append(lists[name], attribute(o, "value"))
				}
			})
			if len(lists[name]) > 0 {
				values.Set(name, lists[name][0])
			}
		case n.Data == "input" && (kind == "radio" || kind == "checkbox") && !checked:
		case n.Data == "input":
			values.Add(name, value)
		}
	})
	out := []url.Values{values}
	for name, list := range lists {
		for _, value := range list[1:] {
			other := maps.Clone(values)
			other.Set(name, value)
			out = append(out, other)
		}
	}
	return out
}
