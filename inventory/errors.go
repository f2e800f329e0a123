package inventory

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// UnknownError says that there is no such part, supplier, bin, offer, order or job.
type UnknownError struct {
	Kind string   // "supplier"
	Name string   // as it was asked for
	Near []string // what there is that is spelt most like it
}

func (e *UnknownError) Error() string {
	if len(e.Near) == 0 {
		said := fmt.Sprintf("there is no %s %s", e.Kind, e.Name)
		if where := whereListed[e.Kind]; where != "" {
			said += ": " + where
		}
		return said
	}
	return fmt.Sprintf("there is no %s %s: did you mean %s?", e.Kind, e.Name, list(e.Near, "or"))
}

// whereListed says where a person finds the right name.
var whereListed = map[string]string{
	"part":     "`stead part find WORDS` finds it",
	"order":    "`stead order list --all` shows all",
	"bin":      "`stead shop bin NAME` adds one",
	"supplier": "`stead supplier add` adds one",
}

// unknownLine is an *UnknownError for a line of an order.
func unknownLine(lineID, orderID int64) error {
	return fmt.Errorf("%w: `stead order show %d` lists its lines", &UnknownError{Kind: "line", Name: fmt.Sprintf("%d of order %d", lineID, orderID)}, orderID)
}

// unknown is an *UnknownError with what nearest, a query of one text for $1, finds.
func unknown(ctx context.Context, db DB, kind, name, nearest string) error {
	near, err := collect(ctx, db, pgx.RowTo[string], nearest, name)
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

// Holder is a job for which pieces are kept on the shelf.
type Holder struct {
	JobID  int64 `json:"job_id"`
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
	State string
}

func (e *JobStateError) Error() string {
	return fmt.Sprintf("job %d is %s: parts are kept and used for approved jobs only", e.JobID, e.State)
}

// ConstraintError is what the database refused although the program let it through: the last wall. The sentence is
// for the person, the constraint for whoever mends the program.
type ConstraintError struct {
	Constraint string
	Sentence   string
	cause      error
}

func (e *ConstraintError) Error() string { return e.Sentence }
func (e *ConstraintError) Unwrap() error { return e.cause }

var constraintSentences = map[string]string{
	"part_gtin_check_digit":           "the part's GTIN has a wrong check digit: read it again under the bar code",
	"offer_gtin_check_digit":          "the offer's GTIN has a wrong check digit: read it again under the bar code",
	"part_gtin":                       "another part has this GTIN already",
	"part_maker_code":                 "another part of this brand has this maker's code already",
	"part_reorders_upwards":           "a part is reordered up to more than its reorder level: give both, the second larger",
	"shelf_not_below_zero":            "there are not so many pieces on the shelf",
	"balance_not_below_zero":          "there are not so many pieces in the bin",
	"reserved_within_stock":           "the pieces on the shelf are reserved for approved jobs",
	"reserved_not_below_zero":         "no more can be released than was reserved",
	"reservation_for_approved_job":    "parts are reserved for approved jobs only",
	"reservation_ends_once":           "this reservation has ended already",
	"ledger_is_append_only":           "the ledger is never changed: book a further movement",
	"movement_has_its_direction":      "this reason and this number of pieces do not go together",
	"movement_names_its_cause":        "a movement names its cause: the delivery it came with, or the job it was used on",
	"movement_request_fkey":           "every movement belongs to a request: begin it with Once",
	"movement_part_id_fkey":           "there is no such part",
	"reservation_part_id_fkey":        "there is no such part",
	"reservation_job_id_fkey":         "there is no such job",
	"offer_part_id_fkey":              "there is no such part",
	"offer_supplier_id_fkey":          "there is no such supplier",
	"claim_part_id_fkey":              "there is no such part",
	"claim_offer_id_fkey":             "there is no such offer",
	"claim_job_id_fkey":               "there is no such job",
	"order_line_part_id_fkey":         "there is no such part",
	"order_line_offer_id_fkey":        "there is no such offer",
	"purchase_order_supplier_id_fkey": "there is no such supplier",
	"order_line_no_more_than_ordered": "more pieces would be received and cancelled than were ordered",
	"closure_says_why":                "a closure needs a reason, such as stocktaking",
	"closure_ends_after_it_begins":    "a closure ends before it begins: correct one of the two days",
	"closure_within_a_year":           "a closure is longer than a year: check the dates",
	"closure_begins_once":             "a closure from this day is recorded already",
	"closure_supplier_id_fkey":        "there is no such supplier",
	"shop_opens_some_day":             "all seven weekdays are closed: leave at least one open",
	"supplier_opens_some_day":         "all seven weekdays are closed: leave at least one open",
	"claim_ordered_by_a_line":         "a claim is ordered by a line of an order, or it is not ordered",
}

// explain puts a sentence before what the database's constraints say. Other errors pass as they are.
func explain(err error) error {
	var told *ConstraintError
	var pg *pgconn.PgError
	if errors.As(err, &told) || !errors.As(err, &pg) {
		return err
	}
	if sentence, ok := constraintSentences[pg.ConstraintName]; ok {
		return &ConstraintError{Constraint: pg.ConstraintName, Sentence: sentence, cause: err}
	}
	return err
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
