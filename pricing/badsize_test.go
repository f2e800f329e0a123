package pricing

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/substitution"
	"stead/substitution/inspection"
)

// notMeant is what no part of the family can have: a figure far off either way, a word of no list, a dimension of
// something else.
func notMeant(t *testing.T, table *substitution.Table) []substitution.Spec {
	out := []substitution.Spec{substitution.MakeSpec(map[string]substitution.Value{"horn_volume_db": substitution.Num(3)}, nil, nil)}
	for _, d := range table.Dimensions {
		bad := substitution.Text("quokka")
		switch d.Form {
		case substitution.Number, substitution.Int:
			bad = substitution.Num(-d.High - 1)
			out = append(out, substitution.MakeSpec(map[string]substitution.Value{d.Name: substitution.Num(d.High*10 + 1)}, nil, nil))
		case substitution.Word:
			if len(d.Words) == 0 {
				continue
			}
		}
		out = append(out, substitution.MakeSpec(map[string]substitution.Value{d.Name: bad}, nil, nil))
	}
	require.NotEmpty(t, out)
	return out
}

// What cannot be meant is kept through no door, whatever the family: neither of a bike that is booked in by a file, nor
// at a place that is recorded, nor in the catalogue, nor as a reading.
func TestNothingIsKeptThatCannotBeMeant(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	ctx := t.Context()
	job := w.bookIn(substitution.Build{}, Limits{})
	kept := func() (n int) {
		require.NoError(t, w.tx.QueryRow(ctx, `SELECT (SELECT count(*) FROM fitted) + (SELECT count(*) FROM part) + (SELECT count(*) FROM bike) + (SELECT count(*) FROM visit)`).Scan(&n))
		return n
	}
	before, tried := kept(), 0
	refuses := func(what string, try func() error) {
		err := try()
		require.Error(t, err, what)
		require.NotContains(t, err.Error(), "SQLSTATE", what)
		tried++
	}
	for _, family := range substitution.Families() {
		table, err := substitution.TableOf(family)
		require.NoError(t, err)
		place := table.Sites[0].Place
		for _, spec := range notMeant(t, table) {
			part := substitution.Part{Family: family, Name: "a part", Spec: spec}
			what := string(family) + " " + spec.String()
			refuses(what, func() error { return setFitted(ctx, w.tx, 1, place, &part) })
			refuses(what, func() error { _, err := inventory.AddPart(ctx, w.tx, inventory.Part{Part: part}); return err })
		}
		for _, r := range table.Readings {
			if r.Form != substitution.Number && r.Form != substitution.Int {
				continue
			}
			refuses(string(family)+" "+r.Name, func() error {
				_, err := Inspect(ctx, w.tx, job, inspection.Taken{Place: place, Readings: inspection.Readings{r.Name: substitution.Num(-r.High - 1)}}, now)
				return err
			})
		}
	}
	require.Equal(t, before, kept())
	t.Logf("%d tries", tried)
}
