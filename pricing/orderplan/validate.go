package orderplan

import (
	"fmt"
	"math/bits"

	"stead/substitution/supply"
)

// The largest problem planned exactly. Beyond these the tables would not fit or
// a sum of pence might leave the range in which a float64 counts exactly.
const (
	MaxUnits   = 20_000            // units of one line
	maxOptions = 500_000           // buyable quantities, all offers together
	MaxPence   = 1_000_000_000_000 // everything bought at its dearest, carriage, levels
)

// Validate checks a problem and returns the first fault as an *InputError.
func (p Problem) Validate() error {
	if err := p.validateLines(); err != nil {
		return err
	}
	if err := p.validateSuppliers(); err != nil {
		return err
	}
	offered := make([]int, len(p.Lines))
	inTime := make([]int, len(p.Lines))
	dearest := make([]uint64, len(p.Lines))
	options := 0
	for i, o := range p.Offers {
		if o.Line < 0 || o.Line >= len(p.Lines) {
			return &InputError{Offer: i + 1, Kind: ErrUnknownID, Detail: fmt.Sprintf("there is no line %d", o.Line)}
		}
		if o.Supplier < 0 || o.Supplier >= len(p.Suppliers) {
			return &InputError{Offer: i + 1, Kind: ErrUnknownID, Detail: fmt.Sprintf("there is no supplier %d", o.Supplier)}
		}
		l := o.Line
		at := func(kind error, detail string) error {
			return &InputError{Offer: i + 1, Line: p.Lines[l].ID, Supplier: p.Suppliers[o.Supplier].ID, Kind: kind, Detail: detail}
		}
		if o.Pack < 1 {
			return at(ErrPack, fmt.Sprintf("pack is %d", o.Pack))
		}
		if len(o.Breaks)+len(o.Tiers) == 0 {
			return at(ErrNoBreaks, "give at least one, as {min, unit_price}")
		}
		if detail, kind := wrongPrices(o.Offer); kind != nil {
			return at(kind, detail)
		}
		dearest[l] = max(dearest[l], dearestUnit(o.Offer))
		offered[l]++
		if o.inTime(p.Lines[l]) {
			inTime[l]++
			options += p.Lines[l].Max / o.Pack
		}
		if options > maxOptions {
			return at(ErrTooLarge, fmt.Sprintf("the offers make more than %d buyable quantities; lower max", maxOptions))
		}
	}
	var sum uint64
	for i, l := range p.Lines {
		if l.Need > 0 && offered[i] == 0 {
			return &InputError{Line: l.ID, Kind: ErrNoOffer}
		}
		if l.Need > 0 && inTime[i] == 0 {
			return &InputError{Line: l.ID, Kind: ErrNoOfferDue, Detail: fmt.Sprintf("due day %d", *l.DueDay)}
		}
		hi, cost := bits.Mul64(dearest[i], uint64(l.Max))
		if sum += cost; hi != 0 || cost > MaxPence || sum > MaxPence {
			return &InputError{Line: l.ID, Kind: ErrTooLarge, Detail: fmt.Sprintf("at the dearest price the order passes %d pence", int64(MaxPence))}
		}
	}
	return nil
}

func (p Problem) validateLines() error {
	index := make(map[string]int, len(p.Lines))
	for i, l := range p.Lines {
		at := func(kind error, detail string) error {
			return &InputError{Line: l.ID, Kind: kind, Detail: detail}
		}
		if l.ID == "" {
			return at(ErrNoID, fmt.Sprintf("line %d", i+1))
		}
		if _, twice := index[l.ID]; twice {
			return at(ErrDuplicateID, "lines need different ids")
		}
		index[l.ID] = i
		switch {
		case l.Need < 0:
			return at(ErrNegative, fmt.Sprintf("need is %d", l.Need))
		case l.Max < l.Need:
			return at(ErrNeedAboveMax, fmt.Sprintf("need %d, max %d", l.Need, l.Max))
		case l.Max > MaxUnits:
			return at(ErrTooLarge, fmt.Sprintf("max %d, at most %d units of a line", l.Max, MaxUnits))
		case l.DueDay != nil && *l.DueDay < 0:
			return at(ErrDuePassed, fmt.Sprintf("due day %d; day 0 is the day of the order", *l.DueDay))
		}
	}
	return nil
}

func (p Problem) validateSuppliers() error {
	index := make(map[string]int, len(p.Suppliers))
	var sum int64
	for i, s := range p.Suppliers {
		at := func(kind error, detail string) error {
			return &InputError{Supplier: s.ID, Kind: kind, Detail: detail}
		}
		if s.ID == "" {
			return at(ErrNoID, fmt.Sprintf("supplier %d", i+1))
		}
		if _, twice := index[s.ID]; twice {
			return at(ErrDuplicateID, "suppliers need different ids")
		}
		index[s.ID] = i
		if s.Carriage < 0 || s.MinimumOrder < 0 || s.PaidAt < 0 {
			return at(ErrNegative, "carriage, carriage_paid_at and minimum_order are amounts")
		}
		if s.PaidAt > 0 && s.PaidAt < s.MinimumOrder {
			return at(ErrPaidBelowMin, fmt.Sprintf("carriage is paid at %d, the minimum order is %d", s.PaidAt, s.MinimumOrder))
		}
		level := max(s.MinimumOrder, s.PaidAt)
		if s.Carriage > MaxPence || level > MaxPence {
			return at(ErrTooLarge, fmt.Sprintf("amounts are at most %d pence", int64(MaxPence)))
		}
		if sum += s.Carriage; sum > MaxPence {
			return at(ErrTooLarge, fmt.Sprintf("carriage in all passes %d pence", int64(MaxPence)))
		}
	}
	return nil
}

// wrongPrices says what cannot be meant of an offer's prices; kind is nil where all can.
func wrongPrices(o supply.Offer) (detail string, kind error) {
	check := func(n, from int, price int64, before int) (string, error) {
		switch {
		case from < 0 || price < 0:
			return fmt.Sprintf("break %d is from %d at %d", n, from, price), ErrNegative
		case n > 1 && from <= before:
			return fmt.Sprintf("break %d is from %d, the one before from %d", n, from, before), ErrBreakOrder
		case price > MaxPence:
			return fmt.Sprintf("price %d, at most %d", price, int64(MaxPence)), ErrTooLarge
		}
		return "", nil
	}
	before := 0
	for i, b := range o.Breaks {
		if detail, kind = check(i+1, b.Packs, b.Price, before); kind != nil {
			return detail, kind
		}
		before = b.Packs
	}
	for i, t := range o.Tiers {
		if detail, kind = check(i+1, t.From, t.Price, before); kind != nil {
			return detail, kind
		}
		before = t.From
	}
	return "", nil
}

// dearestUnit is the most that a unit costs at any price of an offer.
func dearestUnit(o supply.Offer) (most uint64) {
	for _, b := range o.Breaks {
		most = max(most, (uint64(b.Price)+uint64(o.Pack)-1)/uint64(o.Pack))
	}
	for _, t := range o.Tiers {
		most = max(most, uint64(t.Price))
	}
	return most
}
