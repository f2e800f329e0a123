package choose

import (
	"errors"
	"fmt"
	"math"

	"stead/substitution/supply"
)

// Problem is what is to be chosen from. The zero limits do not limit.
type Problem struct {
	Needs     []Need
	Extras    []Need // needs that arise only when a choice brings them; see Bring
	Offers    []supply.Offer
	Suppliers []supply.Supplier
	Rules     []Rule

	MostCost      *int64 // pence, carriage included
	MostDeviation *int64
	MostSuppliers int // how many suppliers may be used at all
	LatestDay     *int
}

// Need is one thing to choose an option for.
type Need struct {
	Name    string
	Pieces  int // for an extra: unused, its pieces are those that are brought
	Options []Option
}

// Option is one way to meet a need: a part from a source, or so many pieces of it off the shelf and the rest from a source.
type Option struct {
	Offer     int   // index into Problem.Offers
	First     *Lot  // what comes off the shelf before Offer meets the rest; nil: Offer meets all. Never in an extra
	Deviation int64 // what the part by itself deviates from what was there; never negative
	Brings    []Bring
}

// Lot is a part of what a need takes.
type Lot struct {
	Offer  int // index into Problem.Offers
	Pieces int
}

// take calls add with each offer that an option takes for so many pieces, and how many it takes of it.
func (o Option) take(pieces int, add func(offer, pieces int)) {
	if o.First != nil {
		add(o.First.Offer, o.First.Pieces)
		pieces -= o.First.Pieces
	}
	add(o.Offer, pieces)
}

// Bring is something that a choice needs beside it.
type Bring struct {
	Extra  int // index into Problem.Extras
	Pieces int
}

// Rule binds the options of two or more needs.
type Rule struct {
	Needs []int   // indices into Problem.Needs, each once
	Marks [][]int // Marks[k][o]: what the rule sees of option o of need Needs[k]; equal marks are equal to the rule
	Judge func(marks []int) Ruling
}

// Ruling is what a rule says of a combination of marks. It must be the same every time.
type Ruling struct {
	Stops     bool
	Deviation int64 // never negative
	Brings    []Bring
}

// Point is one choice with what it comes to.
type Point struct {
	Cost      int64 // pence, carriage included
	Day       int   // the day on which everything is here; zero when nothing is to be chosen
	Deviation int64
	Options   []int // the option of each need
	Extras    []int // the option of each extra, or -1 where it is not brought
}

// Money is bounded so that no sum of a problem can overflow.
const (
	maxMoney   = supply.MaxMoney
	maxPieces  = supply.MaxPieces
	maxBrought = 10_000 // pieces that one choice brings
)

// Error says what is wrong with a problem, and with which need, if with one.
type Error struct {
	Need   string
	Reason string
	Err    error // ErrCircle, ErrTooLarge or nil
}

// Two faults that callers tell apart.
var (
	ErrCircle   = errors.New("what it brings leads back to itself")
	ErrTooLarge = errors.New("prices and quantities this large cannot be summed safely")
)

func (e *Error) Unwrap() error { return e.Err }

func (e *Error) Error() string {
	if e.Need == "" {
		return e.Reason
	}
	return e.Need + ": " + e.Reason
}

// Check refuses a problem that means nothing, before any search.
func (p *Problem) Check() error {
	for _, check := range []func() error{p.checkSources, p.checkNeeds, p.checkExtras, p.checkRules, p.checkSize} {
		if err := check(); err != nil {
			return err
		}
	}
	return nil
}

func (p *Problem) checkSources() error {
	for s, sup := range p.Suppliers {
		for _, pence := range []int64{sup.Carriage, sup.PaidAt, sup.MinimumOrder} {
			if pence < 0 || pence > maxMoney {
				return &Error{Reason: fmt.Sprintf("supplier %d: an amount of %d cannot be meant", s, pence)}
			}
		}
	}
	for o, offer := range p.Offers {
		if err := offer.Check(len(p.Suppliers)); err != nil {
			return &Error{Reason: fmt.Sprintf("offer %d: %v", o, err)}
		}
	}
	return nil
}

func (p *Problem) checkNeeds() error {
	for i := range p.Needs {
		n := &p.Needs[i]
		if n.Pieces < 1 || n.Pieces > maxPieces {
			return &Error{Need: n.Name, Reason: fmt.Sprintf("a quantity of %d cannot be meant", n.Pieces)}
		}
		for k, o := range n.Options {
			if err := p.checkOption(o); err != nil {
				return &Error{Need: n.Name, Reason: fmt.Sprintf("option %d: %v", k, err)}
			}
			if err := p.checkFirst(o, n.Pieces); err != nil {
				return &Error{Need: n.Name, Reason: fmt.Sprintf("option %d: %v", k, err)}
			}
		}
	}
	return nil
}

func (p *Problem) checkExtras() error {
	for i := range p.Extras {
		e := &p.Extras[i]
		for k, o := range e.Options {
			if err := p.checkOption(o); err != nil {
				return &Error{Need: e.Name, Reason: fmt.Sprintf("option %d: %v", k, err)}
			}
			if o.First != nil {
				return &Error{Need: e.Name, Reason: fmt.Sprintf("option %d: what is brought comes from one source", k)}
			}
		}
	}
	_, err := p.extraOrder()
	return err
}

// checkOption refuses an option that names what is not there, or amounts that nobody means.
func (p *Problem) checkOption(o Option) error {
	if o.Offer < 0 || o.Offer >= len(p.Offers) {
		return errors.New("it names no offer")
	}
	if o.Deviation < 0 || o.Deviation > maxMoney {
		return fmt.Errorf("a deviation of %d cannot be meant", o.Deviation)
	}
	return p.checkBrings(o.Brings)
}

func (p *Problem) checkRules() error {
	for r, rule := range p.Rules {
		if len(rule.Needs) < 2 || len(rule.Marks) != len(rule.Needs) {
			return &Error{Reason: fmt.Sprintf("rule %d: a rule binds two needs or more, and has marks for each", r)}
		}
		seen := map[int]bool{}
		for k, i := range rule.Needs {
			if i < 0 || i >= len(p.Needs) || seen[i] || len(rule.Marks[k]) != len(p.Needs[i].Options) {
				return &Error{Reason: fmt.Sprintf("rule %d: its needs or marks do not agree with the problem", r)}
			}
			seen[i] = true
		}
	}
	return nil
}

// late reports whether an offer comes after the latest day.
func (p *Problem) late(o supply.Offer) bool { return p.LatestDay != nil && o.Day > *p.LatestDay }

// checkFirst refuses a first lot that leaves nothing of the need or takes nothing of it, or whose source is no shelf: of a
// supplier's lot the carriage would have to be counted.
func (p *Problem) checkFirst(o Option, pieces int) error {
	switch l := o.First; {
	case l == nil:
	case l.Offer < 0 || l.Offer >= len(p.Offers) || l.Offer == o.Offer || p.Offers[l.Offer].Supplier != supply.Shelf:
		return fmt.Errorf("what it takes first comes from another offer, and that from a shelf")
	case l.Pieces < 1 || l.Pieces >= pieces:
		return fmt.Errorf("it takes %d of %d pieces first, and then the rest: both are something", l.Pieces, pieces)
	}
	return nil
}

func (p *Problem) checkBrings(brings []Bring) error {
	for _, b := range brings {
		if b.Extra < 0 || b.Extra >= len(p.Extras) {
			return fmt.Errorf("it brings something that is not in the problem")
		}
		if b.Pieces < 1 || b.Pieces > maxBrought {
			return fmt.Errorf("it brings %d pieces, which cannot be meant", b.Pieces)
		}
	}
	return nil
}

// checkSize refuses prices and quantities whose sums could overflow.
func (p *Problem) checkSize() error {
	total := 0.0
	for _, s := range p.Suppliers {
		total += float64(s.Carriage)
	}
	deviation := 0.0
	for _, list := range [][]Need{p.Needs, p.Extras} {
		for i := range list {
			worst, most := 0.0, int64(0)
			for _, o := range list[i].Options {
				pieces, sum := list[i].Pieces, 0.0
				if pieces == 0 {
					pieces = maxPieces
				}
				o.take(pieces, func(offer, pieces int) {
					from := p.Offers[offer]
					packs := max(float64(pieces)/float64(from.Pack)+1, float64(from.Breaks[0].Packs))
					sum += packs * float64(from.Breaks[0].Price)
				})
				worst, most = max(worst, sum), max(most, o.Deviation)
			}
			total += worst
			deviation += float64(most)
			if total > math.MaxInt64/8 || deviation > math.MaxInt64/8 {
				return &Error{list[i].Name, ErrTooLarge.Error(), ErrTooLarge}
			}
		}
	}
	return nil
}

// extraOrder puts the extras so that each comes after all that may bring it, and refuses a circle.
func (p *Problem) extraOrder() ([]int, error) {
	const open, done = 1, 2
	state := make([]int, len(p.Extras))
	var order []int
	var visit func(e int) error
	visit = func(e int) error {
		switch state[e] {
		case open:
			return &Error{p.Extras[e].Name, ErrCircle.Error(), ErrCircle}
		case done:
			return nil
		}
		state[e] = open
		for _, o := range p.Extras[e].Options {
			for _, b := range o.Brings {
				if err := visit(b.Extra); err != nil {
					return err
				}
			}
		}
		state[e] = done
		order = append(order, e)
		return nil
	}
	for e := range p.Extras {
		if err := visit(e); err != nil {
			return nil, err
		}
	}
	for i, j := 0, len(order)-1; i < j; i, j = i+1, j-1 {
		order[i], order[j] = order[j], order[i]
	}
	return order, nil
}
