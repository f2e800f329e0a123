package pages

import (
	"bytes"
	"context"
	"errors"
	"net/http"
	"strconv"
	"strings"
	"time"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/people"
	"stead/pricing"
)

// visit is one request to a page.
type visit struct {
	s      *Server
	w      http.ResponseWriter
	r      *http.Request
	ctx    context.Context
	page   page
	person people.Person // zero: nobody is signed in
	shop   inventory.Shop
	now    time.Time
	typed  *typed       // what was sent, or is kept from before; nil: nothing
	sorry  *refusal     // what to say above the page
	since  []string     // what changed since the form was made
	state  int          // of the subject, as it is shown
	said   string       // what was just done
	saidAt string       // the page where that stands; empty: none
	holder string       // the customer who has the link
	link   pricing.Link // that they have
	action string       // where the forms go, where that is not the page itself
}

func (s *Server) visit(w http.ResponseWriter, r *http.Request, p page) (*visit, error) {
	v := &visit{s: s, w: w, r: r, ctx: r.Context(), page: p, now: s.Now()}
	var err error
	if v.shop, err = inventory.LoadShop(v.ctx, s.DB); err != nil {
		return nil, err
	}
	if s.As != nil {
		v.person = *s.As
	} else if id := s.sessions.GetInt64(v.ctx, sessionPerson); id != 0 {
		if v.person, _, err = people.ByID(v.ctx, s.DB, id); err != nil {
			return nil, err
		}
	}
	return v, nil
}

// today is the day in the shop.
func (v *visit) today() calendar.Day { return calendar.DayOf(v.now) }

// db is the database, for what only reads.
func (v *visit) db() inventory.DB { return v.s.DB }

// number is a number of the path: {job}. What is none leads to no page.
func (v *visit) number(name string) (int64, error) {
	text := v.r.PathValue(name)
	id, err := strconv.ParseInt(text, 10, 64)
	if err != nil || id < 1 {
		return 0, &inventory.UnknownError{Kind: inventory.Kind(name), Name: text}
	}
	return id, nil
}

// asked is a word of the query, such as what is searched for.
func (v *visit) asked(name string) string { return tidy(v.r.URL.Query().Get(name)) }

// askedNumber is a number of the query; 0 where there is none.
func (v *visit) askedNumber(name string) int64 {
	n, err := strconv.ParseInt(v.asked(name), 10, 64)
	if err != nil {
		return 0
	}
	return n
}

// done ends a button's work: where to go on, and what the page there tells of what was done.
func (v *visit) done(to, words string, err error) (string, error) {
	if err != nil {
		return "", err
	}
	v.s.sessions.Put(v.ctx, sessionSaid, words)
	return to, nil
}

// leading is what a page tells of what was done, with the page where that stands.
func leading(words, path string) string { return words + "\n" + path }

// renews is the header of what the script asks for, to put it into the page that stands: what was just done is not told to
// it but to the next page that somebody opens.
const renews = "Stead-Renews"

// render shows the page with the given status.
func (v *visit) render(status int) {
	if v.typed == nil {
		v.typed = v.keptForm()
	}
	subject, some, err := v.subject()
	if err == nil && some {
		v.state, err = inventory.StateOf(v.ctx, v.s.DB, subject)
	} else if err == nil && v.page.live == "*" {
		v.state, err = inventory.StateOf(v.ctx, v.s.DB, inventory.Everything)
	}
	if err != nil {
		v.s.fail(v.w, v.r, err)
		return
	}
	title, content, err := v.page.show(v)
	if on := (*elsewhere)(nil); errors.As(err, &on) {
		if v.sorry != nil { // what could not be done is said there
			v.s.sessions.Put(v.ctx, sessionSaid, v.sorry.Sentence)
		}
		http.Redirect(v.w, v.r, on.path, http.StatusSeeOther)
		return
	}
	if err != nil {
		v.fail(err)
		return
	}
	if v.r.Header.Get(renews) == "" { // a page that is about to leave may ask before the next one does
		v.said, v.saidAt, _ = strings.Cut(v.s.sessions.PopString(v.ctx, sessionSaid), "\n")
	}
	v.write(status, v.page.template, v.page.layout, title, content)
}

// write sets a template in its layout, whole or not at all.
func (v *visit) write(status int, template, layout, title string, content any) {
	var out bytes.Buffer
	if err := v.s.looks.set(&out, template, layout, &screen{v: v, Title: title, Page: content}); err != nil {
		v.s.Log.Error("set a page", "page", template, "error", err)
		http.Error(v.w, "this page cannot be shown: tell whoever looks after the machine", http.StatusInternalServerError)
		return
	}
	v.w.Header().Set("Content-Type", "text/html; charset=utf-8")
	v.w.WriteHeader(status)
	_, _ = v.w.Write(out.Bytes()) // nobody is left to be told
}
