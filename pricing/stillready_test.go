package pricing

import (
	"context"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/migrations/testdb"
)

// An option is quoted on Tuesday 3 March for a black ring that Northmoor has in stock.
func TestApprovedForADayThatCanBeKept(t *testing.T) {
	for _, c := range []struct {
		name   string
		since  func(w *workshop, black inventory.Part)
		later  int // days after the quote at which the customer answers
		agreed int // days after the quote's day by which they say it will do; 0: nothing said
		due    int // days after the quote's day that are promised
		says   string
	}{
		{name: "answered at once"},
		{name: "answered a week later", later: 7,
			says: "option closest cannot be here by Wednesday 11 March any more: ordered now it is here by Wednesday 18 March, 9 in 10"},
		{name: "a week later, and that day will do", later: 7, agreed: 7, due: 7},
		{name: "a week later, and a day beyond will do", later: 7, agreed: 9, due: 9},
		{name: "a week later, and only a day before would do", later: 7, agreed: 6, says: "ordered now it is here by Wednesday 18 March"},
		{name: "a later day will do, and the quote's can still be kept", agreed: 7},
		{name: "the supplier closes", since: func(w *workshop, _ inventory.Part) {
			require.NoError(w.t, inventory.Close(w.t.Context(), w.tx, &w.north.ID, calendar.Closure{First: today, Last: today + 13, Reason: "stocktaking"}))
		}, says: "ordered now it is here by "},
		{name: "out of stock, to order", since: func(w *workshop, black inventory.Part) {
			w.offer(w.north, black, 1, inventory.ToOrder, at("20.00"))
		}, says: "ordered now it is here by "},
		{name: "dearer, which the quote withstands", since: func(w *workshop, black inventory.Part) {
			w.offer(w.north, black, 1, inventory.InStock, at("29.00"))
		}},
		{name: "no longer offered", since: func(w *workshop, _ inventory.Part) {
			_, err := w.tx.Exec(w.t.Context(), `UPDATE offer SET gone_at = now()`)
			require.NoError(w.t, err)
		}, says: "Northmoor Wheel Goods no longer offers black ring 50T"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			black, _ := ringsOffered(w)
			job := w.ringJob(Limits{})
			q := w.quote(job)
			quoted := named(t, q, "closest").ReadyOn
			if c.since != nil {
				c.since(w, black)
			}
			d := Decision{JobID: job, Version: q.Version, Option: "closest", By: "Ines Falkner"}
			if c.agreed > 0 {
				day := quoted + calendar.Day(c.agreed)
				d.ReadyBy = &day
			}
			if c.says != "" {
				require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
					_, err := Approve(ctx, tx, d, nil, now.AddDate(0, 0, c.later))
					return err
				}), c.says)
				require.Empty(t, w.claims(job))
				return
			}
			_, err := Approve(t.Context(), w.tx, d, nil, now.AddDate(0, 0, c.later))
			require.NoError(t, err)
			_, approval, err := ApprovedQuote(t.Context(), w.tx, job)
			require.NoError(t, err)
			require.Equal(t, quoted+calendar.Day(c.due), approval.ReadyOn)
			require.Equal(t, approval.ReadyOn, w.claims(job)[0].DueOn, "what is ordered for it is due then")
			jobs, err := Jobs(t.Context(), w.tx, JobSearch{})
			require.NoError(t, err)
			require.Equal(t, approval.ReadyOn, *jobs[0].Promised, "and the list of jobs says so")
		})
	}
}

// What lies on the shelf is there on any day.
func TestApprovedLaterFromTheShelf(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	black, _ := ringsOffered(w)
	w.shelve(black, 1)
	job := w.ringJob(Limits{})
	q := w.quote(job)
	_, err := Approve(t.Context(), w.tx, Decision{JobID: job, Version: q.Version, Option: "closest", By: "Ines Falkner"}, nil, now.AddDate(0, 0, 7))
	require.NoError(t, err)
	require.Len(t, w.held(job), 1)
}
