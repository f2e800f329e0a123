package inventory

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory/calendar"
	"stead/inventory/reorder"
)

// Demand is what was asked for of every part: what went into bikes and over the counter, less what came back. What was
// scrapped, moved or counted is nobody's wish.
type Demand struct {
	Start int                      // working day on which the books begin
	Today int                      // working day of today, which is not over and not counted
	Sales map[int64][]reorder.Sale // by part, oldest first
}

// wish is a movement that tells of demand.
type wish struct {
	PartID  int64
	JobID   *int64
	Reason  Reason
	Pieces  int
	Request string
	Asked   time.Time // when it was asked for: for a job, when that was approved
}

// LoadDemand reads the whole ledger at once.
func LoadDemand(ctx context.Context, db DB, now time.Time) (Demand, error) {
	shop, err := LoadShop(ctx, db)
	if err != nil {
		return Demand{}, err
	}
	zone, err := shop.Location()
	if err != nil {
		return Demand{}, err
	}
	today := now.In(zone)
	d := Demand{Today: reorder.WorkingDay(today), Sales: map[int64][]reorder.Sale{}}
	if day := calendar.DayOf(today).Weekday(); day == time.Saturday || day == time.Sunday {
		d.Today++ // Friday is over
	}
	d.Start = d.Today
	var first *time.Time
	if err := db.QueryRow(ctx, `SELECT min(at) FROM movement`).Scan(&first); err != nil {
		return d, fmt.Errorf("read when the books begin: %w", err)
	}
	if first != nil {
		d.Start = min(d.Start, reorder.WorkingDay(first.In(zone)))
	}
	all, err := collect(ctx, db, pgx.RowToStructByPos[wish], `
		SELECT m.part_id, m.job_id, m.reason, m.pieces, m.request, least(m.at, coalesce(a.at, m.at))
		FROM movement m
		LEFT JOIN jobs_approved() AS a ON a.job_id = m.job_id
		WHERE m.reason IN ('used', 'sold', 'returned') AND m.at < $1
		ORDER BY m.part_id, m.at, m.id`, now)
	if err != nil {
		return d, fmt.Errorf("read what was asked for: %w", err)
	}
	for len(all) > 0 {
		n := 1
		for n < len(all) && all[n].PartID == all[0].PartID {
			n++
		}
		if sales := salesOf(all[:n], zone, d.Today); len(sales) > 0 {
			d.Sales[all[0].PartID] = sales
			d.Start = min(d.Start, sales[0].Day)
		}
		all = all[n:]
	}
	return d, nil
}

// salesOf are one part's sales: all that a job used is one, as is all that was sold in one request; what came back is taken
// off the job that it came back from, or else off the last sales before it. What came back without having been sold is not
// less than nothing.
func salesOf(moved []wish, zone *time.Location, today int) []reorder.Sale {
	type sale struct {
		job     int64
		request string
		at      time.Time
		pieces  int
	}
	var sales []sale
	for _, m := range moved {
		job := int64(0)
		if m.JobID != nil {
			job = *m.JobID
		}
		if m.Reason != Returned {
			same := func(s sale) bool { return s.job == job && (job != 0 || s.request == m.Request) }
			if i := slices.IndexFunc(sales, same); i >= 0 {
				sales[i].pieces -= m.Pieces
				continue
			}
			sales = append(sales, sale{job, m.Request, m.Asked, -m.Pieces})
			continue
		}
		back := m.Pieces
		for i := len(sales) - 1; i >= 0 && back > 0; i-- {
			if job != 0 && sales[i].job != job {
				continue
			}
			taken := min(back, sales[i].pieces)
			sales[i].pieces -= taken
			back -= taken
		}
	}
	var out []reorder.Sale
	for _, s := range sales {
		if day := reorder.WorkingDay(s.at.In(zone)); s.pieces > 0 && day < today {
			out = append(out, reorder.Sale{Day: day, Pieces: s.pieces})
		}
	}
	reorder.SortSales(out)
	return out
}
