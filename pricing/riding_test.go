package pricing

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/pricing/ordering"
)

// sold books sales over the counter of a year.
func (w *workshop) sold(p inventory.Part, every int) {
	w.t.Helper()
	for ago := 350; ago > 1; ago -= every {
		_, err := w.tx.Exec(w.t.Context(), `
			INSERT INTO movement (at, part_id, bin_id, pieces, reason, request) SELECT $1, $2, min(id), v.pieces, v.reason, $3
			FROM bin, (VALUES (1, 'opening'), (-1, 'sold')) AS v (pieces, reason) GROUP BY v.pieces, v.reason ORDER BY v.pieces DESC`,
			now.AddDate(0, 0, -ago), p.ID, w.request)
		require.NoError(w.t, err)
	}
}

// lines are the parts of a list, and how many of each for the shelf.
func lines(list ordering.List) map[string]int {
	out := map[string]int{}
	for _, o := range list.Orders {
		for _, l := range o.Lines {
			out[l.Name] += l.ForShelf
		}
	}
	return out
}

// A part above its level rides along where a parcel goes anyway, never begins one, and does not fill up to free
// carriage at a loss.
func TestPartsNearTheirLevelsRideAlong(t *testing.T) {
	for _, c := range []struct {
		name           string
		onShelf, every int
		job            bool
		price          string
		policy         ordering.Policy
		want           int
	}{
		{"near its level, sells often", 3, 12, true, "9.00", ordering.Policy{}, 3},
		{"no parcel goes", 3, 12, false, "9.00", ordering.Policy{}, 0},
		{"it hardly sells", 3, 340, true, "9.00", ordering.Policy{}, 0},
		{"it is full", 6, 12, true, "9.00", ordering.Policy{}, 0},
		{"only what makes the whole cheaper was asked for", 3, 12, true, "9.00", ordering.Policy{RefillIfCheaper: true}, 0},
		// 3 x £30 would make carriage free, but lie for the rest of the year.
		{"not to fill up to free carriage", 5, 340, true, "30.00", ordering.Policy{}, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			ring, chain := w.part("black ring 50T", "chainring", blackRing, "33.49"), w.part("chain 9-speed", "chain", chain9, "17.99")
			w.offer(w.harbour, ring, 1, inventory.InStock, at("22.00"))
			w.offer(w.harbour, chain, 1, inventory.InStock, at(c.price))
			w.sold(chain, c.every)
			w.shelve(chain, c.onShelf)
			w.keepOnShelf(chain, 2, 6)
			if c.job {
				w.approvedRing()
			}
			list := w.plan(c.policy)
			require.Equal(t, c.want, lines(list)["chain 9-speed"])
			require.True(t, list.Proven)
			if c.want == 0 {
				return
			}
			require.Contains(t, list.Orders[0].Reasons[0], "chain 9-speed rides along near its reorder level: that saves about")
			require.True(t, list.Total.Equal(list.LowerBound))
			placed := w.place(list)
			require.Len(t, placed, 1)
			require.Equal(t, c.want, w.stock(chain).OnOrder)
			require.Empty(t, w.plan(ordering.Policy{}).Orders, "what rode along is on its way")
		})
	}
}
