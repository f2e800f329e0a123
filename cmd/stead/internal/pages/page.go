package pages

import (
	"fmt"
	"net/http"

	"stead/inventory"
	"stead/inventory/people"
)

// access is who may see a page.
type access int

const (
	anybody  access = iota
	holder          // of the link that the path carries
	mechanic        // whoever is signed in
	owner
)

// page is a page: its path, who may see it, how its struct is filled, and what its buttons do.
type page struct {
	path     string // "/jobs/{job}", as net/http has it
	who      access
	on       string // the kind of the thing that its forms change, which the path names: "job"; empty: none
	live     string // what else it listens to: "shelf", or "*" for everything
	template string
	layout   string // "book" unless told: the bench's; "letter": the customer's
	show     func(v *visit) (title string, content any, err error)
	acts     map[string]act
	give     func(v *visit) (file, error) // what is there in place of a page; nil: a page is
}

// act is what a button does: it reads what was typed, makes the change, and says where to go on.
type act func(v *visit, t *typed) (to string, err error)

// routes makes the way from a request to its page.
func (s *Server) routes() http.Handler {
	mux := http.NewServeMux()
	for _, p := range s.pages() {
		if p.layout == "" {
			p.layout = "book"
		}
		mux.HandleFunc("GET "+p.path, func(w http.ResponseWriter, r *http.Request) { s.answer(w, r, p) })
		if len(p.acts) > 0 {
			mux.HandleFunc("POST "+p.path, func(w http.ResponseWriter, r *http.Request) { s.answer(w, r, p) })
		}
	}
	mux.HandleFunc("GET /static/", s.looks.static)
	mux.HandleFunc("GET /live", s.news)
	mux.HandleFunc("GET /calendar/{secret}", s.feed)
	mux.HandleFunc("GET /books/{file}", s.books)
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		s.answer(w, r, page{path: r.URL.Path, who: mechanic, show: func(*visit) (string, any, error) {
			return "", nil, &inventory.UnknownError{Kind: "page", Name: r.URL.Path}
		}})
	})
	return s.guard(s.sessions.LoadAndSave(mux))
}

// answer shows a page, or does what one of its buttons asks.
func (s *Server) answer(w http.ResponseWriter, r *http.Request, p page) {
	w = &lateAnswer{ResponseWriter: w}
	v, err := s.visit(w, r, p)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	if r.Method == http.MethodPost {
		if v.person.ID == 0 { // whoever is not signed in sends no files
			bound(w, r, mostBody)
		}
		if err := v.read(); err != nil && p.who >= mechanic && v.person.ID == 0 && sendsFile(r) {
			v.typed = v.typedFrom(nil) // too large for whoever is not signed in
		} else if err != nil {
			s.fail(w, r, err)
			return
		}
		defer v.sweep()
	}
	if p.who == holder {
		if err := v.follow(); err != nil {
			v.fail(err)
			return
		}
	}
	switch {
	case p.who >= mechanic && v.person.ID == 0:
		v.askToSignIn()
		return
	case p.who == owner && !v.owns():
		v.refuse(http.StatusForbidden, "this page is the owner's: sign in with an owner's name and password")
		return
	}
	if r.Method != http.MethodPost && p.give != nil {
		v.give()
		return
	}
	if r.Method != http.MethodPost {
		v.render(http.StatusOK)
		return
	}
	do, known := p.acts[v.typed.act]
	if !known {
		v.refuse(http.StatusBadRequest, "this page has no such button: open it again")
		return
	}
	to, err := do(v, v.typed)
	if err == nil {
		http.Redirect(w, r, to, http.StatusSeeOther)
		return
	}
	v.render(v.took(err))
}

// owns reports whether the visitor may change the settings: an owner who has given the password. A PIN is short, so it
// gives a mechanic's hands only.
func (v *visit) owns() bool {
	return v.person.Role == people.Owner && (v.s.As != nil || v.s.sessions.GetString(v.ctx, sessionBy) == byPassword)
}

// subject is the thing that the page's forms change; none for some pages.
func (v *visit) subject() (s inventory.Subject, some bool, err error) {
	switch v.page.on {
	case "":
		return s, false, nil
	case "link":
		return inventory.Subject{Kind: inventory.OfJob, ID: v.link.JobID}, true, nil
	case "shop":
		return inventory.Subject{Kind: inventory.OfShop}, true, nil
	case "bill":
		s, err := v.account()
		return s, true, err
	case "list":
		s, err := inventory.SupplierByCode(v.ctx, v.db(), v.r.PathValue("supplier"))
		return inventory.Subject{Kind: inventory.OfList, ID: s.ID}, true, err
	}
	id, err := v.number(v.page.on)
	return inventory.Subject{Kind: inventory.Kind(v.page.on), ID: id}, true, err
}

// listens is what the page's script is told of.
func (v *visit) listens() string {
	subject, some, err := v.subject()
	switch {
	case err != nil || !some:
		return v.page.live
	case v.page.on == "link":
		return "link " + v.r.PathValue("link")
	case v.page.live == "":
		return subject.String()
	}
	return fmt.Sprintf("%s,%s", subject, v.page.live)
}
