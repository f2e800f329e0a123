package shelf

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/reorder"
)

const (
	// longSilence is from how many days without any movement it may be doubted that the books were kept.
	longSilence = 28
	// silentChance is how many days with movements were to be expected in a silence that is doubted: by chance such a
	// one comes once in a thousand times (e to the -7).
	silentChance = 7
)

// bookDoubts say what is strange about the books as a whole: movements of a day to come or of long before all others,
// and weeks in which nothing was booked, which the advice takes for some without demand.
func bookDoubts(ctx context.Context, db inventory.DB, b shelfBooks, policy Policy, now time.Time) ([]string, error) {
	zone, err := b.shop.Location()
	if err != nil {
		return nil, err
	}
	var out []string
	var ahead, before int
	if err := db.QueryRow(ctx, `SELECT count(*) FILTER (WHERE at > $1), count(*) FILTER (WHERE at < $2) FROM movement`, now, b.demand.Began).Scan(&ahead, &before); err != nil {
		return nil, fmt.Errorf("read what is booked at another time: %w", err)
	}
	if ahead > 0 {
		out = append(out, fmt.Sprintf("%s dated after today, so a clock was wrong: they are left out", movementsAre(ahead)))
	}
	if before > 0 {
		out = append(out, fmt.Sprintf("%s dated two years or more before all others, so a clock was wrong or the shop another: they are left out", movementsAre(before)))
	}
	booked, err := inventory.Collect(ctx, db, pgx.RowTo[calendar.Day], `SELECT DISTINCT (at AT TIME ZONE $1)::date AS day FROM movement WHERE at BETWEEN $2 AND $3 ORDER BY day`, zone.String(), b.demand.Began, now)
	if err != nil {
		return nil, fmt.Errorf("read when nothing was booked: %w", err)
	}
	open, err := b.shop.Calendar()
	if err != nil {
		return nil, err
	}
	season, _ := policy.season(b.shop.Country)
	today := calendar.DayOf(now.In(zone))
	if from, to, silent := silence(booked, today, open, season); silent {
		out = append(out, fmt.Sprintf("nothing was booked from %s to %s: if the books were not kept, what is advised is too little", from.Words(today), to.Words(today)))
	}
	return out, nil
}

func movementsAre(n int) string {
	if n == 1 {
		return "1 movement is"
	}
	return fmt.Sprintf("%d movements are", n)
}

// silence is the newest stretch between two days with movements that is longer than chance, the season and the shop's own
// closures explain.
func silence(booked []calendar.Day, today calendar.Day, open *calendar.Calendar, season reorder.Season) (from, to calendar.Day, silent bool) {
	if len(booked) == 0 {
		return 0, 0, false
	}
	all := open.WorkingDaysBetween(booked[0], today)
	for i := len(booked) - 1; i >= 0; i-- {
		from, to = booked[i], today
		if i < len(booked)-1 {
			to = booked[i+1]
		}
		if to-from <= longSilence {
			continue
		}
		days := open.WorkingDaysBetween(from, to)
		if all-days < longSilence {
			continue // too little else is known
		}
		middle := (from + (to-from)/2).Time().Month() - 1
		if expected := float64(len(booked)) / float64(all-days) * float64(days) * season[middle]; expected >= silentChance {
			return from, to, true
		}
	}
	return 0, 0, false
}
