package pricing

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/substitution/inspection"
)

// The touring bike's derailleur takes 34 teeth at most, and all that is offered is a cassette of 36, for which its chain is
// too short as well.
func TestQuoteNamesTheKeptPartInTheWay(t *testing.T) {
	blocked := func(t *testing.T) (*workshop, int64) {
		w := newWorkshop(t, testdb.Tx(t))
		require.NoError(t, SetLabour(t.Context(), w.tx, Labour{"cassette", inspection.Replace, "fit cassette", 10, pounds("10.00")}))
		w.offer(w.harbour, w.part("cassette 9-speed 11-36", "cassette", "speeds=9 teeth_min=11 teeth_max=36 freehub=hg", "30.00"), 1, inventory.InStock, at("20.00"))
		job := w.bookIn(touringBike(t), Limits{})
		w.find(job, inspection.Replace, "rear.cassette")
		return w, job
	}
	long := func(w *workshop) {
		w.offer(w.harbour, w.part("chain 9-speed", "chain", chain9, "17.99"), 1, inventory.InStock, at("9.00"))
		w.offer(w.harbour, w.part("derailleur 9-speed, long cage", "rear-derailleur", "speeds=9 teeth_max=36 capacity=47 pull_family=R1.7 cage=long mount=hanger", "60.00"),
			1, inventory.InStock, at("40.00"))
	}
	t.Run("with what takes it", func(t *testing.T) {
		w, job := blocked(t)
		long(w)
		require.NoError(t, SetLabour(t.Context(), w.tx, Labour{"rear-derailleur", inspection.Replace, "fit rear derailleur", 30, pounds("25.00")}))
		q := w.quote(job)
		require.Empty(t, q.Options, "it is told, not chosen")
		// 30.00, 60.00 and 17.99 as recommended, carriage 7.14, labour 10.00, 25.00 and 11.00 with tax 55.20.
		require.Len(t, q.Refusal.WaysOut, 1, "the chain alone or the derailleur alone is no help")
		require.Contains(t, q.Refusal.WaysOut[0], "replace the chain and the rear derailleur as well: £170.33, all here by Monday 9 March, 9 in 10; ")
	})
	t.Run("whose labour has no price", func(t *testing.T) {
		w, job := blocked(t)
		long(w)
		require.Contains(t, w.quote(job).Refusal.WaysOut[0], "replace the chain and the rear derailleur as well, not all labour counted: £140.33, ")
	})
	t.Run("for which nothing is offered", func(t *testing.T) {
		w, job := blocked(t)
		require.Empty(t, w.quote(job).Refusal.WaysOut)
	})
}
