package solver

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution"
	"stead/substitution/supply"
)

// wide is a job on a bike's whole drivetrain with many candidates for each need, as a catalogue narrows them.
func wide(candidates int) Problem {
	r := rand.New(rand.NewPCG(1, 2))
	num, count, text, list := substitution.Num, substitution.Count, substitution.Text, substitution.List
	one := func(xs ...int) substitution.Value { return count(xs[r.IntN(len(xs))]) }
	p := Problem{Was: bike()}
	for range 10 {
		p.Suppliers = append(p.Suppliers, supply.Supplier{Carriage: 300 + r.Int64N(600), PaidAt: 5000 + r.Int64N(10000)})
	}
	kinds := []struct {
		place  substitution.Place
		family substitution.Family
		some   func() facts
	}{
		{"crank.outer-ring", "chainring", func() facts {
			return facts{"teeth": one(46, 48, 50, 52), "position": text("outer"), "bcd_mm": num(110), "bolts": count(5), "speeds": list(9)}
		}},
		{"crank.inner-ring", "chainring", func() facts {
			return facts{"teeth": one(34, 36, 38), "position": text("inner"), "bcd_mm": num(110), "bolts": count(5), "speeds": list(9)}
		}},
		{"rear.cassette", "cassette", func() facts {
			return facts{"speeds": list(9), "teeth_min": one(11, 12, 13), "teeth_max": one(23, 25, 27, 28, 32), "freehub": text("hg")}
		}},
		{"rear.derailleur", "rear-derailleur", func() facts {
			return facts{"speeds": list(9), "teeth_max": one(28, 30, 32, 34), "capacity": one(29, 33, 37, 43), "mount": text("hanger"), "pull_family": text("a")}
		}},
		{"chain", "chain", func() facts {
			return facts{"speeds": list(9), "chain_width": text("11/128"), "links": one(112, 114, 116, 118, 120)}
		}},
	}
	for _, k := range kinds {
		need := Need{ID: string(k.place), Family: k.family, Places: []substitution.Place{k.place}, Pieces: 1}
		for c := range candidates {
			spec := k.some()
			spec["colour"] = text([]string{"black", "silver", "grey"}[r.IntN(3)])
			s := r.IntN(10)
			need.Candidates = append(need.Candidates, len(p.Parts))
			p.Parts = append(p.Parts, part(fmt.Sprint(k.place, c), k.family, spec, at(s, 1+s/2+r.IntN(3), 1000+r.Int64N(4000))))
		}
		p.Needs = append(p.Needs, need)
	}
	return p
}

// BenchmarkSolve is a whole job: rules asked of the engine, front searched, options put into words.
func BenchmarkSolve(b *testing.B) {
	for _, candidates := range []int{20, 100, 400} {
		b.Run(fmt.Sprintf("5 needs x %d parts", candidates), func(b *testing.B) {
			p := wide(candidates)
			b.ReportAllocs()
			for range b.N {
				a, err := Solve(context.Background(), p)
				require.NoError(b, err)
				require.NotEmpty(b, a.Front)
				b.ReportMetric(float64(len(a.Front)), "points")
			}
		})
	}
}
