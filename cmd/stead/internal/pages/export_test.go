package pages

import (
	"net/http"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/people"
)

// Paths are the paths of all pages, as the table has them, with the buttons of each.
func (s *Server) Paths() map[string][]string {
	out := map[string][]string{}
	for _, p := range s.pages() {
		out[p.path] = []string{}
		for name := range p.acts {
			out[p.path] = append(out[p.path], name)
		}
	}
	return out
}

// SignedIn signs somebody in without asking for the password, which takes long by intent, and gives the cookie that says so.
func (s *Server) SignedIn(t testing.TB, name string) *http.Cookie {
	all, err := people.All(t.Context(), s.DB)
	require.NoError(t, err)
	i := slices.IndexFunc(all, func(p people.Person) bool { return p.Name == name })
	require.GreaterOrEqual(t, i, 0, "nobody is called %s", name)
	ctx, err := s.sessions.Load(t.Context(), "")
	require.NoError(t, err)
	s.sessions.Put(ctx, sessionPerson, all[i].ID)
	s.sessions.Put(ctx, sessionBy, byPassword)
	token, _, err := s.sessions.Commit(ctx)
	require.NoError(t, err)
	return &http.Cookie{Name: s.sessions.Cookie.Name, Value: token, Path: "/"}
}
