package pages

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/ical"
	"stead/pricing"
)

// feed answers a calendar program: whoever has the link has no sign-in.
func (s *Server) feed(w http.ResponseWriter, r *http.Request) {
	err := pricing.FollowFeed(r.Context(), s.DB, r.PathValue("secret"))
	var nowhere *pricing.LinkError
	switch {
	case errors.As(err, &nowhere) && nowhere.Gone:
		err = &statusError{http.StatusGone, nowhere.Error()}
	case errors.As(err, &nowhere):
		err = &statusError{http.StatusNotFound, nowhere.Error()}
	}
	var c ical.Calendar
	if err == nil {
		c, err = desk.LoadPromised(r.Context(), s.DB, s.Public)
	}
	var out bytes.Buffer
	if err == nil {
		err = ical.Write(&out, c)
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	w.Header().Set("Content-Type", "text/calendar; charset=utf-8")
	w.Header().Set("Content-Disposition", `inline; filename="promised.ics"`)
	_, _ = w.Write(out.Bytes()) // whoever has gone does not read it
}

// calendarPage is the links to the calendar of promised days.
type calendarPage struct {
	desk.Clock
	Feeds []pricing.Feed
	Made  *madeFeed // just now
}

// madeFeed is a link that is shown once.
type madeFeed struct {
	Address string
	Code    Code
}

func showCalendar(v *visit) (string, any, error) {
	feeds, err := pricing.Feeds(v.ctx, v.db())
	if err != nil {
		return "", nil, err
	}
	p := calendarPage{Clock: desk.At(v.now), Feeds: feeds}
	if secret := v.asked("made"); secret != "" && pricing.FollowFeed(v.ctx, v.db(), secret) == nil {
		made := &madeFeed{Address: v.s.Public + "/calendar/" + secret}
		if made.Code, err = QR(made.Address); err != nil {
			return "", nil, err
		}
		p.Made = made
	}
	return "Calendar of promised days", p, nil
}

func makeFeed(v *visit, t *typed) (string, error) {
	whose := t.needed("whose", "say whose calendar it is for")
	if err := t.wrong(); err != nil {
		return "", err
	}
	secret := v.s.secretFor(t.key)
	return "/calendar?made=" + secret, v.do("made a link to the calendar for "+whose, func(ctx context.Context, tx pgx.Tx, _ string) error {
		_, err := pricing.MakeFeed(ctx, tx, whose, secret, v.now)
		return err
	})
}

func revokeFeed(v *visit, t *typed) (string, error) {
	id := t.number64("row")
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done("/calendar", "the link is taken back", v.do(fmt.Sprintf("took link %d to the calendar back", id), func(ctx context.Context, tx pgx.Tx, _ string) error {
		return pricing.RevokeFeed(ctx, tx, id, v.now)
	}))
}
