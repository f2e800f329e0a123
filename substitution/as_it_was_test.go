package substitution

import (
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// A part that is told whole and put in again as it was asks nothing of neighbours that nobody measured: they stay, and went
// with it. A tyre of the old one's width was once asked how wide the mudguard over it is, and new pads whether the rim has a
// track. A crankset brings rings of which it need not tell all.
func TestNothingIsAskedOfNeighboursOfTheSamePart(t *testing.T) {
	bare := Build{}
	for _, site := range Sites() {
		bare[site.Place] = &Part{Family: site.Family, Spec: Spec{}}
	}
	asked := 0
	for _, site := range Sites() {
		if table, err := TableOf(site.Family); err != nil || table.NeverSold || site.Place == "crank" {
			continue
		}
		for seed := range 6 {
			was := whole(site.Family, seed)
			again := *was
			bike := maps.Clone(bare)
			bike[site.Place] = was
			for _, f := range InsteadOn(bike, was, &again, site.Place).Stops() {
				own := slices.ContainsFunc(f.Missing, func(m Missing) bool { return m.Place == site.Place })
				if f.Rule.ID == "stabiliser.axle" {
					continue // it reads of the hub alone, and whether the nuts hold is seen each time
				}
				require.True(t, f.Answer != CantTell || own, "%s %s again: %s: %s", site.Place, was.Spec, f.Rule.ID, f.Words)
			}
			asked++
		}
	}
	require.Positive(t, asked)
}

// What is another than it was is asked as before.
func TestOnlyWhatStaysAsItWasIsNotAsked(t *testing.T) {
	mudguard := &Part{Family: "mudguard", Spec: Spec{}}
	for _, c := range []struct {
		name, width string
		answer      Answer
	}{
		{"as wide as the old tyre", "width_mm=37", Holds},
		{"wider", "width_mm=47", CantTell},
	} {
		t.Run(c.name, func(t *testing.T) {
			was, err := ParsePart("tyre", "bead_mm=622 width_mm=37")
			require.NoError(t, err)
			now, err := ParsePart("tyre", "bead_mm=622 "+c.width)
			require.NoError(t, err)
			v := InsteadOn(Build{"rear.tyre": &was, "rear.mudguard": mudguard}, &was, &now, "rear.tyre")
			i := slices.IndexFunc(v.Findings, func(f Finding) bool { return f.Rule.ID == "mudguard.width" })
			require.GreaterOrEqual(t, i, 0)
			require.Equal(t, c.answer, v.Findings[i].Answer, v.Findings[i].Words)
		})
	}
}
