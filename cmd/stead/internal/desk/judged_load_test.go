package desk_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/cmd/stead/internal/desk"
	"stead/pricing"
	"stead/substitution"
)

// A job's screen judges anew: of what was agreed it says what the record as it is now would not take.
func TestAJobIsJudgedAsItIsLoaded(t *testing.T) {
	ctx, tx, ids := week(t)
	for _, id := range ids {
		v, err := desk.LoadJob(ctx, tx, id, now)
		require.NoError(t, err)
		require.Empty(t, v.Changed, "job %d, as agreed", id)
	}
	// The red road bike waits for an 8-speed cassette; its hub proves to take another kind.
	job, err := desk.LoadJob(ctx, tx, ids[1], now)
	require.NoError(t, err)
	require.Equal(t, pricing.JobApproved, job.State)
	hub, err := substitution.ParsePart("hub", "freehub=xd oln_mm=135")
	require.NoError(t, err)
	require.NoError(t, pricing.RecordFitted(ctx, tx, ids[1], "rear.hub", &hub))
	job, err = desk.LoadJob(ctx, tx, ids[1], now)
	require.NoError(t, err)
	require.NotEmpty(t, job.Changed)
	require.Contains(t, job.Changed[0], "cassette: agreed before")
}
