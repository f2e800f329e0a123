package solver

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution"
	"stead/substitution/supply"
)

func part(name string, f substitution.Family, facts map[string]substitution.Value, offers ...supply.Offer) Part {
	return Part{Part: &substitution.Part{Family: f, Name: name, Spec: substitution.MakeSpec(facts, nil, nil)}, Offers: offers}
}

func at(supplier, day int, price int64) supply.Offer {
	return supply.Offer{Supplier: supplier, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: price}}, Day: day}
}

// balls is a job that shares a bag: 18 quarter-inch balls for the rear hub and 20 for the front, from a bag of 144 or
// from the shelf's last 30.
func balls() Problem {
	quarter := map[string]substitution.Value{"ball_mm": substitution.Num(6.35), "grade": substitution.Count(100)}
	was := substitution.Build{"rear.hub.balls-left": nil, "rear.hub.balls-right": nil, "front.hub.balls-left": nil}
	for p := range was {
		was[p] = &substitution.Part{Family: "loose-balls", Spec: substitution.MakeSpec(quarter, nil, nil)}
	}
	return Problem{
		Was: was,
		Needs: []Need{
			{ID: "rear balls", Family: "loose-balls", Places: []substitution.Place{"rear.hub.balls-left", "rear.hub.balls-right"}, Pieces: 18, Candidates: []int{0}},
			{ID: "front balls", Family: "loose-balls", Places: []substitution.Place{"front.hub.balls-left"}, Pieces: 20, Candidates: []int{0}},
		},
		Parts: []Part{part("quarter", "loose-balls", quarter,
			supply.Offer{Supplier: supply.Shelf, Pack: 1, Breaks: []supply.Break{{Packs: 1, Price: 4}}, Day: 0, Most: 30},
			supply.Offer{Pack: 144, Breaks: []supply.Break{{Packs: 1, Price: 350}}, Day: 2})},
		Suppliers: []supply.Supplier{{Carriage: 400}},
	}
}

func TestNeedsShareABag(t *testing.T) {
	p := balls()
	a, err := Solve(context.Background(), p)
	require.NoError(t, err)
	require.True(t, a.Proven)
	require.Len(t, a.Front, 1)
	best := a.Front[0]
	require.NoError(t, Check(p, best))
	require.Equal(t, int64(750), best.Cost, "one bag and one carriage for both needs")
	require.Equal(t, []Purchase{{Part: 0, Offer: 1, Supplier: 0, Pieces: 38, Packs: 1, Cost: 350, Day: 2}}, best.Purchases)

	p.Wishes = []Wish{{Kind: ByDay, Day: 0}, {Kind: AtMost, Most: 700}}
	a, err = Solve(context.Background(), p)
	require.NoError(t, err)
	require.Empty(t, a.Front)
	require.NotNil(t, a.Refusal)
	require.True(t, a.Refusal.All)
	require.Len(t, a.Refusal.GiveUps, 1)
	require.Equal(t, []int{0, 1}, a.Refusal.GiveUps[0].Wishes)
}
