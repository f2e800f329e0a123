package inventory

import (
	"context"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/substitution"
)

// Kind is what a number or a name is of, as people call it.
type Kind string

const (
	OfPart       Kind = "part"
	OfCode       Kind = "code"       // a supplier's or a maker's, of a part
	OfGivenCode  Kind = "given code" // what a scanner has read
	OfSupplier   Kind = "supplier"
	OfOffer      Kind = "offer"
	OfBin        Kind = "bin"
	OfClaim      Kind = "claim"
	OfOrder      Kind = "order"
	OfLine       Kind = "line" // of an order
	OfReturn     Kind = "return"
	OfMessage    Kind = "message"
	OfPhoto      Kind = "photo"
	OfPerson     Kind = "person"
	OfCustomer   Kind = "customer"
	OfBike       Kind = "bike"
	OfJob        Kind = "job"
	OfQuote      Kind = "quote"
	OfLink       Kind = "link"
	OfQuestion   Kind = "question"
	OfBill       Kind = "bill"
	OfCreditNote Kind = "credit note"
	OfShop       Kind = "shop" // the workshop itself
	OfList       Kind = "list" // all of a supplier's
)

// UnknownError says that there is no such part, supplier, bin, offer, order, job, customer or bike.
type UnknownError struct {
	Kind Kind
	Name string   // as it was asked for
	Near []string // what there is that is spelt most like it
	Of   int64    // of a line: the order
}

func (e *UnknownError) Error() string {
	if len(e.Near) == 0 {
		return fmt.Sprintf("there is no %s %s", e.Kind, e.Name)
	}
	return fmt.Sprintf("there is no %s %s: did you mean %s?", e.Kind, e.Name, list(e.Near[:min(len(e.Near), substitution.MostNamed)], "or"))
}

// unknownLine is an *UnknownError for a line of an order.
func unknownLine(lineID, orderID int64) error {
	return &UnknownError{Kind: OfLine, Name: fmt.Sprintf("%d of order %d", lineID, orderID), Of: orderID}
}

// unknown is an *UnknownError with what nearest, a query of one text for $1, finds.
func unknown(ctx context.Context, db DB, kind Kind, name, nearest string) error {
	near, err := Collect(ctx, db, pgx.RowTo[string], nearest, name)
	if err != nil {
		return fmt.Errorf("look for a %s like %s: %w", kind, name, err)
	}
	return &UnknownError{Kind: kind, Name: name, Near: near}
}

// TakenError says that a code that must be somebody's own is somebody else's already.
type TakenError struct {
	What  string // "GTIN"
	Value string
	By    string // whose it is
}

func (e *TakenError) Error() string {
	return fmt.Sprintf("%s %s belongs to %s already: correct one of the two", e.What, e.Value, e.By)
}

// NoBinError says that a part belongs nowhere on the shelf by what is known, and nobody said where it goes: see [Homes].
type NoBinError struct{ Part string }

func (e *NoBinError) Error() string {
	return e.Part + " has no bin of its own: say into which bin it goes"
}

// Holder is a job for which pieces are kept on the shelf.
type Holder struct {
	JobID  int64 `json:"job"`
	Pieces int   `json:"pieces"`
}

// NotEnoughError says that fewer pieces are free than are wanted, and who holds the others.
type NotEnoughError struct {
	Part   string
	Wanted int
	Free   int // without reservation, or reserved for the very job that asks
	Held   []Holder
}

func (e *NotEnoughError) Error() string {
	s := fmt.Sprintf("there are %d of %s free, not %d", e.Free, e.Part, e.Wanted)
	if e.Free == 1 {
		s = fmt.Sprintf("there is 1 of %s free, not %d", e.Part, e.Wanted)
	}
	return s + held("; %d more %s held for %s", e.Held)
}

// NotInBinError says that a bin has fewer pieces than are to be taken from it.
type NotInBinError struct {
	Part   string
	Bin    string
	Wanted int
	There  int
}

func (e *NotInBinError) Error() string {
	return fmt.Sprintf("bin %s holds %d of %s, not %d: count it, or take the rest from another bin", e.Bin, e.There, e.Part, e.Wanted)
}

// CountBelowReservedError says that a count leaves fewer pieces than jobs were promised.
type CountBelowReservedError struct {
	Part   string
	OnHand int // in all bins, by this count
	Held   []Holder
}

func (e *CountBelowReservedError) Error() string {
	return fmt.Sprintf("with this count there would be %d of %s", e.OnHand, e.Part) +
		held(", but %d %s held for %s: release what one of them can do without, then count again", e.Held)
}

// OverReceivedError says that more came than was ordered.
type OverReceivedError struct {
	OrderID int64
	Part    string
	Came    int // good pieces in this delivery
	Awaited int
}

func (e *OverReceivedError) Error() string {
	return fmt.Sprintf("order %d awaits %d more of %s and %d came: send the others back, or say that they are kept", e.OrderID, e.Awaited, e.Part, e.Came)
}

// JobStateError says that a job is not at the stage that a step needs.
type JobStateError struct {
	JobID int64
	State JobState
}

// JobState is where a job stands: package pricing names the states, the stock asks only whether it is approved.
type JobState string

func (e *JobStateError) Error() string {
	return fmt.Sprintf("job %d is %s: parts are kept and used for approved jobs only", e.JobID, e.State)
}

// held says for which jobs pieces are kept. The format takes a number, is or are, and the jobs.
func held(format string, holders []Holder) string {
	if len(holders) == 0 {
		return ""
	}
	total := 0
	var jobs []string
	for _, h := range holders {
		total += h.Pieces
		job := fmt.Sprintf("job %d", h.JobID)
		if len(holders) > 1 {
			job += fmt.Sprintf(" (%d)", h.Pieces)
		}
		jobs = append(jobs, job)
	}
	verb := "are"
	if total == 1 {
		verb = "is"
	}
	return fmt.Sprintf(format, total, verb, list(jobs, "and"))
}

// list joins words as a person does: a, b and c.
func list(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " " + last + " " + words[len(words)-1]
}
