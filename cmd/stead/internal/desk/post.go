package desk

import (
	"context"
	"errors"
	"fmt"
	"time"

	"stead/inventory"
	"stead/inventory/post"
)

// Post is what waits to be sent, what went wrong, and what has left lately.
type Post struct {
	Clock   `json:"-"`
	Server  *post.Server   `json:"server,omitempty"` // none is set up
	Open    []post.Message `json:"open"`
	Settled []post.Message `json:"settled"`
}

const mostSettled = 50

// LoadPost loads the post.
func LoadPost(ctx context.Context, db inventory.DB, now time.Time) (Post, error) {
	p := Post{Clock: At(now)}
	s, err := post.LoadServer(ctx, db)
	if err == nil {
		p.Server = &s
	} else if !errors.Is(err, post.ErrNoServer) {
		return p, err
	}
	if p.Open, err = post.Unsettled(ctx, db); err != nil {
		return p, err
	}
	p.Settled, err = post.Settled(ctx, db, mostSettled)
	return p, err
}

// ServerWords say by which server mail goes.
func (p Post) ServerWords() string {
	if p.Server == nil {
		return "No server for outgoing mail is set up: what is to be sent is there to copy."
	}
	words := fmt.Sprintf("Mail goes from %s by %s, port %d", p.Server.Sender, p.Server.Host, p.Server.Port)
	if p.Server.Account != "" {
		words += ", account " + p.Server.Account
	}
	switch p.Server.Security {
	case post.TLS:
		words += ", by TLS"
	case post.StartTLS:
		words += ", by TLS after STARTTLS"
	default:
		words += ", in the clear on this machine"
	}
	return words + "."
}

// MessageWords say what a message is, and to whom it goes.
func MessageWords(m post.Message) string {
	to := m.To
	if to == "" {
		to = "somebody who is forgotten"
	}
	return fmt.Sprintf("%s to %s", m.What, to)
}

// StateWords say what has become of a message.
func (c Clock) StateWords(m post.Message) string {
	switch m.State {
	case post.Waiting:
		if m.Tries == 0 && m.Answer == "" {
			return "waits to be sent"
		}
		return fmt.Sprintf("not sent yet: %s; tried again on %s", m.Answer, c.Moment(m.NextAt))
	case post.HandingOver:
		return "is being sent just now"
	case post.Sent:
		if m.Answer != "" && m.Answer != post.Taken {
			return m.Answer
		}
		return "sent on " + c.Moment(m.ChangedAt)
	case post.Refused:
		return "not sent, the server refuses it: " + m.Answer
	case post.GivenUp:
		return "not sent: " + m.Answer
	case post.Unsure:
		return "may have arrived: " + m.Answer + ". Ask whether it came, or send it again"
	}
	return "cancelled on " + c.Moment(m.ChangedAt)
}
