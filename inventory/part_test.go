package inventory

import (
	"encoding/json"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
	"stead/substitution"
)

func TestAddPartKeepsEverything(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	level, to := 2, 6
	p := ring(50, 110, "black")
	p.Brand, p.MakerCode, p.GTIN = "Tarnhow", "TH-R50", "6291041500213"
	p.Retail = decimal.NewNullDecimal(pounds("24.99"))
	p.ReorderLevel, p.ReorderTo = &level, &to
	p.Spec["bolts"] = substitution.Fact{Value: substitution.Num(5), Origin: substitution.Assumed, Note: "counted on the picture"}

	added, err := AddPart(ctx, tx, p)
	require.NoError(t, err)
	require.NotZero(t, added.ID)
	require.Equal(t, substitution.Count(5), added.Spec["bolts"].Value, "a number gets its dimension's form")

	kept, err := PartByID(ctx, tx, added.ID)
	require.NoError(t, err)
	require.Equal(t, added, kept)
	all, err := Parts(ctx, tx, []int64{added.ID, added.ID + 1000})
	require.NoError(t, err)
	require.Equal(t, map[int64]Part{added.ID: added}, all)

	written, err := json.Marshal(added)
	require.NoError(t, err)
	var read Part
	require.NoError(t, json.Unmarshal(written, &read))
	require.Equal(t, added, read)
}

func TestAddPartRefuses(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	first := ring(50, 110, "black")
	first.Brand, first.MakerCode, first.GTIN = "Tarnhow", "TH-R50", "6291041500213"
	_, err := AddPart(ctx, tx, first)
	require.NoError(t, err)
	three, two := 3, 2

	for _, c := range []struct {
		name, problem string
		change        func(*Part)
	}{
		{"no name", "a name is missing", func(p *Part) { p.Name = "  " }},
		{"no such family", `there is no part family "chian"`, func(p *Part) { p.Family = "chian" }},
		{"no such dimension", `a chainring has no dimension "bore_mm"`, func(p *Part) {
			p.Spec = p.Spec.With("bore_mm", substitution.Num(10), substitution.Measured)
		}},
		{"an absurd size", "teeth of 900 cannot be meant", func(p *Part) {
			p.Spec = p.Spec.With("teeth", substitution.Count(900), substitution.Measured)
		}},
		{"text for a number", `teeth is a whole number, not "fifty"`, func(p *Part) {
			p.Spec = p.Spec.With("teeth", substitution.Text("fifty"), substitution.Measured)
		}},
		{"a frame", "a frame stays with its bike", func(p *Part) { p.Family, p.Spec = "frame", nil }},
		{"a wrong check digit", "GTIN 6291041500214 ends in the wrong check digit: after 629104150021 comes 3", func(p *Part) { p.GTIN = "6291041500214" }},
		{"another part's GTIN", "GTIN 6291041500213 belongs to part", func(p *Part) { p.GTIN = "6291041500213" }},
		{"another part's maker's code, in capitals", "maker's code th-r50 belongs to part", func(p *Part) { p.Brand, p.MakerCode = "TARNHOW", "th-r50" }},
		{"a price of zero", "a retail price of 0 cannot be meant", func(p *Part) { p.Retail = decimal.NewNullDecimal(decimal.Zero) }},
		{"half a reorder level", "give both or neither", func(p *Part) { p.ReorderLevel = &two }},
		{"reordered downwards", "not from 3 to 2", func(p *Part) { p.ReorderLevel, p.ReorderTo = &three, &two }},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := ring(48, 110, "silver")
			c.change(&p)
			_, err := AddPart(ctx, tx, p)
			require.ErrorContains(t, err, c.problem)
		})
	}
	var parts int
	require.NoError(t, tx.QueryRow(ctx, `SELECT count(*) FROM part`).Scan(&parts))
	require.Equal(t, 1, parts)
}

func TestUnknownPart(t *testing.T) {
	_, err := PartByID(t.Context(), testdb.Tx(t), 4711)
	require.EqualError(t, err, "there is no part 4711")
	require.ErrorAs(t, err, new(*UnknownError))
}
