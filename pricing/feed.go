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

// Promise is a day that was agreed for a bike that is still here.
type Promise struct {
	JobID int64        `json:"job"`
	Bike  string       `json:"bike"`
	Day   calendar.Day `json:"day"`
	At    time.Time    `json:"agreed_at"`
}

// Promises are the days that the shop has promised and not kept yet, the soonest first.
func Promises(ctx context.Context, db inventory.DB) ([]Promise, error) {
	rows, err := db.Query(ctx, `
		SELECT j.id, b.words, agreed.ready_on, agreed.at
		FROM job j JOIN bike b ON b.id = j.bike_id
		JOIN LATERAL (SELECT a.ready_on, a.at FROM approval a JOIN quote q ON q.id = a.quote_id WHERE q.job_id = j.id ORDER BY q.version DESC LIMIT 1) agreed ON true
		WHERE j.state = 'approved' AND agreed.ready_on IS NOT NULL
		ORDER BY agreed.ready_on, j.id`)
	if err == nil {
		var all []Promise
		if all, err = pgx.CollectRows(rows, pgx.RowToStructByPos[Promise]); err == nil {
			return all, nil
		}
	}
	return nil, fmt.Errorf("load the promised days: %w", err)
}

// Feed is a way to the calendar of promised days for whoever has its secret, until it is taken back.
type Feed struct {
	ID        int64      `json:"id"`
	Whose     string     `json:"whose"` // "Otis's telephone"
	MadeAt    time.Time  `json:"made_at"`
	RevokedAt *time.Time `json:"revoked_at,omitempty"`
}

// MakeFeed makes a way to the calendar; the secret must be a fresh one of rand.Text, or as good.
func MakeFeed(ctx context.Context, tx pgx.Tx, whose, secret string, now time.Time) (Feed, error) {
	f := Feed{Whose: strings.Join(strings.Fields(whose), " "), MadeAt: now}
	if f.Whose == "" {
		return Feed{}, errors.New("say whose calendar it is for, such as “the bench tablet”")
	}
	if len(secret) != secretLength {
		return Feed{}, fmt.Errorf("a link's secret has %d characters, not %d", secretLength, len(secret))
	}
	hash := sha256.Sum256([]byte(secret))
	if err := tx.QueryRow(ctx, `INSERT INTO feed_link (whose, hash, made_at) VALUES ($1, $2, $3) RETURNING id`, f.Whose, hash[:], now).Scan(&f.ID); err != nil {
		return Feed{}, fmt.Errorf("making a link to the calendar: %w", err)
	}
	return f, nil
}

// FollowFeed reports whether a secret leads to the calendar; where it does not it is a *[LinkError].
func FollowFeed(ctx context.Context, db inventory.DB, secret string) error {
	hash := sha256.Sum256([]byte(secret))
	var kept []byte
	var revoked *time.Time
	err := db.QueryRow(ctx, `SELECT hash, revoked_at FROM feed_link WHERE hash = $1`, hash[:]).Scan(&kept, &revoked)
	switch {
	case errors.Is(err, pgx.ErrNoRows), err == nil && subtle.ConstantTimeCompare(hash[:], kept) != 1:
		return &LinkError{why: "this link to a calendar leads nowhere: copy it once more, to its very end"}
	case err != nil:
		return fmt.Errorf("following a link to the calendar: %w", err)
	case revoked != nil:
		return &LinkError{Gone: true, why: "this link to a calendar was taken back: make another"}
	}
	return nil
}

// RevokeFeed takes a link to the calendar back. One that was taken back before stays as it is.
func RevokeFeed(ctx context.Context, tx pgx.Tx, id int64, now time.Time) error {
	tag, err := tx.Exec(ctx, `UPDATE feed_link SET revoked_at = coalesce(revoked_at, $2) WHERE id = $1`, id, now)
	if err != nil {
		return fmt.Errorf("taking link %d to the calendar back: %w", id, err)
	}
	if tag.RowsAffected() == 0 {
		return &inventory.UnknownError{Kind: inventory.OfLink, Name: fmt.Sprint(id)}
	}
	return nil
}

// Feeds are the links that were made to the calendar, the newest first.
func Feeds(ctx context.Context, db inventory.DB) ([]Feed, error) {
	rows, err := db.Query(ctx, `SELECT id, whose, made_at, revoked_at FROM feed_link ORDER BY id DESC`)
	if err == nil {
		var all []Feed
		if all, err = pgx.CollectRows(rows, pgx.RowToStructByPos[Feed]); err == nil {
			return all, nil
		}
	}
	return nil, fmt.Errorf("load the links to the calendar: %w", err)
}
