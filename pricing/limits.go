package pricing

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/substitution"
	"stead/substitution/solver"
)

// Limits are what the customer or the mechanic will not have. The zero Limits leave everything to be put to them.
type Limits struct {
	Latest           *calendar.Day       `json:"latest,omitempty"`             // everything here by this day
	MostToSpend      decimal.NullDecimal `json:"most_to_spend,omitzero"`       // on the whole job, labour and tax included
	NoFunctionChange bool                `json:"no_function_change,omitempty"` // it must ride and shift as before
	SameFinish       bool                `json:"same_finish,omitempty"`        // it must look as before
	Declined         []Difference        `json:"declined,omitempty"`           // differences that were put to them and declined

	OnlyParts    map[substitution.Place]int64 `json:"only_parts,omitempty"`    // this part and no other at the place
	NotParts     []int64                      `json:"not_parts,omitempty"`     // none of these parts
	OnlySupplier string                       `json:"only_supplier,omitempty"` // what the shelf has not comes from here
	NotSuppliers []string                     `json:"not_suppliers,omitempty"` // nothing from these
	// Vouched are findings for which a person answers, for this job alone; the part of each is the only one for its place.
	Vouched []Vouched `json:"vouched,omitempty"`

	MostSuppliers int `json:"most_suppliers,omitempty"` // so many at most; zero: any number
}

// Shelf stands for the workshop's own shelf where a supplier's code is asked for.
const Shelf = inventory.Shelf

// Limit changes what a job must keep to. A quote made before it no longer holds.
func Limit(ctx context.Context, tx pgx.Tx, jobID int64, change func(Limits) (Limits, error)) (Limits, error) {
	state, err := lockJob(ctx, tx, jobID)
	if err != nil {
		return Limits{}, err
	}
	if state != Booked && state != Inspected && state != Quoted {
		return Limits{}, fmt.Errorf("job %d is %s: its limits are set before the work is approved", jobID, state)
	}
	job, err := JobByID(ctx, tx, jobID)
	if err != nil {
		return Limits{}, err
	}
	limits, err := change(job.Limits)
	if err != nil {
		return Limits{}, err
	}
	if err := limits.check(ctx, tx); err != nil {
		return Limits{}, fmt.Errorf("the limits of job %d: %w", jobID, err)
	}
	if err := setLimits(ctx, tx, jobID, limits); err != nil || state != Quoted {
		return limits, err
	}
	if err := endOpenQuote(ctx, tx, jobID, Superseded); err != nil {
		return Limits{}, err
	}
	return limits, setState(ctx, tx, jobID, Inspected)
}

// check refuses limits that cannot be meant, or that nothing could keep.
func (l Limits) check(ctx context.Context, db inventory.DB) error {
	if most := l.MostToSpend; most.Valid && !most.Decimal.IsPositive() {
		return fmt.Errorf("at most %s to spend cannot be meant: leave the limit out if there is none", most.Decimal)
	}
	if l.MostSuppliers < 0 {
		return fmt.Errorf("at most %d suppliers cannot be meant: 0 is any number", l.MostSuppliers)
	}
	for _, code := range append(slices.Clone(l.NotSuppliers), l.OnlySupplier) {
		if code == "" || code == Shelf {
			continue
		}
		if _, err := inventory.SupplierByCode(ctx, db, code); err != nil {
			return err
		}
	}
	if slices.Contains(l.NotSuppliers, l.OnlySupplier) {
		return fmt.Errorf("everything from %s and nothing from it cannot both be kept: give up one of them", l.OnlySupplier)
	}
	for _, place := range slices.Sorted(maps.Keys(l.OnlyParts)) {
		site, err := substitution.SiteOf(place)
		if err != nil {
			return err
		}
		part, err := inventory.PartByID(ctx, db, l.OnlyParts[place])
		switch {
		case err != nil:
			return err
		case part.Family != site.Family:
			return fmt.Errorf("%s is a %s, and the %s takes a %s", part.Name, part.Family, site.Words, site.Family)
		case slices.Contains(l.NotParts, part.ID):
			return fmt.Errorf("only %s for the %s and never that part cannot both be kept: give up one of them", part.Name, site.Words)
		}
	}
	for _, id := range l.NotParts {
		if _, err := inventory.PartByID(ctx, db, id); err != nil {
			return err
		}
	}
	return nil
}

// became are the limits with each part by what it is now: one that has become one with another is that other.
func (l Limits) became(ctx context.Context, db inventory.DB) (Limits, error) {
	only, not := maps.Clone(l.OnlyParts), slices.Clone(l.NotParts)
	var err error
	for place, id := range only {
		if only[place], err = inventory.Became(ctx, db, id); err != nil {
			return l, err
		}
	}
	vouched := slices.Clone(l.Vouched)
	for i, v := range vouched {
		if vouched[i].PartID, err = inventory.Became(ctx, db, v.PartID); err != nil {
			return l, err
		}
	}
	l.Vouched = vouched
	for i, id := range not {
		if not[i], err = inventory.Became(ctx, db, id); err != nil {
			return l, err
		}
	}
	l.OnlyParts, l.NotParts = only, not
	return l, nil
}

// Parts are the parts that the limits name.
func (l Limits) Parts() []int64 {
	return append(slices.Sorted(maps.Values(l.OnlyParts)), l.NotParts...)
}

// wishes are the limits in the solver's terms, as far as they bear on its problem, with the words in which a way out would
// name them.
func (s Situation) wishes(p posed) []solver.Wish {
	var out []solver.Wish
	l := s.Job.Limits
	if l.Latest != nil {
		out = append(out, solver.Wish{Kind: solver.ByDay, Day: int(*l.Latest), Words: "everything here by " + l.Latest.Words(s.Deliveries.Today)})
	}
	if l.NoFunctionChange {
		out = append(out, solver.Wish{Kind: solver.SameFunction, Words: "it rides and shifts as before"})
	}
	if l.SameFinish {
		out = append(out, solver.Wish{Kind: solver.SameFinish, Words: "it looks as before"})
	}
	for _, n := range s.Needs {
		if id, asked := l.OnlyParts[n.Place]; asked {
			out = append(out, solver.Wish{Kind: solver.OnlyPart, Need: needName(n.Place), Part: slices.Index(p.parts, id),
				Words: fmt.Sprintf("only %s for the %s", s.Parts[id].Name, siteWords(n.Place))})
		}
	}
	for _, id := range l.NotParts {
		if i := slices.Index(p.parts, id); i >= 0 {
			out = append(out, solver.Wish{Kind: solver.NotPart, Part: i, Words: "not " + s.Parts[id].Name})
		}
	}
	if l.OnlySupplier != "" {
		out = append(out, solver.Wish{Kind: solver.OnlySupplier, Supplier: s.onlySource(p), Words: "everything from " + s.sourceWords(l.OnlySupplier)})
	}
	for _, code := range l.NotSuppliers {
		if i := s.supplier(p, code); i != nobody {
			out = append(out, solver.Wish{Kind: solver.NotSupplier, Supplier: i, Words: "nothing from " + s.sourceWords(code)})
		}
	}
	if l.MostSuppliers > 0 {
		out = append(out, solver.Wish{Kind: solver.FewSuppliers, Count: l.MostSuppliers, Words: fmt.Sprintf("parts from %d at most", l.MostSuppliers)})
	}
	return out
}

// onlySource is the index of the one supplier that is asked for; one that has nothing here stands last.
func (s Situation) onlySource(p posed) int {
	if i := s.supplier(p, s.Job.Limits.OnlySupplier); i != nobody {
		return i
	}
	return len(p.Suppliers) - 1
}

// sourceWords are the name of a supplier that a limit names by its code, or the shelf.
func (s Situation) sourceWords(code string) string {
	if code == Shelf {
		return "the shelf"
	}
	return cmp.Or(s.Deliveries.Supplier(s.Deliveries.SupplierNumber(code)).Name, code)
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
