package inventory

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/migrations/testdb"
	"stead/substitution"
	_ "stead/testdata/drawn" // the same values in every run
)

// vaguely are specs of chainrings of which some dimensions are not known; sizes keep near each other, so that conditions
// cut between them.
var vaguely = rapid.Custom(func(t *rapid.T) substitution.Spec {
	s := substitution.Spec{}
	some := func(name string, v func() substitution.Value) {
		if rapid.IntRange(0, 4).Draw(t, name+" known") > 0 {
			s[name] = substitution.Fact{Value: v(), Origin: substitution.FromMaker}
		}
	}
	some("teeth", func() substitution.Value { return substitution.Count(rapid.IntRange(34, 40).Draw(t, "teeth")) })
	some("pairs_with", func() substitution.Value { return substitution.Count(rapid.IntRange(34, 40).Draw(t, "pairs with")) })
	some("bcd_mm", func() substitution.Value {
		return substitution.Num(rapid.SampledFrom([]float64{94, 94.7, 95, 109.7, 109.8, 110, 110.3, 110.4}).Draw(t, "bcd"))
	})
	some("bolt_pattern", func() substitution.Value {
		return substitution.Text(rapid.SampledFrom([]string{"even", "asymmetric"}).Draw(t, "pattern"))
	})
	some("speeds", func() substitution.Value {
		return substitution.List(rapid.SliceOfN(rapid.IntRange(8, 12), 1, 3).Draw(t, "speeds")...)
	})
	return s
})

var asked = rapid.Custom(func(t *rapid.T) substitution.Condition {
	switch rapid.IntRange(0, 4).Draw(t, "kind") {
	case 0:
		return substitution.Between{Dimension: "bcd_mm", Low: rapid.SampledFrom([]float64{94 - 0.3, 110 - 0.3, 110}).Draw(t, "low"),
			High: rapid.SampledFrom([]float64{94 + 0.7, 110 + 0.3, 1e300}).Draw(t, "high")}
	case 1:
		low := rapid.Float64Range(33, 41).Draw(t, "low")
		return substitution.Between{Dimension: "teeth", Low: low, High: low + rapid.Float64Range(0, 4).Draw(t, "width")}
	case 2:
		return substitution.OneOf{Dimension: "bolt_pattern", Words: rapid.SliceOfN(rapid.SampledFrom([]string{"even", "asymmetric", "oval"}), 0, 2).Draw(t, "words")}
	case 3:
		return substitution.SharesAny{Dimension: "speeds", Counts: rapid.SliceOfN(rapid.IntRange(7, 13), 0, 3).Draw(t, "counts")}
	default:
		return substitution.Weighted{Terms: []substitution.WeightedTerm{{Weight: 1, Dimension: "teeth"}, {Weight: -1, Dimension: "pairs_with"}},
			AtMost: float64(rapid.IntRange(-4, 4).Draw(t, "at most"))}
	}
})

// The database and the fit engine say the same of every part: the same condition narrows and judges.
func TestCandidatesAreThoseAdmitted(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	parts := map[int64]Part{}
	for i := range 150 {
		p := ring(30, 94, "black")
		p.Name, p.Spec = fmt.Sprintf("ring %d", i), vaguely.Example(i)
		added, err := AddPart(ctx, tx, p)
		require.NoError(t, err)
		parts[added.ID] = added
	}
	_, err := AddPart(ctx, tx, Part{Part: substitution.Part{Family: "chain", Name: "chain of no concern", Spec: substitution.Spec{}}})
	require.NoError(t, err)

	rapid.Check(t, func(r *rapid.T) {
		conditions := rapid.SliceOfN(asked, 0, 4).Draw(r, "conditions")
		known, unknown, err := Candidates(ctx, tx, "chainring", conditions, 1000)
		require.NoError(r, err)
		var wantKnown, wantUnknown []int64
		for _, id := range slices.Sorted(maps.Keys(parts)) {
			p := parts[id]
			if slices.ContainsFunc(conditions, func(c substitution.Condition) bool { return !c.Admits(&p.Part) }) {
				continue
			}
			lacks := func(name string) bool { _, has := p.Get(name); return !has }
			if slices.ContainsFunc(conditions, func(c substitution.Condition) bool { return slices.ContainsFunc(dimensionsOf(c), lacks) }) {
				wantUnknown = append(wantUnknown, id)
			} else {
				wantKnown = append(wantKnown, id)
			}
		}
		require.Equal(r, wantKnown, ids(known))
		require.Equal(r, wantUnknown, ids(unknown))
	})
}

func ids(parts []Part) []int64 {
	var all []int64
	for _, p := range parts {
		all = append(all, p.ID)
	}
	return all
}

func TestCandidatesInReachComeFirst(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	request := begun(t, tx)
	addBins(t, tx, "A1")
	rest, offered, shelved := addRing(t, tx), addRing(t, tx), addRing(t, tx)
	addOffer(t, tx, addSupplier(t, tx).ID, offered.ID, 1)
	require.NoError(t, PutIn(ctx, tx, request, shelved.ID, "A1", 1, Opening, ""))
	known, _, err := Candidates(ctx, tx, "chainring", nil, 0)
	require.NoError(t, err)
	require.Equal(t, []int64{shelved.ID, offered.ID, rest.ID}, ids(known))
	known, _, err = Candidates(ctx, tx, "chainring", nil, 1)
	require.NoError(t, err)
	require.Equal(t, []int64{shelved.ID}, ids(known))
	obtainable, err := ObtainableCandidates(ctx, tx, "chainring", nil, 0)
	require.NoError(t, err)
	require.Equal(t, []int64{shelved.ID, offered.ID}, ids(obtainable))
	_, err = tx.Exec(ctx, `UPDATE shelf SET reserved = on_hand`)
	require.NoError(t, err)
	obtainable, err = ObtainableCandidates(ctx, tx, "chainring", nil, 0)
	require.NoError(t, err)
	require.Equal(t, []int64{offered.ID}, ids(obtainable), "what is kept for others cannot be had")

	_, _, err = Candidates(ctx, tx, "chainrings", nil, 0)
	require.ErrorContains(t, err, `there is no part family "chainrings"`)
}

// However a part comes to be offered or to lie on the shelf, it is found among what can be had.
func TestWhateverCanBeHadIsFound(t *testing.T) {
	for name, get := range map[string]func(t *testing.T, tx pgx.Tx, part, other Part){
		"offered": func(t *testing.T, tx pgx.Tx, part, _ Part) { addOffer(t, tx, addSupplier(t, tx).ID, part.ID, 1) },
		"offered as another part before": func(t *testing.T, tx pgx.Tx, part, other Part) {
			addOffer(t, tx, addSupplier(t, tx).ID, other.ID, 1)
			_, err := tx.Exec(t.Context(), `UPDATE offer SET part_id = $1`, part.ID)
			require.NoError(t, err)
		},
		"on the shelf": func(t *testing.T, tx pgx.Tx, part, _ Part) {
			addBins(t, tx, "A1")
			require.NoError(t, PutIn(t.Context(), tx, begun(t, tx), part.ID, "A1", 1, Opening, ""))
		},
	} {
		t.Run(name, func(t *testing.T) {
			tx, ctx := testdb.Tx(t), t.Context()
			part, other := addRing(t, tx), addRing(t, tx)
			_, err := tx.Exec(ctx, `UPDATE part SET traded = false`)
			require.NoError(t, err)
			found, err := ObtainableCandidates(ctx, tx, "chainring", nil, 0)
			require.NoError(t, err)
			require.Empty(t, found)
			get(t, tx, part, other)
			found, err = ObtainableCandidates(ctx, tx, "chainring", nil, 0)
			require.NoError(t, err)
			require.Equal(t, []int64{part.ID}, ids(found))
		})
	}
}

// Every condition that the fit rules can set is known here.
func TestEveryKindOfConditionIsPutIntoSQL(t *testing.T) {
	tx, was := testdb.Tx(t), substitution.Build{}
	for _, site := range substitution.Sites() {
		if table, err := substitution.TableOf(site.Family); err == nil {
			was[site.Place] = &substitution.Part{Family: table.Family, Spec: middling(table)}
		}
	}
	scene := substitution.Scene{Was: was, Now: was}
	kinds := map[string]bool{}
	for place, part := range was {
		open := scene
		open.Open = map[substitution.Place]bool{place: true}
		conditions := open.Narrow(place)
		for _, c := range conditions {
			kinds[fmt.Sprintf("%T", c)] = true
		}
		_, _, err := Candidates(t.Context(), tx, part.Family, conditions, 1)
		require.NoError(t, err, place)
	}
	require.GreaterOrEqual(t, len(kinds), 4, kinds)
}

// middling is a spec with every dimension of a family somewhere between its bounds.
func middling(table *substitution.Table) substitution.Spec {
	s := substitution.Spec{}
	for _, d := range table.Dimensions {
		v := substitution.Text("plain")
		switch d.Form {
		case substitution.Number, substitution.Int:
			v = substitution.Count(int(d.Low+d.High) / 2)
		case substitution.Ints:
			v = substitution.List(9)
		case substitution.Flag:
			v = substitution.Yes(true)
		case substitution.Word:
			if len(d.Words) > 0 {
				v = substitution.Text(d.Words[0])
			}
		}
		s[d.Name] = substitution.Fact{Value: v, Origin: substitution.Assumed}
	}
	return s
}
