package desk_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/calendar"
)

// An order is due when the last that is still to come of it is, whatever has come already.
func TestDue(t *testing.T) {
	line := func(day calendar.Day, received int) inventory.OrderLine {
		return inventory.OrderLine{Packs: 2, Pack: 1, Received: received, ExpectedOn: day}
	}
	for _, tc := range []struct {
		name   string
		lines  []inventory.OrderLine
		due    calendar.Day
		toCome int
	}{
		{"nothing has come", []inventory.OrderLine{line(3, 0), line(9, 0)}, 9, 2},
		{"the last has come", []inventory.OrderLine{line(3, 1), line(9, 2)}, 3, 1},
		{"all has come", []inventory.OrderLine{line(3, 2), line(9, 2)}, 9, 0},
	} {
		t.Run(tc.name, func(t *testing.T) {
			o := inventory.Order{Lines: tc.lines}
			require.Equal(t, tc.due, desk.Due(o))
			require.Len(t, desk.StillToCome(o), tc.toCome)
		})
	}
}
