package solver

import (
	"stead/substitution"
	"stead/substitution/supply"
)

// Problem is a job's needs with everything that could meet them. It is a value: Solve changes nothing in it.
type Problem struct {
	Was substitution.Build // the bike as it came
	// Now is the bike as it will leave, but for the places of the needs: the parts that are kept, and places that stay
	// empty left out. A nil Now is Was: everything else is kept.
	Now    substitution.Build
	Waived map[substitution.Waiver]bool // rules that are not asked where a person answers for what they would find

	Needs     []Need
	Brought   []Brought // what a choice may bring, with what could meet it
	Parts     []Part
	Suppliers []supply.Supplier
	Wishes    []Wish
	Weights   Weights

	// MostGiveUps is how many sets of wishes to give up are looked for when nothing fits; zero: defaultGiveUps.
	MostGiveUps int
}

// defaultGiveUps is how many ways out Solve names when nothing fits and the problem does not say.
const defaultGiveUps = 6

// Need is one thing that the job needs: a kind of part, where it goes and how many pieces.
type Need struct {
	ID         string               // names the need in answers and errors: "rear hub balls"
	Family     substitution.Family  // what its candidates are
	Places     []substitution.Place // where the chosen part goes, all of them; none for what sits nowhere, such as grease
	Pieces     int                  // in all
	Candidates []int                // indices of parts
	Brings     []substitution.Bring // what the work wants beside it whichever is chosen; parts and rules may bring more
}

// Brought is what a rule or a part brings (substitution.Bring), by family and spec, with the parts that could meet it.
// How many pieces are wanted is known only when the choice is made.
type Brought struct {
	Family     substitution.Family
	Spec       substitution.Spec
	Over       map[string]float64 // how far above the spec's figure a dimension may be
	Candidates []int              // indices of parts; each has the values that the spec asks for
}

// Part is a part of the catalogue with the sources that have it. One part may be a candidate for several needs; needs
// that take the same offer share its packs. A need is met from one source, or as far as that goes off the shelf and for
// the rest from one supplier.
type Part struct {
	Part   *substitution.Part
	Offers []supply.Offer       // with breaks; tiers are not for a job's few pieces
	Brings []substitution.Bring // what it needs beside it wherever it goes; rules may bring more
}

// Weights say how much each deviation counts. Two zeros stand for DefaultWeights.
type Weights struct {
	Function int64            `json:"function"`
	Finish   int64            `json:"finish"`
	Rules    map[string]int64 `json:"rules,omitempty"` // by rule ID, in place of the weight of its severity
}

// DefaultWeights let one difference in function outweigh any number of differences in finish that a job can have.
var DefaultWeights = Weights{Function: 100, Finish: 1}

// WishKind says what a wish asks.
type WishKind int

const (
	ByDay        WishKind = iota + 1 // everything is here on Day at the latest
	AtMost                           // parts and carriage cost Most at most
	SameFunction                     // no function rule is broken or untold
	SameFinish                       // no finish rule is broken or untold
	NotPart                          // not the part Part
	NotSupplier                      // nothing from Supplier, which may be the shelf
	OnlyPart                         // the part Part
	OnlySupplier                     // all that is bought from Supplier; the shelf: all from the shelf
	FewSuppliers                     // parts from Count suppliers at most; the shelf is none
)

// Wish is a limit that the customer or the shop sets for the job, or for one need of it.
type Wish struct {
	Kind     WishKind
	Need     string // the need that it is for; empty: every need
	Words    string // how the job puts it; used in words only
	Day      int
	Most     int64
	Part     int // index of a part
	Supplier int // index of a supplier, or supply.Shelf
	Count    int
}

func (k WishKind) String() string {
	names := [...]string{ByDay: "by day", AtMost: "at most", SameFunction: "same function", SameFinish: "same finish", NotPart: "not this part",
		NotSupplier: "not this supplier", OnlyPart: "only this part", OnlySupplier: "only this supplier", FewSuppliers: "few suppliers"}
	if k < ByDay || int(k) >= len(names) {
		return "no such wish"
	}
	return names[k]
}
