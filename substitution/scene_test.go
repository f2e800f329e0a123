package substitution

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func ring(facts map[string]Value) *Part {
	return &Part{Family: "chainring", Name: "ring", Spec: MakeSpec(facts, nil, nil)}
}

func TestScene(t *testing.T) {
	crank := &Part{Family: "crankset", Spec: MakeSpec(map[string]Value{"bcd_mm": Num(110), "bolts": Count(5)}, nil, nil)}
	was := Build{"crank": crank, "crank.outer-ring": ring(map[string]Value{"bcd_mm": Num(110), "teeth": Count(50)})}
	halfKnown := Build{"crank": nil, "crank.outer-ring": was["crank.outer-ring"]}

	cases := []struct {
		name      string
		was       Build
		candidate *Part
		fits      Answer
		deviates  int
	}{
		{"the same ring fits and differs in nothing", was, ring(map[string]Value{"bcd_mm": Num(110), "teeth": Count(50)}), Holds, 0},
		{"two teeth fewer fit and are felt", was, ring(map[string]Value{"bcd_mm": Num(110), "teeth": Count(48)}), Holds, 1},
		{"another bolt circle does not fit", was, ring(map[string]Value{"bcd_mm": Num(130), "teeth": Count(50)}), Breaks, 0},
		{"an unknown bolt circle cannot be told", was, ring(map[string]Value{"teeth": Count(50)}), CantTell, 0},
		{"crank not known, the old ring vouches", halfKnown, ring(map[string]Value{"bcd_mm": Num(110), "teeth": Count(50)}), Holds, 0},
		{"crank not known, another circle than the old ring's", halfKnown, ring(map[string]Value{"bcd_mm": Num(130), "teeth": Count(50)}), Breaks, 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			now := c.was.With("crank.outer-ring", c.candidate)
			scene := Scene{Was: c.was, Now: now}
			v := scene.Check("crank.outer-ring")
			// Only the bolt circle and the teeth are looked at here: the families' own tables test the rest.
			fits := Holds
			for _, f := range v.Findings {
				if f.Rule.ID == "chainring.bcd" {
					fits = f.Answer
				}
			}
			require.Equal(t, c.fits, fits)
			felt := 0
			for _, f := range v.Deviations() {
				if f.Rule.ID == "chainring.teeth" {
					felt++
				}
			}
			require.Equal(t, c.deviates, felt)
			for _, cond := range (Scene{Was: c.was, Now: c.was, Open: map[Place]bool{"crank.outer-ring": true}}).Narrow("crank.outer-ring") {
				if c.fits == Holds {
					require.True(t, cond.Admits(c.candidate), "%#v", cond)
				}
			}
		})
	}
}
