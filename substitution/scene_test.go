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

// The old part vouches for a neighbour that stays. Of a new one that nothing is known of it says nothing: it may do.
func TestANewNeighbourIsVouchedForByNobody(t *testing.T) {
	part := func(family Family, dim string, v Value) *Part {
		return &Part{Family: family, Spec: MakeSpec(map[string]Value{dim: v}, nil, nil)}
	}
	cases := []struct {
		rule          string
		at, neighbour Place
		was, now      *Part
	}{
		{"thru-axle.thread", "rear.thru-axle", "rear.hanger", part("thru-axle", "thread", Text("M12x1")), part("thru-axle", "thread", Text("M12x1.5"))},
		{"tube.valve", "front.tube", "front.rim", part("tube", "valve", Text("presta")), part("tube", "valve", Text("schrader"))},
		{"stem.quill", "stem", "fork", part("stem", "quill_mm", Num(22.2)), part("stem", "quill_mm", Num(25.4))},
		{"chainring.bcd", "crank.inner-ring", "crank", part("chainring", "direct_mount", Text("a")), part("chainring", "bcd_mm", Num(74))},
		{"bolt.rotor", "rear.rotor.bolts", "rear.rotor", part("bolt", "thread", Text("M5x0.8")), part("bolt", "thread", Text("M6x1"))},
	}
	for _, c := range cases {
		t.Run(c.rule, func(t *testing.T) {
			rule, err := RuleByID(c.rule)
			require.NoError(t, err)
			site, err := SiteOf(c.neighbour)
			require.NoError(t, err)
			was := Build{c.at: c.was, c.neighbour: {Family: site.Family}}
			kept := Scene{Was: was, Now: was.With(c.at, c.now)}
			require.Equal(t, Breaks, kept.Judge(Instance{newInstance(rule, c.at)}).Answer, "the %s stays", c.neighbour)
			changed := kept.Choose(c.neighbour, &Part{Family: site.Family})
			require.Equal(t, CantTell, changed.Judge(Instance{newInstance(rule, c.at)}).Answer, "the %s is new", c.neighbour)
		})
	}
}

// Two parts may be as two that went on together before, whatever a table says, and a blank may be one of them.
func TestABlankMayBeAsBefore(t *testing.T) {
	rotor := func() *Part {
		return &Part{Family: "disc-rotor", Spec: MakeSpec(map[string]Value{"rotor_mount": Text("centre-lock")}, nil, nil)}
	}
	rule, err := RuleByID("bolt.rotor")
	require.NoError(t, err)
	was := Build{"rear.rotor.bolts": {Family: "bolt", Spec: MakeSpec(map[string]Value{"thread": Text("M5x0.8")}, nil, nil)}, "rear.rotor": rotor()}
	for _, c := range []struct {
		name   string
		was    Build
		answer Answer
	}{
		{"bolts were recorded at such a rotor", was, CantTell},
		{"no bolt was known at such a rotor", was.With("rear.rotor.bolts", nil), Breaks},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := Scene{Was: c.was, Now: Build{"rear.rotor.bolts": {Family: "bolt"}, "rear.rotor": rotor()}}
			require.Equal(t, c.answer, s.Judge(Instance{newInstance(rule, "rear.rotor.bolts")}).Answer)
		})
	}
}

// A rule that a ring makes idle waits for a ring that is still to be chosen, though a new crankset has sent the others away.
func TestAnOpenPlaceIsNoEmptyOne(t *testing.T) {
	chain := func(width string) *Part {
		return &Part{Family: "chain", Spec: MakeSpec(map[string]Value{"chain_width": Text(width)}, nil, nil)}
	}
	rule, err := RuleByID("chain.width")
	require.NoError(t, err)
	was := Build{"chain": chain("3/32"), "crank": nil, "crank.outer-ring": ring(map[string]Value{"teeth": Count(50)})}
	s := Scene{Was: was, Now: was.With("chain", chain("11/128")), Open: map[Place]bool{"crank.inner-ring": true}}
	s.Now["crank"] = &Part{Family: "crankset", Spec: MakeSpec(map[string]Value{"teeth_inner": Count(34)}, nil, nil)}
	require.Zero(t, s.Judge(Instance{newInstance(rule, "chain")}))
}

// Two parts that are both made for other places than where they would meet both say so, whichever is named first.
func TestBothAreMisplaced(t *testing.T) {
	outer := ring(map[string]Value{"position": Text("outer")})
	right := &Part{Family: "shifter", Spec: MakeSpec(map[string]Value{"side": Text("right")}, nil, nil)}
	require.Len(t, Together(outer, right).Findings, 2)
	require.Len(t, Together(right, outer).Findings, 2)
}
