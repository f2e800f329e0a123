package shelf

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/reorder"
)

// Demand is what was asked for of every part: what went into bikes and over the counter, less what came back. What was
// scrapped, moved or counted is nobody's wish, nor is what was fitted again under warranty.
type Demand struct {
	Start int                      // working day on which the books begin
	Began time.Time                // the first movement of those that count: what is dated two years or more before all others does not
	Today int                      // working day of today, which is not over and not counted
	Sold  map[int64]reorder.Packed // by part
	// Empty are the days on which a part that is sold over the counter was not there.
	Empty map[int64][]reorder.Stretch
	// Told are what the sales of a part are made of, where quotes tell of more than was used and sold.
	Told map[int64]Told
	// Overreturned are, by part, the pieces that came back beyond all that was used and sold.
	Overreturned map[int64]int
	Approved     float64 // the share of a sale for which a lost one counts
}

// Told is what a part's demand is made of.
type Told struct {
	Used int `json:"used"` // sales: used on jobs and sold over the counter
	Lost int `json:"lost"` // quotes that came to nothing because it was late or could not be had
	Bent int `json:"bent"` // of those used, where a stand-in was fitted in its stead
}

// wish is a movement that tells of demand.
type wish struct {
	PartID  int64
	JobID   *int64
	Reason  inventory.Reason
	Pieces  int
	Request string
	Asked   time.Time // when it was asked for: for a job, when that was approved
}

// anotherTime is after how many days without any movement the books begin anew: what was before is a wrong clock's or
// another shop's.
const anotherTime = 730

// LoadDemand reads the whole ledger, part by part.
func LoadDemand(ctx context.Context, db inventory.DB, now time.Time) (Demand, error) {
	zone, err := inventory.LoadZone(ctx, db)
	if err != nil {
		return Demand{}, err
	}
	today := now.In(zone)
	d := Demand{Today: reorder.WorkingDay(today), Sold: map[int64]reorder.Packed{}, Empty: map[int64][]reorder.Stretch{}, Told: map[int64]Told{}, Overreturned: map[int64]int{}}
	if day := calendar.DayOf(today).Weekday(); day == time.Saturday || day == time.Sunday {
		d.Today++ // Friday is over
	}
	d.Start = d.Today
	d.Began = now
	var first *time.Time
	err = db.QueryRow(ctx, `
		SELECT max(at) FROM (SELECT at, at - lag(at) OVER (ORDER BY at) AS silent FROM movement WHERE at <= $1) AS m
		WHERE silent IS NULL OR silent > make_interval(days => $2)`, now, anotherTime).Scan(&first)
	if err != nil {
		return d, fmt.Errorf("read when the books begin: %w", err)
	}
	if first != nil {
		d.Began, d.Start = *first, min(d.Start, reorder.WorkingDay(first.In(zone)))
	}
	wanted, err := loadWanted(ctx, db)
	if err != nil {
		return d, err
	}
	d.Approved = wanted.approved()
	if err := d.sell(ctx, db, wanted, zone, now); err != nil {
		return d, err
	}
	d.lose(wanted, zone)
	for id, t := range d.Told {
		t.Used = len(d.Sales(id)) - t.Lost
		d.Told[id] = t
	}
	return d, d.empty(ctx, db, zone, now)
}

// sell reads what was used, sold and given back, part by part: of a part that is sold every day there is much in the
// ledger, and of a large shop more than all else that is known of it, so that no more than one part's is held at a time. What
// was used in the stead of something else is put aside until all of it has come.
func (d *Demand) sell(ctx context.Context, db inventory.DB, wanted wanted, zone *time.Location, now time.Time) error {
	rows, err := db.Query(ctx, `
		SELECT coalesce(part.merged_into, part.id) AS of, m.job_id, m.reason, m.pieces, m.request, least(m.at, coalesce(a.at, m.at))
		FROM movement m
		JOIN part ON part.id = m.part_id
		LEFT JOIN jobs_approved() AS a ON a.job_id = m.job_id
		WHERE m.reason IN ('used', 'sold', 'returned') AND m.at < $1 AND m.at >= $2
		  AND NOT EXISTS (SELECT FROM jobs_refitted() AS again WHERE again.job_id = m.job_id AND coalesce(again.part_id, m.part_id) = m.part_id)
		ORDER BY of, m.at, m.id`, now, d.Began)
	if err != nil {
		return fmt.Errorf("read what was asked for: %w", err)
	}
	aside := map[int64][]wish{}
	for _, part := range wanted.Bent {
		aside[part] = nil
	}
	var one []wish
	var m wish
	if _, err := pgx.ForEachRow(rows, []any{&m.PartID, &m.JobID, &m.Reason, &m.Pieces, &m.Request, &m.Asked}, func() error {
		of := d.wished(m, wanted)
		if _, later := aside[of]; later {
			aside[of] = append(aside[of], m)
			return nil
		}
		if len(one) > 0 && one[0].PartID != of {
			d.count(one[0].PartID, one, zone)
			one = one[:0]
		}
		one = append(one, m)
		return nil
	}); err != nil {
		return fmt.Errorf("read what was asked for: %w", err)
	}
	if len(one) > 0 {
		d.count(one[0].PartID, one, zone)
	}
	for part, moved := range aside {
		d.count(part, moved, zone)
	}
	return nil
}

// wished is the part that was wanted where a movement tells of one, which may be another than was used.
func (d *Demand) wished(m wish, wanted wanted) int64 {
	if m.JobID == nil {
		return m.PartID
	}
	part, bent := wanted.Bent[used{*m.JobID, m.PartID}]
	if !bent {
		return m.PartID
	}
	if m.Reason == inventory.Used {
		t := d.Told[part]
		t.Bent++
		d.Told[part] = t
	}
	return part
}

// count takes in all that was used, sold and given back of one part.
func (d *Demand) count(part int64, moved []wish, zone *time.Location) {
	net := 0
	for _, m := range moved {
		net += m.Pieces
	}
	if net > 0 {
		d.Overreturned[part] = net
	}
	if sales := salesOf(moved, zone, d.Today); len(sales) > 0 {
		d.Sold[part] = reorder.Pack(sales)
		d.Start = min(d.Start, sales[0].Day)
	}
}

// Sales are those of a part, oldest first.
func (d Demand) Sales(part int64) []reorder.Sale { return d.Sold[part].Sales(nil) }

// lose adds what was asked for and not sold.
func (d *Demand) lose(wanted wanted, zone *time.Location) {
	for part, lost := range wanted.Lost {
		sales := d.Sales(part)
		for _, l := range lost {
			day := reorder.WorkingDay(l.At.In(zone))
			if day >= d.Today {
				continue
			}
			sales = append(sales, reorder.Sale{Day: day, Pieces: l.Pieces, Share: wanted.approved()})
			d.Start = min(d.Start, day)
			t := d.Told[part]
			t.Lost++
			d.Told[part] = t
		}
		if len(sales) > 0 {
			reorder.SortSales(sales)
			d.Sold[part] = reorder.Pack(sales)
		}
	}
}

// usedInAYear is how many pieces of each part were used and sold in the last year, or as much as that in the time since the
// books began. What was only asked for is none of it.
func (d *Demand) usedInAYear() map[int64]float64 {
	const year, fewest = 261, 20 // days of five a week; what sold in a week tells of no year
	days := min(year, max(fewest, d.Today-d.Start))
	used := map[int64]float64{}
	var sales []reorder.Sale
	for part, sold := range d.Sold {
		sales = sold.Sales(sales[:0])
		for _, sale := range sales {
			if sale.Share == 0 && sale.Day >= d.Today-days {
				used[part] += float64(sale.Pieces) * year / float64(days)
			}
		}
	}
	return used
}

// empty finds the days on which what is sold over the counter was not there.
func (d *Demand) empty(ctx context.Context, db inventory.DB, zone *time.Location, now time.Time) error {
	rows, err := db.Query(ctx, `
		SELECT coalesce(part.merged_into, part.id) AS of, m.at, m.pieces, m.reason
		FROM movement m JOIN part ON part.id = m.part_id
		WHERE m.at < $1 AND m.reason <> 'moved'
		ORDER BY of, m.at, m.id`, now)
	if err != nil {
		return fmt.Errorf("read when the shelf was empty: %w", err)
	}
	var one []stockMove
	var m stockMove
	if _, err := pgx.ForEachRow(rows, []any{&m.PartID, &m.At, &m.Pieces, &m.Reason}, func() error {
		if len(one) > 0 && one[0].PartID != m.PartID {
			d.emptied(one, zone)
			one = one[:0]
		}
		one = m.after(one)
		return nil
	}); err != nil {
		return fmt.Errorf("read when the shelf was empty: %w", err)
	}
	d.emptied(one, zone)
	return nil
}

// emptied takes in the days on which one part was not there.
func (d *Demand) emptied(moves []stockMove, zone *time.Location) {
	sold, used := 0, 0
	for _, m := range moves {
		switch m.Reason {
		case inventory.Sold:
			sold -= m.Pieces
		case inventory.Used:
			used -= m.Pieces
		}
	}
	if sold == 0 {
		return // it is not sold over the counter
	}
	// A job that wants what is not there has it bought, and is seen; who asks over the counter goes elsewhere.
	if days := emptyDays(moves, zone, d.Today, float64(sold)/float64(sold+used)); len(days) > 0 {
		d.Empty[moves[0].PartID] = days
	}
}

// salesOf are one part's sales: all that a job used is one, as is all that was sold in one request at one time; what
// came back is taken off the job that it came back from, or else off the last sales before it. What came back without
// having been sold is not less than nothing.
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
		if m.Reason != inventory.Returned {
			same := func(s sale) bool { return s.job == job && (job != 0 || s.request == m.Request && s.at.Equal(m.Asked)) }
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
