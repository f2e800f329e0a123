package leadtime

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/calendar"
)

// Suppliers that keep to their ways all year. Looking for changes and for strains
// may cost no more than 5 in 100 of them a later date. That a supplier is later than
// others from the first is neither.
func TestSteadySuppliersPayNothingForChanges(t *testing.T) {
	const now, shops, suppliers = calendar.Day(20_782), 240, 5
	r := rand.New(rand.NewPCG(5, 5))
	quoted := 3
	byMemory, byStrain := 0, 0
	for range shops {
		var receipts []Receipt
		var open []Outstanding
		for i := range suppliers {
			came, out := aYearOf(r, fmt.Sprint("s", i), now)
			receipts, open = append(receipts, came...), append(open, out...)
		}
		e := Learn(receipts, open, now)
		for i := range suppliers {
			asked := Order{Supplier: fmt.Sprint("s", i), Quoted: &quoted, Signal: InStock}
			withBoth := within(t, e.Forecast(asked))
			withMemories := within(t, e.forecast(asked))
			never := e.suppliers[asked.Supplier].memories[:1] // that it has been so from the first
			if never[0].since > 0 {
				never = newRecord().memories
			}
			never[0].weight = 1
			e.suppliers[asked.Supplier].memories = never
			if withMemories > within(t, e.forecast(asked)) {
				byMemory++
			}
			if withBoth > withMemories {
				byStrain++
			}
		}
	}
	t.Logf("of %d steady suppliers %d have a later date for changes, %d for strains", shops*suppliers, byMemory, byStrain)
	require.LessOrEqual(t, byMemory, shops*suppliers*5/100)
	require.LessOrEqual(t, byStrain, shops*suppliers*5/100)
}

// aYearOf is what a supplier that never changes sends and has not sent yet.
func aYearOf(r *rand.Rand, supplier string, now calendar.Day) (came []Receipt, open []Outstanding) {
	route := calendar.Route{Supplier: calendar.Weekdays(), Workshop: calendar.Weekdays()}
	late, another := math.Pow(r.Float64(), 1.5), 0.2+0.6*r.Float64()
	for ordered := now - 400; ordered < now; ordered++ {
		if !route.Supplier.Open(ordered) || r.Float64() > 0.2 {
			continue
		}
		quoted, took := 1+r.IntN(4), 0
		if r.Float64() < late {
			for took = 1; r.Float64() < another; took++ {
			}
		}
		took += quoted
		if arrived := route.Arrival(ordered, took); arrived < now {
			came = append(came, Receipt{Supplier: supplier, Ordered: ordered, Arrived: arrived, Quoted: &quoted, Took: took, Signal: InStock})
		} else {
			open = append(open, Outstanding{Supplier: supplier, Ordered: ordered, Quoted: &quoted,
				Waited: route.WorkingDays(ordered, now), Signal: InStock})
		}
	}
	return came, open
}

func within(t *testing.T, f Forecast) int {
	days, ok := f.Within(0.9)
	require.True(t, ok)
	return days
}
