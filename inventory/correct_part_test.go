package inventory

import (
	"context"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
	"stead/substitution"
)

var hand = Hand{By: "Otis", Why: "on the bench", At: time.Date(2026, 3, 3, 10, 0, 0, 0, time.UTC)}

// undone is an attempt that must fail, in a savepoint: it says why, in one sentence, and nothing is changed.
func undone(t *testing.T, tx pgx.Tx, do func(ctx context.Context, tx pgx.Tx) error) string {
	t.Helper()
	inner, err := tx.Begin(t.Context())
	require.NoError(t, err)
	err = do(t.Context(), inner)
	require.Error(t, err)
	require.NotContains(t, err.Error(), "SQLSTATE")
	require.NotContains(t, err.Error(), "\n")
	require.NoError(t, inner.Rollback(t.Context()))
	return err.Error()
}

func addPart(t *testing.T, tx pgx.Tx, p Part) Part {
	t.Helper()
	p, err := AddPart(t.Context(), tx, p)
	require.NoError(t, err)
	return p
}

func TestCorrectPartKeepsItsTrail(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	addBins(t, tx, "A1")
	p := addPart(t, tx, ring(50, 110, "black"))
	level, to := 1, 3
	is, err := CorrectPart(ctx, tx, p.ID, hand, func(p *Part) error {
		p.Name, p.Bin, p.ReorderLevel, p.ReorderTo = "ring 52T", "A1", &level, &to
		p.Spec["teeth"] = substitution.Fact{Value: substitution.Count(52), Origin: substitution.Measured, Note: "counted twice"}
		return nil
	})
	require.NoError(t, err)
	kept, err := PartByID(ctx, tx, p.ID)
	require.NoError(t, err)
	require.Equal(t, is, kept)
	require.Equal(t, "A1", kept.Bin)
	trail, err := Corrections(ctx, tx, OfPart, p.ID)
	require.NoError(t, err)
	var changes []Change
	for _, c := range trail {
		require.Equal(t, "Otis", c.By)
		require.Equal(t, "on the bench", c.Why)
		require.True(t, c.At.Equal(hand.At))
		changes = append(changes, c.Change)
	}
	require.Equal(t, []Change{{"name", p.Name, "ring 52T"}, {"bin", "", "A1"}, {"reorder", "", "at 1 up to 3"},
		{"teeth", "50 (" + string(p.Spec["teeth"].Origin) + ")", "52 (measured: counted twice)"}}, changes)
	said, err := collectOne(ctx, tx, pgx.RowTo[[]string], `SELECT said FROM part WHERE id = $1`, p.ID)
	require.NoError(t, err)
	require.Equal(t, []string{"teeth"}, said)
	require.Contains(t, undone(t, tx, func(ctx context.Context, tx pgx.Tx) error {
		_, err := tx.Exec(ctx, `UPDATE correction SET why = ''`)
		if err != nil {
			return &TakenError{What: "the trail", By: "the database"}
		}
		return nil
	}), "the trail")
}

func TestCorrectPartRefuses(t *testing.T) {
	tx := testdb.Tx(t)
	first := ring(50, 110, "black")
	first.Brand, first.MakerCode, first.GTIN = "Tarnhow", "TH-R50", "6291041500213"
	other, p := addPart(t, tx, first), addPart(t, tx, ring(48, 110, "silver"))
	none := 0
	for _, c := range []struct {
		name, says string
		id         int64
		hand       Hand
		change     func(*Part)
	}{
		{"nothing", "there is nothing to correct", p.ID, hand, func(p *Part) {}},
		{"no such part", "there is no part 999999", 999999, hand, func(p *Part) {}},
		{"nobody's hand", "the name of who makes it", p.ID, Hand{At: hand.At}, func(p *Part) { p.Name = "x" }},
		{"no such bin", "there is no bin Z9", p.ID, hand, func(p *Part) { p.Bin = "Z9" }},
		{"no such family", "there is no part family", p.ID, hand, func(p *Part) { p.Family = "rope" }},
		{"an absurd size", "teeth of 900 cannot be meant", p.ID, hand, func(p *Part) { p.Spec = p.Spec.With("teeth", substitution.Count(900), substitution.Measured) }},
		{"another's bar code", "belongs to part", p.ID, hand, func(p *Part) { p.GTIN = "6291041500213" }},
		{"another's maker's code", "belongs to part", p.ID, hand, func(p *Part) { p.Brand, p.MakerCode = "tarnhow", "th-r50" }},
		{"a maker's code of nobody", "needs its brand", p.ID, hand, func(p *Part) { p.MakerCode = "X" }},
		{"half a level", "give both or neither", p.ID, hand, func(p *Part) { p.ReorderLevel = &none }},
		{"a stale view", "has been corrected since you looked", other.ID, Hand{By: "Otis", At: hand.At, Seen: &none}, func(p *Part) { p.Name = "y" }},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.name == "a stale view" {
				_, err := CorrectPart(t.Context(), tx, other.ID, hand, func(p *Part) error { p.Name = "seen by nobody"; return nil })
				require.NoError(t, err)
			}
			require.Contains(t, undone(t, tx, func(ctx context.Context, tx pgx.Tx) error {
				_, err := CorrectPart(ctx, tx, c.id, c.hand, func(p *Part) error { c.change(p); return nil })
				return err
			}), c.says)
		})
	}
}

func TestCodesMoveFromPartToPart(t *testing.T) {
	tx, ctx := testdb.Tx(t), t.Context()
	wrong := ring(50, 110, "black")
	wrong.Brand, wrong.MakerCode, wrong.GTIN = "Tarnhow", "TH-R50", "6291041500213"
	from, to := addPart(t, tx, wrong), addPart(t, tx, ring(50, 110, "silver"))
	chain := addPart(t, tx, Part{Part: substitution.Part{Family: "chain", Name: "chain", Spec: substitution.Spec{}}})
	s := addSupplier(t, tx)
	offer := addOffer(t, tx, s.ID, from.ID, 1)

	for _, c := range []struct {
		code string
		kind CodeKind
	}{{"6291041500213", barcodeNumber}, {"th-r50", makersCode}, {s.Code + ":" + offer.Code, suppliersCode}} {
		require.Contains(t, undone(t, tx, func(ctx context.Context, tx pgx.Tx) error {
			_, _, err := MoveCode(ctx, tx, c.code, chain.ID, hand)
			return err
		}), "a code cannot stand for both")
		kind, was, err := MoveCode(ctx, tx, c.code, to.ID, hand)
		require.NoError(t, err)
		require.Equal(t, c.kind, kind)
		require.Equal(t, from.ID, was.ID)
		require.Contains(t, undone(t, tx, func(ctx context.Context, tx pgx.Tx) error {
			_, _, err := MoveCode(ctx, tx, c.code, to.ID, hand)
			return err
		}), "nothing to correct", "twice")
	}
	moved, err := PartByID(ctx, tx, to.ID)
	require.NoError(t, err)
	require.Equal(t, []string{"Tarnhow", "TH-R50", "6291041500213"}, []string{moved.Brand, moved.MakerCode, moved.GTIN})
	o, err := OfferByID(ctx, tx, offer.ID)
	require.NoError(t, err)
	require.Equal(t, to.ID, o.PartID)
	require.Contains(t, undone(t, tx, func(ctx context.Context, tx pgx.Tx) error {
		_, _, err := MoveCode(ctx, tx, "NOWHERE", to.ID, hand)
		return err
	}), "there is no code NOWHERE")
}
