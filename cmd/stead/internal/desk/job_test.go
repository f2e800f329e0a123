package desk

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/pricing"
	"stead/substitution/inspection"
)

func TestNext(t *testing.T) {
	claim := func(state string) []inventory.Claim { return []inventory.Claim{{State: state}} }
	quoted := &pricing.Quote{Options: []pricing.Option{{}}}
	for _, c := range []struct {
		name string
		job  Job
		want Step
	}{
		{"booked", Job{Job: pricing.Job{State: pricing.Booked}}, Inspect},
		{"inspected", Job{Job: pricing.Job{State: pricing.Inspected}}, MakeQuote},
		{"something is asked", Job{Job: pricing.Job{State: pricing.Inspected, Findings: []inspection.Finding{{Asks: []string{"read the mark"}}}}}, Decide},
		{"quoted", Job{Job: pricing.Job{State: pricing.Quoted}, Quote: quoted}, Ask},
		{"nothing does it", Job{Job: pricing.Job{State: pricing.Quoted}, Quote: &pricing.Quote{}}, GiveUp},
		{"parts to order, and some on the way", Job{Job: pricing.Job{State: pricing.JobApproved}, Claims: append(claim(inventory.ClaimOrdered), claim(inventory.ClaimWanted)...)}, OrderParts},
		{"parts on the way, others held", Job{Job: pricing.Job{State: pricing.JobApproved}, Claims: claim(inventory.ClaimOrdered), Held: []inventory.Reservation{{}}}, Await},
		{"all is here", Job{Job: pricing.Job{State: pricing.JobApproved}, Claims: claim(inventory.ClaimArrived), Held: []inventory.Reservation{{}}}, Fit},
		{"all is fitted", Job{Job: pricing.Job{State: pricing.JobApproved}, Claims: claim(inventory.ClaimArrived)}, HandBack},
		{"gone home", Job{Job: pricing.Job{State: pricing.Closed}}, NoStep},
		{"given up", Job{Job: pricing.Job{State: pricing.Cancelled}}, NoStep},
	} {
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.want, c.job.next()) })
	}
}
