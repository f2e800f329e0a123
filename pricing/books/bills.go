package books

import (
	"context"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/exchange"
	"stead/pricing/billing"
)

// The tables of what was billed and paid.
var (
	// Bills are bills and credit notes in the order in which they were written. paper is each as it was handed over, as
	// JSON; the columns before it are of it.
	Bills = exchange.Table{File: "bills.csv", Columns: []string{"kind", "number", "made_at", "job", "credits", "customer", "total", "tax", "currency", "paper"},
		Must: []string{"kind", "number", "made_at", "total", "paper"}}
	// Payments are of a job, or of a bill that was written over the counter. Below zero was paid back.
	Payments = exchange.Table{File: "payments.csv", Columns: []string{"at", "job", "bill", "amount", "how"}, Must: []string{"at", "amount", "how"}}
)

func writeBills(ctx context.Context, db inventory.DB) ([][]string, error) {
	return lines(ctx, db, "bills", func(row pgx.CollectableRow) ([]string, error) {
		var paper json.RawMessage
		if err := row.Scan(&paper); err != nil {
			return nil, err
		}
		var b billing.Bill
		if err := json.Unmarshal(paper, &b); err != nil {
			return nil, err
		}
		return append(columnsOf(b), string(paper)), nil
	}, `SELECT document || jsonb_build_object('number', number) FROM bill ORDER BY id`)
}

// columnsOf are the columns of a bill that are read off its paper.
func columnsOf(b billing.Bill) []string {
	number := func(n int64) string {
		if n == 0 {
			return ""
		}
		return strconv.FormatInt(n, 10)
	}
	return []string{string(b.Series), number(b.Number), exchange.Moment(b.MadeAt), number(b.JobID), number(b.Credits), b.Customer, b.Total.String(), b.Tax.String(), b.Currency}
}

func writePayments(ctx context.Context, db inventory.DB) ([][]string, error) {
	return lines(ctx, db, "payments", func(row pgx.CollectableRow) ([]string, error) {
		var at time.Time
		var job, bill *int64
		var amount, how string
		err := row.Scan(&at, &job, &bill, &amount, &how)
		return []string{exchange.Moment(at), exchange.Maybe(job), exchange.Maybe(bill), amount, how}, err
	}, `SELECT p.at, p.job_id, b.number, p.amount::text, p.how FROM payment p LEFT JOIN bill b ON b.id = p.bill_id ORDER BY p.id`)
}

// takeBills writes bills again that were written elsewhere. The database numbers them, so each series must be whole
// from 1 on.
func takeBills(ctx context.Context, tx pgx.Tx, rows []*exchange.Row, jobs map[int64]bool, now time.Time) (ids map[int64]int64, err error) {
	ids = map[int64]int64{}
	next := map[billing.Series]int64{billing.Bills: 1, billing.Credits: 1}
	for _, r := range rows {
		series, number, made := billing.Series(r.Text("kind")), r.ID("number"), r.Moment("made_at")
		var b billing.Bill
		paper := []byte(r.Needed("paper"))
		if err := json.Unmarshal(paper, &b); err != nil {
			r.Refuse("paper", "is not the JSON of a bill")
		}
		credits := r.Maybe("credits")
		if r.Wrong() == nil {
			checkPaper(r, b)
		}
		switch {
		case next[series] == 0:
			r.Refuse("kind", "is bill or credit note, not %q", series)
		case number != next[series]:
			r.Refuse("number", "%s %d is missing: a series has no gap, so that everybody can see that none is left out", series, next[series])
		case made.After(now):
			r.Refuse("made_at", "is still to come")
		case b.JobID != 0 && !jobs[b.JobID]:
			r.Refuse("job", "there is no job %d in %s", b.JobID, Jobs.File)
		case (series == billing.Credits) != (credits != nil), credits != nil && ids[*credits] == 0:
			r.Refuse("credits", "is the number of a bill before it, of a credit note and of no other")
		case b.Total.IsNegative():
			r.Refuse("total", "is below zero")
		}
		if err := r.Wrong(); err != nil {
			return nil, err
		}
		next[series]++
		var of *int64
		if credits != nil {
			id := ids[*credits]
			of = &id
		}
		var id int64
		err := tx.QueryRow(ctx, `INSERT INTO bill (series, job_id, credits, made_at, total, document) VALUES ($1, nullif($2::bigint, 0), $3, $4, $5, $6) RETURNING id`,
			series, b.JobID, of, b.MadeAt, b.Total, json.RawMessage(paper)).Scan(&id)
		if err != nil {
			return nil, fmt.Errorf("take in %s %d: %w", series, number, err)
		}
		if series == billing.Bills {
			ids[number] = id
		}
	}
	return ids, nil
}

// checkPaper refuses a line whose columns are not those of its paper: one of the two was changed.
func checkPaper(r *exchange.Row, b billing.Bill) {
	for i, is := range columnsOf(b) {
		field := Bills.Columns[i]
		if said := r.Text(field); said != is && (said != "" || i < 3) {
			r.Refuse(field, "is %q, and on its paper %q: a bill is never changed", said, is)
		}
	}
}

func takePayments(ctx context.Context, tx pgx.Tx, rows []*exchange.Row, jobs map[int64]bool, bills map[int64]int64, now time.Time) error {
	var values [][]any
	for _, r := range rows {
		at, job, number, amount, how := r.Moment("at"), r.Maybe("job"), r.Maybe("bill"), r.Amount("amount"), strings.TrimSpace(r.Needed("how"))
		var bill *int64
		if number != nil {
			id := bills[*number]
			bill = &id
		}
		switch {
		case (job == nil) == (number == nil):
			r.Refuse("job", "a payment is for a job or for a bill, one of the two")
		case job != nil && !jobs[*job]:
			r.Refuse("job", "there is no job %d in %s", *job, Jobs.File)
		case bill != nil && *bill == 0:
			r.Refuse("bill", "there is no bill %d in %s", *number, Bills.File)
		case amount.IsZero() || !amount.Equal(amount.Truncate(2)) || amount.Abs().IntPart() > 1_000_000:
			r.Refuse("amount", "is an amount of money, not %q", r.Text("amount"))
		case at.After(now):
			r.Refuse("at", "is still to come")
		}
		if err := r.Wrong(); err != nil {
			return err
		}
		values = append(values, []any{job, bill, amount, how, at})
	}
	if len(values) == 0 {
		return nil
	}
	if _, err := tx.CopyFrom(ctx, pgx.Identifier{"payment"}, []string{"job_id", "bill_id", "amount", "how", "at"}, pgx.CopyFromRows(values)); err != nil {
		return fmt.Errorf("take in the payments: %w", err)
	}
	return nil
}
