package pages

import (
	"context"
	"errors"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/inventory/people"
)

// What a session holds.
const (
	sessionPerson = "person" // who is signed in, by number
	sessionBy     = "by"     // what they gave: byPassword or byPIN
	sessionSaid   = "said"   // what the next page tells
	sessionKept   = "kept"   // a form that was typed before signing in, and the page that it is of

	byPassword = "password"
	byPIN      = "pin"
)

// signInPage asks for name and password, and goes on where one wanted to go, with what was typed.
type signInPage struct {
	Next, Kept string
	Nobody     bool // nobody can sign in yet
}

func showSignIn(v *visit) (string, any, error) {
	all, err := people.All(v.ctx, v.db())
	p := signInPage{Next: v.asked("next"), Nobody: len(all) == 0}
	if v.typed != nil {
		p.Next, p.Kept = v.typed.values.Get("next"), v.typed.values.Get("kept")
	}
	return "Sign in", p, err
}

func signIn(v *visit, t *typed) (string, error) {
	return v.comeIn(t, t.needed("name", "give the name that you sign in by"), byPassword)
}

// comeIn signs somebody in by what they typed.
func (v *visit) comeIn(t *typed, name, by string) (string, error) {
	secret := t.secret(by)
	if secret == "" {
		t.mark(by, "give the "+map[string]string{byPassword: "password", byPIN: "PIN"}[by])
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	ask := people.SignIn
	if by == byPIN {
		ask = people.ChangeHands
	}
	person, err := ask(v.ctx, v.s.DB, name, secret, v.s.from(v.r), v.now)
	switch {
	case errors.Is(err, people.ErrWrong):
		return "", &statusError{http.StatusUnauthorized, err.Error()}
	case errors.As(err, new(*people.TooManyError)):
		return "", &statusError{http.StatusTooManyRequests, err.Error()}
	case err != nil:
		return "", err
	}
	if err := v.s.sessions.RenewToken(v.ctx); err != nil {
		return "", err
	}
	v.s.sessions.Put(v.ctx, sessionPerson, person.ID)
	v.s.sessions.Put(v.ctx, sessionBy, by)
	next := t.values.Get("next")
	if !ours(next) {
		next = "/"
	}
	if kept := t.values.Get("kept"); kept != "" {
		v.s.sessions.Put(v.ctx, sessionKept, next+"\n"+kept)
	}
	return next, nil
}

// ours reports whether a way to go on is a path of our own.
func ours(next string) bool {
	u, err := url.Parse(next)
	return err == nil && u.Scheme == "" && u.Host == "" && strings.HasPrefix(u.Path, "/") && !strings.HasPrefix(next, "//") && !strings.ContainsAny(next, "\\\r\n")
}

// askToSignIn shows the sign-in page in place of the page that was asked for, and keeps what was sent to it.
func (v *visit) askToSignIn() {
	next := v.r.URL.RequestURI()
	if v.r.Method != http.MethodPost {
		http.Redirect(v.w, v.r, "/sign-in?next="+url.QueryEscape(next), http.StatusSeeOther)
		return
	}
	kept := url.Values{}
	for name, values := range v.typed.values {
		if !slices.Contains(secrets, name) {
			kept[name] = values
		}
	}
	v.typed = v.typedFrom(url.Values{"next": {next}, "kept": {kept.Encode()}})
	v.page, v.action = page{template: "sign-in", layout: "letter", show: showSignIn}, "/sign-in"
	v.sorry = &refusal{Sentence: "you are not signed in any more; what you typed is kept: sign in and go on"}
	if sendsFile(v.r) {
		v.sorry.Sentence = "you are not signed in any more, so the file that you sent is not kept: sign in and send it again"
	}
	v.render(http.StatusUnauthorized)
}

// keptForm is what was typed into this page before signing in.
func (v *visit) keptForm() *typed {
	page, kept, some := strings.Cut(v.s.sessions.GetString(v.ctx, sessionKept), "\n")
	if !some || page != v.r.URL.RequestURI() {
		return nil
	}
	v.s.sessions.Remove(v.ctx, sessionKept)
	values, err := url.ParseQuery(kept)
	if err != nil {
		return nil
	}
	v.sorry = &refusal{Sentence: "you are signed in again, and what you typed is still here: look it over and send it"}
	return v.typedFrom(values)
}

// handsPage changes hands on a tablet that somebody has signed in on.
type handsPage struct {
	People []people.Person // those with a PIN
	Now    people.Person
}

func showHands(v *visit) (string, any, error) {
	all, err := people.All(v.ctx, v.db())
	p := handsPage{Now: v.person}
	for _, one := range all {
		if one.HasPIN {
			p.People = append(p.People, one)
		}
	}
	return "Change hands", p, err
}

func changeHands(v *visit, t *typed) (string, error) {
	return v.comeIn(t, t.needed("name", "say whose hands they are now"), byPIN)
}

func signOut(v *visit, _ *typed) (string, error) {
	return "/sign-in", v.s.sessions.Destroy(v.ctx)
}

func setPIN(v *visit, t *typed) (string, error) {
	pin := t.secret("pin")
	t.take("pin", people.CheckPIN(pin))
	if err := v.checkKnown(t); err != nil {
		return "", err
	}
	return v.done("/hands", "your PIN is set", v.do("set a PIN", func(ctx context.Context, tx pgx.Tx, _ string) error {
		return people.SetPIN(ctx, tx, v.person.ID, pin)
	}))
}

func setPassword(v *visit, t *typed) (string, error) {
	password := t.secret("again")
	t.take("again", people.CheckPassword(password))
	if err := v.checkKnown(t); err != nil {
		return "", err
	}
	return v.done("/hands", "your password is set", v.do("set a password", func(ctx context.Context, tx pgx.Tx, _ string) error {
		return people.SetPassword(ctx, tx, v.person.ID, password)
	}))
}

// checkKnown asks for the password of whoever is signed in, beside what else is wrong.
func (v *visit) checkKnown(t *typed) error {
	if err := t.wrong(); err != nil {
		return err
	}
	_, err := people.SignIn(v.ctx, v.s.DB, v.person.Name, t.secret("password"), v.s.from(v.r), v.now)
	if errors.Is(err, people.ErrWrong) {
		t.mark("password", "this is not your password")
		return errWrong
	}
	return err
}
