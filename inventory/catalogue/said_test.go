package catalogue

import (
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/migrations/testdb"
	"stead/substitution"
)

var decimal19 = decimal.NewNullDecimal(decimal.NewFromInt(19))

// said is a person's word on a part.
func said(t *testing.T, tx pgx.Tx, partID int64, change func(*inventory.Part)) inventory.Part {
	t.Helper()
	p, err := inventory.CorrectPart(t.Context(), tx, partID, inventory.Hand{By: "Otis", Why: "on the bench", At: march},
		func(p *inventory.Part) error { change(p); return nil })
	require.NoError(t, err)
	return p
}

// What was once answered stands against later lists, which say that they differ; what was not is filled in as before.
func TestWhatAPersonSaidStandsAgainstLaterLists(t *testing.T) {
	silver := head + "C34,C/RING 34T 110PCD 5-BOLT INNER SILVER 9/10SPD,Hullin,H34,6291041500213,8.50,16.99,,12\n"
	for _, c := range []struct {
		name   string
		change func(*inventory.Part)
		next   string // the description in the next list
		spec   string
		differ string
	}{
		{"a dimension that the list has otherwise", func(p *inventory.Part) {
			p.Spec["teeth"] = substitution.Fact{Value: substitution.Count(36), Origin: substitution.Measured}
		},
			"C/RING 34T 110PCD 5-BOLT INNER SILVER 9/10SPD NEW", "bcd_mm 110, bolts 5, colour silver, position inner, speeds 9/10, teeth 36", "reads as teeth 34, and it was said"},
		{"a dimension that the list did not have and later has otherwise", func(p *inventory.Part) {
			p.Spec["material"] = substitution.Fact{Value: substitution.Text("steel"), Origin: substitution.Measured}
		}, "C/RING 34T 110PCD 5-BOLT INNER SILVER ALLOY 9/10SPD", "bcd_mm 110, bolts 5, colour silver, material steel, position inner, speeds 9/10, teeth 34", "reads as material alloy"},
		{"one that is not known after all", func(p *inventory.Part) { delete(p.Spec, "speeds") },
			"C/RING 34T 110PCD 5-BOLT INNER SILVER 9/10SPD NEW", "bcd_mm 110, bolts 5, colour silver, position inner, teeth 34", ""},
		{"what was not said is filled in", func(p *inventory.Part) {
			p.Spec["colour"] = substitution.Fact{Value: substitution.Text("grey"), Origin: substitution.Measured}
		},
			"C/RING 34T 110PCD 5-BOLT INNER GREY ALLOY 9/10SPD", "bcd_mm 110, bolts 5, colour grey, material alloy, position inner, speeds 9/10, teeth 34", ""},
		{"a family", func(p *inventory.Part) { p.Family = "sprocket"; delete(p.Spec, "bcd_mm") },
			"C/RING 34T 110PCD 5-BOLT INNER SILVER 9/10SPD NEW", "colour silver, teeth 34", "reads as kind chainring"},
	} {
		t.Run(c.name, func(t *testing.T) {
			tx := testdb.Tx(t)
			supplier := addSupplier(t, tx)
			_, err := load(t, tx, supplier, silver, 0, Accept{})
			require.NoError(t, err)
			id := offerOf(t, tx, supplier, "C34").PartID
			said(t, tx, id, c.change)
			s, err := load(t, tx, supplier, head+"C34,"+c.next+",Hullin,H34,6291041500213,8.75,17.49,,12\n", 30, Accept{})
			require.NoError(t, err)
			require.Equal(t, id, offerOf(t, tx, supplier, "C34").PartID)
			part, err := inventory.PartByID(t.Context(), tx, id)
			require.NoError(t, err)
			require.Equal(t, c.spec, part.Spec.String())
			if c.differ == "" {
				require.Empty(t, s.Bad)
			} else {
				require.Len(t, s.Bad, 1)
				require.Contains(t, s.Bad[0].Says, c.differ)
				require.Contains(t, s.Bad[0].Says, "that stands")
			}
			_, err = TakeBack(t.Context(), tx, supplier)
			require.NoError(t, err)
			after, err := inventory.PartByID(t.Context(), tx, id)
			require.NoError(t, err)
			for name := range after.Spec {
				require.Equal(t, part.Spec[name].Value, after.Spec[name].Value, "taking the list back takes back no person's word")
			}
		})
	}
}

// A retail price that the shop has said no list changes.
func TestARetailPriceOfTheShopsOwnStands(t *testing.T) {
	tx := testdb.Tx(t)
	supplier := addSupplier(t, tx)
	_, err := load(t, tx, supplier, spring, 0, Accept{})
	require.NoError(t, err)
	id := offerOf(t, tx, supplier, "C34").PartID
	said(t, tx, id, func(p *inventory.Part) { p.Retail = decimal19 })
	_, err = load(t, tx, supplier, head+"C34,C/RING 34T 110PCD 5-BOLT INNER SILVER 9/10SPD,Hullin,H34,6291041500213,8.75,17.49,,12\n", 30, Accept{Gone: true})
	require.NoError(t, err)
	part, err := inventory.PartByID(t.Context(), tx, id)
	require.NoError(t, err)
	require.Equal(t, "19", part.Retail.Decimal.String())
}

// What a new list leaves out is named, with whether anybody else has it.
func TestWhatANewListLeavesOutIsNamed(t *testing.T) {
	tx := testdb.Tx(t)
	supplier, other := addSupplier(t, tx), addSupplier(t, tx)
	_, err := load(t, tx, supplier, spring, 0, Accept{})
	require.NoError(t, err)
	_, err = load(t, tx, other, head+"X34,C/RING 34T 110PCD 5-BOLT INNER SILVER 9/10SPD,Hullin,H34,6291041500213,8.75,17.49,,12\n", 0, Accept{})
	require.NoError(t, err)
	s, err := load(t, tx, supplier, head+"PAD,DISC PADS RS-7 SINTERED PR,,,,4.20,9.99,,0\n", 30, Accept{Gone: true})
	require.NoError(t, err)
	require.Equal(t, 2, s.Gone)
	require.Len(t, s.LeftOut, 2)
	require.Equal(t, "BAL", s.LeftOut[0].Code)
	require.True(t, s.LeftOut[0].Nobody, "nobody else offers the balls")
	require.Equal(t, "C34", s.LeftOut[1].Code)
	require.False(t, s.LeftOut[1].Nobody)
}
