package pricing

import (
	"context"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
	"stead/substitution"
)

func TestBikeRoundTrip(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	build := touringBike(t)
	measured := *build["chain"]
	measured.Name = "the old chain"
	measured.Spec["links"] = substitution.Fact{Value: substitution.Count(108), Origin: substitution.Measured, Note: "two links were taken out"}
	build["chain"] = &measured

	added, err := AddBike(t.Context(), w.tx, Bike{Customer: Customer{Name: "Ines Falkner", Contact: "bench card 12"}, Words: "blue touring bike", Build: build})
	require.NoError(t, err)
	got, err := BikeByID(t.Context(), w.tx, added.ID)
	require.NoError(t, err)
	require.Equal(t, added, got)
	require.Contains(t, got.Build, substitution.Place("bottom-bracket"))
	require.Nil(t, got.Build["bottom-bracket"], "a part is there and nothing is known of it")
	require.NotContains(t, got.Build, substitution.Place("front.tyre"), "nobody has looked")
	require.NotContains(t, got.Build["crank"].Spec, "spindle_interface", "what is not known of a part stays so")

	t.Run("what was not known is measured later", func(t *testing.T) {
		bracket := parsed(t, "bottom-bracket", "shell=bsa shell_mm=68")
		require.NoError(t, setFitted(t.Context(), w.tx, added.ID, "bottom-bracket", bracket))
		got, err := BikeByID(t.Context(), w.tx, added.ID)
		require.NoError(t, err)
		require.Equal(t, bracket, got.Build["bottom-bracket"])
	})
}

// Each refusal is one sentence, and of the bike and its owner nothing is kept.
func TestBikeRefused(t *testing.T) {
	part := func(family substitution.Family, dims map[string]substitution.Value) *substitution.Part {
		return &substitution.Part{Family: family, Spec: substitution.MakeSpec(dims, nil, nil)}
	}
	good := Bike{Customer: Customer{Name: "Ines Falkner"}, Words: "blue touring bike"}
	for _, c := range []struct {
		name string
		bike func(Bike) Bike
		says string
	}{
		{"no owner", func(b Bike) Bike { b.Customer.Name = " "; return b }, "owner's name"},
		{"no words", func(b Bike) Bike { b.Words = ""; return b }, "a few words to know it by"},
		{"unknown place", func(b Bike) Bike { b.Build = substitution.Build{"chain": nil, "crank.moon": nil}; return b }, "crank.moon"},
		{"unknown family", func(b Bike) Bike { b.Build = substitution.Build{"chain": part("rope", nil)}; return b }, "rope"},
		{"another family's place", func(b Bike) Bike { b.Build = substitution.Build{"chain": part("cassette", nil)}; return b }, "chain takes a chain, not a cassette"},
		{"unknown dimension", func(b Bike) Bike {
			b.Build = substitution.Build{"chain": part("chain", map[string]substitution.Value{"length": substitution.Num(9)})}
			return b
		}, "length"},
		{"a word where a number belongs", func(b Bike) Bike {
			b.Build = substitution.Build{"rear.hub.bearing-left": part("cartridge-bearing", map[string]substitution.Value{"bore_mm": substitution.Text("fifteen")})}
			return b
		}, "bore_mm"},
		{"a bearing of 900 mm", func(b Bike) Bike {
			b.Build = substitution.Build{"rear.hub.bearing-left": part("cartridge-bearing", map[string]substitution.Value{"outer_mm": substitution.Num(900)})}
			return b
		}, "900"},
		{"a size below zero", func(b Bike) Bike {
			b.Build = substitution.Build{"rear.hub.bearing-left": part("cartridge-bearing", map[string]substitution.Value{"outer_mm": substitution.Num(-1)})}
			return b
		}, "-1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			says := w.refused(func(ctx context.Context, tx pgx.Tx) error {
				_, err := AddBike(ctx, tx, c.bike(good))
				return err
			})
			require.Contains(t, says, c.says)
			require.NotContains(t, says, "\n")
			var kept int
			require.NoError(t, w.tx.QueryRow(t.Context(), `SELECT (SELECT count(*) FROM bike) + (SELECT count(*) FROM customer)`).Scan(&kept))
			require.Zero(t, kept)
		})
	}
}
