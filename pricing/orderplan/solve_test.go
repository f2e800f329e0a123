package orderplan

import (
	"context"
	"errors"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestAgainstBruteForce(t *testing.T) {
	feasible := 0
	for seed := range uint64(1500) {
		r := rand.New(rand.NewPCG(seed, 1))
		p := generateSmall(r, 1+r.IntN(5), 1+r.IntN(4))
		plan, err := Solve(context.Background(), p)
		var in *InputError
		if errors.As(err, &in) {
			continue
		}
		want, ok := bruteForce(p)
		if !ok {
			var no *InfeasibleError
			require.ErrorAs(t, err, &no, "seed %d", seed)
			continue
		}
		feasible++
		require.NoError(t, err, "seed %d", seed)
		require.Equal(t, want, plan.Total, "seed %d", seed)
		require.True(t, plan.Proven)
		require.NoError(t, Check(p, plan), "seed %d", seed)
		require.Equal(t, plan.Total, plan.Certificate.Bound, "seed %d", seed)
	}
	t.Log(feasible)
}
