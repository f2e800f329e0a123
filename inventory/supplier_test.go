package inventory

import (
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/inventory/calendar"
	"stead/migrations/testdb"
)

func TestAddSupplier(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	s, err := AddSupplier(ctx, tx, Supplier{Code: "northmoor", Name: "Northmoor Wheel Goods", LeadDays: 2, ToOrderDays: 10, Carriage: pounds("4.50"),
		CarriagePaidAt: decimal.NewNullDecimal(pounds("100"))})
	require.NoError(t, err)
	require.Equal(t, "GB", s.Country, "the shop's own")
	require.Equal(t, "16:00", s.CutOff)
	require.Equal(t, []time.Weekday{time.Saturday, time.Sunday}, s.ClosedOn)

	found, err := SupplierByCode(ctx, tx, "Northmoor")
	require.NoError(t, err)
	require.Equal(t, s, found)
	found, err = SupplierByID(ctx, tx, s.ID)
	require.NoError(t, err)
	require.Equal(t, s, found)
	all, err := Suppliers(ctx, tx)
	require.NoError(t, err)
	require.Equal(t, []Supplier{s}, all)

	_, err = AddSupplier(ctx, tx, Supplier{Code: "northmoor", Name: "Another"})
	require.ErrorAs(t, err, new(*TakenError))
	_, err = SupplierByCode(ctx, tx, "northmore")
	require.EqualError(t, err, "there is no supplier northmore: did you mean northmoor?")
}

func TestSupplierRefuses(t *testing.T) {
	for _, c := range []struct {
		name, problem string
		change        func(*Supplier)
	}{
		{"a code with a space", "lower case letters", func(s *Supplier) { s.Code = "north moor" }},
		{"no name", "a name is missing", func(s *Supplier) { s.Name = "" }},
		{"slower from stock than to order", "lead times of 3 working days from stock and 2 to order", func(s *Supplier) { s.LeadDays, s.ToOrderDays = 3, 2 }},
		{"an endless lead time", "cannot be meant", func(s *Supplier) { s.ToOrderDays = 100_000 }},
		{"no such hour", `cut-off hour "25:00"`, func(s *Supplier) { s.CutOff = "25:00" }},
		{"no such zone", `time zone "Moon/Tranquillity"`, func(s *Supplier) { s.Zone = "Moon/Tranquillity" }},
		{"no such country", `no bank holidays are known for country "ZZ"`, func(s *Supplier) { s.Country = "ZZ" }},
		{"never open", "all seven weekdays are closed", func(s *Supplier) { s.ClosedOn = []time.Weekday{0, 1, 2, 3, 4, 5, 6} }},
		{"negative carriage", "never negative", func(s *Supplier) { s.Carriage = pounds("-1") }},
		{"carriage paid at nothing", "above zero", func(s *Supplier) { s.CarriagePaidAt = decimal.NewNullDecimal(decimal.Zero) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := Supplier{Code: "northmoor", Name: "Northmoor Wheel Goods", Country: "GB", Zone: "Europe/London", Currency: "GBP", CutOff: "16:00"}
			require.NoError(t, s.check())
			c.change(&s)
			require.ErrorContains(t, s.check(), c.problem)
		})
	}
}

func TestCarriageOn(t *testing.T) {
	s := Supplier{Carriage: pounds("5.95"), CarriagePaidAt: decimal.NewNullDecimal(pounds("75"))}
	require.Equal(t, "5.95", s.CarriageOn(pounds("74.99")).String())
	require.Equal(t, "0", s.CarriageOn(pounds("75")).String())
	s.CarriagePaidAt = decimal.NullDecimal{}
	require.Equal(t, "5.95", s.CarriageOn(pounds("1000")).String())
}

// An order of Friday 27 November 2026 after the cut-off counts from Monday; two working days later it is Wednesday.
func TestRoute(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	shop, err := LoadShop(ctx, tx)
	require.NoError(t, err)
	route, err := addSupplier(t, tx).Route(shop)
	require.NoError(t, err)
	ordered := route.OrderDay(time.Date(2026, time.November, 27, 16, 30, 0, 0, time.UTC))
	require.Equal(t, calendar.Date(2026, time.November, 30), ordered)
	require.Equal(t, calendar.Date(2026, time.December, 2), route.Arrival(ordered, 2))
}

func TestShop(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	s, err := LoadShop(ctx, tx)
	require.NoError(t, err)
	s.Name, s.Country, s.Confidence, s.ClosedOn = "Fellgate Cycles", "gb-sct", 0.95, []time.Weekday{time.Sunday, time.Monday}
	require.NoError(t, SaveShop(ctx, tx, s))
	kept, err := LoadShop(ctx, tx)
	require.NoError(t, err)
	s.Country = "GB-SCT"
	require.Equal(t, s, kept)

	s.Confidence = 90
	require.ErrorContains(t, SaveShop(ctx, tx, s), "a confidence of 90 is not between 0 and 1")
	s.Confidence, s.QuoteDays = 0.9, 0
	require.ErrorContains(t, SaveShop(ctx, tx, s), "at least a day")
}
