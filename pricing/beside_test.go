package pricing

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/substitution/inspection"
)

// A nine-speed cassette on the longer freehub body wants a 1.85 mm spacer behind it.
func TestQuoteNamesWhatIsWantedBeside(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	require.NoError(t, SetLabour(t.Context(), w.tx, Labour{"cassette", inspection.Replace, "fit cassette", 10, pounds("10.00")}))
	w.offer(w.harbour, w.part("cassette 9-speed 11-32", "cassette", "speeds=9 teeth_min=11 teeth_max=32 freehub=hg", "30.00"), 1, inventory.InStock, at("20.00"))
	bike := touringBike(t)
	bike["rear.hub"] = parsed(t, "hub", "freehub=hg-l oln_mm=135 axle=qr position=rear")
	bike["rear.cassette"] = parsed(t, "cassette", "speeds=9 teeth_min=11 teeth_max=32 freehub=hg-l")
	job := w.bookIn(bike, Limits{})
	w.find(job, inspection.Replace, "rear.cassette")

	q := w.quote(job)
	require.Empty(t, q.Options)
	require.Len(t, q.Refusal.Why, 1)
	require.Regexp(t, `^the cassette wants beside it: .*1\.85 mm.*; neither the shelf nor any supplier has that$`, q.Refusal.Why[0])

	w.offer(w.harbour, w.part("spacer 1.85 mm", "consumable", "purpose=freehub-spacer width_mm=1.85", "2.50"), 1, inventory.InStock, at("1.00"))
	o := named(t, w.quote(job), "cheapest")
	require.Len(t, o.Parts, 2)
	require.True(t, o.Parts[1].Brought)
	require.Contains(t, o.Parts[1].For, "1.85 mm")
	// 30.00 and 2.50 as recommended, carriage 7.14, labour 12.00 with tax.
	require.Equal(t, "51.64", o.Total.StringFixed(2))
}
