package books

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/exchange"
	"stead/pricing"
)

// The tables of whose bike it is, and what was done to it.
var (
	Customers = exchange.Table{File: "customers.csv", Columns: []string{"customer", "name", "phone", "email", "contact"}, Must: []string{"customer", "name"}}
	Bikes     = exchange.Table{File: "bikes.csv", Columns: []string{"bike", "customer", "words", "frame_number"}, Must: []string{"bike", "customer", "words"}}
	// Jobs: state is open, closed or cancelled; wish is in the customer's words.
	Jobs = exchange.Table{File: "jobs.csv", Columns: []string{"job", "bike", "state", "booked_at", "ended_at", "wanted_by", "wish"}, Must: []string{"job", "bike", "state", "booked_at"}}
)

func lines(ctx context.Context, db inventory.DB, what string, read pgx.RowToFunc[[]string], sql string) ([][]string, error) {
	rows, err := db.Query(ctx, sql)
	if err == nil {
		var all [][]string
		if all, err = pgx.CollectRows(rows, read); err == nil {
			return all, nil
		}
	}
	return nil, fmt.Errorf("read the %s: %w", what, err)
}

func writeCustomers(ctx context.Context, db inventory.DB) ([][]string, error) {
	return lines(ctx, db, "customers", func(row pgx.CollectableRow) ([]string, error) {
		var id int64
		var name, phone, email, contact string
		err := row.Scan(&id, &name, &phone, &email, &contact)
		return []string{strconv.FormatInt(id, 10), name, phone, email, contact}, err
	}, `SELECT id, name, phone, email, contact FROM customer ORDER BY id`)
}

func writeBikes(ctx context.Context, db inventory.DB) ([][]string, error) {
	return lines(ctx, db, "bikes", func(row pgx.CollectableRow) ([]string, error) {
		var id, customer int64
		var words, frame string
		err := row.Scan(&id, &customer, &words, &frame)
		return []string{strconv.FormatInt(id, 10), strconv.FormatInt(customer, 10), words, frame}, err
	}, `SELECT id, customer_id, words, frame_number FROM bike ORDER BY id`)
}

func writeJobs(ctx context.Context, db inventory.DB) ([][]string, error) {
	return lines(ctx, db, "jobs", func(row pgx.CollectableRow) ([]string, error) {
		var id, bike int64
		var state, wish string
		var booked time.Time
		var ended *time.Time
		var wanted *calendar.Day
		if err := row.Scan(&id, &bike, &state, &booked, &ended, &wanted, &wish); err != nil {
			return nil, err
		}
		end, by := "", ""
		if ended != nil {
			end = exchange.Moment(*ended)
		}
		if wanted != nil {
			by = wanted.String()
		}
		return []string{strconv.FormatInt(id, 10), strconv.FormatInt(bike, 10), state, exchange.Moment(booked), end, by, wish}, nil
	}, `SELECT id, bike_id, CASE WHEN closed_at IS NULL THEN 'open' ELSE state END, booked_at, closed_at, wanted_by, wish FROM job ORDER BY id`)
}

// readCustomer reads a line under the checks that a customer is booked in with.
func readCustomer(r *exchange.Row) pricing.Customer {
	c := pricing.Customer{ID: r.ID("customer"), Name: r.Needed("name"), Phone: r.Text("phone"), Email: r.Text("email"), Contact: r.Text("contact")}
	c, err := c.Check()
	if err != nil {
		r.Refuse("", "%s", err)
	}
	return c
}

// once notes a number that is there twice.
func once(r *exchange.Row, field string, id int64, seen map[int64]bool) {
	if seen[id] {
		r.Refuse(field, "%d is there twice", id)
	}
	seen[id] = true
}

// takePeople takes in customers, bikes and jobs with their numbers, and gives those of the jobs.
func takePeople(ctx context.Context, tx pgx.Tx, customerRows, bikeRows, jobRows []*exchange.Row, now time.Time) (jobs map[int64]bool, err error) {
	customers, bikes, jobs := map[int64]bool{}, map[int64]bool{}, map[int64]bool{}
	var values [][]any
	for _, r := range customerRows {
		c := readCustomer(r)
		once(r, "customer", c.ID, customers)
		if err := r.Wrong(); err != nil {
			return nil, err
		}
		values = append(values, []any{c.ID, c.Name, c.Phone, c.Email, c.Contact})
	}
	if err := copyIn(ctx, tx, "customer", values, "id", "name", "phone", "email", "contact"); err != nil {
		return nil, err
	}
	values = nil
	for _, r := range bikeRows {
		id, owner := r.ID("bike"), r.ID("customer")
		once(r, "bike", id, bikes)
		if !customers[owner] {
			r.Refuse("customer", "there is no customer %d in %s", owner, Customers.File)
		}
		words := r.Needed("words")
		if err := r.Wrong(); err != nil {
			return nil, err
		}
		values = append(values, []any{id, owner, words, r.Text("frame_number")})
	}
	if err := copyIn(ctx, tx, "bike", values, "id", "customer_id", "words", "frame_number"); err != nil {
		return nil, err
	}
	values = nil
	for _, r := range jobRows {
		id, bike, state, booked, wanted := r.ID("job"), r.ID("bike"), r.Text("state"), r.Moment("booked_at"), r.Day("wanted_by")
		once(r, "job", id, jobs)
		var ended *time.Time
		if r.Text("ended_at") != "" {
			at := r.Moment("ended_at")
			ended = &at
		}
		switch {
		case !bikes[bike]:
			r.Refuse("bike", "there is no bike %d in %s", bike, Bikes.File)
		case state != "open" && state != string(pricing.Closed) && state != string(pricing.Cancelled):
			r.Refuse("state", "is open, closed or cancelled, not %q", state)
		case (state == "open") != (ended == nil):
			r.Refuse("ended_at", "stands with a job that is closed or cancelled, and with no other")
		case booked.After(now) || ended != nil && ended.After(now):
			r.Refuse("booked_at", "is still to come")
		}
		if err := r.Wrong(); err != nil {
			return nil, err
		}
		if state == "open" {
			state = string(pricing.Booked)
		}
		values = append(values, []any{id, bike, state, booked, ended, wanted, r.Text("wish")})
	}
	return jobs, copyIn(ctx, tx, "job", values, "id", "bike_id", "state", "booked_at", "closed_at", "wanted_by", "wish")
}

// copyIn copies rows with their numbers into a table, whose own numbers go on behind them.
func copyIn(ctx context.Context, tx pgx.Tx, table string, values [][]any, columns ...string) error {
	if len(values) == 0 {
		return nil
	}
	if _, err := tx.CopyFrom(ctx, pgx.Identifier{table}, columns, pgx.CopyFromRows(values)); err != nil {
		return fmt.Errorf("take in each %s: %w", table, err)
	}
	return exchange.GoOnFrom(ctx, tx, table)
}

// addPeople adds customers and bikes to those of a running shop. A customer of the same name who is reached by the same
// number or address is there already, and so is their bike of the same words or frame number.
func addPeople(ctx context.Context, tx pgx.Tx, customerRows, bikeRows []*exchange.Row) (customers, bikes int, err error) {
	numbers := map[int64]int64{} // here, by the number in the file
	for _, r := range customerRows {
		c := readCustomer(r)
		if _, twice := numbers[c.ID]; twice {
			r.Refuse("customer", "%d is there twice", c.ID)
		}
		if err := r.Wrong(); err != nil {
			return 0, 0, err
		}
		var there *int64
		err := tx.QueryRow(ctx, `
			SELECT min(id) FROM customer WHERE lower(name) = lower($1)
			  AND ($2 <> '' AND phone_digits(phone) = phone_digits($2) OR $3 <> '' AND lower(email) = lower($3) OR $2 = '' AND $3 = '' AND phone = '' AND email = '' AND contact = $4)`,
			c.Name, c.Phone, c.Email, c.Contact).Scan(&there)
		if err != nil {
			return 0, 0, fmt.Errorf("look for customer %q: %w", c.Name, err)
		}
		if there != nil {
			numbers[c.ID] = *there
			continue
		}
		added, err := pricing.AddCustomer(ctx, tx, c)
		if err != nil {
			return 0, 0, err
		}
		numbers[c.ID] = added.ID
		customers++
	}
	for _, r := range bikeRows {
		id, words, frame := r.ID("customer"), strings.TrimSpace(r.Needed("words")), r.Text("frame_number")
		owner, known := numbers[id]
		if !known {
			r.Refuse("customer", "there is no customer %d in %s", id, Customers.File)
		}
		if err := r.Wrong(); err != nil {
			return 0, 0, err
		}
		tag, err := tx.Exec(ctx, `
			INSERT INTO bike (customer_id, words, frame_number) SELECT $1, $2, $3
			WHERE NOT EXISTS (SELECT FROM bike WHERE customer_id = $1 AND (lower(words) = lower($2) OR frame_letters($3) <> '' AND frame_letters(frame_number) = frame_letters($3)))`, owner, words, frame)
		if err != nil {
			return 0, 0, fmt.Errorf("take in bike %q: %w", words, err)
		}
		bikes += int(tag.RowsAffected())
	}
	return customers, bikes, nil
}
