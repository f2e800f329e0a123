package pages

import (
	"bytes"
	"mime"
	"net/http"
	"time"
)

// file is what an address gives in place of a page: a photo, a paper.
type file struct {
	kind string // "image/jpeg"
	name string // what it is called when it is kept
	tag  string // the content's own name: whoever has it is asked whether they may see it still, and not sent it again; empty: a browser keeps nothing
	data []byte
}

const (
	pdf = "application/pdf"
	// A browser shows a PDF by a page of its own, which has styles inside.
	policyOfPDF = "default-src 'none'; object-src 'self'; style-src 'unsafe-inline'; frame-ancestors 'none'"
)

// give answers with a file.
func (v *visit) give() {
	f, err := v.page.give(v)
	if err != nil {
		v.fail(err)
		return
	}
	h := v.w.Header()
	h.Set("Content-Type", f.kind)
	h.Set("Content-Disposition", mime.FormatMediaType("inline", map[string]string{"filename": f.name}))
	if f.tag != "" {
		h.Set("Cache-Control", "private, no-cache")
		h.Set("ETag", `"`+f.tag+`"`)
	}
	if f.kind == pdf {
		h.Set("Content-Security-Policy", policyOfPDF)
	}
	http.ServeContent(v.w, v.r, "", time.Time{}, bytes.NewReader(f.data))
}
