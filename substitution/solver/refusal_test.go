package solver

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution"
	"stead/substitution/supply"
)

// bike is a nine-speed bike with two rings whose derailleur takes up 33 teeth and a largest sprocket of 28.
func bike() substitution.Build {
	num, count, text, list := substitution.Num, substitution.Count, substitution.Text, substitution.List
	of := func(f substitution.Family, x facts) *substitution.Part {
		return &substitution.Part{Family: f, Spec: substitution.MakeSpec(x, nil, nil)}
	}
	return substitution.Build{
		"frame":            of("frame", facts{"chainstay_mm": num(425)}),
		"rear.hub":         of("hub", facts{"freehub": text("hg")}),
		"crank":            of("crankset", facts{"bcd_mm": num(110), "bolts": count(5)}),
		"crank.outer-ring": of("chainring", facts{"teeth": count(50), "bcd_mm": num(110), "bolts": count(5), "speeds": list(9)}),
		"crank.inner-ring": of("chainring", facts{"teeth": count(34), "bcd_mm": num(110), "bolts": count(5), "speeds": list(9)}),
		"rear.cassette":    of("cassette", facts{"speeds": list(9), "teeth_min": count(12), "teeth_max": count(25), "freehub": text("hg")}),
		"chain":            of("chain", facts{"speeds": list(9), "chain_width": text("11/128"), "links": count(120)}),
		"rear.derailleur":  of("rear-derailleur", facts{"speeds": list(9), "teeth_max": count(28), "capacity": count(33), "mount": text("hanger"), "pull_family": text("a")}),
	}
}

// climbing asks for a cassette, of which only ones with 32 teeth are to be had: the derailleur takes 28 at most.
func climbing() Problem {
	count, text, list := substitution.Count, substitution.Text, substitution.List
	return Problem{
		Was:   bike(),
		Needs: []Need{{ID: "cassette", Family: "cassette", Places: []substitution.Place{"rear.cassette"}, Pieces: 1, Candidates: []int{0}}},
		Parts: []Part{
			part("wide", "cassette", facts{"speeds": list(9), "teeth_min": count(11), "teeth_max": count(32), "freehub": text("hg")}, at(0, 2, 2500)),
			part("long cage", "rear-derailleur", facts{"speeds": list(9), "teeth_max": count(34), "capacity": count(43), "mount": text("hanger"), "pull_family": text("a")}, at(0, 4, 3900)),
		},
		Suppliers: []supply.Supplier{{Carriage: 500}},
	}
}

func TestKeptPartThatBlocks(t *testing.T) {
	p := climbing()
	a := solved(t, p)
	require.Empty(t, a.Front)
	require.Empty(t, a.Refusal.GiveUps)
	require.True(t, a.Refusal.All)
	require.Len(t, a.Refusal.Nearest, 1)
	require.Equal(t, 0, a.Refusal.Nearest[0].Part)
	require.NotEmpty(t, a.Refusal.Nearest[0].Stops)

	var blocking []substitution.Place
	for _, b := range a.Refusal.Blocking {
		blocking = append(blocking, b.Place)
		require.NotEmpty(t, b.Stops)
	}
	require.Equal(t, []substitution.Place{"rear.derailleur"}, blocking)

	p.Needs = append(p.Needs, Need{ID: "derailleur", Family: "rear-derailleur", Places: []substitution.Place{"rear.derailleur"}, Pieces: 1, Candidates: []int{1}})
	require.Equal(t, int64(2500+3900+500), solved(t, p).Front[0].Cost, "replaced as well")
}

// A nine-speed cassette on a longer freehub body needs the 1.85 mm spacer of the published charts beside it.
func TestWhatARuleBrings(t *testing.T) {
	count, text, list := substitution.Count, substitution.Text, substitution.List
	p := climbing()
	p.Was["rear.hub"].Spec["freehub"] = substitution.Fact{Value: text("hg-l"), Origin: substitution.Measured}
	p.Was["rear.cassette"].Spec["freehub"] = substitution.Fact{Value: text("hg-l"), Origin: substitution.Measured}
	p.Parts = append(p.Parts, part("close", "cassette", facts{"speeds": list(9), "teeth_min": count(12), "teeth_max": count(25), "freehub": text("hg")}, at(0, 2, 2500)))
	p.Needs[0].Candidates = []int{2}
	scene := substitution.Scene{Was: p.Was, Now: p.Was.With("rear.cassette", p.Parts[2].Part)}
	brings := scene.Check("rear.cassette").Brings()
	require.Len(t, brings, 1)

	a := solved(t, p)
	require.Empty(t, a.Front, "nothing is offered for the spacer")

	spacer := Part{Part: &substitution.Part{Family: brings[0].Family, Spec: brings[0].Spec}, Offers: []supply.Offer{at(supply.Shelf, 0, 90)}}
	p.Parts = append(p.Parts, spacer)
	p.Brought = []Brought{{Family: brings[0].Family, Spec: brings[0].Spec, Candidates: []int{3}}}
	a = solved(t, p)
	require.Len(t, a.Front, 1)
	require.Equal(t, int64(2500+500+90), a.Front[0].Cost)
	require.True(t, a.Front[0].Chosen[1].Brought)

	// A spacer that needs itself beside it goes round in a circle.
	p.Parts[3].Brings = []substitution.Bring{brings[0]}
	_, err := Solve(context.Background(), p)
	var problem *ProblemError
	require.ErrorAs(t, err, &problem)
	require.Equal(t, Circle, problem.Fault)
}

// What work wants beside a part, whichever is chosen, is bought with it, and where nobody has it nothing does the job.
func TestWhatANeedBrings(t *testing.T) {
	p := climbing()
	spacer := substitution.Bring{Family: "consumable", Quantity: 2, Spec: substitution.Spec{"purpose": {Value: substitution.Text("freehub-spacer"), Origin: substitution.FromStandard}}}
	p.Parts[0] = part("close", "cassette", facts{"speeds": substitution.List(9), "teeth_min": substitution.Count(12), "teeth_max": substitution.Count(25), "freehub": substitution.Text("hg")}, at(0, 2, 2500))
	before := solved(t, p).Front[0].Cost
	p.Needs[0].Brings = []substitution.Bring{spacer}
	require.Empty(t, solved(t, p).Front, "nothing is offered for it")

	p.Parts = append(p.Parts, Part{Part: &substitution.Part{Family: spacer.Family, Spec: spacer.Spec}, Offers: []supply.Offer{at(supply.Shelf, 0, 90)}})
	p.Brought = []Brought{{Family: spacer.Family, Spec: spacer.Spec, Candidates: []int{len(p.Parts) - 1}}}
	a := solved(t, p)
	require.Equal(t, before+2*90, a.Front[0].Cost)
	require.NoError(t, Check(p, a.Front[0]))
	p.Needs[0].Brings = nil
	require.Error(t, Check(p, a.Front[0]), "two more are bought than are wanted")
}

func TestWhy(t *testing.T) {
	const quick, slow = 0, 1
	count, text, list := substitution.Count, substitution.Text, substitution.List
	p := climbing()
	spec := func(low, high int, colour string) facts {
		return facts{"speeds": list(9), "teeth_min": count(low), "teeth_max": count(high), "freehub": text("hg"), "colour": text(colour)}
	}
	p.Was["rear.cassette"].Spec["colour"] = substitution.Fact{Value: text("silver"), Origin: substitution.Measured}
	p.Parts = []Part{
		part("like", "cassette", spec(12, 25, "silver"), at(quick, 1, 3000), at(slow, 6, 2600)),
		part("black", "cassette", spec(12, 25, "black"), at(quick, 1, 2400)),
		part("wide", "cassette", spec(11, 32, "silver"), at(quick, 1, 2000)),
	}
	p.Suppliers = []supply.Supplier{quick: {Carriage: 600}, slow: {Carriage: 300}}
	p.Needs[0].Candidates = []int{0, 1, 2}
	p.Wishes = []Wish{{Kind: SameFinish}}
	a := solved(t, p)
	require.Equal(t, [][3]int64{{2900, 6, 0}, {3600, 1, 0}}, figures(a.Front))

	why, err := Why(context.Background(), p, a.Front[a.Picks.Soonest], "cassette", 9)
	require.NoError(t, err)
	require.Len(t, why, 3)
	later, black, wide := why[0], why[1], why[2]
	require.Equal(t, []int64{-700, 5}, []int64{later.Cost, int64(later.Days)})
	require.Nil(t, later.Falls, "no price brings it sooner")
	require.NoError(t, Check(p, *later.With))
	require.Equal(t, []int64{-600, DefaultWeights.Finish}, []int64{black.Cost, black.Deviation})
	require.Equal(t, []int{0}, black.Against, "it breaks the wish for the same finish")
	require.NotEmpty(t, wide.Stops)

	why, err = Why(context.Background(), p, a.Front[a.Picks.Cheapest], "cassette", 1)
	require.NoError(t, err)
	require.Len(t, why, 1, "no more than were asked for")
	require.Equal(t, []int{0, 0}, []int{why[0].Part, why[0].Offer}, "like it, and soon")
	require.Equal(t, int64(700), *why[0].Falls, "seven pounds off and the quick one wins")
}

func TestDeadlineIsHonest(t *testing.T) {
	p := drivetrain(1)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	a, err := Solve(ctx, p)
	require.NoError(t, err)
	full := solved(t, p)
	if !a.Proven {
		require.LessOrEqual(t, a.Bound, full.Bound)
	}
	for _, o := range a.Front {
		require.NoError(t, Check(p, o))
	}
}
