package pages_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/calendar"
)

// What jobs and the shelf lack is planned, placed, answered by the supplier, and booked in from its parcel.
func TestOrderAndReceive(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	// The orders that the demo has under way are cancelled: what jobs wait for is wanted again.
	before, err := inventory.Orders(t.Context(), s.db, true)
	require.NoError(t, err)
	require.NotEmpty(t, before)
	for _, o := range before {
		a := v.get(pathOf("/orders/%d", o.ID)).form("cancel", "").send(v)
		require.Contains(t, a.text, "cancelled here: tell the supplier too")
	}
	require.Contains(t, v.get("/orders").text, "Nothing is on its way")

	plan := v.get("/orders/plan")
	require.Contains(t, plan.text, "job 103")
	require.Contains(t, plan.text, "no list that meets the dates is cheaper")
	require.Contains(t, v.get("/orders/plan?what-if=yes").text, "everything may come a day later")
	beyond := v.get("/orders/plan?from=90&no-split=yes")
	require.Contains(t, beyond.text, "There is no line 90")
	require.Contains(t, beyond.text, "in all", "the sums are of all lines")
	require.Contains(t, beyond.source, `href="/orders/plan?no-split=yes&amp;from=1"`, "back to the first, planned as before")
	require.Equal(t, http.StatusBadRequest, v.get("/orders/plan?from=soon").status)
	place := plan.form("place", "")
	stale := place.send(v, "planned", "00000000")
	require.GreaterOrEqual(t, stale.status, http.StatusBadRequest)
	require.Contains(t, stale.text, "has changed since the orders were planned, and nothing was ordered")
	open, err := inventory.Orders(t.Context(), s.db, true)
	require.NoError(t, err)
	require.Empty(t, open)
	placed := place.send(v)
	require.Contains(t, placed.text, "placed here")
	place.send(v)
	open, err = inventory.Orders(t.Context(), s.db, true)
	require.NoError(t, err)
	require.NotEmpty(t, open)
	require.Contains(t, v.get("/orders/plan").text, "Nothing is to be ordered")

	for _, o := range open {
		path, line := pathOf("/orders/%d", o.ID), fmt.Sprint(o.Lines[0].ID)
		page := v.get(path)
		require.Contains(t, page.source, `href="mailto:?subject=Order%20`)
		require.Contains(t, page.source, `<a class="act" href="#mail-order">Send the order</a>`)
		require.Contains(t, page.source, `<details id="mail-order" open>`)
		require.Contains(t, page.source, `href="data:text/csv;charset=utf-8;base64,`)
		require.Contains(t, page.text, mechanicName+" placed the planned order")

		require.Contains(t, page.form("told").send(v).text, "say how they were told")
		told := page.form("told").send(v, "by", "telephone")
		require.Contains(t, told.text, "kept that they were told by telephone")
		require.Contains(t, told.text, "placed, told by telephone, Wednesday 2 December")
		require.NotContains(t, told.text, "Send the order")
		page = told

		empty := page.form("answer", line).send(v)
		require.Equal(t, http.StatusUnprocessableEntity, empty.status)
		require.Contains(t, empty.text, "say what they answered")
		day := calendar.DayOf(moment) + 9
		answered := page.form("answer", line).send(v, "day", day.String(), "price", "19,90")
		require.Contains(t, answered.text, "recorded; ")
		require.Contains(t, answered.text, "expected "+day.Words(calendar.DayOf(moment)))
		require.Contains(t, answered.text, "acknowledged at £19.90 a pack")
		require.NotContains(t, answered.text, "Send the order", "whoever answers has it")
		require.Contains(t, answered.source, fmt.Sprintf(`<a class="act" href="%s/receive">The parcel is here</a>`, path))

		goods := v.get(path + "/receive").form("receive")
		nothing := goods.send(v)
		require.Contains(t, nothing.text, "say what came")
		both := goods.send(v, "whole-"+line, "yes", "good-"+line, "700")
		require.Contains(t, both.text, "say one of the two")
		over := goods.send(v, "good-"+line, "700", "bin", "A1")
		require.GreaterOrEqual(t, over.status, http.StatusBadRequest, over.text)
		part := goods.with("damaged-"+line, "1", "reference", "DN 7", "bin", "A1")
		require.Contains(t, part.send(v).text, fmt.Sprintf("delivery of order %d booked in; the order is placed", o.ID))

		parcel := v.get(path+"/receive").form("receive").with("all", "yes", "bin", "A1")
		came := parcel.send(v)
		require.Contains(t, came.text, "the order is closed")
		again := parcel.send(v)
		require.Equal(t, came.path, again.path, "a second tap books in nothing twice")
		now, err := inventory.OrderByID(t.Context(), s.db, o.ID)
		require.NoError(t, err)
		for _, l := range now.Lines {
			require.Equal(t, l.Packs*l.Pack, l.Received)
			if len(l.Claims) > 0 {
				require.Contains(t, came.text, "What came, and whose it is")
				require.Contains(t, came.text, "now held for it")
			}
		}
	}
}

// What came wrong is told until it has gone back, on the order and among what goes back; of what is not here nothing can.
func TestWrongPartInTheBox(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	open, err := inventory.Orders(t.Context(), s.db, true)
	require.NoError(t, err)
	path, line := fmt.Sprintf("/orders/%d", open[0].ID), fmt.Sprint(open[0].Lines[0].ID)
	require.NotContains(t, v.get(path).text, "Send something back")
	came := v.get(path+"/receive").form("receive").send(v, "wrong-"+line, "1")
	require.Contains(t, came.text, "1 of another part came: still to go back")
	require.Contains(t, v.get("/returns").text, "1 of another part came: still to go back")
	back := came.form("send-back", line).send(v, "pieces", "1", "why", "wrong")
	require.Contains(t, back.text, "1 went back")
	require.NotContains(t, v.get("/returns").text, "still to go back")
}

// What has no place of its own is asked where it goes, line by line or for all of it at once; what has one goes there
// unless its line says otherwise.
func TestParcelIntoItsBins(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	page := v.get("/orders/533/receive")
	o, err := inventory.OrderByID(t.Context(), s.db, 533)
	require.NoError(t, err)
	homes, err := inventory.Homes(t.Context(), s.db, o.Lines[0].PartID, o.Lines[1].PartID, o.Lines[2].PartID, o.Lines[4].PartID)
	require.NoError(t, err)
	require.Equal(t, map[int64]string{o.Lines[2].PartID: "D1", o.Lines[4].PartID: "D2"}, homes)
	named := func(field string, line int) string { return fmt.Sprint(field, o.Lines[line].ID) }

	form := page.form("receive").with(named("whole-", 0), "yes", named("whole-", 2), "yes")
	unsaid := form.send(v)
	require.Equal(t, http.StatusUnprocessableEntity, unsaid.status)
	require.Equal(t, 1, strings.Count(unsaid.text, "say into which bin: it has no place of its own yet"), unsaid.text)
	came := form.send(v, named("whole-", 1), "yes", named("whole-", 4), "yes", named("bin-", 0), "B4", named("bin-", 4), "E1", "bin", "C3")
	require.Contains(t, came.text, "delivery of order 533 booked in")
	for line, bin := range map[int]string{0: "B4", 1: "C3", 2: "D1", 4: "E1"} {
		require.Equal(t, 1, count(t, s, fmt.Sprintf(`SELECT count(*) FROM movement JOIN bin ON bin.id = bin_id JOIN receipt_line ON receipt_line.id = receipt_line_id
			WHERE order_line_id = %d AND bin.name = '%s'`, o.Lines[line].ID, bin)), "line %d", line)
	}
}

// parcels puts into the books what came from suppliers: one each so many days ago, quoted two working days, after so many
// calendar days.
func parcels(t *testing.T, s *shop, suppliers string, took int, ago ...int) {
	t.Helper()
	_, err := s.db.Exec(t.Context(), `
		WITH ordered AS (
			INSERT INTO purchase_order (supplier_id, placed_at, carriage, state)
			SELECT id, $1::timestamptz - make_interval(days => n), 0, 'closed' FROM supplier, unnest($3::int[]) n WHERE code LIKE $2 RETURNING id, supplier_id, placed_at),
		lines AS (
			INSERT INTO order_line (order_id, offer_id, part_id, packs, pack, price, quoted_days, stock, expected_on, received)
			SELECT ordered.id, offer.id, offer.part_id, 1, 1, 5, 2, 'in-stock', placed_at::date + 4, 1
			FROM ordered, LATERAL (SELECT id, part_id FROM offer WHERE offer.supplier_id = ordered.supplier_id ORDER BY id LIMIT 1) offer RETURNING id, order_id),
		receipts AS (
			INSERT INTO receipt (order_id, at) SELECT id, placed_at + make_interval(days => $4) FROM ordered RETURNING id, order_id)
		INSERT INTO receipt_line (receipt_id, order_line_id, outcome, pieces)
		SELECT receipts.id, lines.id, 'good', 1 FROM receipts JOIN lines USING (order_id)`, moment, suppliers, ago, took)
	require.NoError(t, err)
}

// That all suppliers are late just now, with which days count, is told wherever days are looked at: to the workshop with
// what it was seen by, and to the customer without.
func TestAllSuppliersAreLate(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	const told, toCustomers = "All suppliers are late just now, by about", "All who send us parts are late just now, by about"
	quoted := func() { v.get("/jobs/101/options").form("quote").send(v) }
	looked := []string{"/", "/orders", "/parts/1", "/jobs/101/options", "/jobs/101/quote"}
	quoted()
	for _, path := range looked {
		require.NotContains(t, v.get(path).text, told, path)
	}
	require.NotContains(t, s.stranger().get("/q/"+s.link()).text, toCustomers)
	parcels(t, s, "%", 11, 12, 13)
	quoted()
	for _, path := range looked {
		require.Contains(t, v.get(path).text, told, path)
	}
	letter := s.stranger().get("/q/" + s.link())
	require.Contains(t, letter.text, toCustomers)
	require.NotContains(t, letter.text, told)
}

// A supplier that has become slower is told of where days rest on it: while it is awaited, and on the options and the
// quote of a job that waits for its parts. A customer is not told who it is.
func TestASlowerSupplierIsTold(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	const told, toCustomers = "has become slower: ", "One who sends us parts has become slower"
	quoted := func() (from string) {
		v.get("/jobs/101/options").form("quote").send(v)
		q, err := lastQuote(t, s, 101)
		require.NoError(t, err)
		for _, o := range q.Options {
			for _, p := range o.Parts {
				if !p.Shelf && p.HereOn == o.ReadyOn {
					from = p.Supplier
				}
			}
		}
		require.NotEmpty(t, from)
		return from
	}
	from := quoted()
	looked := []string{"/", "/orders", "/jobs/101/options", "/jobs/101/quote"}
	for _, path := range looked {
		require.NotContains(t, v.get(path).text, told, path)
	}
	parcels(t, s, from, 10, 41, 38, 35, 32, 29, 26, 23, 20, 17, 14, 11)
	_, err := s.db.Exec(t.Context(), `
		WITH ordered AS (
			INSERT INTO purchase_order (supplier_id, placed_at, carriage) SELECT id, $1, 0 FROM supplier WHERE code = $2 RETURNING id, supplier_id)
		INSERT INTO order_line (order_id, offer_id, part_id, packs, pack, price, quoted_days, stock, expected_on)
		SELECT ordered.id, offer.id, offer.part_id, 1, 1, 5, 2, 'in-stock', $1::date + 8
		FROM ordered JOIN offer USING (supplier_id) ORDER BY offer.id LIMIT 1`, moment, from)
	require.NoError(t, err)
	quoted()
	supplier, err := inventory.SupplierByCode(t.Context(), s.db, from)
	require.NoError(t, err)
	name := supplier.Name
	for _, path := range looked {
		require.Contains(t, v.get(path).text, name+" "+told, path)
	}
	letter := s.stranger().get("/q/" + s.link())
	require.Contains(t, letter.text, toCustomers)
	require.NotContains(t, letter.text, name)
}

// Two tablets book in the same parcel: the second is told what the first has done.
func TestParcelBookedInTwice(t *testing.T) {
	s := open(t)
	one, two := s.as(mechanicName), s.as(ownerName)
	open, err := inventory.Orders(t.Context(), s.db, true)
	require.NoError(t, err)
	path := pathOf("/orders/%d/receive", open[0].ID)
	mine, theirs := one.get(path).form("receive"), two.get(path).form("receive")
	require.Contains(t, mine.send(one, "all", "yes", "bin", "A1").text, "booked in")
	late := theirs.send(two, "all", "yes", "bin", "A1", "reference", "DN 8")
	require.Equal(t, http.StatusConflict, late.status)
	require.Contains(t, late.text, mechanicName+" booked a delivery in")
	require.Equal(t, "DN 8", late.form("receive").values.Get("reference"))
}
