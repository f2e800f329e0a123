package shelf

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/reorder"
)

// What is lost for being late counts once a job, at the share of quotes that are approved where all is there; what is
// used for want of something else is demand for that.
func TestWhatAJobsQuotesTell(t *testing.T) {
	at := day(time.March, 2)
	soon, late := calendar.DayOf(at)+2, calendar.DayOf(at)+12
	quote := func(id, job int64, approved bool, because LostFor, parts ...told) []told {
		for i := range parts {
			parts[i].QuoteID, parts[i].JobID, parts[i].MadeAt, parts[i].Approved, parts[i].Over, parts[i].Because = id, job, at, approved, true, because
			parts[i].Pieces, parts[i].Place = 1, "chain"
			parts[i].Option = max(1, parts[i].Option)
		}
		return parts
	}
	gather := func(quotes ...[]told) (all []told) {
		for _, q := range quotes {
			all = append(all, q...)
		}
		return all
	}
	const chain, other = 7, 8
	for _, test := range []struct {
		name string
		rows []told
		lost int
		bent int64
		says float64
	}{
		{"nothing quoted", nil, 0, 0, 0.75},
		{"lost for its date", quote(1, 1, false, "date", told{PartID: chain, HereOn: &late}), 1, 0, 0.75},
		{"lost for want of the part", quote(1, 1, false, "part", told{PartID: chain, HereOn: &late}), 1, 0, 0.75},
		{"lost for its price", quote(1, 1, false, "price", told{PartID: chain, HereOn: &late}), 0, 0, 0.75},
		{"nobody said why", quote(1, 1, false, "", told{PartID: chain, HereOn: &late}), 0, 0, 0.75},
		{"it was on the shelf", quote(1, 1, false, "date", told{PartID: chain, Shelf: true}), 0, 0, 3.0 / 5},
		{"quoted twice, lost once", gather(quote(1, 1, false, "date", told{PartID: chain, HereOn: &late}), quote(2, 1, false, "date", told{PartID: chain, HereOn: &late})), 1, 0, 0.75},
		{"bought after all", gather(quote(1, 1, false, "date", told{PartID: chain, HereOn: &late}), quote(2, 1, true, "", told{PartID: chain, HereOn: &soon, Chosen: true})), 0, 0, 0.75},
		{"only the first option counts", quote(1, 1, false, "date", told{PartID: chain, HereOn: &late}, told{PartID: other, HereOn: &late, Option: 2}), 1, 0, 0.75},
		{"the one like the old was wanted, not its stand-in", quote(1, 1, false, "part", told{PartID: other, HereOn: &soon, Substitute: true}, told{PartID: chain, HereOn: &late, Option: 2}), 1, 0, 0.75},
		{"a part is on the shelf and from a supplier", quote(1, 1, false, "date", told{PartID: chain, Shelf: true}, told{PartID: chain, HereOn: &late}), 1, 0, 0.75},
		{"a stand-in that was declined is not asked for", quote(1, 1, false, "part", told{PartID: other, HereOn: &soon, Substitute: true}), 0, 0, 0.75},
		{"approved from the shelf", quote(1, 1, true, "", told{PartID: chain, Shelf: true, Chosen: true}), 0, 0, 4.0 / 5},
		{"a stand-in sooner", quote(1, 1, true, "", told{PartID: other, Shelf: true, Substitute: true, Chosen: true}, told{PartID: chain, HereOn: &late, Option: 2}), 0, chain, 4.0 / 5},
		{"a stand-in no sooner", quote(1, 1, true, "", told{PartID: other, HereOn: &late, Substitute: true, Chosen: true}, told{PartID: chain, HereOn: &soon, Option: 2}), 0, 0, 0.75},
		{"the wanted part was there", quote(1, 1, true, "", told{PartID: other, Shelf: true, Substitute: true, Chosen: true}, told{PartID: chain, Shelf: true, Option: 2}), 0, 0, 4.0 / 5},
	} {
		t.Run(test.name, func(t *testing.T) {
			w := nothingWanted()
			w.hear(test.rows)
			require.Len(t, w.Lost[chain], test.lost)
			require.Empty(t, w.Lost[other])
			require.Equal(t, test.bent, w.Bent[used{1, other}])
			require.InDelta(t, test.says, w.approved(), 1e-9)
		})
	}
}

// Days without stock are not days without demand, unless a count shows that it was there after all.
func TestEmptyDays(t *testing.T) {
	monday := day(time.March, 2)
	on := func(days, pieces int, reason inventory.Reason) stockMove {
		return stockMove{At: monday.AddDate(0, 0, days), Pieces: pieces, Reason: reason}
	}
	first, today := reorder.WorkingDay(monday), reorder.WorkingDay(monday.AddDate(0, 0, 28))
	for _, test := range []struct {
		name  string
		moves []stockMove
		empty [][2]int // working days from the first Monday
	}{
		{"never empty", []stockMove{on(0, 5, inventory.Opening), on(1, -1, inventory.Sold)}, nil},
		{"empty for two weeks", []stockMove{on(0, 1, inventory.Opening), on(1, -1, inventory.Sold), on(15, 3, inventory.Received)}, [][2]int{{2, 11}}},
		{"still empty", []stockMove{on(0, 1, inventory.Opening), on(8, -1, inventory.Sold)}, [][2]int{{7, 20}}},
		{"found where none should be", []stockMove{on(0, 1, inventory.Opening), on(1, -1, inventory.Sold), on(15, 2, inventory.Counted)}, nil},
		{"none found where some should be", []stockMove{on(0, 3, inventory.Opening), on(1, -1, inventory.Sold), on(15, -2, inventory.Counted), on(22, 2, inventory.Received)}, [][2]int{{2, 16}}},
		{"a count that only differs", []stockMove{on(0, 3, inventory.Opening), on(1, -1, inventory.Sold), on(15, -1, inventory.Counted)}, nil},
	} {
		t.Run(test.name, func(t *testing.T) {
			var got [][2]int
			for _, s := range emptyDays(test.moves, time.UTC, today, 1) {
				got = append(got, [2]int{s.From - first, s.To - first})
			}
			require.Equal(t, test.empty, got)
		})
	}
}

// A part that sold out on the day it came, again and again, is asked for more often than its sales show.
func TestEmptyDaysRaiseTheRate(t *testing.T) {
	var always, soldOut float64
	t.Run("always there", func(t *testing.T) {
		b := newBooks(t)
		addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 1)
		b.move(52*7, 60, inventory.Opening, nil)
		for week := 50; week > 2; week -= 4 {
			b.move(week*7-1, -1, inventory.Sold, nil)
		}
		always = b.keeping(b.now).PerDay
	})
	t.Run("sold out", func(t *testing.T) {
		b := newBooks(t)
		addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 1)
		b.move(52*7, 1, inventory.Opening, nil)
		for week := 50; week > 2; week -= 4 {
			b.move(week*7-1, -1, inventory.Sold, nil)
			b.move((week-3)*7, 1, inventory.Opening, nil)
		}
		soldOut = b.keeping(b.now).PerDay
	})
	require.Greater(t, soldOut, 1.5*always)
}

// What is booked at one moment for one reason is one movement, whatever bins it is of: a count that finds in one bin what lacks
// in another has found nothing missing.
func TestOfOneMomentIsOne(t *testing.T) {
	noon := day(time.March, 2)
	of := func(at time.Time, pieces int, reason inventory.Reason) stockMove {
		return stockMove{At: at, Pieces: pieces, Reason: reason}
	}
	var moves []stockMove
	for _, m := range []stockMove{of(noon, 3, inventory.Opening), of(noon, -3, inventory.Counted), of(noon, -1, inventory.Sold), of(noon, 4, inventory.Counted),
		of(noon.Add(time.Second), -1, inventory.Counted)} {
		moves = m.after(moves)
	}
	require.Equal(t, []stockMove{of(noon, 3, inventory.Opening), of(noon, 1, inventory.Counted), of(noon, -1, inventory.Sold),
		of(noon.Add(time.Second), -1, inventory.Counted)}, moves)
}
