package pages

import (
	"bytes"
	"net/http"
	"slices"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/pricing/books"
)

// booksFile is all tables in one file.
const booksFile = "books.zip"

// books gives an owner a table of the shop's books, or all of them.
func (s *Server) books(w http.ResponseWriter, r *http.Request) {
	v, err := s.visit(w, r, page{path: r.URL.Path, who: owner, layout: "book"})
	if err != nil {
		s.fail(w, r, err)
		return
	}
	name := r.PathValue("file")
	switch {
	case v.person.ID == 0:
		v.askToSignIn()
		return
	case !v.owns():
		v.refuse(http.StatusForbidden, "the books are the owner's: sign in with an owner's name and password")
		return
	case name != booksFile && !slices.Contains(books.Files, name):
		v.fail(&inventory.UnknownError{Kind: "table", Name: name})
		return
	}
	tables, err := desk.ExportBooks(v.ctx, s.DB)
	if err != nil {
		v.fail(err)
		return
	}
	content, kind := tables[name], "text/csv; charset=utf-8"
	if name == booksFile {
		var all bytes.Buffer
		if err := desk.ZipBooks(&all, tables); err != nil {
			v.fail(err)
			return
		}
		content, kind = all.Bytes(), "application/zip"
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	_, _ = w.Write(content) // whoever has gone does not read it
}
