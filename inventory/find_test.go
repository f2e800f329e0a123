package inventory

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/inventory/invented"
	"stead/migrations/testdb"
	"stead/substitution"
)

func TestFindParts(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	supplier := addSupplier(t, tx)
	add := func(p Part, brand, code, gtin string) Part {
		p.Brand, p.MakerCode, p.GTIN = brand, code, gtin
		added, err := AddPart(ctx, tx, p)
		require.NoError(t, err)
		return added
	}
	black := add(ring(50, 110, "black"), "Tarnhow", "TH-R50", "6291041500213")
	silver := add(ring(50, 130, "silver"), "Tarnhow", "TH-R50S", "")
	chain := add(Part{Part: substitution.Part{Family: "chain", Name: "chain 8/9 speed 100%_plain", Spec: substitution.Spec{}.
		With("speeds", substitution.List(8, 9), substitution.FromMaker)}}, "Marrick", "MAR-C9", "")
	offer := addOffer(t, tx, supplier.ID, chain.ID, 1)

	for _, c := range []struct {
		name   string
		search Search
		want   []Part
	}{
		{"all words, any order", Search{Words: "BLACK tarnhow"}, []Part{black}},
		{"a family's word", Search{Words: "chainring 50t"}, []Part{black, silver}},
		{"slightly misspelt", Search{Words: "tarnow"}, []Part{black, silver}},
		{"two words misspelt, the other way round", Search{Words: "chainrng tarnow"}, []Part{black, silver}},
		{"one misspelt, one right, one a figure, words between them", Search{Words: "marick 8/9 plain"}, []Part{chain}},
		{"two letters the other way round", Search{Words: "8/9 chian"}, []Part{chain}},
		{"a figure is no misspelling", Search{Words: "chainrng 51t tarnow"}, nil},
		{"a maker's code before words that hold it", Search{Words: "th-r50"}, []Part{black}},
		{"a GTIN", Search{Words: "6291041500213"}, []Part{black}},
		{"a supplier's code", Search{Words: offer.Code}, []Part{chain}},
		{"a wildcard is only a sign", Search{Words: "100%_plain"}, []Part{chain}},
		{"by family", Search{Family: "chain"}, []Part{chain}},
		{"by a dimension", Search{Family: "chainring", Dims: map[string]substitution.Value{"bcd_mm": substitution.Num(130)}}, []Part{silver}},
		{"by one of its speeds", Search{Dims: map[string]substitution.Value{"speeds": substitution.List(9)}}, []Part{chain}},
		{"words and a dimension", Search{Words: "tarnhow", Dims: map[string]substitution.Value{"colour": substitution.Text("silver")}}, []Part{silver}},
		{"limited", Search{Words: "tarnhow", Limit: 1}, []Part{black}},
		{"nothing like it", Search{Words: "saddle"}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := FindParts(ctx, tx, c.search)
			require.NoError(t, err)
			require.Equal(t, names(c.want), names(got))
		})
	}

	_, err := FindParts(ctx, tx, Search{Family: "chian"})
	require.ErrorContains(t, err, `there is no part family "chian"`)

	for _, name := range []string{"6291041500213", "TH-R50", " th-r50 "} {
		found, err := PartNamed(ctx, tx, name)
		require.NoError(t, err)
		require.Equal(t, black.ID, found.ID)
	}
	_, err = PartNamed(ctx, tx, "tarnow")
	require.ErrorContains(t, err, "there is no part tarnow: did you mean ")
	require.ErrorContains(t, err, black.Name)
}

// Of many that are spelt like a word some are shown. Where looking takes too long it is given up in a sentence, and whoever
// looks goes on.
func TestSpellingOfMany(t *testing.T) {
	pool, ctx := testdb.New(t), t.Context()
	invented.Fill(t, pool, 8_000)
	many, err := FindParts(ctx, pool, Search{Words: "tarnow"})
	require.NoError(t, err)
	require.Len(t, many, usualLimit)
	for _, p := range many {
		require.Equal(t, "Tarnhow", p.Brand)
	}

	usual := spellTime
	spellTime = time.Millisecond
	t.Cleanup(func() { spellTime = usual })
	tx, err := pool.Begin(ctx)
	require.NoError(t, err)
	defer tx.Rollback(ctx)
	var spelling *SpellingError
	_, err = FindParts(ctx, tx, Search{Words: "tarnow chane"})
	require.ErrorAs(t, err, &spelling)
	require.ErrorContains(t, err, "no part has all of the words “tarnow chane”")
	_, err = PartNamed(ctx, tx, "tarnow chane")
	require.ErrorContains(t, err, "there is no part tarnow chane", "without a guess")
	found, err := FindParts(ctx, tx, Search{Words: "tarnhow chain", Limit: 3})
	require.NoError(t, err, "the transaction goes on")
	require.NotEmpty(t, found)
	var limit string
	require.NoError(t, tx.QueryRow(ctx, `SHOW statement_timeout`).Scan(&limit))
	require.Equal(t, "0", limit, "and has no bound of its own")
}

func names(parts []Part) []string {
	var all []string
	for _, p := range parts {
		all = append(all, p.Name)
	}
	return all
}
