package desk

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/pricing"
	"stead/substitution/inspection"
)

func TestNext(t *testing.T) {
	claim := func(state inventory.ClaimState) []inventory.Claim { return []inventory.Claim{{State: state}} }
	quoted := &Quote{Quote: pricing.Quote{Options: []pricing.Option{{}}}}
	for _, c := range []struct {
		name string
		job  standing
		want Step
	}{
		{"booked", standing{state: pricing.Booked}, Inspect},
		{"inspected", standing{state: pricing.Inspected}, MakeQuote},
		{"something is asked", standing{state: pricing.Inspected, findings: []inspection.Finding{{Asks: []string{"read the mark"}}}}, Decide},
		{"quoted", standing{state: pricing.Quoted, quote: quoted}, Ask},
		{"nothing is known to do it", standing{state: pricing.Quoted, quote: &Quote{Quote: pricing.Quote{Unsure: []pricing.UnsurePart{{}}}}}, Answer},
		{"nothing does it", standing{state: pricing.Quoted, quote: &Quote{}}, GiveUp},
		{"parts to order, and some on the way", standing{state: pricing.JobApproved, claims: append(claim(inventory.ClaimOrdered), claim(inventory.ClaimWanted)...)}, OrderParts},
		{"parts on the way, others held", standing{state: pricing.JobApproved, claims: claim(inventory.ClaimOrdered), held: true}, Await},
		{"all is here", standing{state: pricing.JobApproved, claims: claim(inventory.ClaimArrived), held: true}, Fit},
		{"all is fitted", standing{state: pricing.JobApproved, claims: claim(inventory.ClaimArrived)}, HandBack},
		{"something was found since", standing{state: pricing.JobApproved, claims: claim(inventory.ClaimOrdered), found: true}, Amend},
		{"they want none of it", standing{state: pricing.Quoted, quote: &Quote{Quote: pricing.Quote{State: pricing.Declined, Options: []pricing.Option{{}}}}}, Turned},
		{"gone home", standing{state: pricing.Closed}, NoStep},
		{"given up", standing{state: pricing.Cancelled}, NoStep},
	} {
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.want, nextOf(c.job)) })
	}
}
