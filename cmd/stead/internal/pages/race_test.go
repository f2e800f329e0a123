package pages_test

import (
	"fmt"
	"net/http"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
)

// atOnce sends forms at one moment, each for its visitor, and gives the answers in their order.
func atOnce(hands []*visitor, forms []sent) []answer {
	out := make([]answer, len(forms))
	var all sync.WaitGroup
	for i := range forms {
		all.Go(func() { out[i] = forms[i].send(hands[i]) })
	}
	all.Wait()
	return out
}

// What two do at once is done once. A second tap is the same form: it gives the first answer again. On a second tablet it is
// another form, made when the page stood as for the first: it is told what the first has done. Whatever order they come in.
func TestAtOnce(t *testing.T) {
	s := open(t)
	one, two := s.as(mechanicName), s.as(ownerName)
	orders, err := inventory.Orders(t.Context(), s.db, true)
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(orders), 2)
	sell := func() string {
		done := one.get("/parts/1").form("sell").send(one, "pieces", "1", "paid", "cash")
		require.Contains(t, done.text, "is written")
		return fmt.Sprintf("/bills/%d", count(t, s, `SELECT max(number)::int FROM bill WHERE series = 'bill'`))
	}
	job := func() string {
		one.get("/jobs/106").form("use").send(one).form("close").send(one)
		return "/jobs/106/bill"
	}
	bill := job()
	type scenario struct {
		name, path, act string
		typed           []string
		before          func() string // gives the path, where it is not there yet
		count           string        // one more when it was done once
	}
	for _, c := range []scenario{
		{"a bill", bill, "bill", []string{"how", ""}, nil, `SELECT count(*) FROM bill`},
		{"a payment of all that is due", bill, "pay", []string{"how", "cash"}, nil, `SELECT count(*) FROM payment`},
		{"some money back", bill, "pay", []string{"how", "cash", "amount", "1", "back", "yes"}, nil, `SELECT count(*) FROM payment`},
		{"some of the money", bill, "pay", []string{"how", "card", "amount", "0.50"}, nil, `SELECT count(*) FROM payment`},
		{"a credit note for some of a line", bill, "credit", []string{"line-1", "yes", "amount-1", "0.50", "why", "scratched"}, nil, `SELECT count(*) FROM bill`},
		{"a credit note for a slip", "", "credit", []string{"all", "yes", "why", "brought back"}, sell, `SELECT count(*) FROM bill`},
		{"a credit note for some of a slip", "", "credit", []string{"line-1", "yes", "amount-1", "0.50", "why", "scratched"}, sell, `SELECT count(*) FROM bill`},
		{"some of a slip's money back", "", "pay", []string{"how", "cash", "amount", "0.50", "back", "yes"}, sell, `SELECT count(*) FROM payment`},
		{"a parcel", pathOf("/orders/%d/receive", orders[0].ID), "receive", []string{"all", "yes", "bin", "A1"}, nil, `SELECT count(*) FROM receipt`},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := c.path
			if c.before != nil {
				path = c.before()
			}
			mine, theirs := one.get(path).form(c.act).with(c.typed...), two.get(path).form(c.act).with(c.typed...)
			was := count(t, s, c.count)
			out := atOnce([]*visitor{one, one, two, two}, []sent{mine, mine, theirs, theirs})
			require.Equal(t, was+1, count(t, s, c.count), "it is done once")
			first, later := out[:2], out[2:]
			by := mechanicName
			if first[0].status != http.StatusOK {
				first, later, by = later, first, ownerName
			}
			for _, a := range first {
				require.Equal(t, http.StatusOK, a.status, a.text)
			}
			for _, a := range later {
				require.Equal(t, http.StatusConflict, a.status, a.text)
				require.Contains(t, a.text, "this has changed since you opened it")
				require.Contains(t, a.text, by+" ")
			}
		})
	}

	// One cancels a line while another books in the parcel: whoever is first has done it, and what came is not cancelled.
	t.Run("a line is cancelled while its parcel is opened", func(t *testing.T) {
		id, line := orders[1].ID, orders[1].Lines[0]
		cancel := one.get(pathOf("/orders/%d", id)).form("cancel", fmt.Sprint(line.ID))
		receive := two.get(pathOf("/orders/%d/receive", id)).form("receive").with("all", "yes", "bin", "A1")
		out := atOnce([]*visitor{one, two}, []sent{cancel, receive})
		var received, cancelled, packs int
		require.NoError(t, s.db.QueryRow(t.Context(), `SELECT received, cancelled, packs * pack FROM order_line WHERE id = $1`, line.ID).Scan(&received, &cancelled, &packs))
		require.Equal(t, packs, received+cancelled)
		late, done := out[1], "cancelled line"
		if out[0].status != http.StatusOK {
			late, done = out[0], "booked a delivery in"
			require.Zero(t, cancelled)
		} else {
			require.Zero(t, received)
		}
		require.Equal(t, http.StatusConflict, late.status, late.text)
		require.Contains(t, late.text, done)
	})
}
