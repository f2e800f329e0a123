package pricing

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/pricing/ordering"
	"stead/substitution"
	"stead/substitution/inspection"
)

// A job that wants 1.4 m of housing takes two metres off the roll on the shelf, at the price of a metre, with two
// ferrules for each of the three lengths that it lies in; what is left on the roll is seen on the shelf, and the next
// comes as a roll.
func TestHousingByTheMetre(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ctx := t.Context()
	require.NoError(t, SetLabour(ctx, w.tx, Labour{"cable-outer", inspection.Replace, "fit housing", 15, pounds("10.00")}))
	roll := w.part("gear housing by the metre", "cable-outer", "use=gear diameter_mm=4 by_metre=yes", "2.00")
	cut := w.part("gear housing 1.7 m", "cable-outer", "use=gear diameter_mm=4 length_mm=1700", "6.00")
	ferrules := w.part("ferrules", "consumable", "purpose=ferrule", "0.20")
	w.offer(w.harbour, roll, 30, "", inventory.Break{FromPacks: 1, Price: pounds("24.00")})
	w.offer(w.harbour, ferrules, 100, "", inventory.Break{FromPacks: 1, Price: pounds("5.00")})
	w.offer(w.harbour, cut, 1, "", at("3.00"))
	w.shelve(roll, 3)
	w.shelve(cut, 5)
	w.shelve(ferrules, 50)

	job := w.bookIn(substitution.Build{"rear.gear-housing": parsed(t, "cable-outer", "use=gear diameter_mm=4 length_mm=1350 lengths=3")}, Limits{})
	w.find(job, inspection.Replace, "rear.gear-housing")
	require.Equal(t, []string{"say how much is wanted: metres=1.4 off a roll, or wanted=2 cut lengths"}, w.finding(job, "rear.gear-housing").Asks)
	_, err := Inspect(ctx, w.tx, job, inspection.Taken{Place: "rear.gear-housing", Readings: inspection.Readings{"metres": substitution.Num(1.4)}}, now)
	require.NoError(t, err)

	q := w.quote(job)
	w.approve(job, q.Options[0].Name())
	var parts []string
	for _, l := range q.Options[0].Parts {
		parts = append(parts, l.Name, l.Amount.StringFixed(2))
	}
	require.Equal(t, []string{"gear housing by the metre", "4.00", "ferrules", "1.20"}, parts, "two metres begun, and six ferrules")
	w.use(job)
	require.Equal(t, 1, w.stock(roll).OnHand, "a metre is left on the roll")
	require.Equal(t, 5, w.stock(cut).OnHand)
	require.Equal(t, 44, w.stock(ferrules).OnHand)

	// Kept on the shelf, the next comes as a whole roll.
	w.keepOnShelf(roll, 5, 10)
	list := w.plan(ordering.Policy{})
	require.Equal(t, 1, list.Orders[0].Lines[0].Packs)
	require.Equal(t, 30, list.Orders[0].Lines[0].Pack)
	requireLedgerAddsUp(t, ctx, w.tx)
}
