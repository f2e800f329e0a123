package pricing

import (
	"context"
	"crypto/sha256"
	"crypto/subtle"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/calendar"
)

// Link is a customer's way to one version of one quote: an unguessable word of which only the hash is kept. It ends
// with the quote's validity, or when the workshop takes it back; once the job is agreed to it stays until the bike is
// handed back.
type Link struct {
	ID        int64        `json:"id"`
	JobID     int64        `json:"job"`
	Version   int          `json:"version"`
	MadeAt    time.Time    `json:"made_at"`
	ExpiresOn calendar.Day `json:"expires_on"` // the last day
	RevokedAt *time.Time   `json:"revoked_at,omitempty"`
	Agreed    bool         `json:"agreed,omitempty"` // the job is, and is not ended: the link outlives its last day
}

// secretLength is the length of a link's word: 26 letters and figures of 32, which is 130 bits.
const secretLength = 26

// What a link's word is made of, as crypto/rand.Text makes it.
const secretLetters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567"

// LinkError says why a link leads nowhere, in words for the customer.
type LinkError struct {
	Gone bool // it led somewhere once
	why  string
}

func (e *LinkError) Error() string { return e.why }

// MakeLink makes a way to a job's open quote for whoever has the secret, which must be a fresh one of rand.Text, or as
// good. The quote must be the newest, and must still stand.
func MakeLink(ctx context.Context, tx pgx.Tx, jobID int64, version int, secret string, now time.Time) (Link, error) {
	if len(secret) != secretLength {
		return Link{}, fmt.Errorf("a link's secret has %d characters, not %d", secretLength, len(secret))
	}
	if _, err := lockJob(ctx, tx, jobID); err != nil {
		return Link{}, err
	}
	q, err := ToSend(ctx, tx, jobID, calendar.DayOf(now))
	if err != nil {
		return Link{}, err
	}
	if err := q.checkCurrent(version, calendar.DayOf(now)); err != nil {
		return Link{}, err
	}
	l := Link{JobID: jobID, Version: version, MadeAt: now, ExpiresOn: q.ValidUntil}
	hash := sha256.Sum256([]byte(secret))
	err = tx.QueryRow(ctx, `INSERT INTO quote_link (quote_id, job_id, hash, made_at, expires_on) VALUES ($1, $2, $3, $4, $5) RETURNING id`,
		q.ID, jobID, hash[:], now, l.ExpiresOn).Scan(&l.ID)
	if err != nil {
		return Link{}, fmt.Errorf("making a link to quote %d of job %d: %w", version, jobID, err)
	}
	return l, nil
}

// ToSend is a job's newest quote where it can go to its customer: it offers something, waits for an answer and still stands.
func ToSend(ctx context.Context, db inventory.DB, jobID int64, today calendar.Day) (Quote, error) {
	q, found, err := LastQuote(ctx, db, jobID)
	switch {
	case err != nil:
		return Quote{}, err
	case !found:
		return Quote{}, stuck(jobID, MakeItsQuote, "job %d has no quote yet", jobID)
	case len(q.Options) == 0:
		return Quote{}, stuck(jobID, AskWhyNot, "quote %d of job %d offers nothing yet", q.Version, jobID)
	}
	return q, q.checkCurrent(q.Version, today)
}

// FollowLink is where a link leads. What a mail program put behind it is taken off; anything wrong is a *[LinkError].
func FollowLink(ctx context.Context, db inventory.DB, secret string, today calendar.Day) (Link, error) {
	secret = strings.TrimRightFunc(secret, func(r rune) bool { return !strings.ContainsRune(secretLetters, r) })
	if len(secret) < secretLength {
		return Link{}, &LinkError{why: "this link was cut short, perhaps by the program that brought it: copy all of it, to its very end"}
	}
	hash := sha256.Sum256([]byte(secret))
	var l Link
	var kept []byte
	err := db.QueryRow(ctx, `
		SELECT l.id, l.job_id, q.version, l.made_at, l.expires_on, l.revoked_at, j.state = 'approved', l.hash
		FROM quote_link l JOIN quote q ON q.id = l.quote_id JOIN job j ON j.id = l.job_id WHERE l.hash = $1`, hash[:]).
		Scan(&l.ID, &l.JobID, &l.Version, &l.MadeAt, &l.ExpiresOn, &l.RevokedAt, &l.Agreed, &kept)
	switch {
	case errors.Is(err, pgx.ErrNoRows), err == nil && subtle.ConstantTimeCompare(hash[:], kept) != 1:
		return Link{}, &LinkError{why: "this link leads nowhere: copy it once more as it was sent, or ask us for another"}
	case err != nil:
		return Link{}, fmt.Errorf("following a link: %w", err)
	case l.RevokedAt != nil:
		return Link{}, &LinkError{Gone: true, why: "we have taken this link back: ask us for the new one"}
	case today > l.ExpiresOn && !l.Agreed:
		return Link{}, &LinkError{Gone: true, why: "this quote stood until " + l.ExpiresOn.Words(today) + ": ask us for a new one"}
	}
	return l, nil
}

// RevokeLink takes a link back. One that was taken back before stays as it is.
func RevokeLink(ctx context.Context, tx pgx.Tx, jobID, id int64, now time.Time) error {
	tag, err := tx.Exec(ctx, `UPDATE quote_link SET revoked_at = coalesce(revoked_at, $3) WHERE id = $1 AND job_id = $2`, id, jobID, now)
	if err != nil {
		return fmt.Errorf("taking link %d back: %w", id, err)
	}
	if tag.RowsAffected() == 0 {
		return &inventory.UnknownError{Kind: inventory.OfLink, Name: fmt.Sprint(id)}
	}
	return nil
}

// LinksOf are the links that were made to quotes of a job, the newest first.
func LinksOf(ctx context.Context, db inventory.DB, jobID int64) ([]Link, error) {
	rows, err := db.Query(ctx, `
		SELECT l.id, l.job_id, q.version, l.made_at, l.expires_on, l.revoked_at, j.state = 'approved'
		FROM quote_link l JOIN quote q ON q.id = l.quote_id JOIN job j ON j.id = l.job_id WHERE l.job_id = $1 ORDER BY l.id DESC`, jobID)
	if err != nil {
		return nil, fmt.Errorf("loading the links of job %d: %w", jobID, err)
	}
	links, err := pgx.CollectRows(rows, pgx.RowToStructByPos[Link])
	if err != nil {
		return nil, fmt.Errorf("loading the links of job %d: %w", jobID, err)
	}
	return links, nil
}

// QuoteVersion is one version of a job's quotes, with what was agreed if it was.
func QuoteVersion(ctx context.Context, db inventory.DB, jobID int64, version int) (q Quote, agreed *Approval, err error) {
	var state QuoteState
	var id int64
	if err := db.QueryRow(ctx, `SELECT id, state, document FROM quote WHERE job_id = $1 AND version = $2`, jobID, version).Scan(&id, &state, &q); err != nil {
		if errors.Is(err, pgx.ErrNoRows) {
			return Quote{}, nil, &inventory.UnknownError{Kind: inventory.OfQuote, Name: fmt.Sprintf("%d of job %d", version, jobID)}
		}
		return Quote{}, nil, fmt.Errorf("loading quote %d of job %d: %w", version, jobID, err)
	}
	q.ID, q.State = id, state
	if state != Approved {
		return q, nil, nil
	}
	var a Approval
	err = db.QueryRow(ctx, `SELECT option_name, total, by_whom, at, ready_on FROM approval WHERE quote_id = $1`, id).Scan(&a.Option, &a.Total, &a.By, &a.At, &a.ReadyOn)
	if err != nil {
		return Quote{}, nil, fmt.Errorf("loading what was agreed for job %d: %w", jobID, err)
	}
	return q, &a, nil
}
