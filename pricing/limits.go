package pricing

import (
	"slices"

	"github.com/shopspring/decimal"

	"stead/inventory/calendar"
	"stead/substitution"
)

// Limits are what the customer will not have. The zero Limits leave everything to be put to them.
type Limits struct {
	Latest           *calendar.Day       `json:"latest,omitempty"`             // everything here by this day
	MostToSpend      decimal.NullDecimal `json:"most_to_spend,omitzero"`       // on the whole job, labour and tax included
	NoFunctionChange bool                `json:"no_function_change,omitempty"` // it must ride and shift as before
	SameFinish       bool                `json:"same_finish,omitempty"`        // it must look as before
	Declined         []Difference        `json:"declined,omitempty"`           // differences that were put to them and declined
}

// Difference names a deviation apart from the part that brings it: every silver ring in place of a black one is the
// same difference.
type Difference struct {
	Place substitution.Place `json:"place"`
	Rule  string             `json:"rule"`
	Found string             `json:"found"` // what it would be instead: "silver polished alloy"
}

// differenceOf is a finding as a difference.
func differenceOf(f substitution.Finding) Difference {
	return Difference{Place: f.At, Rule: f.Rule.ID, Found: f.Found}
}

// declined reports whether a deviation was put to the customer before and declined.
func (l Limits) declined(f substitution.Finding) bool {
	return slices.Contains(l.Declined, differenceOf(f))
}
