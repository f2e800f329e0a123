package post

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"io"
	"net"
	"net/textproto"
	"strings"
	"sync/atomic"
	"time"
	"unicode"

	"github.com/wneessen/go-mail"
	"github.com/wneessen/go-mail/smtp"
)

// Bounds are how long a server is waited for. Those of RFC 5321, 4.5.3.2, are the usual ones.
type Bounds struct {
	Connect time.Duration // until it has greeted, and let the shop sign in
	Command time.Duration // for an answer to a command
	Take    time.Duration // for the answer to the last dot, at which it may look at the whole message
}

var usualBounds = Bounds{Connect: 2 * time.Minute, Command: 5 * time.Minute, Take: 10 * time.Minute}

// farewell is how long a postman that is told to stop waits for the answer to a text that it has begun to give.
const farewell = 4 * time.Second

// Taken is the answer of a server that has taken a message.
const Taken = "the server has taken it"

// result is what came of a try.
type result struct {
	state  State  // Sent, Waiting for a later try, Refused or Unsure
	answer string // in words
	server bool   // the server is the trouble, and would be for any message
}

// letter is what a handing over needs of a message.
type letter struct {
	from, to string
	content  []byte
}

// handOver gives a letter to a server. mark is called when the server waits for the text, before any of it is written; if it
// fails nothing is.
func handOver(ctx context.Context, s Server, password string, roots *x509.CertPool, b Bounds, l letter, mark func() error) (result, error) {
	c, err := dial(ctx, s, password, roots, b)
	if err != nil {
		return result{Waiting, whyNotReached(s, err), true}, nil
	}
	defer c.Close() // it was told goodbye, or is no more to be spoken to
	var writing atomic.Bool
	defer context.AfterFunc(ctx, func() {
		if writing.Load() { // the answer is worth a moment: without it nobody knows
			time.AfterFunc(farewell, func() { _ = c.Close() })
			return
		}
		_ = c.Close()
	})()
	out, err := converse(c, b, l, func() error { writing.Store(true); return mark() })
	if err == nil && out.state != Unsure {
		_ = c.UpdateDeadline(time.Second)
		_ = c.Quit() // it has given its answer: nothing hangs on this
	}
	return out, err
}

// converse is the part of the conversation that is about this letter.
func converse(c *smtp.Client, b Bounds, l letter, mark func() error) (result, error) {
	if err := c.UpdateDeadline(b.Command); err != nil {
		return result{Waiting, inWords(err), true}, nil
	}
	if err := c.Mail("<" + l.from + ">"); err != nil {
		return result{Waiting, "the sender is not taken: " + inWords(err), true}, nil
	}
	if err := step(c, b.Command, func() error { return c.Rcpt("<" + l.to + ">") }); err != nil {
		return notTaken(err), nil
	}
	var text io.WriteCloser
	if err := step(c, b.Command, func() (err error) { text, err = c.Data(); return err }); err != nil {
		return notTaken(err), nil
	}
	if err := mark(); err != nil {
		return result{}, err
	}
	// From here on only an answer tells.
	if err := c.UpdateDeadline(b.Take); err != nil {
		return cut(err), nil
	}
	if _, err := text.Write(l.content); err != nil {
		return cut(err), nil
	}
	if err := text.Close(); err != nil {
		if answered(err) {
			return notTaken(err), nil
		}
		return cut(err), nil
	}
	return result{state: Sent, answer: Taken}, nil
}

// step asks the server for one answer.
func step(c *smtp.Client, limit time.Duration, ask func() error) error {
	if err := c.UpdateDeadline(limit); err != nil {
		return err
	}
	return ask()
}

// dial reaches the server and signs in.
func dial(ctx context.Context, s Server, password string, roots *x509.CertPool, b Bounds) (*smtp.Client, error) {
	// The name of this machine is nobody's business, and often none that a server takes.
	options := []mail.Option{mail.WithPort(s.Port), mail.WithTimeout(b.Connect), mail.WithHELO("[127.0.0.1]"), mail.WithoutSMTPUTF8(),
		mail.WithTLSConfig(&tls.Config{ServerName: s.Host, RootCAs: roots, MinVersion: tls.VersionTLS12})}
	switch s.Security {
	case TLS:
		options = append(options, mail.WithSSL(), mail.WithTLSPolicy(mail.NoTLS))
	case StartTLS:
		options = append(options, mail.WithTLSPolicy(mail.TLSMandatory))
	case NoTLS:
		options = append(options, mail.WithTLSPolicy(mail.NoTLS))
	}
	if s.Account != "" {
		options = append(options, mail.WithUsername(s.Account), mail.WithPassword(password), mail.WithSMTPAuth(mail.SMTPAuthAutoDiscover))
	}
	c, err := mail.NewClient(s.Host, options...)
	if err != nil {
		return nil, err
	}
	return c.DialToSMTPClientWithContext(ctx)
}

// answered reports whether the server has said no, rather than nothing.
func answered(err error) bool { return errors.As(err, new(*textproto.Error)) }

// notTaken is what a letter comes to that the server has not taken: for a while or for good, as it says (RFC 5321, 4.2.1).
func notTaken(err error) result {
	var said *textproto.Error
	if errors.As(err, &said) && said.Code >= 500 {
		return result{state: Refused, answer: inWords(err)}
	}
	return result{state: Waiting, answer: inWords(err), server: said == nil}
}

func cut(err error) result {
	return result{state: Unsure, answer: "the line was cut before the server had answered, so it may have arrived (" + inWords(err) + ")"}
}

// whyNotReached says why the server could not be spoken to.
func whyNotReached(s Server, err error) string {
	var said *textproto.Error
	var unknown x509.UnknownAuthorityError
	var name x509.HostnameError
	var lookup *net.DNSError
	at := net.JoinHostPort(s.Host, fmt.Sprint(s.Port))
	switch {
	case errors.As(err, &said) && (said.Code == 535 || said.Code == 534):
		return fmt.Sprintf("%s does not know the account %s with this password (%s)", s.Host, s.Account, inWords(err))
	case errors.As(err, &unknown), errors.As(err, &name):
		return fmt.Sprintf("%s cannot prove that it is %s, so nothing was said to it: is the name right? (%s)", at, s.Host, inWords(err))
	case errors.As(err, &lookup):
		return fmt.Sprintf("there is no server %s, or this machine is not on the net", s.Host)
	}
	return fmt.Sprintf("%s cannot be reached: %s", at, inWords(err))
}

const longestAnswer = 300

// inWords is an error as it is kept: one line that can be read.
func inWords(err error) string {
	text := err.Error()
	if said := new(textproto.Error); errors.As(err, &said) {
		text = fmt.Sprintf("%d %s", said.Code, said.Msg)
	}
	text = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(text, "�"))
	text = strings.Join(strings.Fields(text), " ")
	if len(text) > longestAnswer {
		text = strings.ToValidUTF8(text[:longestAnswer], "") + "…"
	}
	return text
}
