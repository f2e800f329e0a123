package desk_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/calendar"
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
	}{
		{"nothing has come", []inventory.OrderLine{line(1, 3, 0), line(2, 9, 0)}, nil, by(9), 2},
		{"the last has come", []inventory.OrderLine{line(1, 3, 1), line(2, 9, 2)}, nil, by(3), 1},
		{"all has come", []inventory.OrderLine{line(1, 3, 2), line(2, 9, 2)}, nil, by(9), 0},
		{"another day is said", []inventory.OrderLine{line(1, 3, 0)}, map[int64]inventory.Word{1: {ExpectedOn: &twelfth}}, by(12), 1},
		{"all that is open is on back order", []inventory.OrderLine{line(1, 3, 0), line(2, 9, 2)}, map[int64]inventory.Word{1: backOrder}, desk.Due{}, 1},
		{"some is on back order", []inventory.OrderLine{line(1, 3, 0), line(2, 9, 0)}, map[int64]inventory.Word{2: backOrder}, desk.Due{By: &third}, 2},
		{"what was on back order has come", []inventory.OrderLine{line(1, 3, 0), line(2, 9, 2)}, map[int64]inventory.Word{2: backOrder}, by(3), 1},
	} {
		t.Run(tc.name, func(t *testing.T) {
			o := inventory.Order{Lines: tc.lines}
			require.Equal(t, tc.due, desk.DueOf(o, tc.said))
			require.Len(t, desk.StillToCome(o), tc.toCome)
		})
	}
}
