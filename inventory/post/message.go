package post

import (
	"bytes"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode"

	"github.com/jackc/pgx/v5"
	"github.com/wneessen/go-mail"

	"stead/inventory"
)

// State is what has become of a message.
type State string

const (
	Waiting     State = "waiting"      // to be tried, for the first time or again
	HandingOver State = "handing over" // its text is being given to the server just now
	Sent        State = "sent"         // the server took it
	Refused     State = "refused"      // the server will never take it
	GivenUp     State = "given up"     // it was not taken for too long
	Unsure      State = "unsure"       // the line was cut before the server's answer: it may have arrived
	Cancelled   State = "cancelled"
)

// Draft is a message to be sent.
type Draft struct {
	JobID, OrderID int64  // what it is about; at most one, 0 for neither
	What           string // in words: "quote 2"
	From           string // the shop's name
	To             Address
	Subject        string
	Text, HTML     string // the same words twice
	Files          []File
}

// File is what goes with a message.
type File struct {
	Name, Type string // "quote-101.pdf", "application/pdf"
	Content    []byte
}

// Message is a message in the queue, or what is known of one that has left it.
type Message struct {
	ID        int64     `json:"id"`
	MessageID string    `json:"message_id"`
	JobID     *int64    `json:"job,omitempty"`
	OrderID   *int64    `json:"order,omitempty"`
	What      string    `json:"what"`
	To        string    `json:"to"` // empty: whoever it was is forgotten
	Subject   string    `json:"subject"`
	State     State     `json:"state"`
	MadeAt    time.Time `json:"made_at"`
	Tries     int       `json:"tries"`
	NextAt    time.Time `json:"next_at"` // while it waits
	Until     time.Time `json:"until"`   // given up after
	Answer    string    `json:"answer,omitempty"`
	ChangedAt time.Time `json:"changed_at"`
}

// mostContent is what most servers take, with the third that their lines of text add.
const mostContent = 18 << 20

// patience is how long a message is tried: RFC 5321, 4.5.4.1, asks for four or five days.
const patience = 4 * 24 * time.Hour

// Queue puts a message into the queue, to be handed over from now on. Without a server it is [ErrNoServer].
func Queue(ctx context.Context, tx pgx.Tx, d Draft, now time.Time) (Message, error) {
	server, err := LoadServer(ctx, tx)
	if err != nil {
		return Message{}, err
	}
	to, err := d.To.check()
	if err != nil {
		return Message{}, err
	}
	_, domain, _ := cutLast(server.Sender, "@")
	id := rand.Text() + "@" + domain
	content, err := d.write(Address{Name: d.From, Mail: server.Sender}, to, id, now)
	if err != nil {
		return Message{}, err
	}
	m, err := one(ctx, tx, `
		INSERT INTO message AS m (message_id, job_id, order_id, what, sender, recipient, subject, content, made_at, next_at, until, changed_at)
		VALUES ($1, nullif($2::bigint, 0), nullif($3::bigint, 0), $4, $5, $6, $7, $8, $9, $9, $10, $9) RETURNING `+columns,
		id, d.JobID, d.OrderID, d.What, server.Sender, to.Mail, d.Subject, content, now, now.Add(patience))
	if err != nil {
		return Message{}, fmt.Errorf("queue %s: %w", d.What, err)
	}
	return m, nil
}

// write sets the message as it is handed over (RFC 5322): plain text and HTML beside each other, then the files. All of it
// is ASCII, so that every server can take it.
func (d Draft) write(from, to Address, id string, now time.Time) ([]byte, error) {
	from, err := from.check()
	if err != nil {
		return nil, fmt.Errorf("the sender: %w", err)
	}
	if strings.ContainsFunc(d.Subject, unicode.IsControl) {
		return nil, fmt.Errorf("the subject %q has a line break in it", d.Subject)
	}
	m := mail.NewMsg(mail.WithNoDefaultUserAgent())
	if err := errors.Join(m.FromFormat(from.Name, from.Mail), m.AddToFormat(to.Name, to.Mail)); err != nil {
		return nil, fmt.Errorf("address the message: %w", err)
	}
	m.Subject(d.Subject)
	m.SetMessageIDWithValue(id)
	m.SetDateWithValue(now)
	m.SetBodyString(mail.TypeTextPlain, d.Text)
	if d.HTML != "" {
		m.AddAlternativeString(mail.TypeTextHTML, d.HTML)
	}
	for _, f := range d.Files {
		if err := m.AttachReader(f.Name, bytes.NewReader(f.Content), mail.WithFileContentType(mail.ContentType(f.Type))); err != nil {
			return nil, fmt.Errorf("attach %s: %w", f.Name, err)
		}
	}
	var out bytes.Buffer
	if _, err := m.WriteTo(&out); err != nil {
		return nil, fmt.Errorf("set the message: %w", err)
	}
	if out.Len() > mostContent {
		return nil, fmt.Errorf("the message is %d MB large, and most servers take no more than %d: send a link, or less", out.Len()>>20, mostContent>>20)
	}
	return out.Bytes(), nil
}

const columns = `m.id, m.message_id, m.job_id, m.order_id, m.what, m.recipient, m.subject, m.state, m.made_at, m.tries, m.next_at, m.until, m.answer, m.changed_at`

func all(ctx context.Context, db inventory.DB, rest string, args ...any) ([]Message, error) {
	rows, err := db.Query(ctx, `SELECT `+columns+` FROM message m `+rest, args...)
	if err == nil {
		var list []Message
		if list, err = pgx.CollectRows(rows, pgx.RowToStructByPos[Message]); err == nil {
			return list, nil
		}
	}
	return nil, fmt.Errorf("read the post: %w", err)
}

func one(ctx context.Context, db inventory.DB, sql string, args ...any) (Message, error) {
	rows, err := db.Query(ctx, sql, args...)
	if err != nil {
		return Message{}, err
	}
	return pgx.CollectExactlyOneRow(rows, pgx.RowToStructByPos[Message])
}

// numbered is one message; an unknown number is an *[inventory.UnknownError].
func numbered(ctx context.Context, db inventory.DB, id int64) (Message, error) {
	m, err := one(ctx, db, `SELECT `+columns+` FROM message m WHERE m.id = $1`, id)
	if errors.Is(err, pgx.ErrNoRows) {
		return Message{}, &inventory.UnknownError{Kind: inventory.OfMessage, Name: fmt.Sprint(id)}
	}
	if err != nil {
		return Message{}, fmt.Errorf("read message %d: %w", id, err)
	}
	return m, nil
}

// Unsettled are the messages about which something is still to be done, the oldest first.
func Unsettled(ctx context.Context, db inventory.DB) ([]Message, error) {
	return all(ctx, db, `WHERE m.state NOT IN ('sent', 'cancelled') ORDER BY m.id`)
}

// Settled are those that have left or were cancelled, the newest first.
func Settled(ctx context.Context, db inventory.DB, most int) ([]Message, error) {
	return all(ctx, db, `WHERE m.state IN ('sent', 'cancelled') ORDER BY m.changed_at DESC, m.id DESC LIMIT $1`, most)
}

// OfJob are the messages about a job, the oldest first.
func OfJob(ctx context.Context, db inventory.DB, jobID int64) ([]Message, error) {
	return all(ctx, db, `WHERE m.job_id = $1 ORDER BY m.id`, jobID)
}

// OfOrder are the messages about an order, the oldest first.
func OfOrder(ctx context.Context, db inventory.DB, orderID int64) ([]Message, error) {
	return all(ctx, db, `WHERE m.order_id = $1 ORDER BY m.id`, orderID)
}
