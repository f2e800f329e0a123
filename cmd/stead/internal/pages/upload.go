package pages

import (
	"bytes"
	"crypto/rand"
	"errors"
	"io"
	"net/http"
	"path/filepath"
	"slices"
	"strings"
	"sync"

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

// file is a file that was sent, with its name.
func (v *visit) file(field string) (name string, data []byte, err error) {
	f, head, err := v.r.FormFile(field)
	if err != nil {
		return "", nil, errors.New("choose the file")
	}
	defer f.Close() // only read from
	if head.Size > mostList {
		return "", nil, errors.New("the file is larger than 16 MB: load it at the terminal")
	}
	data, err = io.ReadAll(f)
	return filepath.Base(tidy(head.Filename)), data, err
}
