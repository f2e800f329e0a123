package pricing

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/calendar"
)

// JobSummary is a job in a list.
type JobSummary struct {
	ID       int64         `json:"job"`
	State    JobState      `json:"state"`
	Customer string        `json:"customer"`
	Reach    string        `json:"reach,omitempty"` // how to reach the customer
	Bike     string        `json:"bike"`
	BookedOn calendar.Day  `json:"booked_on"`
	WantedBy *calendar.Day `json:"wanted_by,omitempty"`
	Promised *calendar.Day `json:"promised,omitempty"` // the day that was approved; absent: nothing is yet
	EndedOn  *calendar.Day `json:"ended_on,omitempty"` // closed or given up
	Waits    int           `json:"waits_for"`          // parts that are still to come
}

// JobSearch says which jobs are asked for. The zero JobSearch asks for those that are not ended.
type JobSearch struct {
	All        bool          // ended ones too
	State      JobState      // in this state, ended or not
	Day        *calendar.Day // booked in, wanted, promised or ended on this day, ended or not
	CustomerID int64         // of this customer, with All the ended ones too
	BikeID     int64         // of this bike, as for a customer
}

// Jobs lists jobs by number, those of one bike or customer the newest first.
func Jobs(ctx context.Context, db inventory.DB, search JobSearch) ([]JobSummary, error) {
	shop, err := inventory.LoadShop(ctx, db)
	if err != nil {
		return nil, err
	}
	rows, err := db.Query(ctx, `
		SELECT * FROM (
			SELECT j.id AS job, j.state, `+customerColumns+`, b.words, (j.booked_at AT TIME ZONE $6)::date AS booked, j.wanted_by,
			       (SELECT a.ready_on FROM approval a JOIN quote q ON q.id = a.quote_id WHERE q.job_id = j.id ORDER BY q.version DESC LIMIT 1) AS promised,
			       (j.closed_at AT TIME ZONE $6)::date AS ended
			FROM job j JOIN bike b ON b.id = j.bike_id JOIN customer c ON c.id = b.customer_id
			WHERE ($1 OR $2 <> '' OR $3::date IS NOT NULL OR j.closed_at IS NULL)
			  AND ($2 = '' OR j.state = $2) AND ($4 = 0 OR b.customer_id = $4) AND ($5 = 0 OR j.bike_id = $5)
			  AND ($4 = 0 AND $5 = 0 OR NOT coalesce((j.ending ->> 'mistake')::boolean, false))
		) AS listed
		WHERE $3::date IS NULL OR $3 IN (booked, wanted_by, promised, ended)
		ORDER BY CASE WHEN $4 = 0 AND $5 = 0 THEN job END, job DESC`,
		search.All, search.State, search.Day, search.CustomerID, search.BikeID, shop.Zone)
	if err != nil {
		return nil, fmt.Errorf("loading jobs: %w", err)
	}
	jobs, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (j JobSummary, err error) {
		var c Customer
		err = row.Scan(&j.ID, &j.State, &c.ID, &c.Name, &c.Phone, &c.Email, &c.Contact, &j.Bike, &j.BookedOn, &j.WantedBy, &j.Promised, &j.EndedOn)
		j.Customer, j.Reach = c.Name, c.Reach()
		return j, err
	})
	if err != nil {
		return nil, fmt.Errorf("loading jobs: %w", err)
	}
	waits, err := inventory.AwaitedByJob(ctx, db)
	for i := range jobs {
		jobs[i].Waits = waits[jobs[i].ID]
	}
	return jobs, err
}
