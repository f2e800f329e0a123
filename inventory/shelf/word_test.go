package shelf

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/migrations/testdb"
)

// What is said to the week's list decides what is ordered for the shelf, and is heard again the next time.
func TestShelfWords(t *testing.T) {
	b := newBooks(t)
	ctx := t.Context()
	offer := addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 1)
	b.move(364, 60, inventory.Opening, nil)
	for week := 50; week > 0; week -= 2 {
		b.move(week*7-3, -1, inventory.Sold, nil)
	}
	b.move(1, -35, inventory.Scrapped, nil)
	level, to := 2, 6
	require.NoError(t, SetReorder(ctx, b.tx, b.part.ID, &level, &to))

	now := b.now
	list := func() WeekList {
		t.Helper()
		s, err := Load(ctx, b.tx, usualShelf, nil, now)
		require.NoError(t, err)
		list, err := s.WeekList()
		require.NoError(t, err)
		return list
	}
	toOrder := func() int {
		t.Helper()
		short, err := BelowReorderLevel(ctx, b.tx, now)
		require.NoError(t, err)
		if len(short) == 0 {
			return 0
		}
		return short[0].Order
	}
	say := func(w Word) {
		t.Helper()
		_, err := b.tx.Exec(ctx, `SELECT set_config('stead.clock', $1, true)`, now.Format(time.RFC3339Nano))
		require.NoError(t, err)
		w.PartID = b.part.ID
		require.NoError(t, Say(ctx, b.tx, w))
	}
	advised, there := list().Line(b.part.ID)
	require.True(t, there)
	require.Equal(t, 6, toOrder(), "by its level")
	require.Positive(t, advised.Saves)

	until := calendar.DayOf(now) + 10
	say(Word{Answer: Snooze, Until: &until, Note: "after the fair"})
	require.Zero(t, toOrder())
	require.Empty(t, list().Blocks)
	require.Contains(t, list().Aside[0].Words, "put off until Thursday 9 April: after the fair")
	now = b.now.AddDate(0, 0, 10)
	require.Equal(t, 6, toOrder(), "on the day it is asked of again")
	line, there := list().Line(b.part.ID)
	require.True(t, there)
	require.Contains(t, line.Said, "after the fair")

	say(Word{Answer: Less, Pieces: 2, Note: "short of cash"})
	require.Equal(t, 2, toOrder())
	require.Empty(t, list().Blocks)
	require.Equal(t, 2, list().Aside[0].Pending)
	order, err := inventory.PlaceOrder(ctx, b.tx, inventory.Order{SupplierID: offer.SupplierID, PlacedAt: now.Add(time.Hour), Lines: []inventory.OrderLine{{
		OfferID: offer.ID, PartID: b.part.ID, Packs: 2, Pack: 1, Price: offer.Breaks[0].Price, QuotedDays: 2, Stock: offer.Stock, ExpectedOn: calendar.DayOf(now) + 3}}})
	require.NoError(t, err)
	now = now.Add(2 * time.Hour)
	require.Zero(t, toOrder(), "two are ordered, and no more were wanted")
	_, err = inventory.CancelOrder(ctx, b.tx, order.ID)
	require.NoError(t, err)
	require.Equal(t, 2, toOrder(), "a cancelled order brings none")
	now = now.AddDate(0, 0, 8)
	require.Equal(t, 2, toOrder(), "what was taken waits until it is ordered")

	say(Word{Answer: AsAdvised})
	require.Equal(t, 6, toOrder(), "what was said is taken back")
	require.Empty(t, list().Aside)
	say(Word{Answer: Take, Pieces: 3})
	require.Equal(t, 3, toOrder(), "what is said after that holds")
	say(Word{Answer: AsAdvised})
	require.Equal(t, 6, toOrder())

	say(Word{Answer: AtLeast, Pieces: 9, Note: "the post bikes"})
	require.Equal(t, 9, toOrder())
	line, _ = list().Line(b.part.ID)
	require.GreaterOrEqual(t, line.Order, 9)
	require.Contains(t, line.Why, "Always at least 9, you said on Friday 17 April: the post bikes.")

	say(Word{Answer: Never, Note: "jobs only"})
	require.Zero(t, toOrder())
	require.Empty(t, list().Blocks)
	require.Contains(t, list().Aside[0].Words, "jobs only")
	k := b.keeping(now)
	require.Nil(t, k.AdvisedLevel)
	require.Nil(t, k.ReorderLevel)

	require.ErrorContains(t, Say(ctx, b.tx, Word{PartID: b.part.ID, Answer: Take}), "above zero")
}

// What is insisted on is kept although it never sold, and the money that it takes counts.
func TestAtLeastOfAPartThatNeverSold(t *testing.T) {
	b := newBooks(t)
	addOffer(t, b.tx, addSupplier(t, b.tx).ID, b.part.ID, 1)
	require.NoError(t, Say(t.Context(), b.tx, Word{PartID: b.part.ID, Answer: AtLeast, Pieces: 2}))
	s, err := Load(t.Context(), b.tx, usualShelf, nil, b.now)
	require.NoError(t, err)
	list, err := s.WeekList()
	require.NoError(t, err)
	line, there := list.Line(b.part.ID)
	require.True(t, there)
	require.Equal(t, 2, line.Order)
	require.Len(t, s.Changes(), 1)
}

// BenchmarkWeekList reads the books of a whole shop and draws its list up, for the first time of a day and once more.
func BenchmarkWeekList(b *testing.B) {
	const parts, weeks = 3000, 104
	tx, ctx := testdb.Tx(b), b.Context()
	now := day(time.March, 30)
	require.NoError(b, inventory.AddBin(ctx, tx, "A1"))
	s := addSupplier(b, tx)
	request := begun(b, tx)
	_, err := tx.Exec(ctx, `
		WITH made AS (INSERT INTO part (family, name, dims, traded) SELECT 'chainring', 'ring ' || n, '{}', false FROM generate_series(1, $1) n RETURNING id),
		     offered AS (INSERT INTO offer (supplier_id, code, part_id, pack, minimum_packs, stock, as_of)
		                 SELECT $2, 'C' || id, id, 1, 1, 'in-stock', $3 FROM made RETURNING id)
		INSERT INTO price_break (offer_id, from_packs, price) SELECT id, 1, 2 + id % 40 FROM offered`, parts, s.ID, now)
	require.NoError(b, err)
	_, err = tx.Exec(ctx, `
		INSERT INTO movement (at, part_id, bin_id, pieces, reason, request)
		SELECT $1::timestamptz - make_interval(days => 730), part.id, (SELECT min(id) FROM bin), 400, 'opening', $2 FROM part`, now, request)
	require.NoError(b, err)
	_, err = tx.Exec(ctx, `
		INSERT INTO movement (at, part_id, bin_id, pieces, reason, request)
		SELECT $1::timestamptz - make_interval(days => 7 * week + (part.id * 7 + week * 3)::int % 5), part.id, (SELECT min(id) FROM bin), -1, 'sold', $2
		FROM part, generate_series(1, $3) AS week WHERE (part.id * 31 + week * 17) % 100 < 2 + part.id % 25`, now, request, weeks)
	require.NoError(b, err)
	for _, again := range []bool{false, true} {
		b.Run(map[bool]string{false: "first", true: "again"}[again], func(b *testing.B) {
			for b.Loop() {
				if !again {
					remembered.shelves = nil
				}
				shelf, err := Load(ctx, tx, usualShelf, nil, now)
				require.NoError(b, err)
				list, err := shelf.WeekList()
				require.NoError(b, err)
				require.Len(b, shelf.Parts, parts, fmt.Sprint(list.Money))
			}
			b.ReportMetric(parts, "parts")
		})
	}
}

// Many words are kept at once, in their order: the last on a part counts. One that cannot be meant keeps all from being kept.
func TestManyWordsAtOnce(t *testing.T) {
	b := newBooks(t)
	ctx := t.Context()
	until := calendar.DayOf(b.now) + 7
	require.NoError(t, Say(ctx, b.tx,
		Word{PartID: b.part.ID, Answer: Snooze, Until: &until, At: b.now},
		Word{PartID: b.part.ID, Answer: AtLeast, Pieces: 2, At: b.now},
		Word{PartID: b.part.ID, Answer: Take, Pieces: 5, Note: " the big order ", At: b.now}))
	require.Error(t, Say(ctx, b.tx, Word{PartID: b.part.ID, Answer: Take, Pieces: 6}, Word{PartID: b.part.ID, Answer: Less}))
	require.NoError(t, Say(ctx, b.tx))
	said, err := LoadSaid(ctx, b.tx)
	require.NoError(t, err)
	require.Equal(t, 2, said[b.part.ID].AtLeast())
	require.Equal(t, Take, said[b.part.ID].Once.Answer)
	require.Equal(t, 5, said[b.part.ID].Once.Pieces)
	require.Equal(t, "the big order", said[b.part.ID].Once.Note)
	require.True(t, b.now.Equal(said[b.part.ID].Once.At))
}

// Levels of many parts are set all or not at all.
func TestManyLevelsAtOnce(t *testing.T) {
	b := newBooks(t)
	two, six := 2, 6
	require.Error(t, SetLevels(t.Context(), b.tx, []Levels{{b.part.ID, &two, &six}, {b.part.ID + 1000, &two, &six}}))
	p, err := inventory.PartByID(t.Context(), b.tx, b.part.ID)
	require.NoError(t, err)
	require.Nil(t, p.ReorderLevel)
	require.NoError(t, SetLevels(t.Context(), b.tx, []Levels{{b.part.ID, &two, &six}}))
	p, err = inventory.PartByID(t.Context(), b.tx, b.part.ID)
	require.NoError(t, err)
	require.Equal(t, []int{2, 6}, []int{*p.ReorderLevel, *p.ReorderTo})
}
