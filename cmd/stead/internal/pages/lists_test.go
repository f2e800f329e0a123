package pages_test

import (
	"bytes"
	"log/slog"
	"mime/multipart"
	"net/http"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/pages"
)

// upload sends a form with a file.
func (f sent) upload(v *visitor, field, name string, data []byte) answer {
	v.t.Helper()
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	for key, values := range f.values {
		for _, value := range values {
			require.NoError(v.t, w.WriteField(key, value))
		}
	}
	part, err := w.CreateFormFile(field, name)
	require.NoError(v.t, err)
	_, err = part.Write(data)
	require.NoError(v.t, err)
	require.NoError(v.t, w.Close())
	r, err := v.http.Post(v.shop.web.URL+f.path, w.FormDataContentType(), &body)
	require.NoError(v.t, err)
	return v.read(r)
}

// A list is sent, looked at, loaded and taken back with plain forms; what is no list says so.
func TestLoadList(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	form := v.get("/lists/harbour").form("send")
	require.Contains(t, form.send(v).text, "choose the file")
	require.Contains(t, form.upload(v, "list", "empty.csv", nil).text, "it is empty")
	require.Equal(t, http.StatusRequestEntityTooLarge, form.upload(v, "list", "large.csv", bytes.Repeat([]byte("x,y\n"), 5<<20)).status)

	data, err := os.ReadFile("../../../../testdata/demo/lists/harbour-december.csv")
	require.NoError(t, err)
	look := form.upload(v, "list", "harbour-january.csv", append(data, []byte("\n")...))
	require.Contains(t, look.path, "/lists/harbour?file=")
	require.Contains(t, look.text, "Nothing is written yet")
	require.Contains(t, look.text, "Loading it would give")
	before := count(t, s, `SELECT count(*) FROM list_load`)

	load := look.form("load")
	ticks := []string{"columns", "yes", "jumps", "yes", "good", "yes", "gone", "yes", "prices", "yes"}
	if strings.Contains(look.text, "The columns are as they stand above") {
		require.Regexp(t, `name="columns"[^>]* value="yes" required`, look.source)
		refused := load.send(v)
		require.Contains(t, refused.text, "say that it is so")
		require.Contains(t, refused.source, `value="yes" required autofocus aria-invalid="true"`, "in sight")
	}
	done := load.send(v, ticks...)
	require.Contains(t, done.text, "the list is loaded", done.text)
	require.Equal(t, before+1, count(t, s, `SELECT count(*) FROM list_load`))
	load.send(v, ticks...)
	require.Equal(t, before+1, count(t, s, `SELECT count(*) FROM list_load`), "a second tap loads nothing twice")

	back := v.get("/lists/harbour").form("take-back").send(v)
	require.Contains(t, back.text, "harbour-january.csv")
	require.Contains(t, back.text, "is taken back")

	stranger := s.stranger()
	out := form.upload(stranger, "list", "large.csv", bytes.Repeat([]byte("x,y\n"), 1<<20))
	require.Equal(t, http.StatusUnauthorized, out.status, "whose session has ended is told that, and not that it is too large")
	require.Contains(t, out.text, "so the file that you sent is not kept: sign in and send it again")
}

func TestSuppliers(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	page := v.get("/suppliers/harbour")
	require.Contains(t, page.text, "Past parcels, against the day quoted")
	wrong := page.form("set").send(v, "lead-days", "soon", "cut-off", "25:00")
	require.Contains(t, wrong.text, `this is a whole number, not "soon"`)
	saved := page.form("set").send(v, "lead-days", "4", "carriage-paid-at", "")
	require.Contains(t, saved.text, "the terms are saved")
	require.Equal(t, "4", saved.form("set").values.Get("lead-days"))
	require.Empty(t, saved.form("set").values.Get("carriage-paid-at"))
	closed := saved.form("closed").send(v, "first", "2026-12-24", "last", "2027-01-02", "why", "stocktaking")
	require.Contains(t, closed.text, "stocktaking")
	require.Contains(t, closed.form("reopen").send(v, "day", "2026-12-28").text, "open again from")
	added := v.get("/suppliers").form("add").send(v, "code", "quay", "name", "Quay Street Parts")
	require.Equal(t, "/suppliers/quay", added.path, added.text)
}

// A file that was sent is there while it is looked at: the newest six of all that were sent, until the program is
// started anew. After that its page says what to do, and loads nothing.
func TestSentListIsKeptAWhile(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	form := v.get("/lists/harbour").form("send")
	data, err := os.ReadFile("../../../../testdata/demo/lists/harbour-december.csv")
	require.NoError(t, err)
	looks := []answer{}
	for i := range 7 {
		looks = append(looks, form.upload(v, "list", "list.csv", append(data, bytes.Repeat([]byte("\n"), i)...)))
	}
	before := count(t, s, `SELECT count(*) FROM list_load`)
	gone := v.get(looks[0].path)
	require.Equal(t, http.StatusGone, gone.status)
	require.Contains(t, gone.text, "The file is no longer here: send it once more")
	require.Equal(t, http.StatusGone, looks[0].form("load").send(v, "columns", "yes").status)
	for _, kept := range looks[1:] {
		require.Equal(t, http.StatusOK, v.get(kept.path).status)
	}

	anew, err := pages.New(pages.Options{DB: s.db, Now: s.now, Public: "http://stead.test", Log: slog.New(slog.NewTextHandler(t.Output(), nil))})
	require.NoError(t, err)
	t.Cleanup(anew.Close)
	s.web.Config.Handler = anew.Handler()
	require.Equal(t, http.StatusOK, v.get("/lists/harbour").status, "whoever was signed in still is")
	require.Equal(t, http.StatusGone, v.get(looks[6].path).status)
	require.Equal(t, http.StatusGone, looks[6].form("load").send(v, "columns", "yes").status)
	require.Equal(t, before, count(t, s, `SELECT count(*) FROM list_load`), "nothing is loaded")
}
