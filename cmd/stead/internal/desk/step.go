package desk

import (
	"slices"

	"stead/inventory"
	"stead/pricing"
	"stead/substitution/inspection"
)

// Step is what a job asks for next.
type Step int

const (
	NoStep     Step = iota // the bike has gone home
	Inspect                // say what was found
	Decide                 // answer what the findings ask
	MakeQuote              // price and date it
	Answer                 // nothing is known to do it, and an answer would tell
	GiveUp                 // nothing does it: give something up
	Ask                    // the customer has the word
	Turned                 // they want none of the quote: offer something else, or give the job up
	Amend                  // quote what was found since the approval
	OrderParts             // order what it waits for
	Await                  // its parts are on the way
	Fit                    // fit what is held
	HandBack               // close it
)

// String is the step as it stands on a list of jobs.
func (s Step) String() string {
	return [...]string{"gone home", "say what was found", "answer what the findings ask", "price and date it", "say what is not known", "give something up",
		"ask the customer", "they said no: offer something else", "quote what is new", "order its parts", "parts are on the way", "fit what is held", "hand the bike back"}[s]
}

// MarshalText is the step in words, in JSON too.
func (s Step) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// standing is what decides the next step of a job.
type standing struct {
	state    pricing.JobState
	findings []inspection.Finding
	quote    *Quote // the newest
	claims   []inventory.Claim
	held     bool
	found    bool // something since the approval that is neither agreed nor put off
}

// nextOf is what a job asks for.
func nextOf(s standing) Step {
	claimed := func(state inventory.ClaimState) bool {
		return slices.ContainsFunc(s.claims, func(c inventory.Claim) bool { return c.State == state })
	}
	switch {
	case s.state == pricing.Booked:
		return Inspect
	case s.state == pricing.Inspected:
		if slices.ContainsFunc(s.findings, func(f inspection.Finding) bool { return len(f.Asks) > 0 }) {
			return Decide
		}
		return MakeQuote
	case s.state == pricing.Quoted && s.quote != nil:
		return s.quote.Next()
	case s.state != pricing.JobApproved:
		return NoStep
	case s.quote != nil && s.quote.Amends > 0 && s.quote.State == pricing.Open:
		return s.quote.Next()
	case s.found:
		return Amend
	case claimed(inventory.ClaimWanted):
		return OrderParts
	case claimed(inventory.ClaimOrdered):
		return Await
	case s.held:
		return Fit
	}
	return HandBack
}
