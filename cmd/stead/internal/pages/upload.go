package pages

import (
	"bytes"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"net/http"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"stead/inventory/photo/picture"
	"stead/inventory/pricelist"
)

// mostList bounds a price list that is sent, and mostKept how many are kept between a look at them and their loading.
const (
	mostList = 16 << 20
	mostKept = 6
)

// uploads are the lists that were sent and are being looked at. They are kept in memory only: whoever takes too long, or
// finds the program started anew, sends the file once more.
type uploads struct {
	sync.Mutex
	kept []upload
}

type upload struct {
	id, name string
	data     []byte
}

// keep keeps a file, and lets go of the oldest.
func (u *uploads) keep(name string, data []byte) string {
	u.Lock()
	defer u.Unlock()
	one := upload{rand.Text(), name, data}
	u.kept = append(u.kept, one)
	if len(u.kept) > mostKept {
		u.kept = slices.Delete(u.kept, 0, 1)
	}
	return one.id
}

// open opens a file that was sent; none where it is no longer kept.
func (u *uploads) open(id string) (*pricelist.File, error) {
	u.Lock()
	i := slices.IndexFunc(u.kept, func(one upload) bool { return one.id == id })
	if i < 0 {
		u.Unlock()
		return nil, &statusError{http.StatusGone, "the file is no longer here: send it once more"}
	}
	one := u.kept[i]
	u.Unlock()
	return pricelist.Open(one.name, bytes.NewReader(one.data), int64(len(one.data)))
}

// sendsFile reports whether a request brings a file.
func sendsFile(r *http.Request) bool {
	return strings.HasPrefix(r.Header.Get("Content-Type"), "multipart/form-data")
}

// bodyOf is how much a request may send: more only to where files are sent.
func bodyOf(r *http.Request) int64 {
	switch {
	case !sendsFile(r):
		return mostBody
	case strings.HasPrefix(r.URL.Path, "/lists/"):
		return mostList + mostBody
	case sendsPhoto(r.URL.Path):
		return picture.MostBytes + mostBody
	}
	return mostBody
}

// bounded is the body of a request of which no more than its bound is taken in.
type bounded struct {
	io.ReadCloser
	whole io.ReadCloser
}

// bound bounds a request's body, anew where it was bounded before.
func bound(w http.ResponseWriter, r *http.Request, most int64) {
	whole := r.Body
	if b, before := whole.(bounded); before {
		whole = b.whole
	}
	r.Body = bounded{http.MaxBytesReader(w, whole, most), whole}
}

// A browser reads no answer before it has sent all: what is too large is let come and thrown away, up to so much and for so
// long, so that its sentence is seen in place of a line that was cut.
const (
	mostDrained = 2 << 30
	drainTime   = 5 * time.Minute
)

// drain takes the rest of a body that is not read. For whoever is not signed in it is not waited longer than for any request.
func (v *visit) drain() {
	b, is := v.r.Body.(bounded)
	if !is {
		return
	}
	if v.person.ID != 0 {
		line, until := http.NewResponseController(v.w), time.Now().Add(drainTime)
		if err := errors.Join(line.SetReadDeadline(until), line.SetWriteDeadline(until.Add(writeTime))); err != nil {
			v.s.Log.Error("wait for what is too large", "error", err)
		}
	}
	_, _ = io.CopyN(io.Discard, b.whole, mostDrained) // what does not come is not missed
}

// What is said of a file that is too large, before it is sent where a script runs.
const largerList = "the file is larger than 16 MB: load it at the terminal"

// largerWords say that what was sent is too large.
func largerWords(r *http.Request) string {
	switch {
	case sendsFile(r) && strings.HasPrefix(r.URL.Path, "/lists/"):
		return largerList
	case sendsFile(r) && sendsPhoto(r.URL.Path):
		return picture.ErrTooLarge.Error()
	}
	return fmt.Sprintf("what was sent is larger than %d MB: send less of it", bodyOf(r)>>20)
}

// file is a file that was sent, with its name.
func (v *visit) file(field string) (name string, data []byte, err error) {
	f, head, err := v.r.FormFile(field)
	if err != nil {
		return "", nil, errors.New("choose the file")
	}
	defer f.Close() // only read from
	if head.Size > mostList {
		return "", nil, errors.New(largerList)
	}
	data, err = io.ReadAll(f)
	return filepath.Base(tidy(head.Filename)), data, err
}
