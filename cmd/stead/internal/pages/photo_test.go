package pages_test

import (
	"bytes"
	"net/http"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/photo/picture"
)

// A photo is taken at a finding, ticked, seen by the customer, and taken off again; each of it by plain forms.
func TestPhotoOfAFinding(t *testing.T) {
	s := open(t)
	v, customer := s.as(mechanicName), s.stranger()
	secret := s.link()
	at := v.get("/jobs/101/inspect?place=crank.outer-ring")
	require.Contains(t, at.source, `href="/jobs/101/photos?place=crank.outer-ring"`)
	page := v.get("/jobs/101/photos?place=crank.outer-ring")
	take := page.form("take")
	require.Contains(t, page.source, `enctype="multipart/form-data"`)
	require.Contains(t, page.source, `accept="image/*" capture="environment"`)

	require.Contains(t, take.send(v, "words", "hooked").text, "choose the photo")
	wrong := take.with("words", "hooked", "shown", "yes").upload(v, "photo", "note.jpg", []byte("chain at point nine"))
	require.Equal(t, http.StatusUnprocessableEntity, wrong.status)
	require.Contains(t, wrong.text, "this is no photo that can be read")
	require.Equal(t, "hooked", wrong.form("take").values.Get("words"), "what was typed is kept")

	// Meanwhile somebody else changes the job: a photo is kept all the same.
	v.get("/jobs/101/inspect?place=headset").form("look").send(v, "action", "keep")
	shown := take.with("words", "hooked", "shown", "yes")
	kept := shown.upload(v, "photo", "teeth.jpg", aPhoto(t, 40, 30))
	require.Contains(t, kept.text, "the photo is kept")
	require.Equal(t, 6, count(t, s, `SELECT count(*) FROM photo`))
	shown.upload(v, "photo", "teeth.jpg", aPhoto(t, 40, 30))
	require.Equal(t, 6, count(t, s, `SELECT count(*) FROM photo`), "a second tap keeps it once")
	require.Equal(t, http.StatusConflict, shown.upload(v, "photo", "teeth.jpg", aPhoto(t, 60, 30)).status, "another photo is another form")

	require.Contains(t, v.get("/jobs/101").source, `src="/photos/6?small=yes"`)
	require.Contains(t, v.get("/jobs/101").source, `href="/bikes/1/photos"`, "from booking in on")
	require.Contains(t, v.get("/jobs/101").text, mechanicName+" took a photo of the outer chainring")
	letter := customer.get("/q/" + secret)
	require.Contains(t, letter.text, "Big chainring: hooked")
	require.Contains(t, letter.source, "/q/"+secret+"/photos/6?small=yes")
	large := customer.get("/q/" + secret + "/photos/6")
	require.Equal(t, "image/jpeg", large.header.Get("Content-Type"))
	require.Equal(t, "private, no-cache", large.header.Get("Cache-Control"))
	require.Contains(t, large.header.Get("Content-Disposition"), "photo-6.jpg")

	hidden := kept.form("change", "6").send(v, "shown", "")
	require.Contains(t, hidden.text, "it is for the workshop")
	require.Equal(t, http.StatusNotFound, customer.get("/q/"+secret+"/photos/6").status)
	require.NotContains(t, customer.get("/q/"+secret).text, "hooked")

	require.Contains(t, hidden.form("take-off", "6").send(v).text, "say why")
	gone := hidden.form("take-off", "6").send(v, "why", "a face is in it")
	require.Contains(t, gone.text, "the photo is taken off")
	require.Equal(t, http.StatusNotFound, v.get("/photos/6").status)
	require.Equal(t, 1, count(t, s, `SELECT count(*) FROM correction WHERE of = 'job' AND number = 101 AND why = 'a face is in it'`))
	require.Equal(t, http.StatusGone, hidden.form("change", "6").send(v, "key", "AAAAAAAAAAAAAAAAAAAAAAAAAA").status)
}

// What a browser has of a photo it may show again only after asking.
func TestPhotoIsAskedForAgain(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	first := v.get("/photos/1")
	r, err := http.NewRequest(http.MethodGet, s.web.URL+"/photos/1", nil)
	require.NoError(t, err)
	r.Header.Set("If-None-Match", first.header.Get("ETag"))
	again, err := v.http.Do(r)
	require.NoError(t, err)
	require.Equal(t, http.StatusNotModified, v.read(again).status)
	require.NotEqual(t, first.header.Get("ETag"), v.get("/photos/1?small=yes").header.Get("ETag"))
}

// A photo of one thing is not changed by the form of another, and what is too large is not read.
func TestPhotosRefused(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	page := v.get("/jobs/101/photos?place=chain")
	require.Equal(t, http.StatusGone, page.form("change", "1").send(v, "row", "4").status)
	beside := t.TempDir()
	t.Setenv("TMPDIR", beside) // where a form's files go that are too large for memory
	require.Contains(t, page.form("take").upload(v, "photo", "large.jpg", make([]byte, picture.MostBytes+1)).text, "larger than 20 MB")
	require.Equal(t, http.StatusRequestEntityTooLarge, page.form("take").upload(v, "photo", "vast.jpg", make([]byte, picture.MostBytes+2<<20)).status)
	left, err := os.ReadDir(beside)
	require.NoError(t, err)
	require.Empty(t, left, "what was sent stays nowhere")
	for _, size := range []int{2 << 20, 1 << 10} {
		out := page.form("take").upload(s.stranger(), "photo", "large.jpg", bytes.Repeat([]byte("x"), size))
		require.Equal(t, http.StatusUnauthorized, out.status, "whose session has ended is told that, and not that it is too large")
		require.Contains(t, out.text, "so the file that you sent is not kept: sign in and send it again")
		in := out.form("sign-in").send(s.stranger(), "name", mechanicName, "password", password)
		require.Equal(t, "/jobs/101/photos?place=chain", in.path)
	}

	part := v.get("/parts/1/photos")
	require.NotContains(t, part.text, "customer")
	require.Contains(t, part.form("take").upload(v, "photo", "part.jpg", aPhoto(t, 30, 30)).text, "the photo is kept")
	require.Contains(t, v.get("/bikes/1/photos").form("take").upload(v, "photo", "bike.jpg", aPhoto(t, 30, 30)).text, "the photo is kept")
}
