package pricing

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/substitution/inspection"
)

// With the cassette to be replaced, no part that stays asks anything of the chain; but every cassette that fits has nine
// sprockets, for the shifter stays.
func TestCandidatesAgreeOnEachOther(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	require.NoError(t, SetLabour(t.Context(), w.tx, Labour{"cassette", inspection.Replace, "fit cassette", 15, pounds("11.00")}))
	nine := w.part("chain 9", "chain", chain9, "20.00")
	eight := w.part("chain 8", "chain", "speeds=8 chain_width=3/32 links=116", "20.00")
	cassette := w.part("cassette 9", "cassette", "speeds=9 teeth_min=11 teeth_max=32 freehub=hg", "30.00")
	job := w.bookIn(touringBike(t), Limits{})
	w.find(job, inspection.Replace, "chain", "rear.cassette")
	for _, p := range []inventory.Part{nine, eight, cassette} {
		w.shelve(p, 1)
	}
	s, err := LoadSituation(t.Context(), w.tx, job, now)
	require.NoError(t, err)
	candidates := map[string][]int64{}
	for i, n := range s.Needs {
		candidates[string(n.Family)] = s.Candidates[i]
	}
	require.Equal(t, map[string][]int64{"chain": {nine.ID}, "cassette": {cassette.ID}}, candidates)
}

// What nobody has is a candidate only where nothing that fits can be had; what might fit is named where few do.
func TestCandidatesCanBeHad(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	job := w.ringJob(Limits{})
	candidates := func() (sure, unsure []int64) {
		s, err := LoadSituation(t.Context(), w.tx, job, now)
		require.NoError(t, err)
		return s.Candidates[0], s.Unsure[0]
	}
	other := w.part("ring of another circle", "chainring", "teeth=50 bcd_mm=130 bolts=5", "")
	sure, _ := candidates()
	require.Equal(t, []int64{other.ID}, sure, "nothing fits: the nearest, to say why")

	nobodys := w.part("black ring that nobody has", "chainring", blackRing, "")
	unmeasured := w.part("ring of a circle that nobody measured", "chainring", unsureRing, "")
	sure, unsure := candidates()
	require.Equal(t, []int64{nobodys.ID}, sure)
	require.Equal(t, []int64{unmeasured.ID}, unsure)

	black := w.part("black ring", "chainring", blackRing, "")
	w.offer(w.north, black, 1, inventory.InStock, at("20.00"))
	sure, unsure = candidates()
	require.Equal(t, []int64{black.ID}, sure)
	require.Equal(t, []int64{unmeasured.ID}, unsure)

	for i := range enough {
		w.offer(w.north, w.part(fmt.Sprint("black ring ", i), "chainring", blackRing, ""), 1, inventory.InStock, at("20.00"))
	}
	_, unsure = candidates()
	require.Empty(t, unsure, "there is enough to choose from")
}
