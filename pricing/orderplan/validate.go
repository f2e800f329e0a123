package orderplan

import (
	"fmt"
	"math/bits"
)

// The largest problem planned exactly. Beyond these the tables would not fit or
// a sum of pence might leave the range in which a float64 counts exactly.
const (
	MaxUnits   = 20_000            // units of one line
	MaxOptions = 500_000           // buyable quantities, all offers together
	MaxPence   = 1_000_000_000_000 // everything bought at its dearest, carriage, levels
)

// Validate checks a problem and returns the first fault as an *InputError.
func (p Problem) Validate() error {
	lines, err := p.validateLines()
	if err != nil {
		return err
	}
	suppliers, err := p.validateSuppliers()
	if err != nil {
		return err
	}
	offered := make([]int, len(p.Lines))
	inTime := make([]int, len(p.Lines))
	dearest := make([]uint64, len(p.Lines))
	options := 0
	for i, o := range p.Offers {
		at := func(kind error, detail string) error {
			return &InputError{Offer: i + 1, Line: o.Line, Supplier: o.Supplier, Kind: kind, Detail: detail}
		}
		l, ok := lines[o.Line]
		if !ok {
			return at(ErrUnknownID, fmt.Sprintf("line %q is not among lines", o.Line))
		}
		if _, ok := suppliers[o.Supplier]; !ok {
			return at(ErrUnknownID, fmt.Sprintf("supplier %q is not among suppliers", o.Supplier))
		}
		if o.Pack < 1 {
			return at(ErrPack, fmt.Sprintf("pack is %d", o.Pack))
		}
		if o.Discount != AllUnits && o.Discount != Incremental {
			return at(ErrDiscount, fmt.Sprintf("%q is neither %q nor %q", o.Discount, AllUnits, Incremental))
		}
		if len(o.Breaks) == 0 {
			return at(ErrNoBreaks, "give at least one, as {min, unit_price}")
		}
		for j, b := range o.Breaks {
			if b.Min < 0 || b.UnitPrice < 0 {
				return at(ErrNegative, fmt.Sprintf("break %d is from %d at %d", j+1, b.Min, b.UnitPrice))
			}
			if j > 0 && b.Min <= o.Breaks[j-1].Min {
				return at(ErrBreakOrder, fmt.Sprintf("break %d is from %d, the one before from %d", j+1, b.Min, o.Breaks[j-1].Min))
			}
			if b.UnitPrice > MaxPence {
				return at(ErrTooLarge, fmt.Sprintf("unit price %d, at most %d", b.UnitPrice, int64(MaxPence)))
			}
			dearest[l] = max(dearest[l], uint64(b.UnitPrice))
		}
		offered[l]++
		if o.inTime(p.Lines[l]) {
			inTime[l]++
			options += p.Lines[l].Max / o.Pack
		}
		if options > MaxOptions {
			return at(ErrTooLarge, fmt.Sprintf("the offers make more than %d buyable quantities; lower max", MaxOptions))
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

func (p Problem) validateLines() (map[string]int, error) {
	index := make(map[string]int, len(p.Lines))
	for i, l := range p.Lines {
		at := func(kind error, detail string) error {
			return &InputError{Line: l.ID, Kind: kind, Detail: detail}
		}
		if l.ID == "" {
			return nil, at(ErrNoID, fmt.Sprintf("line %d", i+1))
		}
		if _, twice := index[l.ID]; twice {
			return nil, at(ErrDuplicateID, "lines need different ids")
		}
		index[l.ID] = i
		switch {
		case l.Need < 0:
			return nil, at(ErrNegative, fmt.Sprintf("need is %d", l.Need))
		case l.Max < l.Need:
			return nil, at(ErrNeedAboveMax, fmt.Sprintf("need %d, max %d", l.Need, l.Max))
		case l.Max > MaxUnits:
			return nil, at(ErrTooLarge, fmt.Sprintf("max %d, at most %d units of a line", l.Max, MaxUnits))
		case l.DueDay != nil && *l.DueDay < 0:
			return nil, at(ErrDuePassed, fmt.Sprintf("due day %d; day 0 is the day of the order", *l.DueDay))
		}
	}
	return index, nil
}

func (p Problem) validateSuppliers() (map[string]int, error) {
	index := make(map[string]int, len(p.Suppliers))
	var sum int64
	for i, s := range p.Suppliers {
		at := func(kind error, detail string) error {
			return &InputError{Supplier: s.ID, Kind: kind, Detail: detail}
		}
		if s.ID == "" {
			return nil, at(ErrNoID, fmt.Sprintf("supplier %d", i+1))
		}
		if _, twice := index[s.ID]; twice {
			return nil, at(ErrDuplicateID, "suppliers need different ids")
		}
		index[s.ID] = i
		if s.Carriage < 0 || s.MinimumOrder < 0 || (s.CarriagePaidAt != nil && *s.CarriagePaidAt < 0) {
			return nil, at(ErrNegative, "carriage, carriage_paid_at and minimum_order are amounts")
		}
		if s.CarriagePaidAt != nil && *s.CarriagePaidAt < s.MinimumOrder {
			return nil, at(ErrPaidBelowMin, fmt.Sprintf("carriage is paid at %d, the minimum order is %d", *s.CarriagePaidAt, s.MinimumOrder))
		}
		level := max(s.MinimumOrder, value(s.CarriagePaidAt))
		if s.Carriage > MaxPence || level > MaxPence {
			return nil, at(ErrTooLarge, fmt.Sprintf("amounts are at most %d pence", int64(MaxPence)))
		}
		if sum += s.Carriage; sum > MaxPence {
			return nil, at(ErrTooLarge, fmt.Sprintf("carriage in all passes %d pence", int64(MaxPence)))
		}
	}
	return index, nil
}
