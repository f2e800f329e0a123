package main

import (
	"fmt"
	"slices"

	"stead/inventory"
	"stead/pricing"
)

// nextStep says what a job waits for, and the command for it; nothing once the bike has gone home.
func nextStep(v jobView) string {
	claimed := func(state string) bool {
		return slices.ContainsFunc(v.Claims, func(c inventory.Claim) bool { return c.State == state })
	}
	switch {
	case v.State == pricing.Booked:
		return fmt.Sprintf("next: say what was found, `stead job inspect %d PLACE READING=VALUE`", v.ID)
	case v.State == pricing.Inspected:
		return fmt.Sprintf("next: price and date it, `stead job quote %d`", v.ID)
	case v.State == pricing.Quoted && v.Quote != nil:
		return afterQuote(*v.Quote)
	case v.State != pricing.JobApproved:
		return ""
	case claimed(inventory.ClaimWanted):
		return "next: order what it waits for, `stead order plan`, then `stead order place`"
	case claimed(inventory.ClaimOrdered):
		return "next: its parts are on the way; `stead order late` tells if one will not come in time"
	case len(v.Held) > 0:
		return fmt.Sprintf("next: fit what is held, `stead job use %d`", v.ID)
	}
	return fmt.Sprintf("next: hand the bike back, `stead job close %d`", v.ID)
}

// afterQuote says what to do with a quote.
func afterQuote(q pricing.Quote) string {
	if len(q.Options) == 0 {
		return fmt.Sprintf("next: give something up, `stead job limit %d --help`, and quote again", q.JobID)
	}
	accept := ""
	for _, o := range q.Options {
		if len(o.Deviations) > 0 {
			accept = " --accept all"
		}
	}
	return fmt.Sprintf("next: ask %s, then `stead job approve %d --version %d --option OPTION --by NAME%s`", q.Customer, q.JobID, q.Version, accept)
}
