package desk_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/post"
)

// An order is due when the last that is still to come of it is, whatever has come already, by what its supplier said.
func TestDue(t *testing.T) {
	line := func(id int64, day calendar.Day, received int) inventory.OrderLine {
		return inventory.OrderLine{ID: id, Packs: 2, Pack: 1, Received: received, ExpectedOn: day}
	}
	by := func(day calendar.Day) desk.Due { return desk.Due{By: &day, Whole: true} }
	third, twelfth := calendar.Day(3), calendar.Day(12)
	backOrder := inventory.Word{BackOrdered: true}
	for _, tc := range []struct {
		name   string
		lines  []inventory.OrderLine
		said   map[int64]inventory.Word
		due    desk.Due
		toCome int
		first  calendar.Day // 0: it is the last as well
	}{
		{"nothing has come", []inventory.OrderLine{line(1, 3, 0), line(2, 9, 0)}, nil, by(9), 2, 3},
		{"the last has come", []inventory.OrderLine{line(1, 3, 1), line(2, 9, 2)}, nil, by(3), 1, 0},
		{"all has come", []inventory.OrderLine{line(1, 3, 2), line(2, 9, 2)}, nil, by(9), 0, 3},
		{"another day is said", []inventory.OrderLine{line(1, 3, 0)}, map[int64]inventory.Word{1: {ExpectedOn: &twelfth}}, desk.Due{By: &twelfth, Said: true, Whole: true}, 1, 0},
		{"a day is said, and another line is later", []inventory.OrderLine{line(1, 3, 0), line(2, 15, 0)}, map[int64]inventory.Word{1: {ExpectedOn: &twelfth}}, by(15), 2, 12},
		{"the later line is said", []inventory.OrderLine{line(1, 9, 0), line(2, 3, 0)}, map[int64]inventory.Word{2: {ExpectedOn: &twelfth}}, desk.Due{By: &twelfth, Said: true, Whole: true}, 2, 9},
		{"all that is open is on back order", []inventory.OrderLine{line(1, 3, 0), line(2, 9, 2)}, map[int64]inventory.Word{1: backOrder}, desk.Due{}, 1, 0},
		{"some is on back order", []inventory.OrderLine{line(1, 3, 0), line(2, 9, 0)}, map[int64]inventory.Word{2: backOrder}, desk.Due{By: &third}, 2, 0},
		{"what was on back order has come", []inventory.OrderLine{line(1, 3, 0), line(2, 9, 2)}, map[int64]inventory.Word{2: backOrder}, by(3), 1, 0},
	} {
		t.Run(tc.name, func(t *testing.T) {
			o := inventory.Order{Lines: tc.lines}
			if tc.due.By != nil {
				tc.due.First = tc.due.By
			}
			if tc.first != 0 {
				tc.due.First = &tc.first
			}
			require.Equal(t, tc.due, desk.DueOf(o, tc.said))
			require.Equal(t, tc.first != 0, tc.due.Sooner())
			require.Len(t, desk.StillToCome(o), tc.toCome)
		})
	}
}

// An order is to be sent until it has left as it stands, or something shows that its supplier has it.
func TestToSend(t *testing.T) {
	placed := time.Date(2026, time.December, 2, 9, 30, 0, 0, time.UTC)
	message := func(state post.State, at time.Time) func(*desk.Order) {
		return func(v *desk.Order) { v.Post = append(v.Post, post.Message{State: state, MadeAt: at}) }
	}
	joined := func(v *desk.Order) { at := placed.Add(time.Hour); v.Lines[1].JoinedAt = &at }
	told := func(v *desk.Order) { at := placed.Add(time.Minute); v.ToldAt, v.ToldBy = &at, inventory.ByTelephone }
	for _, tc := range []struct {
		name   string
		with   []func(*desk.Order)
		toSend bool
	}{
		{"just placed", nil, true},
		{"sent", []func(*desk.Order){message(post.Sent, placed)}, false},
		{"waits in the post", []func(*desk.Order){message(post.Waiting, placed)}, false},
		{"may have arrived", []func(*desk.Order){message(post.Unsure, placed)}, false},
		{"refused by the server", []func(*desk.Order){message(post.Refused, placed)}, true},
		{"cancelled in the post", []func(*desk.Order){message(post.Cancelled, placed)}, true},
		{"refused, and sent again", []func(*desk.Order){message(post.Refused, placed), message(post.Sent, placed)}, false},
		{"sent before a line was added", []func(*desk.Order){message(post.Sent, placed), joined}, true},
		{"sent again with the added line", []func(*desk.Order){message(post.Sent, placed), joined, message(post.Sent, placed.Add(2*time.Hour))}, false},
		{"told by telephone", []func(*desk.Order){told}, false},
		{"told before a line was added", []func(*desk.Order){told, joined}, true},
		{"answered", []func(*desk.Order){func(v *desk.Order) { v.Words = map[int64]inventory.Word{1: {BackOrdered: true}} }}, false},
		{"some has come", []func(*desk.Order){func(v *desk.Order) { v.Lines[0].Received = 1 }}, false},
		{"due today", []func(*desk.Order){func(v *desk.Order) { v.Lines[0].ExpectedOn = v.Today() }}, false},
		{"cancelled", []func(*desk.Order){func(v *desk.Order) { v.State = inventory.OrderCancelled }}, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			v := desk.Order{Clock: desk.At(placed)}
			v.State, v.PlacedAt = inventory.OrderPlaced, placed
			v.Lines = []inventory.OrderLine{{ID: 1, Packs: 1, Pack: 1, ExpectedOn: v.Today() + 2}, {ID: 2, Packs: 1, Pack: 1, ExpectedOn: v.Today() + 5}}
			for _, with := range tc.with {
				with(&v)
			}
			require.Equal(t, tc.toSend, v.ToSend())
		})
	}
}
