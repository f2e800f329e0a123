package desk

import (
	"slices"

	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
	"stead/substitution/inspection"
)

// Mark is how a place of a bike stands in a job.
type Mark string

const (
	Unseen  Mark = "unseen"  // not looked at
	Open    Mark = "open"    // looked at, and not decided: the readings ask something
	Fine    Mark = "fine"    // looked at and kept
	Adjust  Mark = "adjust"  //
	Clean   Mark = "clean"   //
	Replace Mark = "replace" //
	Later   Mark = "later"   // asked for by what was read, and left out of this job
	Wait    Mark = "wait"    // waiting for a part
	Here    Mark = "here"    // the part is here, held for the job
	Done    Mark = "done"    // the part is fitted
)

var markWords = map[Mark]string{Unseen: "not looked at", Open: "to decide", Fine: "fine", Adjust: "adjust", Clean: "clean", Replace: "replace", Later: "left for next time",
	Wait: "waiting for a part", Here: "part here", Done: "done"}

// Words are the mark's own: a place is marked by shape and word.
func (m Mark) Words() string { return markWords[m] }

var markOf = map[inspection.Action]Mark{inspection.Keep: Fine, inspection.Adjust: Adjust, inspection.Clean: Clean, inspection.Replace: Replace}

// MarkAt is how a place stands in the job.
func (v Job) MarkAt(place substitution.Place) Mark {
	at := slices.IndexFunc(v.Findings, func(f inspection.Finding) bool { return f.Place == place })
	if at < 0 {
		return Unseen
	}
	mark, decided := markOf[v.Findings[at].Action]
	switch {
	case !decided && len(v.Findings[at].Asks) > 0:
		return Open
	case !decided:
		return Unseen
	case slices.ContainsFunc(v.Terms.Advised, func(a pricing.Advice) bool { return a.Place == place }):
		return Later
	case mark != Replace || v.Agreement == nil || !v.Agreement.Does(place, inspection.Replace): // what is new is not agreed
		return mark
	case slices.ContainsFunc(v.Claims, func(c inventory.Claim) bool {
		return c.Place == place && (c.State == inventory.ClaimWanted || c.State == inventory.ClaimOrdered)
	}):
		return Wait
	case slices.ContainsFunc(v.Held, func(r inventory.Reservation) bool { return r.Place == place }):
		return Here
	case v.State == pricing.Cancelled:
		return Replace
	}
	return Done
}
