package pages

import (
	"context"
	"errors"
	"fmt"
	"html/template"
	"net/url"
	"strconv"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/mailing"
	"stead/inventory/post"
)

// postPage is what waits to be sent, what was not, what has left, and the server that it goes by.
type postPage struct {
	desk.Post
	Missing string // what keeps the server from being used
}

func showPost(v *visit) (string, any, error) {
	p, err := desk.LoadPost(v.ctx, v.db(), v.now)
	if err != nil {
		return "", nil, err
	}
	page := postPage{Post: p}
	if p.Server != nil && p.Server.Account != "" {
		if _, err := v.s.PostKeys.Password(*p.Server); err != nil {
			page.Missing = sentence(err.Error()) + "."
		}
	}
	return "Post", page, nil
}

// Lines are messages with what has become of them.
func (p postPage) Lines(list []post.Message) []messageLine { return messageLines(p.Clock, list) }

// Securities ask how the line to the server is kept safe.
func (p postPage) Securities(f *Form) Field {
	chosen := post.StartTLS
	if p.Server != nil {
		chosen = p.Server.Security
	}
	return f.Choice("security", "How the line is kept safe", string(chosen), string(post.StartTLS), "TLS after STARTTLS", string(post.TLS), "TLS from the start", string(post.NoTLS), "in the clear, on this machine")
}

// Host, Port, Account and Sender are the server's as they are typed.
func (p postPage) Host() string { return p.of(func(s post.Server) string { return s.Host }) }
func (p postPage) Port() string {
	return p.of(func(s post.Server) string { return strconv.Itoa(s.Port) })
}
func (p postPage) Account() string { return p.of(func(s post.Server) string { return s.Account }) }
func (p postPage) Sender() string  { return p.of(func(s post.Server) string { return s.Sender }) }

func (p postPage) of(field func(post.Server) string) string {
	if p.Server == nil {
		return ""
	}
	return field(*p.Server)
}

// messageLine is a message in a list.
type messageLine struct {
	ID             int64
	What, State    string
	Path           string // of what it is about
	CanNow, Failed bool   // it waits; it was not sent, or nobody knows
	Unsure         bool
}

func messageLines(clock desk.Clock, list []post.Message) (out []messageLine) {
	for _, m := range list {
		l := messageLine{ID: m.ID, What: sentence(desk.MessageWords(m)), State: sentence(clock.StateWords(m)), CanNow: m.State == post.Waiting,
			Failed: m.State == post.Refused || m.State == post.GivenUp || m.State == post.Unsure, Unsure: m.State == post.Unsure}
		switch {
		case m.JobID != nil:
			l.Path = fmt.Sprintf("/jobs/%d", *m.JobID)
		case m.OrderID != nil:
			l.Path = fmt.Sprintf("/orders/%d", *m.OrderID)
		}
		out = append(out, l)
	}
	return out
}

// unsent are the messages that a person must see to.
func unsent(v *visit) ([]messageLine, error) {
	open, err := post.Unsettled(v.ctx, v.db())
	if err != nil {
		return nil, err
	}
	var out []messageLine
	for _, l := range messageLines(desk.At(v.now), open) {
		if l.Failed {
			out = append(out, l)
		}
	}
	return out, nil
}

// about makes a change of the message that a form is of.
func about(words, said string, do func(ctx context.Context, tx pgx.Tx, v *visit, id int64) error) act {
	return func(v *visit, t *typed) (string, error) {
		id := t.number64("row")
		if err := t.wrong(); err != nil {
			return "", err
		}
		return v.done("/post", said, v.do(words, func(ctx context.Context, tx pgx.Tx, _ string) error { return do(ctx, tx, v, id) }))
	}
}

var postActs = map[string]act{
	"now": about("let a message go sooner", "it goes with the next post", func(ctx context.Context, tx pgx.Tx, v *visit, id int64) error {
		return post.Now(ctx, tx, id, v.now)
	}),
	"again": about("sent a message again", "it is sent again", func(ctx context.Context, tx pgx.Tx, v *visit, id int64) error {
		return post.Again(ctx, tx, id, v.now)
	}),
	"cancel": about("took a message out of the post", "it is cancelled", func(ctx context.Context, tx pgx.Tx, v *visit, id int64) error {
		return post.Cancel(ctx, tx, id, v.now)
	}),
	"arrived": about("asked, and a message had arrived", "good that it arrived", func(ctx context.Context, tx pgx.Tx, v *visit, id int64) error {
		return post.Arrived(ctx, tx, id, v.person.Name, v.now)
	}),
	"server": setServer, "none": noServer,
}

func setServer(v *visit, t *typed) (string, error) {
	if err := v.checkOwner(); err != nil {
		return "", err
	}
	s := post.Server{Host: t.needed("host", "give the server's name, such as mail.example"), Account: t.line("account"),
		Sender: t.needed("sender", "give the address from which the shop writes"), Security: post.Security(t.oneOf("security", "starttls", "tls", "none"))}
	if t.line("port") != "" {
		s.Port = t.count("port")
	}
	password := t.secret("password")
	if err := t.wrong(); err != nil {
		return "", err
	}
	set, err := change(v, "set up the server for outgoing mail", func(ctx context.Context, tx pgx.Tx, _ string) (post.Server, error) { return post.SetServer(ctx, tx, s) })
	if err == nil && set.Account != "" && password != "" {
		err = v.s.PostKeys.Keep(set, password)
	}
	return v.done("/post", "mail goes by "+set.Host, err)
}

func noServer(v *visit, _ *typed) (string, error) {
	if err := v.checkOwner(); err != nil {
		return "", err
	}
	return v.done("/post", "no mail goes from here any more", v.do("took the server for outgoing mail away", func(ctx context.Context, tx pgx.Tx, _ string) error {
		return post.NoMoreServer(ctx, tx)
	}))
}

// mailForm is where something is sent by e-mail: by the shop's server, else in the words to copy.
type mailForm struct {
	Row, What string // "bill 7"
	To, Words string
	By        template.URL // the mail program of this device
	CanSend   bool         // a server is set up
	Next      bool         // to send it is what is next
}

func (v *visit) mailForm(row, what, to string, m desk.Mail) (mailForm, error) {
	f := mailForm{Row: row, What: what, To: to, Words: m.Text(), CanSend: true,
		By: template.URL("mailto:" + url.PathEscape(to) + "?subject=" + url.PathEscape(m.Subject) + "&body=" + url.PathEscape(m.Text()))}
	if _, err := post.LoadServer(v.ctx, v.db()); errors.Is(err, post.ErrNoServer) {
		f.CanSend = false
	} else if err != nil {
		return f, err
	}
	return f, nil
}

// letter reads to whom something goes, and what goes with it.
func (t *typed) letter() mailing.Letter {
	return mailing.Letter{To: t.needed("to", "say to which address it goes"), Note: t.text("note")}
}

// send queues what set gives.
func (v *visit) send(to, what string, set func(ctx context.Context, tx pgx.Tx) (post.Draft, error)) (string, error) {
	if err := v.typed.wrong(); err != nil {
		return "", err
	}
	m, err := change(v, "sent "+what+" by e-mail to "+v.typed.line("to"), func(ctx context.Context, tx pgx.Tx, _ string) (post.Message, error) {
		d, err := set(ctx, tx)
		if err != nil {
			return post.Message{}, err
		}
		return post.Queue(ctx, tx, d, v.now)
	})
	return v.done(to, fmt.Sprintf("%s goes with the next post", m.What), err)
}
