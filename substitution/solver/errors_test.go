package solver

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"stead/substitution"
	"stead/substitution/supply"
)

func TestWhatCannotBeMeant(t *testing.T) {
	cases := []struct {
		name   string
		change func(p *Problem)
		fault  Fault
		need   string
	}{
		{"no candidates", func(p *Problem) { p.Needs[0].Candidates = nil }, NoCandidates, "rear balls"},
		{"candidates that no one offers", func(p *Problem) { p.Parts[0].Offers = nil }, NoCandidates, "rear balls"},
		{"a place that the bike lacks", func(p *Problem) { p.Needs[0].Places[0] = "headset.upper-balls" }, NoSuchPlace, "rear balls"},
		{"a place that no bike has", func(p *Problem) { p.Needs[0].Places[0] = "rear.wing" }, NoSuchPlace, "rear balls"},
		{"a place of another family", func(p *Problem) { p.Was["chain"] = nil; p.Needs[0].Places[0] = "chain" }, Malformed, "rear balls"},
		{"one place for two needs", func(p *Problem) { p.Needs[1].Places = p.Needs[0].Places[:1] }, Malformed, "front balls"},
		{"one need twice", func(p *Problem) { p.Needs[1].ID = "rear balls" }, Malformed, "rear balls"},
		{"no pieces", func(p *Problem) { p.Needs[0].Pieces = 0 }, Malformed, "rear balls"},
		{"too many pieces", func(p *Problem) { p.Needs[0].Pieces = math.MaxInt }, Malformed, "rear balls"},
		{"pins to two suppliers", func(p *Problem) {
			p.Wishes = []Wish{{Kind: OnlySupplier, Need: "rear balls", Supplier: 0}, {Kind: OnlySupplier, Need: "rear balls", Supplier: supply.Shelf}}
		}, Contradiction, "rear balls"},
		{"a part pinned and banned", func(p *Problem) {
			p.Wishes = []Wish{{Kind: OnlyPart, Need: "rear balls", Part: 0}, {Kind: NotPart, Need: "rear balls", Part: 0}}
		}, Contradiction, "rear balls"},
		{"a pin to no candidate", func(p *Problem) { p.Wishes = []Wish{{Kind: OnlyPart, Need: "rear balls", Part: 7}} }, Contradiction, "rear balls"},
		{"a wish for no need", func(p *Problem) { p.Wishes = []Wish{{Kind: SameFinish, Need: "x"}} }, Malformed, "x"},
		{"a ban on no part", func(p *Problem) { p.Wishes = []Wish{{Kind: NotPart, Part: 7}} }, Malformed, ""},
		{"a ban on no supplier", func(p *Problem) { p.Wishes = []Wish{{Kind: NotSupplier, Supplier: 7}} }, Malformed, ""},
		{"candidates that are none", func(p *Problem) { p.Needs[0].Candidates = []int{7} }, Malformed, "rear balls"},
		{"an unknown supplier", func(p *Problem) { p.Parts[0].Offers[0].Supplier = 7 }, Malformed, ""},
		{"a pack of nothing", func(p *Problem) { p.Parts[0].Offers[1].Pack = 0 }, Malformed, ""},
		{"a pack of nothing for a need with a limit", func(p *Problem) {
			p.Parts[0].Offers[1].Pack = 0
			p.Wishes = []Wish{{Kind: AtMost, Need: "rear balls", Most: 500}}
		}, Malformed, ""},
		{"a negative price", func(p *Problem) { p.Parts[0].Offers[1].Breaks[0].Price = -1 }, Malformed, ""},
		{"breaks out of order", func(p *Problem) {
			p.Parts[0].Offers[1].Breaks = []supply.Break{{Packs: 5, Price: 1}, {Packs: 1, Price: 2}}
		}, Malformed, ""},
		{"a price near the integer limit", func(p *Problem) { p.Parts[0].Offers[0].Breaks[0].Price = math.MaxInt64 / 2 }, Malformed, ""},
		{"prices that sum up beyond it", func(p *Problem) { p.Parts[0].Offers[0].Breaks[0].Price = 1e13; p.Needs[0].Pieces = 1_000_000 }, TooLarge, "rear balls"},
		{"a day out of time", func(p *Problem) { p.Parts[0].Offers[0].Day = math.MaxInt }, Malformed, ""},
		{"a negative carriage", func(p *Problem) { p.Suppliers[0].Carriage = -5 }, Malformed, ""},
		{"a weight out of range", func(p *Problem) { p.Weights.Function = -1 }, Malformed, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p := balls()
			c.change(&p)
			_, err := Solve(context.Background(), p)
			var problem *ProblemError
			require.ErrorAs(t, err, &problem)
			require.Equal(t, c.fault, problem.Fault, problem.Error())
			require.Equal(t, c.need, problem.Need, problem.Error())
		})
	}
}

// FuzzSolve disturbs a job at random. Whatever comes of it, Solve answers in time with options that add up, or with an
// error that says what cannot be meant.
func FuzzSolve(f *testing.F) {
	for seed := range uint64(8) {
		f.Add(seed, seed*3, []byte{1, 2, 3, 4, 5, 6, 7, 8})
	}
	f.Fuzz(func(t *testing.T, seed, other uint64, bytes []byte) {
		p := drivetrain(seed)
		wishAtRandom(rand.New(rand.NewPCG(other, 9)), &p)
		p.Wishes = slices.Clip(p.Wishes)
		for i := 0; i+2 < len(bytes); i += 3 {
			disturb(&p, bytes[i], int(bytes[i+1]), int64(int8(bytes[i+2])))
		}
		ctx, cancel := context.WithTimeout(context.Background(), 5*time.Second)
		defer cancel()
		a, err := Solve(ctx, p)
		var problem *ProblemError
		if err != nil && !errors.As(err, &problem) {
			t.Fatalf("an error of no known kind: %v", err)
		}
		for _, o := range a.Front {
			if err := Check(p, o); err != nil {
				t.Fatal(err)
			}
		}
	})
}

func disturb(p *Problem, what byte, which int, x int64) {
	if len(p.Parts) == 0 || len(p.Needs) == 0 {
		return
	}
	at := which % len(p.Parts)
	part, need, sup := &p.Parts[at], &p.Needs[which%len(p.Needs)], &p.Suppliers[which%len(p.Suppliers)]
	if len(part.Offers) == 0 {
		return
	}
	offer := &part.Offers[which%len(part.Offers)]
	switch what % 14 {
	case 0:
		need.Pieces = int(x)
	case 1:
		offer.Pack = int(x)
	case 2:
		offer.Breaks = append(offer.Breaks, supply.Break{Packs: int(x), Price: x * x * 100})
	case 3:
		offer.Most = int(x)
	case 4:
		offer.Day = int(x) * 1_000_000
	case 5:
		sup.Carriage = x << 50
	case 6:
		sup.MinimumOrder = x * 300
	case 7:
		offer.Supplier = which % len(p.Suppliers)
	case 8:
		need.Candidates = append(need.Candidates, at)
	case 9:
		part.Offers = nil
	case 10:
		delete(p.Was, need.Places[0])
	case 11:
		part.Brings = []substitution.Bring{{Family: "consumable", Quantity: int(x)}}
	case 12:
		p.Brought = append(p.Brought, Brought{Family: part.Part.Family, Candidates: []int{at}})
		part.Brings = append(part.Brings, substitution.Bring{Family: part.Part.Family, Quantity: int(x)})
	case 13:
		p.Weights = Weights{Function: x * 1000, Finish: 3}
	}
}
