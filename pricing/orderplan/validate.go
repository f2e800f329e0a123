package orderplan

import (
	"fmt"
	"math"
	"math/bits"
	"slices"

	"stead/substitution/supply"
)

// The largest problem planned exactly. Beyond these the tables would not fit or
// a sum of pence might leave the range in which a float64 counts exactly.
const (
	MaxUnits   = 20_000            // units of one line
	maxOptions = 500_000           // buyable quantities, all offers together
	MaxPence   = 1_000_000_000_000 // a price, carriage in all, a level; everything at its dearest, in the unit of the problem's amounts

	coarsest = 1_000_000 // times MaxPence no order passes, whatever the unit of its amounts: sums stay within 62 bits
)

// Validate checks a problem and returns the first fault as an *InputError.
func (p Problem) Validate() error {
	if err := p.validateLines(); err != nil {
		return err
	}
	if err := p.validateSuppliers(); err != nil {
		return err
	}
	offered, inTime := make([]bool, len(p.Lines)), make([]bool, len(p.Lines))
	for i, o := range p.Offers {
		if err := p.validateOffer(i); err != nil {
			return err
		}
		offered[o.Line] = true
		inTime[o.Line] = inTime[o.Line] || o.inTime(p.Lines[o.Line])
	}
	for i, l := range p.Lines {
		if l.Need > 0 && !offered[i] {
			return &InputError{Line: l.ID, Kind: ErrNoOffer}
		}
		if l.Need > 0 && !inTime[i] {
			return &InputError{Line: l.ID, Kind: ErrNoOfferDue, Detail: fmt.Sprintf("due day %d", *l.DueDay)}
		}
	}
	return p.validateSizes()
}

func (p Problem) validateOffer(i int) error {
	o := p.Offers[i]
	if o.Line < 0 || o.Line >= len(p.Lines) {
		return &InputError{Offer: i + 1, Kind: ErrUnknownID, Detail: fmt.Sprintf("there is no line %d", o.Line)}
	}
	if o.Supplier < 0 || o.Supplier >= len(p.Suppliers) {
		return &InputError{Offer: i + 1, Kind: ErrUnknownID, Detail: fmt.Sprintf("there is no supplier %d", o.Supplier)}
	}
	at := func(kind error, detail string) error {
		return &InputError{Offer: i + 1, Line: p.Lines[o.Line].ID, Supplier: p.Suppliers[o.Supplier].ID, Kind: kind, Detail: detail}
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
	return nil
}

// size is what a line takes of the limits of a problem.
type size struct {
	options int    // buyable quantities
	cost    uint64 // of as much as may be bought, at the dearest price, in the problem's unit of money
}

// add is the size of both, as long as they stay within the limits together.
func (s size) add(t size) (both size, fits bool) {
	both = size{s.options + t.options, s.cost + t.cost}
	return both, t.cost <= MaxPence && both.cost <= MaxPence && both.options <= maxOptions
}

// sizes are those of the lines. The problem's offers must be valid.
func (p Problem) sizes() []size {
	out, dearest := make([]size, len(p.Lines)), make([]uint64, len(p.Lines))
	sole := p.soleSuppliers()
	for _, o := range p.Offers {
		l := p.Lines[o.Line]
		dearest[o.Line] = max(dearest[o.Line], dearestUnit(o.Offer))
		if !o.inTime(l) {
			continue
		}
		out[o.Line].options += l.Max / o.Pack
		if p.boughtWhole(o.Line, sole) {
			out[o.Line].options -= max(0, l.Need-1) / o.Pack
		}
	}
	unit := uint64(min(p.unit(), coarsest))
	for i, l := range p.Lines {
		hi, cost := bits.Mul64(dearest[i], uint64(l.Max))
		if out[i].cost = cost/unit + min(1, cost%unit); hi != 0 {
			out[i].cost = math.MaxInt64
		}
	}
	return out
}

// validateSizes refuses more buyable quantities than tables are made for, and names the line that has most of them, and sums
// of money that are too large.
func (p Problem) validateSizes() error {
	sum, most, sizes := size{}, 0, p.sizes()
	for i, s := range sizes {
		var fits bool
		if sum, fits = sum.add(s); !fits && sum.options <= maxOptions {
			return &InputError{Line: p.Lines[i].ID, Kind: ErrTooLarge, Detail: fmt.Sprintf("at the dearest price the order passes %d pence", MaxPence*min(p.unit(), coarsest))}
		}
		if s.options > sizes[most].options {
			most = i
		}
	}
	if sum.options > maxOptions {
		return &InputError{Line: p.Lines[most].ID, Kind: ErrTooLarge,
			Detail: fmt.Sprintf("the offers make more than %d buyable quantities, of this line %d; lower max", maxOptions, sizes[most].options)}
	}
	return nil
}

// Room tells of each line whether there is room for it in one plan: beside those that come before it in the order given and
// have it, and alone. The problem's offers are valid; a line that is not in the order is not asked for.
func (p Problem) Room(order []int) (beside, alone []bool) {
	beside, alone = make([]bool, len(p.Lines)), make([]bool, len(p.Lines))
	sum, sizes := size{}, p.sizes()
	for _, i := range order {
		if _, fits := (size{}).add(sizes[i]); !fits || p.Lines[i].Max > MaxUnits {
			continue
		}
		alone[i] = true
		if both, fits := sum.add(sizes[i]); fits {
			sum, beside[i] = both, true
		}
	}
	return beside, alone
}

// soleSuppliers is, by line, the supplier that alone offers it in time; several where there are more, and -1 where none does.
func (p Problem) soleSuppliers() []int {
	sole := slices.Repeat([]int{-1}, len(p.Lines))
	for _, o := range p.Offers {
		switch at := &sole[o.Line]; {
		case !o.inTime(p.Lines[o.Line]):
		case *at < 0:
			*at = o.Supplier
		case *at != o.Supplier:
			*at = several
		}
	}
	return sole
}

// several stands for a supplier where a line has more than one.
const several = math.MaxInt

// boughtWhole reports whether no plan buys less of a line from one supplier than it needs: quantities that do not cover it
// are then of no use.
func (p Problem) boughtWhole(line int, sole []int) bool { return p.NoSplit || sole[line] != several }

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
