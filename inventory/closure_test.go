package inventory

import (
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/inventory/calendar"
	"stead/inventory/leadtime"
	"stead/migrations"
	"stead/migrations/testdb"
)

// december is a day of December 2026, which begins on a Tuesday.
func december(d int) calendar.Day { return calendar.Date(2026, time.December, d) }

func TestCloseAndReopen(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	s, other := addSupplier(t, tx), addSupplier(t, tx)
	closed := func(whose *int64, first, last int, why string) {
		require.NoError(t, Close(ctx, tx, whose, calendar.Closure{First: december(first), Last: december(last), Reason: why}))
	}
	requireClosures := func(workshop, supplier []calendar.Closure) {
		shop, err := LoadShop(ctx, tx)
		require.NoError(t, err)
		require.Equal(t, workshop, shop.Closures)
		found, err := SupplierByID(ctx, tx, s.ID)
		require.NoError(t, err)
		require.Equal(t, supplier, found.Closures)
		found, err = SupplierByID(ctx, tx, other.ID)
		require.NoError(t, err)
		require.Empty(t, found.Closures, "another's are not its own")
	}
	none := []calendar.Closure{}
	requireClosures(none, none)

	closed(nil, 24, 31, "holiday")
	closed(&s.ID, 14, 18, "stocktaking")
	closed(&s.ID, 7, 7, "move")
	requireClosures([]calendar.Closure{{First: december(24), Last: december(31), Reason: "holiday"}},
		[]calendar.Closure{{First: december(7), Last: december(7), Reason: "move"}, {First: december(14), Last: december(18), Reason: "stocktaking"}})

	closed(nil, 24, 28, "short holiday")
	require.NoError(t, Reopen(ctx, tx, &s.ID, december(16)))
	require.NoError(t, Reopen(ctx, tx, &s.ID, december(7)))
	requireClosures([]calendar.Closure{{First: december(24), Last: december(28), Reason: "short holiday"}},
		[]calendar.Closure{{First: december(14), Last: december(15), Reason: "stocktaking"}})

	require.EqualError(t, Reopen(ctx, tx, &s.ID, december(16)),
		"no closure is recorded for 2026-12-16: weekdays and bank holidays are closed by their own rules")
	require.Error(t, Reopen(ctx, tx, nil, december(14)), "the workshop's and the supplier's are apart")

	shop, err := LoadShop(ctx, tx)
	require.NoError(t, err)
	require.NoError(t, SaveShop(ctx, tx, Shop{Name: shop.Name, Country: "GB", Zone: shop.Zone, Currency: "GBP", Confidence: 0.9, QuoteDays: 14, Overbuy: shop.Overbuy}))
	_, err = ChangeSupplier(ctx, tx, s.Code, func(s *Supplier) { s.Closures = nil })
	require.NoError(t, err)
	requireClosures([]calendar.Closure{{First: december(24), Last: december(28), Reason: "short holiday"}},
		[]calendar.Closure{{First: december(14), Last: december(15), Reason: "stocktaking"}})
}

// What the program refuses, and what the database would refuse if it did not.
func TestClosureRefuses(t *testing.T) {
	tx := testdb.Tx(t)
	supplier, stranger := addSupplier(t, tx).ID, int64(999_999)
	for _, c := range []struct {
		name       string
		supplier   *int64
		first      calendar.Day
		last       calendar.Day
		why        string
		says       string
		constraint string
	}{
		{"last before first", &supplier, december(8), december(7), "move", "ends before it begins", "closure_ends_after_it_begins"},
		{"a year and a day", nil, december(7), december(7) + 366, "move", "longer than a year", "closure_within_a_year"},
		{"no reason", nil, december(7), december(7), " ", "needs a reason", "closure_says_why"},
		{"no such supplier", &stranger, december(7), december(7), "move", "there is no such supplier", "closure_supplier_id_fkey"},
	} {
		t.Run(c.name, func(t *testing.T) {
			inner, err := tx.Begin(t.Context())
			require.NoError(t, err)
			sentence, _ := migrations.Explain(Close(t.Context(), inner, c.supplier, calendar.Closure{First: c.first, Last: c.last, Reason: c.why}))
			require.Contains(t, sentence, c.says)
			require.NoError(t, inner.Rollback(t.Context()))
			requireRefused(t, tx, c.constraint, c.says, `INSERT INTO closure (supplier_id, first_day, last_day, why) VALUES ($1, $2, $3, $4)`,
				c.supplier, c.first, c.last, c.why)
		})
	}
	// A leap year's worth of days is a year.
	require.NoError(t, Close(t.Context(), tx, nil, calendar.Closure{First: december(7), Last: december(7) + 365, Reason: "move"}))
	requireRefused(t, tx, "closure_begins_once", "recorded already", `INSERT INTO closure (first_day, last_day, why) VALUES ($1, $1, 'again')`, december(7))
	requireRefused(t, tx, "shop_opens_some_day", "leave at least one open", `UPDATE shop SET closed_on = '{6,5,4,3,2,1,0}'`)
	requireRefused(t, tx, "supplier_opens_some_day", "leave at least one open", `UPDATE supplier SET closed_on = '{6,5,4,3,2,1,0}'`)
}

// requireRefused checks that the database itself refuses a statement, and what the person is told.
func requireRefused(t *testing.T, tx pgx.Tx, constraint, says, sql string, args ...any) {
	t.Helper()
	inner, err := tx.Begin(t.Context())
	require.NoError(t, err)
	_, err = inner.Exec(t.Context(), sql, args...)
	var refused *pgconn.PgError
	require.ErrorAs(t, err, &refused)
	require.Equal(t, constraint, refused.ConstraintName)
	sentence, _ := migrations.Explain(err)
	require.Contains(t, sentence, says)
	require.NoError(t, inner.Rollback(t.Context()))
}

// Ordered on Wednesday 2 December 2026 and two working days on the way. The days are counted on a printed calendar.
func TestPromisesPassOverClosures(t *testing.T) {
	for _, c := range []struct {
		name               string
		supplier, workshop [2]int // first and last day of December; zero: none
		here               int
	}{
		{"none", [2]int{}, [2]int{}, 4},
		{"the supplier on the day between", [2]int{3, 3}, [2]int{}, 7},
		{"the supplier from the day of the order on", [2]int{2, 8}, [2]int{}, 11},
		{"the supplier after it has come", [2]int{5, 20}, [2]int{}, 4},
		{"the workshop on the day", [2]int{}, [2]int{4, 4}, 5},
		{"the workshop from the day over the weekend", [2]int{}, [2]int{4, 8}, 9},
		{"the workshop before the day", [2]int{}, [2]int{2, 3}, 4},
		{"both", [2]int{3, 3}, [2]int{7, 7}, 8},
	} {
		t.Run(c.name, func(t *testing.T) {
			tx, ctx := testdb.Tx(t), t.Context()
			s := addSupplier(t, tx)
			for whose, days := range map[*int64][2]int{&s.ID: c.supplier, nil: c.workshop} {
				if days[0] != 0 {
					require.NoError(t, Close(ctx, tx, whose, calendar.Closure{First: december(days[0]), Last: december(days[1]), Reason: "holiday"}))
				}
			}
			d, err := LoadDeliveries(ctx, tx, december(2).Time().Add(9*time.Hour))
			require.NoError(t, err)
			parcel := d.Shipment(s.ID, InStock)
			require.Equal(t, december(c.here).String(), parcel.Route.Arrival(parcel.OrderDay, 2).String())
		})
	}
}

// A parcel that a supplier announces for a day on which the workshop is closed is in on the next open one.
func TestAnnouncedForAClosedDay(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	s := addSupplier(t, tx)
	require.NoError(t, Close(ctx, tx, nil, calendar.Closure{First: december(9), Last: december(14), Reason: "holiday"}))
	placed, announced := december(2).Time().Add(9*time.Hour), december(9)
	for name, today := range map[string]int{"before": 7, "while it is closed": 11} {
		t.Run(name, func(t *testing.T) {
			d, err := LoadDeliveries(ctx, tx, december(today).Time().Add(9*time.Hour))
			require.NoError(t, err)
			here, _, err := d.Awaited(s.ID, placed, InStock, Word{ExpectedOn: &announced})
			require.NoError(t, err)
			require.Equal(t, december(15), here)
		})
	}
}

// One more closure, of whichever side, never lets a promise come earlier, nor an order count sooner.
func TestClosuresNeverMakeAPromiseEarlier(t *testing.T) {
	someClosures := rapid.SliceOfN(rapid.Custom(func(r *rapid.T) calendar.Closure {
		first := december(1) + calendar.Day(rapid.IntRange(0, 60).Draw(r, "first"))
		return calendar.Closure{First: first, Last: first + calendar.Day(rapid.IntRange(0, 30).Draw(r, "longer")), Reason: "holiday"}
	}), 0, 3)
	someWeek := rapid.SliceOfNDistinct(rapid.Map(rapid.IntRange(0, 6), func(d int) time.Weekday { return time.Weekday(d) }), 0, 5, rapid.ID)
	rapid.Check(t, func(r *rapid.T) {
		shop := Shop{Country: "GB", ClosedOn: someWeek.Draw(r, "shop's week"), Closures: someClosures.Draw(r, "shop's closures")}
		s := Supplier{Country: "GB", Zone: "Europe/London", CutOff: "16:00", ClosedOn: someWeek.Draw(r, "supplier's week"),
			Closures: someClosures.Draw(r, "supplier's closures")}
		lead := leadtime.Distribution{OnDay: make([]float64, rapid.IntRange(1, 20).Draw(r, "at most"))}
		for day := range lead.OnDay {
			lead.OnDay[day] = 1 / float64(len(lead.OnDay))
		}
		now := december(1).Time().Add(time.Duration(rapid.IntRange(0, 14*24).Draw(r, "hours")) * time.Hour)
		promise := func() (ordered, here calendar.Day) {
			route, err := s.Route(shop)
			require.NoError(r, err)
			ordered = route.OrderDay(now)
			p, err := leadtime.PromiseDay([]leadtime.Shipment{{Supplier: "harbour", OrderDay: ordered, Route: route, Lead: lead}}, 0.9, calendar.DayOf(now))
			require.NoError(r, err)
			return ordered, p.Day
		}
		ordered, here := promise()
		shop.Closures = append(shop.Closures, someClosures.Draw(r, "more of the shop's")...)
		s.Closures = append(s.Closures, someClosures.Draw(r, "more of the supplier's")...)
		orderedThen, hereThen := promise()
		require.LessOrEqual(r, ordered, orderedThen)
		require.LessOrEqual(r, here, hereThen)
		route, err := s.Route(shop)
		require.NoError(r, err)
		require.True(r, route.Workshop.Open(hereThen) || hereThen == calendar.DayOf(now), "nobody opens the door on %s", hereThen)
	})
}

func TestChangeSupplier(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	s := addSupplier(t, tx)
	want := s
	want.LeadDays, want.ClosedOn, want.CarriagePaidAt, want.Country = 4, []time.Weekday{time.Friday}, decimal.NullDecimal{}, "DE"
	changed, err := ChangeSupplier(ctx, tx, s.Code, func(s *Supplier) {
		s.LeadDays, s.ClosedOn, s.CarriagePaidAt, s.Country = 4, []time.Weekday{time.Friday}, decimal.NullDecimal{}, "de"
		s.Currency = "EUR" // stays: its prices are in it
	})
	require.NoError(t, err)
	require.Equal(t, want, changed)
	found, err := SupplierByCode(ctx, tx, s.Code)
	require.NoError(t, err)
	require.Equal(t, want, found)

	_, err = ChangeSupplier(ctx, tx, s.Code, func(s *Supplier) { s.ToOrderDays = 1 })
	require.ErrorContains(t, err, "lead times of 4 working days from stock and 1 to order")
	_, err = ChangeSupplier(ctx, tx, "nobody", func(*Supplier) { t.Fatal("there is nothing to change") })
	require.ErrorAs(t, err, new(*UnknownError))
}
