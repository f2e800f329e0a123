package orderplan

import (
	"context"
	"errors"
	"fmt"
)

// What can be wrong with a problem. Solve and ReadProblem return an InputError
// that wraps one of these and says where it is.
var (
	ErrJSON         = errors.New("not the JSON of an order problem")
	ErrUnknownKey   = errors.New("unknown key")
	ErrMissingKey   = errors.New("missing key")
	ErrNoID         = errors.New("id is empty")
	ErrDuplicateID  = errors.New("id is used twice")
	ErrUnknownID    = errors.New("no such id")
	ErrNegative     = errors.New("negative")
	ErrNeedAboveMax = errors.New("need is above max")
	ErrDuePassed    = errors.New("due day has passed")
	ErrNoOffer      = errors.New("no supplier offers the line")
	ErrNoOfferDue   = errors.New("no offer arrives by the due day")
	ErrPack         = errors.New("a pack must hold at least one unit")
	ErrDiscount     = errors.New("unknown discount")
	ErrNoBreaks     = errors.New("no price breaks")
	ErrBreakOrder   = errors.New("price breaks are out of order")
	ErrPaidBelowMin = errors.New("carriage-paid level is below the minimum order")
	ErrTooLarge     = errors.New("too large to plan exactly")
)

// InputError says what is wrong with a problem and where.
type InputError struct {
	Line     string // id of the line, where one is concerned
	Supplier string // id of the supplier, where one is concerned
	Offer    int    // position in offers counted from 1, where an offer is concerned
	Kind     error  // one of the errors above
	Detail   string // the offending value, and what to do
}

func (e *InputError) Error() string {
	return place(e.Line, e.Supplier, e.Offer) + e.Kind.Error() + detail(e.Detail)
}

func (e *InputError) Unwrap() error { return e.Kind }

// InfeasibleError says that no plan keeps every rule, and names the line or
// supplier (or both) that makes it so.
type InfeasibleError struct {
	Line     string
	Supplier string
	Why      string
}

func (e *InfeasibleError) Error() string {
	return place(e.Line, e.Supplier, 0) + "cannot be ordered: " + e.Why
}

// UnfinishedError says that time ran out before any plan was found; one may or
// may not exist.
type UnfinishedError struct {
	LowerBound int64 // what any plan costs at least, pence
	Cause      error // what ended the search: the context's error
}

func (e *UnfinishedError) Error() string {
	said := fmt.Sprintf("no plan found in the time given (any plan costs at least %d pence)", e.LowerBound)
	if e.Unwrap() == nil {
		return said
	}
	return fmt.Sprintf("%s: %v", said, e.Cause)
}

// Unwrap is the cause where somebody stopped the search. A deadline is none: it
// was the search that took long, and who looks for a deadline among errors means
// a database or a network that did not answer.
func (e *UnfinishedError) Unwrap() error {
	if errors.Is(e.Cause, context.DeadlineExceeded) {
		return nil
	}
	return e.Cause
}

func place(line, supplier string, offer int) string {
	s := ""
	if offer > 0 {
		s += fmt.Sprintf("offer %d, ", offer)
	}
	if line != "" {
		s += fmt.Sprintf("line %q, ", line)
	}
	if supplier != "" {
		s += fmt.Sprintf("supplier %q, ", supplier)
	}
	if s == "" {
		return ""
	}
	return s[:len(s)-2] + ": "
}

func detail(d string) string {
	if d == "" {
		return ""
	}
	return ": " + d
}
