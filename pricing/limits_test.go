package pricing

import (
	"context"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/catalogue"
	"stead/migrations/testdb"
	"stead/substitution"
)

func (w *workshop) limit(job int64, l Limits) {
	w.t.Helper()
	set, err := Limit(w.t.Context(), w.tx, job, func(Limits) (Limits, error) { return l, nil })
	require.NoError(w.t, err)
	require.Equal(w.t, l, set)
}

func TestLimitsOnPartsAndSuppliers(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	black, silver := w.part("black ring 50T", "chainring", blackRing, "33.49"), w.part("silver ring 50T", "chainring", silverRing, "")
	small := w.part("ring for 130 mm", "chainring", "teeth=50 bcd_mm=130 bolts=5 bolt_pattern=even position=outer speeds=9,10 chain_width=11/128", "")
	w.offer(w.north, black, 1, inventory.InStock, at("20.00"))
	w.offer(w.harbour, silver, 1, inventory.InStock, at("14.25"))
	w.offer(w.harbour, small, 1, inventory.InStock, at("1.00"))
	w.shelve(silver, 1)
	job := w.ringJob(Limits{})
	ring := func(id int64) map[substitution.Place]int64 {
		return map[substitution.Place]int64{"crank.outer-ring": id}
	}
	for _, c := range []struct {
		name   string
		limits Limits
		parts  []int64 // of the options that are left, whichever they are
		shelf  []bool
	}{
		{"none", Limits{}, []int64{silver.ID, black.ID}, []bool{true, false}},
		{"only this part", Limits{OnlyParts: ring(black.ID)}, []int64{black.ID}, []bool{false}},
		{"a part for a place that needs none", Limits{OnlyParts: map[substitution.Place]int64{"crank.inner-ring": silver.ID}}, []int64{silver.ID, black.ID}, []bool{true, false}},
		{"not this part", Limits{NotParts: []int64{silver.ID, small.ID}}, []int64{black.ID}, []bool{false}},
		{"nothing from a supplier", Limits{NotSuppliers: []string{"northmoor"}}, []int64{silver.ID}, []bool{true}},
		{"everything from one, or the shelf", Limits{OnlySupplier: "harbour"}, []int64{silver.ID}, []bool{true}},
		{"nothing from the shelf", Limits{NotSuppliers: []string{Shelf}, NotParts: []int64{black.ID}}, []int64{silver.ID}, []bool{false}},
		{"everything from the shelf", Limits{OnlySupplier: Shelf}, []int64{silver.ID}, []bool{true}},
		{"a part that was declined before, and is asked for now", Limits{OnlyParts: ring(silver.ID), NotSuppliers: []string{Shelf},
			Declined: []Difference{{"crank.outer-ring", "chainring.finish", "silver polished alloy"}}}, []int64{silver.ID}, []bool{false}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w.limit(job, c.limits)
			var parts []int64
			var shelf []bool
			for _, o := range w.quote(job).Options {
				parts, shelf = append(parts, o.Parts[0].PartID), append(shelf, o.Parts[0].Shelf)
			}
			require.Equal(t, c.parts, parts)
			require.Equal(t, c.shelf, shelf)
		})
	}
	for _, c := range []struct {
		name    string
		limits  Limits
		why     string
		waysOut string
	}{
		{"a part that does not fit", Limits{OnlyParts: ring(small.ID)}, "ring for 130 mm does not fit: outer chainring bolt circle 130 mm", "give up “only ring for 130 mm for the outer chainring”: "},
		{"a supplier that has none", Limits{OnlySupplier: "northmoor", NotParts: []int64{black.ID}, NotSuppliers: []string{Shelf}}, "no set of parts keeps every wish at once", "give up “nothing from the shelf”: "},
	} {
		t.Run(c.name, func(t *testing.T) {
			w.limit(job, c.limits)
			q := w.quote(job)
			require.Empty(t, q.Options)
			require.Contains(t, q.Refusal.Why[0], c.why)
			require.Contains(t, q.Refusal.WaysOut[len(q.Refusal.WaysOut)-1], c.waysOut)
		})
	}
}

// A limit follows a part that has become one with another.
func TestLimitsFollowAPartMadeOne(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	black, twin := w.part("black ring 50T", "chainring", blackRing, "33.49"), w.part("the same ring", "chainring", blackRing, "")
	w.offer(w.north, black, 1, inventory.InStock, at("20.00"))
	job := w.ringJob(Limits{})
	w.limit(job, Limits{OnlyParts: map[substitution.Place]int64{"crank.outer-ring": twin.ID}})
	require.Empty(t, w.quote(job).Options, "nobody sells it")
	_, err := catalogue.Merge(t.Context(), w.tx, black.ID, twin.ID)
	require.NoError(t, err)
	options := w.quote(job).Options
	require.NotEmpty(t, options)
	require.Equal(t, black.ID, options[0].Parts[0].PartID)
}

func TestLimitsThatCannotBeMeant(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ring := w.part("black ring 50T", "chainring", blackRing, "33.49")
	job := w.ringJob(Limits{})
	for _, c := range []struct {
		name   string
		limits Limits
		says   string
	}{
		{"a supplier that is the only one and none", Limits{OnlySupplier: "harbour", NotSuppliers: []string{"harbour"}}, "cannot both be kept"},
		{"no such supplier", Limits{NotSuppliers: []string{"harbor"}}, "there is no supplier harbor"},
		{"a ring for a chain", Limits{OnlyParts: map[substitution.Place]int64{"chain": ring.ID}}, "black ring 50T is a chainring, and the chain takes a chain"},
		{"a part that is the only one and none", Limits{OnlyParts: map[substitution.Place]int64{"crank.outer-ring": ring.ID}, NotParts: []int64{ring.ID}}, "cannot both be kept"},
		{"no such part", Limits{NotParts: []int64{999}}, "there is no part 999"},
		{"fewer suppliers than none", Limits{MostSuppliers: -1}, "at most -1 suppliers cannot be meant"},
		{"nothing to spend", Limits{MostToSpend: nullPounds("0")}, "at most 0 to spend cannot be meant"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Contains(t, w.refused(func(ctx context.Context, tx pgx.Tx) error {
				_, err := Limit(ctx, tx, job, func(Limits) (Limits, error) { return c.limits, nil })
				return err
			}), c.says)
		})
	}
}
