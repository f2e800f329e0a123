package pricing

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/pricing/ordering"
)

// The quote's options are those of the front that are the best at something, under the same names and totals.
func TestFrontHoldsTheQuote(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ringsOffered(w)
	job := w.ringJob(Limits{})
	q := w.quote(job)
	s, err := LoadSituation(t.Context(), w.tx, job, now)
	require.NoError(t, err)
	front, err := s.Front(t.Context())
	require.NoError(t, err)
	require.True(t, front.Proven)

	var inFront []Option
	for i, o := range front.Options {
		if i > 0 {
			require.LessOrEqual(t, front.Options[i-1].ReadyOn, o.ReadyOn)
		}
		if len(o.Names) > 0 {
			inFront = append(inFront, o)
		}
	}
	require.Len(t, inFront, len(q.Options))
	for i, o := range q.Options {
		require.Equal(t, o.Names, inFront[i].Names)
		require.True(t, o.Total.Equal(inFront[i].Total))
	}
}

func TestFrontOfNothing(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	s, err := LoadSituation(t.Context(), w.tx, w.ringJob(Limits{}), now)
	require.NoError(t, err)
	front, err := s.Front(t.Context())
	require.NoError(t, err)
	require.Empty(t, front.Options, "the catalogue is empty")
}

// A supplier that prices in euros is compared at the day's rate: at 1.25 euros a pound its €20.00 ring costs £16.00 and
// its €5.00 carriage £4.00, so £16.00 × 1.5 × 1.2 = £28.80 and £4.80 with tax.
func TestQuoteAcrossCurrencies(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	kontor := w.supplier(inventory.Supplier{Code: "kontor", Name: "Kontor Radteile", Country: "DE", Zone: "Europe/Berlin", Currency: "EUR",
		LeadDays: 3, ToOrderDays: 10, Carriage: pounds("5.00")})
	w.offer(kontor, w.part("silver ring 50T", "chainring", silverRing, ""), 1, inventory.InStock, at("20.00"))
	job := w.ringJob(Limits{})

	q := w.quote(job)
	require.Empty(t, q.Options)
	require.Len(t, q.LeftOut, 1)
	require.Contains(t, q.LeftOut[0], "Kontor Radteile prices in EUR, for which no rate is recorded")

	day := calendarDay(now)
	require.NoError(t, inventory.SetRate(t.Context(), w.tx, "EUR", pounds("1.10"), day-30))
	require.NoError(t, inventory.SetRate(t.Context(), w.tx, "EUR", pounds("1.25"), day))
	require.NoError(t, inventory.SetRate(t.Context(), w.tx, "EUR", pounds("2.00"), day+1))
	q = w.quote(job)
	require.Empty(t, q.LeftOut)
	o := named(t, q, "cheapest")
	require.Equal(t, []string{"28.80", "4.80", "20.00"}, onPaper(o.Parts[0].Amount, o.Carriage[0].Amount, o.Landed))

	w.approve(job, "cheapest")
	list, err := ordering.Plan(t.Context(), w.tx, ordering.Policy{}, now)
	require.NoError(t, err)
	require.Len(t, list.Orders, 1)
	require.Equal(t, "EUR", list.Orders[0].Currency)
	require.Equal(t, []string{"20.00", "5.00", "20.00"}, onPaper(list.Orders[0].Goods, list.Orders[0].Carriage, list.Total), "the order in euros, the list in pounds")
}
